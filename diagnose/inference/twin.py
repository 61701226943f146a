"""Two worlds at once: the actual one, and an imagined one in which some links do not act.

All else is alike in both worlds: which roots are on, which links act, which leaks. So a node is at one of three *levels*:
off (0), on but off in the imagined world (1), or on in both (2). Three states make the tables large, so a node has only
two where that is enough: where nothing that is cut lies above it, or where what is known and asked of it and of all below
it needs one of the two worlds only.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from .elimination import Sweep, batches
from .structure import Structure
from .tables import Array
from .weights import Rows, Weights

ALL_TOGETHER = 2**22
"""Numbers in the largest table, over all rows, up to which sorting the rows would cost more than it saves."""


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

    def take(self, rows: Rows) -> Twin:
        """The same for some of the rows."""
        cut = {name: share[rows] for name, share in self.cut.items()}
        return Twin(cut, self.leaks_cut[rows], self.stays, self.goes)

    def reach(self, structure: Structure) -> frozenset[str]:
        """The nodes that may differ between the worlds, all below what is cut."""
        if self.leaks_cut.any():
            return frozenset(structure.names)
        below: set[str] = set()
        for name, share in self.cut.items():
            if share.any():
                below |= structure.network.descendants(name) - {name}
        return frozenset(below.intersection(structure.number))


def twin_sums(structure: Structure, weights: Weights, twin: Twin) -> Array:
    """The sum of each row over the pairs of worlds that are as `twin` asks. Shape (rows,).

    Raises TooEntangledError if a table would be larger than memory allows.
    """
    total = np.empty(weights.rows)
    for rows in _alike(structure, weights, twin):
        some_weights, some_twin = weights.take(rows), twin.take(rows)
        size = structure.largest_table(_Worlds(structure, some_weights, some_twin).states)
        for batch in batches(size, len(rows)):
            sweep = _Worlds(structure, some_weights.take(batch), some_twin.take(batch))
            total[rows[batch]] = sweep.run()
    return total


def _alike(structure: Structure, weights: Weights, twin: Twin) -> list[NDArray[np.intp]]:
    """The rows all together; or, if that is much work, by the nodes that need three states, so that each sweep has few."""
    rows = np.arange(weights.rows)
    worlds = _Worlds(structure, weights, twin)
    if weights.rows * structure.largest_table(worlds.states) <= ALL_TOGETHER:
        return [rows]
    by_wide: dict[frozenset[str], list[int]] = {}
    for row in range(weights.rows):
        reach = twin.take(slice(row, row + 1)).reach(structure)
        by_wide.setdefault(reach & worlds.in_actual & worlds.in_imagined, []).append(row)
    return [np.array(some) for some in by_wide.values()]


class _Worlds(Sweep):
    def __init__(self, structure: Structure, weights: Weights, twin: Twin) -> None:
        super().__init__(structure, weights)
        self.twin = twin
        self.reach = twin.reach(structure)
        self.in_actual: set[str] = set()
        """Nodes of which the actual world matters."""
        self.in_imagined: set[str] = set()
        """Nodes of which the imagined world matters."""
        for name in reversed(structure.names):
            below = [child for child, _ in structure.network.children[name]]
            off, on = weights.off[name], weights.on[name]
            # One that is on for certain and must stay on says all in the imagined world.
            on_in_both = name in twin.stays and not off.any()
            if (not on_in_both and np.any(off != on)) or not self.in_actual.isdisjoint(below):
                self.in_actual.add(name)
            if name in twin.stays or name in twin.goes or not self.in_imagined.isdisjoint(below):
                self.in_imagined.add(name)

    def states(self, name: str) -> int:
        """How many states a node has."""
        if self.nodes[name].kind == "root" or name not in self.reach:
            return 2
        return 3 if name in self.in_actual and name in self.in_imagined else 2

    def _seen_as(self, name: str, level: int) -> int:
        """The state of a node that is at a level."""
        if self.states(name) == 3:
            return level
        return int(level == 2) if name in self.in_imagined else int(level > 0)

    def link(self, parent: str, child: str, acts: Array) -> Array:
        into = self.states(child)
        if self.nodes[parent].kind != "root":
            above = self.states(parent)
            data = np.zeros((len(acts), above, into))
            data[:, 0, 0] = 1.0
            for state in range(1, above):
                level = state if above == 3 else 2
                data[:, state, 0] += 1.0 - acts
                data[:, state, self._seen_as(child, level)] += acts
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
        nothing = np.zeros_like(on)
        if self.states(name) == 2:
            return np.stack((off, nothing if name in self.twin.goes else on), axis=1)
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
