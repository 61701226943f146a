"""What the evidence says of each cause: is it present, and did it do what was seen?

*present* is P(cause on | evidence). *responsible* is P(cause on and, had it been off, at least one observed defect would
not have occurred | evidence): Pearl's probability of necessity (Pearl 2009, Causality, ch. 9; read from memory) with every
link acting alike in both worlds. It is found as present minus the part of it in which every defect seen would have
occurred all the same. *unlisted* is the same with all leaks imagined away: some observed defect came from nothing that the
network holds.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass

import numpy as np

from .elimination import sums
from .evidence import Observed
from .twin import Twin, kept_sums


@dataclass(frozen=True, slots=True)
class Posterior:
    """Probabilities given the evidence, by root. `log_probability` is the natural log of P(evidence)."""

    present: Mapping[str, float]
    responsible: Mapping[str, float]
    unlisted: float
    log_probability: float


def present(observed: Observed) -> tuple[dict[str, float], float]:
    """P(root on | evidence) for every root, and the natural log of P(evidence)."""
    result = sums(observed.structure, observed.weights(1))
    total = float(result.total[0])
    found = {name: node.chance for name, node in observed.network.nodes.items() if node.kind == "root"}
    found.update({name: float(part[0]) / total for name, part in result.on.items()})
    return found, math.log(total)


def posterior(observed: Observed, defects: Collection[str]) -> Posterior:
    """`present`, `responsible` and `unlisted`. `defects` are the nodes that count as observed defects when they are on."""
    probable, log_probability = present(observed)
    seen = frozenset(defects) & observed.structure.number.keys()
    responsible = dict.fromkeys(observed.network.roots, 0.0)
    if not seen:
        return Posterior(probable, responsible, 0.0, log_probability)
    able = observed.network.ancestors(seen)
    without: tuple[str | None, ...] = (None, *(name for name in observed.structure.roots if name in able))
    kept = kept_sums(observed.structure, observed.weights(len(without)), Twin(without, seen)) / math.exp(
        log_probability
    )
    for name, part in zip(without, kept, strict=True):
        if name is not None:
            responsible[name] = float(np.clip(probable[name] - part, 0.0, probable[name]))
    return Posterior(probable, responsible, float(np.clip(1.0 - kept[0], 0.0, 1.0)), log_probability)
