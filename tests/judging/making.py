"""Small classes made in a test."""

from __future__ import annotations

from collections.abc import Mapping

from diagnose.corpus.scorecards import Scorecard
from diagnose.judging.sheet import JudgedClass, Mark, Points, Sheet
from diagnose.judging.suggesting import suggested, suspect_marks


def sheet(card: Scorecard, judge: str, entry: int, marks: tuple[Mark, ...] = (), **less: int) -> Sheet:
    """A complete sheet with the points that the marks suggest, less what is said (criterion=points, _ for -)."""
    bad = suspect_marks(card, marks)
    points = {
        one.id: Points(suggested(one, marks) - less.get(one.id.replace("-", "_"), 0))
        for one in card.criteria
        if not (bad and one.tasted)
    }
    return Sheet(judge, entry, points, marks, suspect="; ".join(bad))


def class_of(card: Scorecard, sheets: Mapping[str, tuple[Sheet, ...]], *, trimmed: bool = False) -> JudgedClass:
    """A class of these sheets, all judges done."""
    entries = sorted({one.entry for of_judge in sheets.values() for one in of_judge})
    judges = tuple(sheets)
    return JudgedClass("made-up", "Made up", card, tuple(entries), judges, sheets, frozenset(judges), trimmed)


def marks(*faults: str) -> tuple[Mark, ...]:
    """Marks such as `small-round-holes:marked`."""
    found = []
    for text in faults:
        fault, _, how_much = text.partition(":")
        found.append(Mark(fault, "yes", how_much or None))  # type: ignore[arg-type]
    return tuple(found)
