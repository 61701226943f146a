"""Variable elimination over noisy-OR links: the probability of many rows of evidence in one sweep.

The links stay apart as small tables, so that a sign with twenty parents costs twenty small mergers and never a table over
all of them. A *row* is one set of weights on the same structure: one possible next answer, one beginning of the list of
answers, one varied number. All rows share the order of elimination.

The chance of a cause given the evidence is a slope: the sum is linear in the weight of each state of each node, so the part
of it in which a root is on equals that weight times the slope (Darwiche 2003, A differential approach to inference in
Bayesian networks, J. ACM 50:280-305; read from memory).
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from .structure import Structure
from .tables import Array, Merge, Table, in_axis, read_axis
from .weights import Weights

LARGEST_TABLE = 2**24
"""Most numbers in one table (128 MiB; a sweep holds up to about eight of that size); a sweep that needs more is refused."""

ROWS_AT_ONCE = 2**21
"""Numbers in the largest table of one sweep before its rows are split into several sweeps."""


class TooEntangledError(ValueError):
    """The evidence ties so many nodes together that an exact answer would not fit in memory."""


class Sums(NamedTuple):
    """Result of a sweep: the weighted sum of each row, shape (rows,), and its part with a root on, (rows,) by root."""

    total: Array
    on: Mapping[str, Array]


def sums(structure: Structure, weights: Weights, *, roots: bool = True) -> Sums:
    """Sum every row over all states; with `roots`, also the part of the sum in which each root is on.

    Raises TooEntangledError if a table would be larger than memory allows.
    """
    parts = []
    for rows in batches(structure.largest_table(lambda _: 2), weights.rows):
        sweep = _Actual(structure, weights.take(rows), way_back=roots)
        total = sweep.run()
        parts.append(Sums(total, sweep.roots_on() if roots else {}))
    total = np.concatenate([part.total for part in parts])
    return Sums(total, {name: np.concatenate([part.on[name] for part in parts]) for name in parts[0].on})


def batches(size: int, rows: int) -> list[slice]:
    """The rows in batches that keep the largest table, of `size` numbers a row, within bounds."""
    if size > LARGEST_TABLE:
        raise TooEntangledError("these answers tie too many conditions together to be weighed exactly; leave out some")
    step = max(1, ROWS_AT_ONCE // size)
    return [slice(start, min(start + step, rows)) for start in range(0, max(rows, 1), step)]


class Elimination(NamedTuple):
    """One node summed out: the table before, the weight of each of its entries, the summed axes, the table after."""

    name: str
    before: Table | None
    factor: Array
    summed: tuple[int, ...]
    after: Table


class Sweep(ABC):
    """One pass over a structure. What the states of a node are, and what its links do, is left to the kind of sweep."""

    def __init__(self, structure: Structure, weights: Weights, *, way_back: bool = False) -> None:
        self.structure = structure
        self.nodes = structure.network.nodes
        self.weights = weights
        self.way_back = way_back
        self.steps: list[Merge | Elimination] = []
        """What was done, for the way back; empty if there is to be none, since it keeps every table in memory."""
        self.ends: list[Table] = []

    @abstractmethod
    def link(self, parent: str, child: str, acts: Array) -> Array:
        """A link's numbers, (rows, states of the parent, states of what goes into the child)."""

    @abstractmethod
    def state_weights(self, name: str) -> Array:
        """The weight of each state of a node, (rows, states)."""

    @abstractmethod
    def leak(self, name: str, chance: Array) -> Array:
        """A node's chance of each state for what went in, (rows, states in, states); the in states from low to high."""

    def run(self) -> Array:
        """Eliminate every node; the sum of each row."""
        by_axis: dict[int, list[Table]] = {}
        for link in self.structure.links:
            table = self._link_table(*link)
            for axis in table.axes:
                by_axis.setdefault(axis, []).append(table)
        for node in self.structure.order:
            touching = {id(t): t for axis in (in_axis(node), read_axis(node)) for t in by_axis.pop(axis, ())}
            after = self._eliminate(node, self._merge(list(touching.values())))
            for axis in {axis for table in touching.values() for axis in table.axes}:
                if axis in by_axis:
                    by_axis[axis] = [table for table in by_axis[axis] if id(table) not in touching]
            for axis in after.axes:
                by_axis.setdefault(axis, []).append(after)
            if not after.axes:
                self.ends.append(after)
        return self._total()

    def _total(self) -> Array:
        total = self.weights.scale
        for end in self.ends:
            total = total * end.data
        return total

    def _merge(self, tables: list[Table]) -> Table | None:
        """Merge all, small ones first, so that the many small tables do not each pay for the large one."""
        if not tables:
            return None
        tables.sort(key=lambda table: len(table.axes))
        while len(tables) > 1:
            step = Merge(tables[0], tables[1])
            self._note(step)
            tables[:2] = []
            size = len(step.result.axes)
            at = next((at for at, table in enumerate(tables) if len(table.axes) >= size), len(tables))
            tables.insert(at, step.result)
        return tables[0]

    def _eliminate(self, node: int, before: Table | None) -> Table:
        name = self.structure.names[node]
        axes = () if before is None else before.axes
        own = [axis for axis in (in_axis(node), read_axis(node)) if axis in axes]
        factor = self._factor(name, has_in=in_axis(node) in own, has_read=read_axis(node) in own)
        if before is None:
            after = Table((), factor.sum(axis=1))
            self._note(Elimination(name, None, factor, (), after))
            return after
        at = 1 + axes.index(own[0])
        shape = [factor.shape[0], *[1] * (before.data.ndim - 1)]
        shape[at : at + len(own)] = factor.shape[1:]
        factor = factor.reshape(shape)
        summed = tuple(range(at, at + len(own)))
        after = Table(tuple(axis for axis in axes if axis not in own), (before.data * factor).sum(axis=summed))
        self._note(Elimination(name, before, factor, summed, after))
        return after

    def _note(self, step: Merge | Elimination) -> None:
        if self.way_back:
            self.steps.append(step)

    def _factor(self, name: str, *, has_in: bool, has_read: bool) -> Array:
        """The weights of a node over the axes that its table has: (rows, states) or (rows, states in, states)."""
        node = self.nodes[name]
        weights = self.state_weights(name)
        if node.kind == "root":
            return weights
        given = self.weights.chance.get(name)
        factor = self.leak(name, np.array([node.chance]) if given is None else given) * weights[:, None, :]
        if not has_in:
            return factor[:, 0]
        if node.kind == "all":
            factor = factor[:, ::-1]
        return factor if has_read else factor.sum(axis=2)

    def _link_table(self, parent: str, child: str, strength: float) -> Table:
        varied = self.weights.strength.get((parent, child))
        data = self.link(parent, child, np.array([strength]) if varied is None else varied)
        if self.nodes[child].kind == "all":
            data = data[:, :, ::-1]
        number = self.structure.number
        return Table((read_axis(number[parent]), in_axis(number[child])), data)


