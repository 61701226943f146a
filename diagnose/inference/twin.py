"""Two worlds at once: the actual one and one in which a root, or every leak, is imagined away; links act alike in both.

A node between causes and signs is off (0), on but off in the imagined world (1), or on in both (2). A sign without
children needs only two states: for one that must not go off, whether it is on in both; for any other, whether it is on.
A root is off or on; being on counts as 1 in the row that imagines it away, and as 2 in all others.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from .elimination import Sweep, batches
from .structure import Structure
from .tables import Array
from .weights import Weights


class Twin(NamedTuple):
    """What differs between the two worlds.

    `without` names, row by row, the root that is on in the actual world and off in the imagined one; None stands for the
    leaks: nothing comes on by its leak in the imagined world. `kept` are the nodes that must not go off between the two.
    """

    without: tuple[str | None, ...]
    kept: frozenset[str]


def kept_sums(structure: Structure, weights: Weights, twin: Twin) -> Array:
    """The sum of each row in which every node of `twin.kept` that is on would be on in the imagined world too.

    Shape (rows,). Raises TooEntangledError if a table would be larger than memory allows.
    """
    whole = _Worlds(structure, weights, twin)
    size = 1
    for axis in range(structure.largest.bit_length()):
        if structure.largest >> axis & 1:
            size *= 2 * whole.states(structure.names[axis // 2]) - 1
    parts = []
    for rows in batches(size, weights.rows):
        parts.append(_Worlds(structure, weights.take(rows), Twin(twin.without[rows], twin.kept)).run())
    return np.concatenate(parts)


class _Worlds(Sweep):
    def __init__(self, structure: Structure, weights: Weights, twin: Twin) -> None:
        super().__init__(structure, weights)
        self.twin = twin
        self.leaks_gone = np.array([name is None for name in twin.without])

    def states(self, name: str) -> int:
        """How many states a node has."""
        network = self.structure.network
        if self.nodes[name].kind == "root":
            return 2
        if network.children[name] or self.nodes[name].kind == "all":
            return 3
        # A kept sign whose answer leaves room for it being off needs to know that apart from having gone off.
        return 3 if name in self.twin.kept and np.any(self.weights.off[name] > 0.0) else 2

    def _seen_as(self, name: str, level: int) -> int:
        """The state of a node that is at a level (0 off, 1 on only in the actual world, 2 on in both)."""
        if self.states(name) == 3:
            return level
        return int(level == 2) if name in self.twin.kept else int(level > 0)

    def link(self, parent: str, child: str, acts: Array) -> Array:
        into = self.states(child)
        if self.nodes[parent].kind != "root":
            data = np.zeros((len(acts), 3, into))
            for level in range(3):
                data[:, level, 0] += 1.0 - (acts if level else 0.0 * acts)
                data[:, level, self._seen_as(child, level)] += acts if level else 0.0
            return data
        data = np.zeros((self.weights.rows, 2, into))
        data[:, 0, 0] = 1.0
        data[:, 1, 0] = 1.0 - acts
        gone = np.array([name == parent for name in self.twin.without])
        data[:, 1, self._seen_as(child, 1)] += np.where(gone, acts, 0.0)
        data[:, 1, self._seen_as(child, 2)] += np.where(gone, 0.0, acts)
        return data

    def state_weights(self, name: str) -> Array:
        off, on = self.weights.off[name], self.weights.on[name]
        if self.nodes[name].kind == "root":
            gone = np.array([name == without for without in self.twin.without])
            return np.stack((np.where(gone, 0.0, off), on), axis=1)
        if self.states(name) == 2:
            return np.stack((off, on), axis=1)
        return np.stack((off, np.zeros_like(on) if name in self.twin.kept else on, on), axis=1)

    def leak(self, name: str, chance: Array) -> Array:
        states = self.states(name)
        chance = np.broadcast_to(chance, (self.weights.rows,))
        data = np.zeros((self.weights.rows, states, states))
        for state in range(states):
            data[:, state, state] += 1.0 - chance
            lost, stays = max(state, self._seen_as(name, 1)), max(state, self._seen_as(name, 2))
            data[:, state, lost] += np.where(self.leaks_gone, chance, 0.0)
            data[:, state, stays] += np.where(self.leaks_gone, 0.0, chance)
        return data
