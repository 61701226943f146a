"""The sheet that goes back to a maker: points and comment on the front, what they rest on at the back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from diagnose.corpus.records import Basis, Knowledge
from diagnose.judging.comment import Comment
from diagnose.judging.comment_plan import Told
from diagnose.judging.findings import Found
from diagnose.judging.sheet import JudgedClass
from diagnose.judging.standing import Standing
from diagnose.judging.suggesting import level
from diagnose.judging.wording import degree, place_words

from . import words
from .citations import Citations
from .class_report import points
from .document import Source

FAR_APART = 0.4
"""Judges who differ by this share of a criterion's points are said to be far apart."""

DRAFT = "Draft: no judge has read and approved these words yet."
HOLD = (
    "Hold the whole lot of this piece. Nobody tastes it, and nothing of it is sold. Call the inspector or your process"
    " authority (the expert who approves your heating and cooling) today; they decide what becomes of it."
)
"""Printed first on the sheet of every suspect piece, outside the words that a judge can change."""

NOT_THE_WHOLE = (
    "A judge sees one piece on one day. The chances say how well each cause fits what was seen on it; nobody has looked at"
    " the plant. Sheets of another day, or of other judges, may differ."
)


@dataclass(frozen=True, slots=True)
class ScoreRow:
    """One line of the table of points. `span` gives the lowest and highest where the judges differ."""

    title: str
    given: str
    most: int
    span: str
    says: str


@dataclass(frozen=True, slots=True)
class CauseRow:
    """One cause with its chance in number and word."""

    title: str
    stage: str
    chance: str


@dataclass(frozen=True, slots=True)
class StepRow:
    """One step that the comment takes up, with what it rests on."""

    text: str
    basis: str


@dataclass(frozen=True, slots=True)
class EntrySheet:
    """All that one sheet shows."""

    title: str
    date: str
    entry: int
    result: str
    hold: str
    """What stands above everything else where the piece is suspect; empty for all others."""
    total: str
    rows: tuple[ScoreRow, ...]
    comment: str
    final: bool
    notes: tuple[str, ...]
    seen: tuple[str, ...]
    causes_of: str
    causes_if: str
    """A remark where the causes rest on what only some of the judges saw; else empty."""
    causes: tuple[CauseRow, ...]
    unlisted: str
    steps: tuple[StepRow, ...]
    links: tuple[str, ...]
    sources: tuple[Source, ...]
    closing: tuple[str, ...]


def entry_sheets(
    judged: JudgedClass,
    knowledge: Knowledge,
    standings: Sequence[Standing],
    comments: Sequence[Comment],
    final: Mapping[int, str],
) -> tuple[EntrySheet, ...]:
    """The sheets of all entries that have a comment."""
    by_entry = {one.entry: one for one in standings}
    placed = sum(one.place is not None for one in standings)
    return tuple(_sheet(judged, knowledge, by_entry[one.entry], placed, one, final) for one in comments)


def _sheet(
    judged: JudgedClass,
    knowledge: Knowledge,
    standing: Standing,
    placed: int,
    comment: Comment,
    final: Mapping[int, str],
) -> EntrySheet:
    cited = Citations(knowledge)
    plan = comment.plan
    causes = plan.causes
    stages = {one.stage: one.title for one in knowledge.stages}
    titles = [one.found.title for one in plan.faults[: plan.explained]]
    return EntrySheet(
        title=judged.title,
        date=judged.date,
        entry=standing.entry,
        result=_result(standing, placed),
        hold=HOLD if plan.kind == "suspect" else "",
        total="" if standing.total is None else f"{points(standing.total)} of {judged.card.total}",
        rows=tuple(_rows(judged, standing)),
        comment=final.get(standing.entry, comment.text),
        final=standing.entry in final,
        notes=tuple(note for _, note in plan.findings.notes),
        seen=tuple(_seen(one) for one in (*plan.findings.faults, *plan.findings.single)),
        causes_of="; ".join(titles),
        causes_if=_if_seen(plan.faults[: plan.explained]),
        causes=tuple(
            CauseRow(one.cause.title, stages[one.cause.stage], words.likely(one.chance))
            for one in (causes.ranked if causes else ())
        ),
        unlisted=words.likely(causes.unlisted) if causes and causes.ranked else "",
        steps=tuple(StepRow(one.text, _marks(cited, one.basis)) for one in comment.steps if one.kind != "check"),
        links=tuple(
            dict.fromkeys(
                f"{link.from_title} leads to: {link.to_title} ({words.spaced(link.strength)}) {_marks(cited, link.basis)}"
                for one in (*plan.named, *plan.begin)
                for chain in one.chains
                for link in chain
            )
        ),
        sources=cited.sources(),
        closing=(NOT_THE_WHOLE, words.SCALE_SOURCE, f"Knowledge version {knowledge.version}.", words.SAFETY),
    )


def _marks(cited: Citations, basis: Sequence[Basis]) -> str:
    """The numbers of the sources, or in brackets that there is none."""
    return cited.marks(basis) if basis else f"({words.NO_SOURCE})"


def _result(standing: Standing, placed: int) -> str:
    if standing.place is not None:
        return f"Place {standing.place} of {placed} placed{f' ({standing.why})' if standing.why else ''}"
    return {"suspect": "Set aside, not tasted, not placed", "disqualified": "Not placed"}.get(
        standing.status, "Not placed"
    )


def _rows(judged: JudgedClass, standing: Standing) -> list[ScoreRow]:
    rows = []
    sheets = [one for one in judged.of_entry(standing.entry) if not one.disqualified]
    for criterion in judged.card.in_order():
        given = [sheet.points[criterion.id].points for sheet in sheets if criterion.id in sheet.points]
        if not given:
            why = "not tasted" if criterion.tasted and standing.status == "suspect" else "not scored"
            rows.append(ScoreRow(criterion.title, "-", criterion.points, "", why))
            continue
        mean = standing.by_criterion[criterion.id]
        span = f"{min(given)} to {max(given)}" if min(given) != max(given) else "the same" if len(given) > 1 else "one"
        # The words of a level may speak of less than what made a piece suspect, so they are left out there.
        says = "left out (set aside)" if standing.status == "suspect" else level(criterion, round(mean))
        if max(given) - min(given) >= FAR_APART * criterion.points:
            says = f"{says.rstrip('.')}. The judges were far apart." if says else "The judges were far apart."
        rows.append(ScoreRow(criterion.title, points(mean), criterion.points, span, says))
    return rows


def _if_seen(faults: Sequence[Told]) -> str:
    """That the chances hold if fewer than half of the judges were right, where that is so."""
    most = max((one.found for one in faults), key=lambda one: one.judges, default=None)
    if most is None or 2 * most.judges >= most.looked:
        return ""
    return f"If what {most.judges} of {words.counted(most.looked, 'judge')} saw is right; the others did not mark it."


def _seen(one: Found) -> str:
    inside = [degree(one), place_words(one), f"seen by {one.judges} of {words.counted(one.looked, 'judge')}"]
    return f"{one.title} ({', '.join(part for part in inside if part)})"
