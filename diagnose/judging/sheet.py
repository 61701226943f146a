"""What judges have put down, as plain data: marks, points, sheets, a class."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

from diagnose.corpus.scorecards import Criterion, Scorecard

SET_ASIDE = "set aside on the word of another judge"
"""What the sheet of a judge says who does not taste because another judge found the piece suspect."""

Verdict = Literal["yes", "no"]
Amount = Literal["slight", "marked"]


@dataclass(frozen=True, slots=True)
class Mark:
    """A fault that a judge saw (or looked for and did not see). `place` is one of the scorecard's words or free words."""

    fault: str
    verdict: Verdict = "yes"
    how_much: Amount | None = None
    place: str = ""


@dataclass(frozen=True, slots=True)
class Points:
    """Points for one criterion. `suggested` is what was offered, `reason` why the judge gave something else."""

    points: int
    suggested: int | None = None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One judge's sheet of one entry.

    `suspect` says why it must not be tasted, empty if it may; `disqualified` is the id of the scorecard's rule.
    """

    judge: str
    entry: int
    points: Mapping[str, Points] = field(default_factory=dict)
    marks: tuple[Mark, ...] = ()
    notes: tuple[str, ...] = ()
    suspect: str = ""
    disqualified: str = ""

    def marked(self, fault: str) -> Mark | None:
        """The standing mark of a fault."""
        return next((one for one in self.marks if one.fault == fault), None)

    def with_mark(self, mark: Mark) -> Sheet:
        """The sheet with this mark in the place of an earlier one of the same fault."""
        return replace(self, marks=(*(one for one in self.marks if one.fault != mark.fault), mark))

    def without_mark(self, fault: str) -> Sheet:
        """The sheet without a mark of this fault."""
        return replace(self, marks=tuple(one for one in self.marks if one.fault != fault))

    @property
    def total(self) -> int:
        """The sum of the points given."""
        return sum(one.points for one in self.points.values())

    def open_criteria(self, card: Scorecard) -> tuple[Criterion, ...]:
        """Criteria that still wait for points; what is tasted does not count for a suspect piece."""
        return tuple(
            one for one in card.in_order() if one.id not in self.points and not (one.tasted and bool(self.suspect))
        )

    def complete(self, card: Scorecard) -> bool:
        """Whether nothing is left to do on it."""
        return bool(self.disqualified) or not self.open_criteria(card)


@dataclass(frozen=True, slots=True)
class JudgedClass:
    """A class: its scorecard, entries and judges, and all sheets by judge, each judge's in the order of work.

    `closed` are the judges who have said that they are done. `trimmed` asks for the mean without each entry's highest and
    lowest total.
    """

    id: str
    title: str
    card: Scorecard
    entries: tuple[int, ...]
    judges: tuple[str, ...]
    sheets: Mapping[str, tuple[Sheet, ...]]
    closed: frozenset[str] = frozenset()
    trimmed: bool = False
    date: str = ""

    def sheet(self, judge: str, entry: int) -> Sheet | None:
        """One judge's sheet of one entry."""
        return next((one for one in self.sheets.get(judge, ()) if one.entry == entry), None)

    def of_entry(self, entry: int) -> tuple[Sheet, ...]:
        """All sheets of one entry, in the order of the judges."""
        return tuple(found for judge in self.judges if (found := self.sheet(judge, entry)) is not None)

    def without(self, judge: str) -> JudgedClass:
        """The class as if this judge had not been there."""
        return replace(
            self,
            judges=tuple(one for one in self.judges if one != judge),
            sheets={name: sheets for name, sheets in self.sheets.items() if name != judge},
        )
