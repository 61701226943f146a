"""What a comment says, apart from how it says it: the good, the faults, their cause as far as it shows, and what to try.

Everything in a plan follows from the sheets, the scorecard and the knowledge. Nothing is added to please or to explain more
than was seen.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from diagnose.casework.events import Answer
from diagnose.corpus.records import Basis, Cause, Knowledge
from diagnose.corpus.scorecards import Criterion, Fault

from .causes import Candidate, Causes, Reasoner
from .findings import Findings, Found, answers_of, findings_of
from .sheet import JudgedClass

MOST_FAULTS = 3
"""Faults told in a comment; a fourth would drown the first."""

IMPORTANT = 0.02
"""A fault costing less than this share of the scorecard's total is told only if nothing weighs more."""

UNSAID = 0.8
"""A criterion that has less than this share of its points, and no fault marked, is named: the maker may ask why."""

NO_SIGN_OUTSIDE = "outside-gave-no-sign"
"""The sign that nothing on the outside gave a fault away; it has a sentence of its own."""

BEFORE_THE_MAKER = ("farm-and-transport", "lairage-and-slaughter", "scalding-and-dressing", "carcass-chilling")
"""Stages that lie before the maker of the finished piece has the meat."""

Kind = Literal["ordinary", "suspect", "disqualified"]


@dataclass(frozen=True, slots=True)
class Told:
    """A fault that the comment tells, with the scorecard's wording for it."""

    found: Found
    fault: Fault | None


@dataclass(frozen=True, slots=True)
class Other:
    """A fault told besides those whose cause is told: its place in the list from 0, and where to look first for it."""

    place: int
    cause: Candidate | None
    try_this: str
    """What its own scorecard suggests, where there is no cause to look at."""


@dataclass(frozen=True, slots=True)
class Step:
    """Something to try or to look at, in the imperative or as a question, with what it rests on."""

    text: str
    kind: Literal["do", "supplier", "check"]
    cause: str
    basis: tuple[Basis, ...]
    id: str


@dataclass(frozen=True, slots=True)
class CommentPlan:
    """The content of one comment.

    `explained` counts the faults, from the first on, that `named` speaks of. Where `named` is empty, `begin` holds the
    causes to look at first, though none stands out.
    """

    entry: int
    kind: Kind
    good: tuple[Criterion, ...]
    best: tuple[Criterion, float] | None
    """Where nothing can be praised: the criterion with the largest share of its points."""
    weakest: tuple[Criterion, float] | None
    """Where nothing was marked: the criterion with the smallest share of its points, if it is below all."""
    faults: tuple[Told, ...]
    single: Told | None
    others: tuple[Other, ...]
    unmarked: tuple[Criterion, float] | None
    """A criterion that lost points though no judge marked a fault of it, with its share of the points; the lowest."""
    named: tuple[Candidate, ...]
    begin: tuple[Candidate, ...]
    explained: int
    causes: Causes | None
    steps: tuple[Step, ...]
    """All that could be tried, the most useful first; a comment takes one or two."""
    unknowable: tuple[bool, ...]
    """For each cause told: whether the maker of the finished piece could not have known of it."""
    no_sign_outside: bool
    details: tuple[str, ...]
    """Titles of what was seen beside the faults and helps to tell their causes apart."""
    asides: tuple[str, ...]
    reasons: tuple[str, ...]
    """A suspect piece: the judges' reasons in their own words."""
    rule: str
    """A disqualified piece: the title of the rule."""
    findings: Findings


def plan_comment(judged: JudgedClass, knowledge: Knowledge, reasoner: Reasoner, entry: int) -> CommentPlan:
    """The plan of the comment on an entry that has at least one sheet."""
    findings = findings_of(judged, knowledge, entry)
    told = _told(judged, findings)
    answers = answers_of(findings)
    cluster, causes = _explained(told, answers, reasoner)
    told = (*cluster, *(one for one in told if one not in cluster))
    named = causes.named if causes else ()
    begin = causes.ranked[:2] if causes and not named else ()
    spoken = (*named, *begin)
    good = tuple(findings.good(judged.card))
    return CommentPlan(
        entry=entry,
        kind="suspect" if findings.suspect else "disqualified" if findings.disqualified else "ordinary",
        good=good,
        best=None if good else _extreme(judged, findings, highest=True),
        weakest=None if told or findings.single else _extreme(judged, findings, highest=False),
        faults=told,
        single=Told(one, judged.card.fault(one.fault)) if (one := next(iter(findings.single), None)) else None,
        others=tuple(_others(told, len(cluster), answers, reasoner)),
        unmarked=_unmarked(judged, findings),
        named=named,
        begin=begin,
        explained=len(cluster),
        causes=causes,
        steps=tuple(_steps(told, spoken, reasoner)),
        unknowable=tuple(_unknowable(one.cause) for one in spoken),
        no_sign_outside=_answered_yes(answers, NO_SIGN_OUTSIDE),
        details=tuple(
            one.title
            for one in findings.faults
            if not one.criterion and not one.dangerous and one.fault != NO_SIGN_OUTSIDE and 2 * one.judges >= one.looked
        ),
        asides=tuple(
            one.fault.aside for one in told if one.fault and one.fault.aside and one.found.how_much == "slight"
        ),
        reasons=findings.suspect,
        rule=next((one.title for one in judged.card.disqualify if one.id == findings.disqualified), ""),
        findings=findings,
    )


