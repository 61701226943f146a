"""What the piece alone says of the cause of a fault, or of faults that go together: every cause with the chance that it
did some of just these faults."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from diagnose.casework.chains import chains_to
from diagnose.casework.diagnosis import ChainLink
from diagnose.casework.events import Answer
from diagnose.casework.model import Model, model_of
from diagnose.corpus.records import Cause, Correction, Knowledge
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
    """A cause and the chance, given all marks, that it did some of the faults in question."""

    cause: Cause
    chance: float
    chains: tuple[tuple[ChainLink, ...], ...]


@dataclass(frozen=True, slots=True)
class Causes:
    """What may be said of the cause of some faults. `named` holds none, one or two candidates, the likelier first."""

    faults: tuple[str, ...]
    named: tuple[Candidate, ...]
    ranked: tuple[Candidate, ...]
    """The first few, for the back page."""
    unlisted: float
    """Chance that something else than the listed causes did it."""


class Reasoner:
    """Works out causes for the entries of a class. Without a product in the knowledge it names none."""

    def __init__(self, knowledge: Knowledge, product: str | None) -> None:
        self.model: Model | None = model_of(knowledge, product) if product else None

    def knows(self, fault: str) -> bool:
        """Whether the knowledge can say anything of the causes of this fault."""
        return self.model is not None and fault in self.model.signs

    def causes(self, answers: Mapping[str, Answer], faults: tuple[str, ...]) -> Causes:
        """The causes of faults that were answered yes, in the light of all answers.

        The chance of a cause is that it is there and did at least one of these faults. Raises KeyError for a fault that
        `knows` does not know.
        """
        model = self.model
        if model is None or not faults:
            return Causes(faults, (), (), 1.0)
        observed = Observed(model.network, model.evidence(answers))
        found = posterior(observed, faults)
        order = sorted(model.causes, key=lambda name: (-found.responsible[name], name))[:4]
        ranked = tuple(
            Candidate(model.causes[name], found.responsible[name], chains_to(model, name, faults))
            for name in order
            if found.responsible[name] > 0.0
        )
        return Causes(faults, _named(ranked), ranked, found.unlisted)

    def remedies(self, cause: Cause) -> list[Correction]:
        """What helps against a cause in other batches of this product, what takes most of it away first."""
        if self.model is None:
            return []
        removal, product = self.model.knowledge.scales["removal"], self.model.product
        useful = [
            one
            for one in cause.corrections
            if one.when != "this-lot" and one.suits(product) and removal.value(one.removes) > 0.0
        ]
        return sorted(useful, key=lambda one: -removal.value(one.removes))


def _named(ranked: tuple[Candidate, ...]) -> tuple[Candidate, ...]:
    if not ranked or ranked[0].chance < NAMED:
        return ()
    if len(ranked) == 1 or ranked[0].chance >= LIKELY:
        return ranked[:1]
    second = ranked[1]
    return ranked[:2] if second.chance >= max(NAMED, NEAR * ranked[0].chance) else ranked[:1]
