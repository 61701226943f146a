"""Checks of what is missing: things that nothing leads to, causes that lead nowhere, sources that nobody names."""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.corpus.checks import walk
from diagnose.corpus.draft import Draft
from diagnose.corpus.shape import fields
from diagnose.corpus.ways import reached
from diagnose.errors import Problem

FEWEST_TOGETHER, MOST_TOGETHER = 2, 4


def signs_not_reached(draft: Draft) -> Iterator[Problem]:
    """A sign that no cause or mechanism leads to tells nothing."""
    parents = walk.parents(draft)
    for entry in draft.live("sign"):
        if entry.id not in parents:
            yield entry.place("id").problem(f'no cause or mechanism leads to "{entry.id}"')


def mechanisms_without_parent(draft: Draft) -> Iterator[Problem]:
    """A mechanism needs something that starts it."""
    parents = walk.parents(draft)
    for entry in draft.live("mechanism"):
        if entry.id not in parents:
            yield entry.place("id").problem(f'no cause or mechanism leads to "{entry.id}"')


def wrong_number_of_parents(draft: Draft) -> Iterator[Problem]:
    """`combine: all` joins a few conditions; one is no joint, and five are never met together."""
    parents = walk.parents(draft)
    for entry in draft.live("mechanism"):
        count = len(parents.get(entry.id, ()))
        if entry.record.combine == "all" and count and not FEWEST_TOGETHER <= count <= MOST_TOGETHER:
            message = f"combine: all joins {FEWEST_TOGETHER} to {MOST_TOGETHER} parents, but {count} lead here"
            yield entry.place("combine").problem(message)


def causes_without_defect(draft: Draft) -> Iterator[Problem]:
    """A cause must lead to some defect, at once or through mechanisms."""
    defects = {entry.id for entry in draft.live("sign") if entry.record.kind == "defect"}
    after: dict[str, list[str]] = {}
    for entry, link, _ in walk.links(draft):
        after.setdefault(entry.id, []).append(link.to)
    for entry in draft.live("cause"):
        if defects.isdisjoint(reached([entry.id], after)):
            yield entry.place("leads-to").problem(f'no chain of links leads from "{entry.id}" to a defect')


def sources_not_used(draft: Draft) -> Iterator[Problem]:
    """A source stands in the list because some claim rests on it."""
    used = {
        value
        for entry in draft.of("cause", "mechanism", "sign", "caution")
        for shape, value, _ in fields(entry.record)
        if shape.refers == ("source",)
    }
    for entry in draft.live("source"):
        if entry.id not in used and entry.id not in draft.words_elsewhere:
            yield entry.place("id").problem(f'the source "{entry.id}" is never used')
