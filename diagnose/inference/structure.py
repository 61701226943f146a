"""Which part of a network some evidence touches, and in which order to sum it out."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from functools import lru_cache

from .network import Network
from .tables import in_axis, read_axis


class Structure:
    """The part of a network that some evidence touches, and the order in which to sum it out.

    `inside` are the ids that take part; every parent of a member that is not a root must be a member too.
    """

    def __init__(self, network: Network, inside: Iterable[str]) -> None:
        members = set(inside)
        self.network = network
        self.names: tuple[str, ...] = tuple(name for name in network.nodes if name in members)
        self.number: dict[str, int] = {name: at for at, name in enumerate(self.names)}
        self.links: tuple[tuple[str, str, float], ...] = tuple(
            (parent, name, strength) for name in self.names for parent, strength in network.nodes[name].parents
        )
        self.roots: tuple[str, ...] = tuple(name for name in self.names if network.nodes[name].kind == "root")
        masks = [1 << read_axis(self.number[p]) | 1 << in_axis(self.number[c]) for p, c, _ in self.links]
        orders = [_greedy_order(masks, len(self.names), count_own=count_own) for count_own in (True, False)]
        self.order, self._tables = min(orders, key=lambda found: sum(2 ** len(table) for table in found[1]))

    def largest_table(self, states: Callable[[str], int]) -> int:
        """Most numbers that one row needs in one table while it is summed out, if nodes have so many states.

        An axis of what goes into a node is wider for a moment, while two tables are merged (see `tables`).
        """
        sizes = {}
        for name, node in self.number.items():
            sizes[read_axis(node)] = states(name)
            sizes[in_axis(node)] = 2 * states(name) - 1
        return max((math.prod(sizes[axis] for axis in table) for table in self._tables), default=1)


def _greedy_order(masks: list[int], nodes: int, *, count_own: bool) -> tuple[tuple[int, ...], list[list[int]]]:
    """Node numbers in the order of elimination, and the axes of the table that each is summed out of.

    Each time comes the node whose table has the fewest axes, its own counted or not; neither rule is always the better.
    """
    own = [1 << in_axis(node) | 1 << read_axis(node) for node in range(nodes)]
    tables = set(masks)
    union = {node: _joined(tables, own[node]) for node in range(nodes)}
    order: list[int] = []
    summed: list[list[int]] = []
    while union:
        node = min(union, key=lambda one: ((union[one] & ~(0 if count_own else own[one])).bit_count(), one))
        mask = union.pop(node)
        order.append(node)
        summed.append([axis for axis in range(mask.bit_length()) if mask >> axis & 1])
        tables = {table for table in tables if not table & own[node]}
        rest = mask & ~own[node]
        if rest:
            tables.add(rest)
        for other in union:
            if own[other] & mask:
                union[other] = _joined(tables, own[other])
    return tuple(order), summed


def _joined(tables: Iterable[int], own: int) -> int:
    mask = 0
    for table in tables:
        if table & own:
            mask |= table
    return mask


@lru_cache(maxsize=32)
def structure_of(network: Network, inside: frozenset[str]) -> Structure:
    """The structure of these members, kept for the next call with the same ones."""
    return Structure(network, inside)
