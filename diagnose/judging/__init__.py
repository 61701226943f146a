"""Judging a class: sheets, totals, agreement between judges, and the comment that the maker gets. No prompts, no printing."""
