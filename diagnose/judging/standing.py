"""The order of a class: totals, places, and ties broken by the scorecard's rule, each tie said.

Totals are exact fractions, so that a tie is a tie and not an accident of rounding.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from diagnose.corpus.scorecards import Scorecard

from .sheet import SET_ASIDE, JudgedClass, Sheet

Status = Literal["placed", "suspect", "disqualified"]


@dataclass(frozen=True, slots=True)
class Standing:
    """One entry's result. `place` is None for an entry that is not placed; `why` says why, or how a tie was broken."""

    entry: int
    status: Status
    place: int | None
    total: Fraction | None
    by_criterion: dict[str, Fraction]
    by_judge: dict[str, int]
    why: str = ""


def mean_of(values: Sequence[int], trimmed: bool) -> Fraction:
    """The mean; with `trimmed` and at least three values, without one highest and one lowest."""
    kept = sorted(values)
    if trimmed and len(kept) >= 3:
        kept = kept[1:-1]
    return Fraction(sum(kept), len(kept))


def status_of(judged: JudgedClass, entry: int) -> tuple[Status, str]:
    """Whether an entry is placed. One judge's suspicion is enough; a rule needs at least half of the judges."""
    sheets = judged.of_entry(entry)
    if suspect := [one for one in sheets if one.suspect]:
        own = [one for one in suspect if one.suspect != SET_ASIDE]
        return "suspect", f"not tasted: suspected by {_judges(own or suspect)}"
    out = [one for one in sheets if one.disqualified]
    if out and 2 * len(out) >= len(sheets):
        titles = {one.id: one.title for one in judged.card.disqualify}
        return (
            "disqualified",
            f"{titles.get(out[0].disqualified, out[0].disqualified).lower()} (said by {_judges(out)})",
        )
    return "placed", ""


def _judges(sheets: Sequence[Sheet]) -> str:
    return ", ".join(one.judge for one in sheets)


def standings(judged: JudgedClass) -> tuple[Standing, ...]:
    """All entries: the placed ones in order, then the others by number. Every placed entry must have complete sheets."""
    placed: list[Standing] = []
    others: list[Standing] = []
    for entry in judged.entries:
        status, why = status_of(judged, entry)
        sheets = [one for one in judged.of_entry(entry) if not one.disqualified]
        by_judge = {one.judge: one.total for one in sheets if one.complete(judged.card)}
        by_criterion = {
            one.id: mean_of(values, judged.trimmed)
            for one in judged.card.criteria
            if (values := [sheet.points[one.id].points for sheet in sheets if one.id in sheet.points])
        }
        if status != "placed" or not by_judge:
            others.append(Standing(entry, status, None, None, by_criterion, by_judge, why))
        else:
            total = mean_of(list(by_judge.values()), judged.trimmed)
            placed.append(Standing(entry, status, None, total, by_criterion, by_judge))
    return (*_in_places(placed, judged.card), *sorted(others, key=lambda one: one.entry))


def _key(one: Standing, card: Scorecard) -> tuple[Fraction, ...]:
    assert one.total is not None
    return (one.total, *(one.by_criterion[name] for name in card.ties))


def _in_places(placed: list[Standing], card: Scorecard) -> list[Standing]:
    ordered = sorted(placed, key=lambda one: ([-value for value in _key(one, card)], one.entry))
    found: list[Standing] = []
    for at, one in enumerate(ordered):
        same = at > 0 and _key(one, card) == _key(ordered[at - 1], card)
        place = found[-1].place if same else at + 1
        found.append(replace(one, place=place, why=_tie(one, [x for x in ordered if x is not one], card)))
    return found


def _tie(one: Standing, others: Sequence[Standing], card: Scorecard) -> str:
    """How this entry's tie was settled, in words; empty without a tie."""
    level = [other for other in others if other.total == one.total]
    if not level:
        return ""
    numbers = ", ".join(str(other.entry) for other in sorted(level, key=lambda other: other.entry))
    for name in card.ties:
        if any(other.by_criterion[name] != one.by_criterion[name] for other in level):
            title = card.criterion(name).title.lower()
            rest = [other for other in level if _key(other, card) == _key(one, card)]
            shared = f"; still level with {', '.join(str(other.entry) for other in rest)}" if rest else ""
            return f"same total as entry {numbers}; settled by {title}{shared}"
    return f"same total as entry {numbers}, and level on every criterion that breaks ties; the place is shared"
