"""What the piece alone says of the cause of one fault: every cause with the chance that it did that very fault."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from diagnose.casework.chains import chains_to
from diagnose.casework.diagnosis import ChainLink
from diagnose.casework.events import Answer
from diagnose.casework.model import Model, model_of
from diagnose.corpus.records import Cause, Knowledge
from diagnose.inference.evidence import Observed
from diagnose.inference.posterior import posterior

NAMED = 0.10
"""A cause less likely than this to have done the fault is not named at all."""

LIKELY = 0.66
"""From here on the approximate probability scale says likely, and one cause is named alone."""

NEAR = 0.5
"""A second cause at least this share as likely as the first is named beside it, unless the first is likely."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """A cause and the chance, given all marks, that it did the fault in question."""

    cause: Cause
    chance: float
    chains: tuple[tuple[ChainLink, ...], ...]


@dataclass(frozen=True, slots=True)
class Causes:
    """What may be said of the cause of one fault. `named` holds none, one or two candidates, the likelier first."""

    fault: str
    named: tuple[Candidate, ...]
    ranked: tuple[Candidate, ...]
    """The first few, for the back page."""
    unlisted: float
    """Chance that something else than the listed causes did it."""


class Reasoner:
    """Works out causes for the entries of a class. Without a product in the knowledge it names none."""

    def __init__(self, knowledge: Knowledge, product: str | None) -> None:
        self.model: Model | None = model_of(knowledge, product) if product else None

    def causes(self, answers: Mapping[str, Answer], fault: str) -> Causes:
        """The causes of one fault that was answered yes, in the light of all answers."""
        if self.model is None or fault not in self.model.signs:
            return Causes(fault, (), (), 1.0)
        observed = Observed(self.model.network, self.model.evidence(answers))
        found = posterior(observed, (fault,))
        order = sorted(self.model.causes, key=lambda name: (-found.responsible[name], name))[:4]
        ranked = tuple(
            Candidate(self.model.causes[name], found.responsible[name], chains_to(self.model, name, (fault,)))
            for name in order
            if found.responsible[name] > 0.0
        )
        return Causes(fault, _named(ranked), ranked, found.unlisted)


def _named(ranked: tuple[Candidate, ...]) -> tuple[Candidate, ...]:
    if not ranked or ranked[0].chance < NAMED:
        return ()
    if len(ranked) == 1 or ranked[0].chance >= LIKELY:
        return ranked[:1]
    second = ranked[1]
    return ranked[:2] if second.chance >= max(NAMED, NEAR * ranked[0].chance) else ranked[:1]
