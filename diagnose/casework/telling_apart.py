"""Which causes no question about the product can tell apart, as far as the knowledge goes.

Two causes count as told apart if some sign that the person can look at is clearly likelier when only the one is there than
when only the other is. Otherwise nothing but their own checks can decide between them: the knowledge lacks a sign.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from diagnose.corpus.records import ALL_NEEDS, Knowledge, Needs
from diagnose.inference.elimination import sums
from diagnose.inference.evidence import Observed
from diagnose.inference.network import YES, Network
from diagnose.inference.tables import Array

from .model import Model

CLEARLY = 0.15
"""Difference in the chance of a sign from which on the sign tells two causes apart (our own judgement)."""


@dataclass(frozen=True, slots=True)
class Pair:
    """Two causes that no sign tells apart, and the families that both can give a defect of."""

    first: str
    second: str
    families: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NotToldApart:
    """For each product by its id, the pairs of causes that no sign tells apart: with all records at hand, and for a judge
    who has nothing but the product."""

    everybody: Mapping[str, tuple[Pair, ...]]
    judge: Mapping[str, tuple[Pair, ...]]


def not_told_apart(knowledge: Knowledge) -> NotToldApart:
    """The pairs of every product."""
    only_product: tuple[Needs, ...] = ("product",)
    models = {name: Model(knowledge, name) for name in knowledge.products}
    return NotToldApart(
        everybody={name: pairs_not_told_apart(model, ALL_NEEDS) for name, model in models.items()},
        judge={name: pairs_not_told_apart(model, only_product) for name, model in models.items()},
    )


def pairs_not_told_apart(model: Model, have: Collection[Needs]) -> tuple[Pair, ...]:
    """The pairs of causes with a family in common that no sign tells apart for a person who has `have`.

    In the order of the model's causes. A pair that is of several families comes once.
    """
    signs = [one.id for one in model.signs.values() if one.check.needs in have]
    chances = chances_alone(model.network, signs)
    found: dict[tuple[str, str], list[str]] = {}
    column = {name: at for at, name in enumerate(model.network.roots)}
    for family in model.knowledge.families:
        members = causes_of_family(model, family)
        own = chances[:, [column[name] for name in members]]
        for at, first in enumerate(members):
            apart = np.abs(own - own[:, at : at + 1]).max(axis=0, initial=0.0) > CLEARLY
            for second, is_apart in list(zip(members, apart, strict=True))[at + 1 :]:
                if not is_apart:
                    found.setdefault((first, second), []).append(family)
    order = {name: at for at, name in enumerate(model.causes)}
    in_order = sorted(found, key=lambda pair: (order[pair[0]], order[pair[1]]))
    return tuple(Pair(first, second, tuple(found[first, second])) for first, second in in_order)


def causes_of_family(model: Model, family: str) -> list[str]:
    """The causes of the model that can give a defect of the family, in the model's order."""
    defects = [one.id for one in model.signs.values() if one.kind == "defect" and family in one.family]
    above = model.network.ancestors(defects)
    return [name for name in model.causes if name in above]


def chances_alone(network: Network, signs: Iterable[str]) -> Array:
    """P(sign on | only this root on), shape (signs, roots), roots in the order of `network.roots`.

    Leaks act as ever. Raises TooEntangledError if a sign's chance cannot be found exactly.
    """
    column = {name: at for at, name in enumerate(network.roots)}
    rows = [_alone(network, sign, column) for sign in signs]
    return np.array(rows).reshape(len(rows), len(column))


def _alone(network: Network, sign: str, column: dict[str, int]) -> Array:
    observed = Observed(network, {sign: YES})
    roots = [name for name in observed.structure.roots if name != sign]
    weights = observed.weights(len(roots) + 1)  # the last row has no root on
    for at, name in enumerate(roots):
        weights.on[name] = np.zeros(weights.rows)
        weights.on[name][at] = 1.0
        weights.off[name] = 1.0 - weights.on[name]
    total = sums(observed.structure, weights, roots=False).total
    chances = np.full(len(column), total[-1])
    chances[[column[name] for name in roots]] = total[:-1]
    return chances
