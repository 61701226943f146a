"""What the marks suggest: points for a criterion, and whether the piece is suspect. The judge always decides."""

from __future__ import annotations

from collections.abc import Iterable

from diagnose.corpus.records import Knowledge
from diagnose.corpus.scorecards import Criterion, Disqualification, Fault, Scorecard

from .sheet import Mark

FAR = 0.05
"""A judge who departs from the suggestion by more than this share of a criterion's points is asked for the reason."""


def cost(fault: Fault, mark: Mark) -> int:
    """What a mark usually costs; nothing for a fault that was looked for and is not there."""
    if mark.verdict == "no":
        return 0
    return fault.slight if mark.how_much == "slight" and fault.slight is not None else fault.marked


def suggested(criterion: Criterion, marks: Iterable[Mark]) -> int:
    """All points less what the marks usually cost, never below 0."""
    faults = {fault.id: fault for fault in criterion.faults}
    return max(0, criterion.points - sum(cost(faults[one.fault], one) for one in marks if one.fault in faults))


def far_from(criterion: Criterion, points: int, suggestion: int) -> bool:
    """Whether points are so far from the suggestion that the reason is worth keeping."""
    return abs(points - suggestion) > FAR * criterion.points


def level(criterion: Criterion, points: int) -> str:
    """The words of the level nearest to the points; halfway between two, those of the higher one."""
    return min(criterion.anchors, key=lambda anchor: (abs(anchor.points - points), -anchor.points)).says


def calls_for(card: Scorecard, mark: Mark) -> Disqualification | None:
    """The disqualification that a mark calls for at once."""
    if mark.verdict == "no":
        return None
    return next((one for one in card.disqualify if mark.fault in one.signs or mark.fault in one.own), None)


def suspect_marks(card: Scorecard, marks: Iterable[Mark]) -> list[str]:
    """Ids of the faults marked that make a piece suspect."""
    return [one.fault for one in marks if (out := calls_for(card, one)) is not None and out.kind == "unsafe"]


def fault_title(card: Scorecard, knowledge: Knowledge, fault: str) -> str:
    """The title of a fault or sign, by its id."""
    known = card.fault(fault)
    if known is not None and known.title:
        return known.title
    sign = knowledge.signs.get(fault)
    return sign.title if sign else fault


def graded(card: Scorecard, knowledge: Knowledge, fault: str) -> bool:
    """Whether slight and marked are told apart."""
    known = card.fault(fault)
    if known is not None:
        return known.slight is not None
    return knowledge.signs[fault].graded if fault in knowledge.signs else False
