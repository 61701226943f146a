"""The chance that the next batch is free of the defects, if some causes are taken away.

The causes stay as they are in this batch; what they do is drawn anew. So the network is laid beside a second copy of
everything between the causes and the defects, the defects of the copy are answered "no", and a correction takes its share
off the strength of every link that leaves its cause in the copy. Exact, like all else here.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

import numpy as np

from .elimination import sums
from .evidence import Observed
from .network import NO, Evidence, Network, Node

Removal = Mapping[str, float]
"""Share taken off each root's links, in [0, 1), by root id."""


def free_chances(
    network: Network, evidence: Evidence, defects: Collection[str], removals: Sequence[Removal]
) -> list[float]:
    """P(no defect of `defects` in the next batch | evidence), for each removal in turn."""
    copied = {name for name in network.ancestors(defects) if network.nodes[name].kind != "root"}
    both = Network([*network.nodes.values(), *(_copy(network, name, copied) for name in copied)])
    observed = Observed(both, {**evidence, **{_next(name): NO for name in defects}})
    weights = observed.weights(len(removals) + 1, answered=False)
    for name in copied:
        for parent, strength in network.nodes[name].parents:
            if network.nodes[parent].kind == "root":
                left = [1.0, *(1.0 - removal.get(parent, 0.0) for removal in removals)]
                weights.strength[parent, _next(name)] = strength * np.array(left)
    for name in evidence:
        observed.answer(weights, slice(None), name)
    for name in defects:
        observed.answer(weights, slice(1, None), _next(name))
    total = sums(observed.structure, weights, roots=False).total
    return [float(value) for value in total[1:] / total[0]]


def _next(name: str) -> str:
    return f"{name} next"


def _copy(network: Network, name: str, copied: set[str]) -> Node:
    node = network.nodes[name]
    parents = tuple((_next(p) if p in copied else p, strength) for p, strength in node.parents)
    return Node(_next(name), node.kind, node.chance, parents)
