"""What must hold over the knowledge as a whole, beyond the form of each entry.

Every check is a function from a draft to the problems it finds. `checked` runs them all. The checks of what is *absent* (a
sign that nothing leads to, a source that nobody names) run only when every entry could be read and every id that is referred
to is there, because one slip of the pen would otherwise look like ten missing things.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from diagnose.corpus.checks import absent, claims, files, ids, links, rates, scales
from diagnose.corpus.draft import Draft
from diagnose.errors import Problem

Check = Callable[[Draft], Iterator[Problem]]

PRESENT: tuple[Check, ...] = (
    files.names_that_clash,
    ids.style,
    ids.used_twice,
    ids.retired,
    scales.values,
    scales.words,
    rates.whole_and_in_step,
    claims.sources_read,
    claims.places_in_sources,
    claims.disputes,
    claims.dangers_without_caution,
    claims.tasting_not_marked,
    claims.same_title,
    links.same_target_twice,
    links.circles,
    links.backgrounds,
)
"""Checks of what is written, beside `ids.references`, which comes before them."""

ABSENT: tuple[Check, ...] = (
    absent.signs_not_reached,
    absent.mechanisms_without_parent,
    absent.wrong_number_of_parents,
    absent.causes_without_defect,
    absent.sources_not_used,
)
"""Checks of what is missing."""


def checked(draft: Draft) -> list[Problem]:
    """All problems of a draft, those of reading included, by file and place and each once."""
    found = {*draft.problems, *ids.references(draft)}
    for check in PRESENT if found else PRESENT + ABSENT:
        found.update(check(draft))
    return sorted(found)
