"""Tables over nodes' states, and the two operations that exact elimination needs: merging and summing out.

A table has a leading axis of *rows* (independent questions answered in one sweep; length 1 where all rows agree) and one
axis for each node it speaks of. A node can appear in two ways. Its *read* axis says which state it is in. Its *in* axis
says how far the parents that were merged so far have turned it on; two tables that both speak of what goes into a node are
combined by taking, state by state, the larger of the two contributions. Done this way, every number stays a sum and
product of non-negative terms, so nothing cancels, however unlikely the evidence.

States are 0 (off) and 1 (on), or in a twin network 0 (off), 1 (on, but off had things been different), 2 (on in both).
An *all* node wants the smaller contribution instead, so its in axis is stored from the highest state down.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def in_axis(node: int) -> int:
    """Axis number of what goes into a node."""
    return 2 * node


def read_axis(node: int) -> int:
    """Axis number of a node's own state."""
    return 2 * node + 1


class Table:
    """Non-negative numbers over some axes, which are kept in increasing order. `data` has shape (rows, states, ...)."""

    __slots__ = ("axes", "data", "slope")

    def __init__(self, axes: tuple[int, ...], data: Array) -> None:
        self.axes = axes
        self.data = data
        self.slope: Array | None = None
        """How the row's total changes with each entry; filled by the backward pass."""

    def add_slope(self, slope: Array) -> None:
        self.slope = slope if self.slope is None else self.slope + slope


class Merge:
    """The merger of two tables, and its way back."""

    __slots__ = ("_left", "_right", "_shared", "left", "result", "right")

    def __init__(self, left: Table, right: Table) -> None:
        self.left, self.right = left, right
        axes = tuple(sorted({*left.axes, *right.axes}))
        self._shared = [
            at + 1 for at, axis in enumerate(axes) if not axis & 1 and axis in left.axes and axis in right.axes
        ]
        a, b = _spread(left, axes), _spread(right, axes)
        for at in self._shared:
            a, b = _own(a, at), _up_to(b, at)
        self._left, self._right = a, b
        data = a * b
        for at in self._shared:
            data = _fold(data, at)
        self.result = Table(axes, data)

    def back(self) -> None:
        """Hand the result's slope on to both sides. Only for tables of two states."""
        slope = self.result.slope
        assert slope is not None
        for at in self._shared:
            slope = slope.take((0, 1, 1), axis=at)
        ours = _gather(slope * self._right, self.left, self.result.axes)
        theirs = _gather(slope * self._left, self.right, self.result.axes)
        for axis in (self.result.axes[at - 1] for at in self._shared):
            at = self.left.axes.index(axis) + 1
            folded = ours[_at(at, slice(0, 2))].copy()
            folded[_at(at, 0)] += ours[_at(at, 2)]
            ours = folded
            at = self.right.axes.index(axis) + 1
            theirs = theirs[_at(at, slice(0, 2))] + theirs[_at(at, slice(1, 3))]
        self.left.add_slope(ours)
        self.right.add_slope(theirs)


def _at(axis: int, what: int | slice) -> tuple[Any, ...]:
    return (slice(None),) * axis + (what,)


def _spread(table: Table, axes: tuple[int, ...]) -> Array:
    """The table's numbers, shaped to lie over all of `axes`."""
    if table.axes == axes:
        return table.data
    sizes = iter(table.data.shape[1:])
    shape = (table.data.shape[0], *(next(sizes) if axis in table.axes else 1 for axis in axes))
    return table.data.reshape(shape)


def _gather(data: Array, table: Table, axes: tuple[int, ...]) -> Array:
    """Sum over the axes that the table does not have."""
    missing = tuple(at + 1 for at, axis in enumerate(axes) if axis not in table.axes)
    return data.sum(axis=missing) if missing else data


# The largest of two contributions h and k, as sums of non-negative products. Two states:
#   off = h0 k0                      on = h1 (k0 + k1) + h0 k1
# Three states add:                  2  = h2 (k0 + k1 + k2) + (h0 + h1) k2
# `_own` lists the h factors of those products, `_up_to` the k factors, `_fold` adds the products up.


def _own(h: Array, at: int) -> Array:
    if h.shape[at] == 2:
        return h.take((0, 1, 0), axis=at)
    out = h.take((0, 1, 0, 2, 0), axis=at)
    out[_at(at, 4)] += h[_at(at, 1)]
    return out


def _up_to(k: Array, at: int) -> Array:
    if k.shape[at] == 2:
        out = k.take((0, 0, 1), axis=at)
        out[_at(at, 1)] += k[_at(at, 1)]
        return out
    out = k.take((0, 0, 1, 0, 2), axis=at)
    out[_at(at, 1)] += k[_at(at, 1)]
    out[_at(at, 3)] += k[_at(at, 1)]
    out[_at(at, 3)] += k[_at(at, 2)]
    return out


def _fold(products: Array, at: int) -> Array:
    if products.shape[at] == 3:
        both: Array = products[_at(at, slice(0, 2))]
        both[_at(at, 1)] += products[_at(at, 2)]
        return both
    out = products.take((0, 1, 3), axis=at)
    out[_at(at, 1)] += products[_at(at, 2)]
    out[_at(at, 2)] += products[_at(at, 4)]
    return out
