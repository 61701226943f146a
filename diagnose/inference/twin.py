"""Two worlds at once: the actual one, and an imagined one in which some links do not act.

All else is alike in both worlds: which roots are on, which links act, which leaks. A node between causes and signs is off
(0), on but off in the imagined world (1), or on in both (2). A sign without children often needs two states only: for one
that must stay on, whether it is on in both; for one that nothing is asked of, whether it is on.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from .elimination import Sweep, batches
from .structure import Structure
from .tables import Array
from .weights import Weights


@dataclass(frozen=True, slots=True)
class Twin:
    """How the imagined world differs, row by row, and what is asked of it.

    `cut` holds, by root, the share of its links that do not act in the imagined world, shape (rows,), each from 0 to 1;
    every link of the root is drawn by itself. `leaks_cut` is the same for all leaks, 0 or 1. Nodes in `stays` must not go
    off between the worlds; nodes in `goes` must be off in the imagined one.
    """

    cut: Mapping[str, Array]
    leaks_cut: Array
    stays: frozenset[str] = field(default_factory=frozenset)
    goes: frozenset[str] = field(default_factory=frozenset)

    def take(self, rows: slice) -> Twin:
        """The same for some of the rows."""
        cut = {name: share[rows] for name, share in self.cut.items()}
        return Twin(cut, self.leaks_cut[rows], self.stays, self.goes)


def twin_sums(structure: Structure, weights: Weights, twin: Twin) -> Array:
    """The sum of each row over the pairs of worlds that are as `twin` asks. Shape (rows,).

    Raises TooEntangledError if a table would be larger than memory allows.
    """
    size = structure.largest_table(_Worlds(structure, weights, twin).states)
    parts = [_Worlds(structure, weights.take(rows), twin.take(rows)).run() for rows in batches(size, weights.rows)]
    return np.concatenate(parts)


class _Worlds(Sweep):
    def __init__(self, structure: Structure, weights: Weights, twin: Twin) -> None:
        super().__init__(structure, weights)
        self.twin = twin

    def states(self, name: str) -> int:
        """How many states a node has."""
        if self.nodes[name].kind == "root":
            return 2
        if self.structure.network.children[name] or self.nodes[name].kind == "all" or name in self.twin.goes:
            return 3
        # A sign that must stay, but whose answer leaves room for its being off, needs to know that from having gone off.
        return 3 if name in self.twin.stays and np.any(self.weights.off[name] > 0.0) else 2

    def _seen_as(self, name: str, level: int) -> int:
        """The state of a node that is at a level (0 off, 1 on only in the actual world, 2 on in both)."""
        if self.states(name) == 3:
            return level
        return int(level == 2) if name in self.twin.stays else int(level > 0)

    def link(self, parent: str, child: str, acts: Array) -> Array:
        into = self.states(child)
        if self.nodes[parent].kind != "root":
            data = np.zeros((len(acts), 3, into))
            data[:, 0, 0] = 1.0
            for level in (1, 2):
                data[:, level, 0] += 1.0 - acts
                data[:, level, self._seen_as(child, level)] += acts
            return data
        cut = self.twin.cut.get(parent, np.zeros(1))
        data = np.zeros((max(len(cut), len(acts)), 2, into))
        data[:, 0, 0] = 1.0
        data[:, 1, 0] = 1.0 - acts
        data[:, 1, self._seen_as(child, 1)] += acts * cut
        data[:, 1, self._seen_as(child, 2)] += acts * (1.0 - cut)
        return data

    def state_weights(self, name: str) -> Array:
        off, on = self.weights.off[name], self.weights.on[name]
        if self.states(name) == 2:
            return np.stack((off, on), axis=1)
        nothing = np.zeros_like(on)
        lost = nothing if name in self.twin.stays else on
        both = nothing if name in self.twin.goes else on
        return np.stack((off, lost, both), axis=1)

    def leak(self, name: str, chance: Array) -> Array:
        states = self.states(name)
        cut = self.twin.leaks_cut
        data = np.zeros((len(cut), states, states))
        for state in range(states):
            data[:, state, state] += 1.0 - chance
            data[:, state, max(state, self._seen_as(name, 1))] += chance * cut
            data[:, state, max(state, self._seen_as(name, 2))] += chance * (1.0 - cut)
        return data
