"""What a class has in common, for the talk after the show: its faults, how many had them, and where they point."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import mean

from diagnose.corpus.records import Cause, Correction, Knowledge

from .causes import Reasoner
from .findings import Found, answers_of, findings_of
from .sheet import JudgedClass

FEWEST = 2
"""Entries that must share a fault before it is called common."""

MOST_CAUSES = 3


@dataclass(frozen=True, slots=True)
class CommonFault:
    """A fault of several entries. `causes` are those likeliest over them all, with the mean chance."""

    fault: str
    title: str
    criterion: str
    entries: tuple[int, ...]
    judged: int
    """Entries of the class that were judged, with and without it."""
    marked: int
    """Entries in which it was marked rather than slight."""
    lost: float
    """Mean cost in points for an entry that has it."""
    causes: tuple[tuple[Cause, float], ...]
    corrections: tuple[Correction, ...]
    """The most useful one for each cause that has any for a next batch."""

    @property
    def share(self) -> float:
        """Share of the entries judged that have it, between 0 and 1."""
        return len(self.entries) / self.judged


def common_faults(judged: JudgedClass, knowledge: Knowledge, fewest: int = FEWEST) -> tuple[CommonFault, ...]:
    """The faults that at least `fewest` entries share, the commonest first."""
    reasoner = Reasoner(knowledge, judged.card.product)
    seen: dict[str, list[tuple[int, Found]]] = defaultdict(list)
    chances: dict[str, list[dict[str, float]]] = defaultdict(list)
    judged_entries = [entry for entry in judged.entries if judged.of_entry(entry)]
    for entry in judged_entries:
        findings = findings_of(judged, knowledge, entry)
        answers = answers_of(findings)
        for one in findings.faults:
            if not one.criterion:
                continue
            seen[one.fault].append((entry, one))
            if reasoner.knows(one.fault):
                ranked = reasoner.causes(answers, (one.fault,)).ranked
                chances[one.fault].append({candidate.cause.id: candidate.chance for candidate in ranked})
    found = [
        _common(fault, entries, len(judged_entries), chances[fault], reasoner, knowledge)
        for fault, entries in seen.items()
        if len(entries) >= fewest
    ]
    return tuple(sorted(found, key=lambda one: (-len(one.entries), -one.lost, one.fault)))


def _common(
    fault: str,
    entries: Sequence[tuple[int, Found]],
    judged: int,
    chances: list[dict[str, float]],
    reasoner: Reasoner,
    knowledge: Knowledge,
) -> CommonFault:
    first = entries[0][1]
    ids = {name for one in chances for name in one}
    over_all = {name: mean(one.get(name, 0.0) for one in chances) for name in ids}
    best = sorted(over_all, key=lambda name: (-over_all[name], name))[:MOST_CAUSES]
    causes = tuple((knowledge.causes[name], over_all[name]) for name in best)
    return CommonFault(
        fault=fault,
        title=first.title,
        criterion=first.criterion,
        entries=tuple(entry for entry, _ in entries),
        judged=judged,
        marked=sum(one.how_much != "slight" for _, one in entries),
        lost=mean(one.lost for _, one in entries),
        causes=causes,
        corrections=tuple(one for cause, _ in causes for one in reasoner.remedies(cause)[:1]),
    )
