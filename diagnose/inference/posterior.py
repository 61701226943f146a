"""What the evidence says of each cause: is it present, and did it do what was seen?

*present* is P(cause on | evidence). *responsible* is P(cause on and, had it been off, at least one observed defect would
not have occurred | evidence): Pearl's probability of necessity (Pearl 2009, Causality, ch. 9; read from memory) with every
link acting alike in both worlds. It is found as present minus the part of it in which every defect seen would have
occurred all the same. *unlisted* is the same with all leaks imagined away: some observed defect came from nothing that the
network holds.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from .elimination import sums
from .evidence import Observed
from .structure import Structure
from .tables import Array
from .twin import Twin, twin_sums
from .weights import Weights

Removal = Mapping[str, float]
"""Share of each root's links that a set of corrections keeps from acting, in [0, 1], by root id."""


@dataclass(frozen=True, slots=True)
class Posterior:
    """Probabilities given the evidence, by root. `log_probability` is the natural log of P(evidence)."""

    present: Mapping[str, float]
    responsible: Mapping[str, float]
    unlisted: float
    log_probability: float


def present(observed: Observed) -> tuple[dict[str, float], float]:
    """P(root on | evidence) for every root, and the natural log of P(evidence).

    Raises ValueError if the evidence cannot be, TooEntangledError if it cannot be weighed exactly.
    """
    result = sums(observed.structure, observed.weights(1))
    total = float(result.total[0])
    if total <= 0.0:
        raise ValueError("these answers cannot all be true")
    found = {name: node.chance for name, node in observed.network.nodes.items() if node.kind == "root"}
    found.update({name: float(part[0]) / total for name, part in result.on.items()})
    return found, math.log(total)


def posterior(observed: Observed, defects: Collection[str]) -> Posterior:
    """`present`, `responsible` and `unlisted`. `defects` are the nodes that count as observed defects when they are on.

    Raises as `present` does.
    """
    probable, log_probability = present(observed)
    responsible = dict.fromkeys(observed.network.roots, 0.0)
    seen = frozenset(defects) & observed.structure.number.keys()
    if not seen:
        return Posterior(probable, responsible, 0.0, log_probability)
    able = observed.network.ancestors(seen)
    causes = [name for name in observed.structure.roots if name in able]
    # The last row imagines the leaks away; each other row one cause, which is on in the actual world.
    without = [*causes, None]
    kept = all_stay(observed.structure, observed.weights(len(without)), without, seen) / math.exp(log_probability)
    for name, part in zip(causes, kept, strict=False):
        responsible[name] = float(np.clip(probable[name] - part, 0.0, probable[name]))
    return Posterior(probable, responsible, float(np.clip(1.0 - kept[-1], 0.0, 1.0)), log_probability)


def all_stay(structure: Structure, weights: Weights, without: Sequence[str | None], seen: frozenset[str]) -> Array:
    """Row by row, the sum over worlds in which a root is on and no node of `seen` would be lost without it.

    A row whose root is None imagines all leaks away instead. `weights` is changed.
    """
    cut: dict[str, Array] = {}
    for row, name in enumerate(without):
        if name is not None:
            cut.setdefault(name, np.zeros(weights.rows))[row] = 1.0
            weights.off[name][row] = 0.0
    leaks = np.array([float(name is None) for name in without])
    return twin_sums(structure, weights, Twin(cut, leaks, stays=seen))


def gone_chances(observed: Observed, defects: Collection[str], removals: Sequence[Removal]) -> list[float]:
    """P(no defect of `defects` if the batch were made again with a removal | evidence), for each removal in turn.

    The batch made again is this one, with the same causes on and the same links acting, but for what is removed. The
    evidence must be possible (see `present`). Raises TooEntangledError.
    """
    seen = frozenset(defects) & observed.structure.number.keys()
    weights = observed.weights(len(removals))
    total = sums(observed.structure, observed.weights(1), roots=False).total[0]
    touched = {name for removal in removals for name in removal if name in observed.structure.number}
    cut = {name: np.array([removal.get(name, 0.0) for removal in removals]) for name in touched}
    twin = Twin(cut, np.zeros(len(removals)), goes=seen)
    return [float(value) for value in twin_sums(observed.structure, weights, twin) / total]
