"""Chances in figures and words, the figure first, on EFSA's scale of 2018."""

from __future__ import annotations

_WORDS = (
    (99, "almost certain"),
    (95, "extremely likely"),
    (90, "very likely"),
    (66, "likely"),
    (33, "about as likely as not"),
    (10, "unlikely"),
    (5, "very unlikely"),
    (1, "extremely unlikely"),
    (0, "almost impossible"),
)


def percent(chance: float) -> str:
    """A chance of 0..1 as whole per cent; never a flat 0 or 100, which nothing here can be."""
    if chance < 0.01:
        return "below 1 %"
    return "above 99 %" if chance > 0.99 else f"{chance * 100:.0f} %"


def in_words(chance: float) -> str:
    """Figure and word, as in "72 % (likely)"; the word goes by the figure as shown."""
    shown = 0 if chance < 0.01 else 99 if chance > 0.99 else round(chance * 100)
    return f"{percent(chance)} ({next(word for least, word in _WORDS if shown >= least)})"


def points(before: float, after: float) -> str:
    """The change in whole points of per cent: "up 12 points", "down 1 point"; empty if it rounds to none."""
    moved = round(after * 100) - round(before * 100)
    if not moved:
        return ""
    return f"{'up' if moved > 0 else 'down'} {abs(moved)} point{'' if abs(moved) == 1 else 's'}"