def _unknowable(cause: Cause) -> bool:
    return cause.maker_could_know == "not-at-all" and cause.stage in BEFORE_THE_MAKER


def _answered_yes(answers: Mapping[str, Answer], name: str) -> bool:
    return name in answers and answers[name].verdict == "yes"


def _told(judged: JudgedClass, findings: Findings) -> tuple[Told, ...]:
    """The faults that cost most; small ones only where nothing weighs more. A suspect piece tells what made it so."""
    costly = [one for one in findings.faults if one.criterion or one.dangerous]
    least = IMPORTANT * judged.card.total
    heavy = [one for one in costly if one.dangerous or one.lost >= least]
    chosen = (heavy or [one for one in costly if one.lost > 0])[:MOST_FAULTS]
    if len(chosen) < MOST_FAULTS:
        light = [one for one in costly if one not in chosen and one.lost > 0]
        chosen += light[: max(0, 2 - len(chosen))]
    return tuple(Told(one, judged.card.fault(one.fault)) for one in chosen)


def _explained(
    told: tuple[Told, ...], answers: Mapping[str, Answer], reasoner: Reasoner
) -> tuple[tuple[Told, ...], Causes | None]:
    """The faults whose cause is told, and their causes.

    A fault that none of the causes told leads to is left out again, so that no cause seems to stand for it.
    """
    cluster = _cluster(told, reasoner)
    if not cluster:
        return (), None
    causes = reasoner.causes(answers, tuple(one.found.fault for one in cluster))
    if cluster[0].found.dangerous:
        return cluster, causes
    spoken = causes.named or causes.ranked[:2]
    reached = {chain[-1].to_id for one in spoken for chain in one.chains if chain}
    covered = tuple(one for one in cluster if one.found.fault in reached)
    if not covered or covered == cluster:
        return cluster, causes
    return covered, reasoner.causes(answers, tuple(one.found.fault for one in covered))


def _cluster(told: tuple[Told, ...], reasoner: Reasoner) -> tuple[Told, ...]:
    """The first fault that the knowledge can explain, with those of the same criterion, which are explained together.

    What makes a piece suspect is explained together, wherever on the piece it is.
    """
    known = [one for one in told if reasoner.knows(one.found.fault)]
    if not known:
        return ()
    if known[0].found.dangerous:
        return tuple(one for one in known if one.found.dangerous)
    return tuple(one for one in known if one.found.criterion == known[0].found.criterion)


def _extreme(judged: JudgedClass, findings: Findings, *, highest: bool) -> tuple[Criterion, float] | None:
    scored = [one for one in judged.card.criteria if one.id in findings.shares]
    if not scored:
        return None
    shares = findings.shares
    pick = max(scored, key=lambda one: shares[one.id]) if highest else min(scored, key=lambda one: shares[one.id])
    return None if not highest and shares[pick.id] == 1 else (pick, float(shares[pick.id]))


def _others(
    told: tuple[Told, ...], explained: int, answers: Mapping[str, Answer], reasoner: Reasoner
) -> Iterator[Other]:
    for place, one in enumerate(told[explained:], explained):
        known = reasoner.knows(one.found.fault)
        ranked = reasoner.causes(answers, (one.found.fault,)).ranked if known else ()
        yield Other(place, next(iter(ranked), None), one.fault.try_this or "" if one.fault else "")


def _unmarked(judged: JudgedClass, findings: Findings) -> tuple[Criterion, float] | None:
    marked = {mark.fault for sheet in judged.of_entry(findings.entry) for mark in sheet.marks if mark.verdict == "yes"}
    low = [
        one
        for one in judged.card.criteria
        if findings.shares.get(one.id, 1) < UNSAID and marked.isdisjoint(fault.id for fault in one.faults)
    ]
    if not low:
        return None
    lowest = min(low, key=lambda one: findings.shares[one.id])
    return lowest, float(findings.shares[lowest.id])


_SENTENCE = re.compile(r"(?<=[.;?])\s+(?=\S)")


def _steps(told: tuple[Told, ...], spoken: tuple[Candidate, ...], reasoner: Reasoner) -> list[Step]:
    """Steps against the causes told, by turns from each; then what a fault of the scorecard's own suggests; then checks."""
    by_cause: list[list[Step]] = []
    for one in spoken:
        if one.cause.maker_could_know == "not-at-all" and one.cause.stage not in BEFORE_THE_MAKER:
            continue  # it lies with the judging, where the maker can do nothing
        by_cause.append(
            [
                Step(
                    _first(each.do), "supplier" if each.when == "supplier" else "do", one.cause.id, each.basis, each.id
                )
                for each in reasoner.remedies(one.cause)
            ]
        )
    steps = [rest[at] for at in range(max(map(len, by_cause), default=0)) for rest in by_cause if at < len(rest)]
    steps += [Step(one.fault.try_this, "do", "", (), one.fault.id) for one in told if one.fault and one.fault.try_this]
    steps += [
        Step(one.cause.check.ask, "check", one.cause.id, (), one.cause.id) for one in spoken if _askable(one.cause)
    ]
    return steps


def _first(text: str) -> str:
    """The first sentence of an instruction, or its first half where a semicolon parts it."""
    head = _SENTENCE.split(text)[0].rstrip(" ;.")
    return f"{head}."


def _askable(cause: Cause) -> bool:
    """A check that the maker can do in the plant; what only a supplier or a laboratory can answer is left out."""
    return cause.check.needs == "process"
