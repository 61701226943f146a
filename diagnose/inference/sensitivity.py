"""Does the first place hold when the numbers move?

Every number that the answers touch is varied by itself, one row each: a prior, a leak, a link's strength, the reliability
of an answer. The result is exact for each variation, not a slope.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np

from .elimination import sums
from .evidence import Observed
from .network import Likelihood
from .posterior import all_stay
from .tables import Array
from .weights import Weights


@dataclass(frozen=True, slots=True)
class Variation:
    """One number moved: the chance of a node, the strength of the link (`parent`, `node`), or the answer about a node."""

    node: str
    chance: float | None = None
    parent: str | None = None
    strength: float | None = None
    answer: Likelihood | None = None


def responsible_if(
    observed: Observed, defects: Collection[str], contenders: Sequence[str], variations: Sequence[Variation]
) -> Array:
    """`responsible` of each contender under each variation, shape (variations, contenders).

    Variations of nodes that the answers do not touch change nothing and need not be given.
    """
    seen = frozenset(defects) & observed.structure.number.keys()
    actual = _varied(observed, variations)
    result = sums(observed.structure, actual)
    found = np.zeros((len(variations), len(contenders)))
    for at, name in enumerate(contenders):
        weights = _varied(observed, variations)
        kept = all_stay(observed.structure, weights, [name] * len(variations), seen)
        found[:, at] = (result.on[name] - kept) / result.total
    return found


def _varied(observed: Observed, variations: Sequence[Variation]) -> Weights:
    network = observed.network
    weights = observed.weights(len(variations), answered=False)
    for row, one in enumerate(variations):
        node = network.nodes[one.node]
        if one.strength is not None and one.parent is not None:
            link = (one.parent, one.node)
            usual = next(strength for parent, strength in node.parents if parent == one.parent)
            weights.strength.setdefault(link, np.full(weights.rows, usual))[row] = one.strength
        elif one.chance is not None and node.kind == "root":
            weights.off[one.node][row], weights.on[one.node][row] = 1.0 - one.chance, one.chance
        elif one.chance is not None:
            weights.chance.setdefault(one.node, np.full(weights.rows, node.chance))[row] = one.chance
    for name in observed.evidence:
        changed = {row: one.answer for row, one in enumerate(variations) if one.answer and one.node == name}
        if not changed:
            observed.answer(weights, slice(None), name)
            continue
        for row in range(weights.rows):
            observed.answer(weights, row, name, changed.get(row))
    return weights
