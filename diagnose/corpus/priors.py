"""From published rates to the prior of a cause.

A rate says what share of pigs, carcasses, hams or packs was found to have something; each of its parts says what share of
these matters here (the hind legs among all joints, the lots that hold entire males). Their product is the chance that the
piece in front of somebody has the condition, and that is what a prior is. Several rates are put together by the mean of
their log odds, each with the same weight: studies differ far more by place, year and definition than by the number of pigs
they counted. (Logarithmic opinion pool: Genest and Zidek 1986, Statistical Science 1, 114-135; from memory.)
"""

from __future__ import annotations

from collections.abc import Mapping
from math import exp, log, prod, sqrt

from diagnose.corpus.records import Cause, Part, Rate, Scale


def prior(cause: Cause, scales: Mapping[str, Scale]) -> float:
    """Chance, above 0 and below 1, that a cause is there: computed from its rates, or else the number of its word.

    KeyError if a word is on no scale; ValueError if a share is not above 0 and below 100 per cent.
    """
    if not cause.rates:
        return scales["frequency"].value(cause.frequency)
    return pooled([chance(rate, scales["strength"]) for rate in cause.rates])


def chance(rate: Rate, strength: Scale) -> float:
    """What one rate says of the prior: its share times its parts. Raises as `prior` does."""
    return published(rate) * prod(part_of(part, strength) for part in rate.parts)


def published(rate: Rate) -> float:
    """The published share as a fraction; of a range, the geometric mean of its ends."""
    low, high = rate.share / 100, (rate.share if rate.to is None else rate.to) / 100
    if not 0 < low <= high < 1:
        raise ValueError(f"a share lies above 0 and below 100 per cent: {rate.share:g}, {rate.to}")
    return sqrt(low * high)


def part_of(part: Part, strength: Scale) -> float:
    """The fraction that a part stands for; ValueError if it says neither a share nor how often."""
    if part.how_often is not None:
        return strength.value(part.how_often)
    if part.share is None:
        raise ValueError("a part needs a share or a word")
    return part.share / 100


def pooled(chances: list[float]) -> float:
    """The chance whose log odds are the mean of those of the chances, which are at least one, above 0 and below 1."""
    odds = exp(sum(log(one / (1 - one)) for one in chances) / len(chances))
    return odds / (1 + odds)