class _Actual(Sweep):
    """The actual world: every node is off or on."""

    def link(self, parent: str, child: str, acts: Array) -> Array:
        data = np.zeros((len(acts), 2, 2))
        data[:, 0, 0] = 1.0
        data[:, 1, 0] = 1.0 - acts
        data[:, 1, 1] = acts
        return data

    def state_weights(self, name: str) -> Array:
        return np.stack((self.weights.off[name], self.weights.on[name]), axis=1)

    def leak(self, name: str, chance: Array) -> Array:
        data = np.zeros((len(chance), 2, 2))
        data[:, 0, 0] = 1.0 - chance
        data[:, 0, 1] = chance
        data[:, 1, 1] = 1.0
        return data

    def roots_on(self) -> dict[str, Array]:
        """Walk back; the part of each row's sum with each root on."""
        # The slope of each end is the product of all the others; a quotient would fail where a row's sum is 0.
        before: Array = self.weights.scale
        for end in self.ends:
            end.slope = before
            before = before * end.data
        after: Array = np.ones(1)
        for end in reversed(self.ends):
            assert end.slope is not None
            end.slope = end.slope * after
            after = after * end.data
        roots = set(self.structure.roots)
        found: dict[str, Array] = {}
        for step in reversed(self.steps):
            if isinstance(step, Merge):
                step.back()
                continue
            slope = step.after.slope
            assert slope is not None
            if step.before is None:
                if step.name in roots:
                    found[step.name] = slope * step.factor[:, 1]
                continue
            down = np.expand_dims(slope, step.summed) * step.factor
            if step.name in roots:
                on = (slice(None),) * step.summed[0] + (1,)
                part = down[on] * step.before.data[on]
                found[step.name] = part.reshape(part.shape[0], -1).sum(axis=1)
            step.before.add_slope(down)
        return found
