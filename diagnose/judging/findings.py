"""What the judges together found on one entry: their marks laid side by side, before anybody words anything.

A fault counts when at least half of the judges who looked marked it; one that calls for holding the piece counts when one
did. A fault marked strongly by fewer is kept apart, so that it can be told as the view of one.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from statistics import mean

from diagnose.casework.events import Answer
from diagnose.corpus.records import Knowledge
from diagnose.corpus.scorecards import Criterion, Scorecard

from .sheet import Amount, JudgedClass, Mark, Sheet
from .suggesting import calls_for, cost, fault_title

GOOD_SHARE = 0.9
"""A criterion is praised from this share of its points on, and only if no fault of it counts."""


@dataclass(frozen=True, slots=True)
class Found:
    """A fault that counts. `lost` is what it usually costs, as the mean over the judges who marked it."""

    fault: str
    title: str
    criterion: str
    """Id of the criterion, empty for a detail that costs nothing."""
    how_much: Amount | None
    """What most of those who graded it said; the milder where they are even, but never the milder of a danger."""
    mixed: bool
    """Whether some called it slight and others marked."""
    places: tuple[str, ...]
    """The places named most often, at most two."""
    placed: int
    """Judges who named one of these places."""
    lost: float
    judges: int
    """Judges who marked it."""
    looked: int
    """Judges who looked."""
    dangerous: bool
    known: bool
    """Whether the knowledge has a sign for it."""


@dataclass(frozen=True, slots=True)
class Findings:
    """One entry as the judges found it. Shares are between 0 and 1, by criterion that was scored."""

    entry: int
    faults: tuple[Found, ...]
    """Dangerous ones first, then by what they cost."""
    single: tuple[Found, ...]
    """Marked strongly, but by fewer than half."""
    absent: tuple[str, ...]
    """Ids that were looked for and not found by at least half of those who said anything of them."""
    shares: dict[str, Fraction]
    suspect: tuple[str, ...]
    """Why it was not tasted, one reason a judge."""
    disqualified: str
    notes: tuple[tuple[str, str], ...]
    """Judge and free words."""
    judges: int

    def good(self, card: Scorecard) -> list[Criterion]:
        """The criteria that may be praised, the fullest of points first; heavier ones first among equals."""
        hurt = {one.criterion for one in (*self.faults, *self.single)}
        fine = [
            one
            for one in card.criteria
            if one.id not in hurt and self.shares.get(one.id, Fraction(0)) >= Fraction(GOOD_SHARE)
        ]
        return sorted(fine, key=lambda one: (-round(self.shares[one.id], 2), -one.points))


def findings_of(judged: JudgedClass, knowledge: Knowledge, entry: int) -> Findings:
    """What the judges found on an entry."""
    sheets = judged.of_entry(entry)
    card = judged.card
    faults = dict.fromkeys(mark.fault for sheet in sheets for mark in sheet.marks)
    found: list[Found] = []
    single: list[Found] = []
    absent: list[str] = []
    for name in faults:
        marks = [mark for sheet in sheets if (mark := sheet.marked(name)) is not None]
        yes = [mark for mark in marks if mark.verdict == "yes"]
        if yes:
            one = _found(card, knowledge, name, yes, sheets)
            if one.dangerous or 2 * one.judges >= one.looked:
                found.append(one)
            elif one.how_much != "slight":
                single.append(one)
        if len(marks) - len(yes) > len(yes):
            absent.append(name)
    shares = {}
    for criterion in card.criteria:
        given = [sheet.points[criterion.id].points for sheet in sheets if criterion.id in sheet.points]
        if given:
            shares[criterion.id] = Fraction(sum(given), len(given) * criterion.points)
    rules = Counter(sheet.disqualified for sheet in sheets if sheet.disqualified)
    rule, votes = rules.most_common(1)[0] if rules else ("", 0)
    return Findings(
        entry=entry,
        faults=tuple(sorted(found, key=_weight)),
        single=tuple(sorted(single, key=_weight)),
        absent=tuple(absent),
        shares=shares,
        suspect=tuple(sheet.suspect for sheet in sheets if sheet.suspect),
        disqualified=rule if 2 * votes >= len(sheets) else "",
        notes=tuple((sheet.judge, note) for sheet in sheets for note in sheet.notes),
        judges=len(sheets),
    )


def _weight(one: Found) -> tuple[bool, float, str]:
    return (not one.dangerous, -one.lost, one.fault)


def _found(card: Scorecard, knowledge: Knowledge, name: str, yes: Sequence[Mark], sheets: Sequence[Sheet]) -> Found:
    criterion = next((one for one in card.criteria if any(fault.id == name for fault in one.faults)), None)
    fault = card.fault(name)
    looked = [sheet for sheet in sheets if criterion is None or not criterion.tasted or criterion.id in sheet.points]
    out = calls_for(card, Mark(name))
    dangerous = out is not None and out.kind == "unsafe"
    degrees = Counter(mark.how_much for mark in yes)
    how_much: Amount | None = None
    if degrees["marked"] or degrees["slight"]:
        strong = degrees["marked"] > degrees["slight"] or (dangerous and degrees["marked"] > 0)
        how_much = "marked" if strong else "slight"
    places = Counter(mark.place for mark in yes if mark.place).most_common(2)
    return Found(
        fault=name,
        title=fault_title(card, knowledge, name),
        criterion=criterion.id if criterion else "",
        how_much=how_much,
        mixed=degrees["marked"] > 0 and degrees["slight"] > 0,
        places=tuple(place for place, _ in places),
        placed=sum(count for _, count in places),
        lost=mean(cost(fault, mark) for mark in yes) if fault else 0.0,
        judges=len(yes),
        looked=max(len(looked), len(yes)),
        dangerous=dangerous,
        known=name in knowledge.signs,
    )


def answers_of(findings: Findings) -> dict[str, Answer]:
    """The findings as answers of a case.

    What one judge of several saw alone is given as fairly sure, not as sure; but a sign of danger is never made less of.
    """
    answers: dict[str, Answer] = {}
    for one in findings.faults:
        if one.known:
            agreed = one.judges > 1 or one.looked <= 1 or one.dangerous
            answers[one.fault] = Answer(one.fault, "yes", "sure" if agreed else "fairly", one.how_much)
    for name in findings.absent:
        answers.setdefault(name, Answer(name, "no", "fairly"))
    return answers
