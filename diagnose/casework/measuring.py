"""From results to evidence: what a computed value says of signs and causes, and how much it weighs.

A measure has a band in which the value of an ordinary batch lies. Let d be the distance of the value from the edge and D the
distance `full-at`. With u = min(d / D, 1) the chance that the measure is right is

    r = 1/2 + (R - 1/2) · u² · (3 - 2u)

R being the number of the measure's reliability word. At the edge r is one half, so the value says nothing; it rises smoothly
and stays at R from D on. Beyond the edge the value speaks for the sign with P(value | sign) = r and P(value | no sign) = 1 - r;
on the other side it speaks against it in the same way. Where several measures bear on one id, the one that speaks most for it
counts alone, since they read the same record. A person's own answer on the id takes the place of all of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from diagnose.corpus.figures import Band, Figures, Meaning, Measure
from diagnose.corpus.records import Basis, Knowledge
from diagnose.inference.network import Likelihood

from .batch_outcome import BatchOutcome, RecordCaution, Result, standing_of

LEAST = 0.505
"""A chance of being right nearer to one half than this is not worth a line."""


@dataclass(frozen=True, slots=True)
class Measured:
    """One computed value as evidence: what it is about, what it says and how surely (`right`, between 0.5 and 1)."""

    about: str
    measure: str
    title: str
    value: float
    unit: str
    at_least: float | None
    at_most: float | None
    verdict: str
    right: float
    basis: tuple[Basis, ...]
    standing: str
    """seen, memory or common practice: what is known of the band's edges."""

    @property
    def likelihood(self) -> Likelihood:
        """Chance of this value if what it is about is absent, and if it is present."""
        if self.verdict == "yes":
            return Likelihood(1.0 - self.right, self.right)
        return Likelihood(self.right, 1.0 - self.right)


@dataclass(frozen=True, slots=True)
class Measurements:
    """All that a batch record says in a case: evidence by id, the cautions of the record itself, and what is out of bounds."""

    evidence: Mapping[str, Measured] = field(default_factory=dict)
    cautions: tuple[RecordCaution, ...] = ()
    off: tuple[Result, ...] = ()
    """Results that are not within their published figure; they are shown whatever was answered."""


def right_at(distance: float, full_at: float, reliability: float) -> float:
    """The chance that a measure is right at a distance (0 or more) from the edge of its band.

    `full_at` is above 0 and in the same unit; `reliability` lies between 0.5 and 1.
    """
    u = min(max(distance / full_at, 0.0), 1.0)
    return 0.5 + (reliability - 0.5) * u * u * (3.0 - 2.0 * u)


def measurements(knowledge: Knowledge, figures: Figures, outcome: BatchOutcome) -> Measurements:
    """The evidence in the results of a record."""
    found: dict[str, Measured] = {}
    for measure in figures.measures:
        value = outcome.value(measure.result)
        band = next((one for one in measure.bands if _suits(one, outcome)), None)
        if value is None or band is None:
            continue
        for one in _said(knowledge, measure, band, value):
            before = found.get(one.about)
            if before is None or _for(one) > _for(before):
                found[one.about] = one
    return Measurements(found, outcome.cautions, tuple(one for one in outcome.results if one.off))


def _suits(band: Band, outcome: BatchOutcome) -> bool:
    return band.rules in (outcome.rules, "any") and (not band.products or outcome.product in band.products)


def _for(one: Measured) -> float:
    return one.likelihood.present


def _said(knowledge: Knowledge, measure: Measure, band: Band, value: float) -> Iterator[Measured]:
    if band.at_least is not None:
        for meaning in band.below:
            yield from _one(knowledge, measure, band, value, meaning, band.at_least - value)
    if band.at_most is not None:
        for meaning in band.above:
            yield from _one(knowledge, measure, band, value, meaning, value - band.at_most)


def _one(
    knowledge: Knowledge, measure: Measure, band: Band, value: float, meaning: Meaning, beyond: float
) -> Iterator[Measured]:
    """`beyond` is how far the value lies past the edge, below 0 on the other side of it."""
    right = right_at(abs(beyond), meaning.full_at, knowledge.scales["reliability"].value(meaning.reliability))
    if right < LEAST or (beyond < 0 and meaning.within == "says-nothing"):
        return
    yield Measured(
        about=meaning.about,
        measure=measure.id,
        title=measure.title,
        value=value,
        unit=measure.unit,
        at_least=band.at_least,
        at_most=band.at_most,
        verdict="yes" if beyond > 0 else "no",
        right=right,
        basis=band.basis,
        standing=standing_of(band.basis, knowledge),
    )
