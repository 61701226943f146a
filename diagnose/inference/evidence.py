"""From answers to weights: which part of the network some answers touch, and what they multiply.

An answer on a node multiplies the weight of its states. One kind needs no node at all: a certain "no" on a node without
children says only that its leak and all its links stayed quiet, so it multiplies one factor onto each parent. That is why
"no" answers, however many, never tie causes together.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from .network import Evidence, Likelihood, Network
from .structure import Structure, structure_of
from .weights import Weights

RowChoice = slice | int | NDArray[np.bool_]


class Observed:
    """Some answers laid on a network: the structure that they touch and a way to weigh rows of it."""

    def __init__(self, network: Network, evidence: Evidence) -> None:
        for name, likelihood in evidence.items():
            if name not in network.nodes:
                raise ValueError(f"evidence on an unknown node: {name}")
            if min(likelihood) < 0.0 or max(likelihood) <= 0.0:
                raise ValueError(f"{name}: an answer's likelihoods must be non-negative and not both 0")
        self.network = network
        self.evidence = dict(evidence)
        touched: set[str] = set()
        for name, likelihood in self.evidence.items():
            touched |= network.ancestors([name])
            if self.is_plain_no(name, likelihood):
                touched.discard(name)
        self.structure: Structure = structure_of(network, frozenset(touched))

    def is_plain_no(self, name: str, likelihood: Likelihood) -> bool:
        """Whether the answer is a certain no on a noisy-OR node without children."""
        return likelihood.present == 0.0 and self.network.nodes[name].kind == "any" and not self.network.children[name]

    def weights(self, rows: int, *, answered: bool = True) -> Weights:
        """Weights of `rows` equal rows, with all the answers or with none."""
        weights = Weights(self.structure, rows)
        if answered:
            for name in self.evidence:
                self.answer(weights, slice(None), name)
        return weights

    def answer(self, weights: Weights, rows: RowChoice, name: str, likelihood: Likelihood | None = None) -> None:
        """Lay one of the answers on some rows, or another likelihood in its place.

        What differs in `weights.strength` and `weights.chance` must be set before. Raises ValueError for another
        likelihood in the place of a plain no, whose node is not in the structure.
        """
        if self.is_plain_no(name, self.evidence[name]):
            if likelihood is not None:
                raise ValueError(f"{name}: a plain no cannot be replaced by another answer")
            self._plain_no(weights, rows, name)
            return
        likelihood = likelihood or self.evidence[name]
        weights.off[name][rows] *= likelihood.absent
        weights.on[name][rows] *= likelihood.present

    def _plain_no(self, weights: Weights, rows: RowChoice, name: str) -> None:
        node = self.network.nodes[name]
        leak = weights.chance.get(name)
        weights.scale[rows] *= self.evidence[name].absent * (1.0 - (node.chance if leak is None else leak[rows]))
        for parent, strength in node.parents:
            acts = weights.strength.get((parent, name))
            weights.on[parent][rows] *= 1.0 - (strength if acts is None else acts[rows])
