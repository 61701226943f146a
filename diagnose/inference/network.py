"""The network: yes/no nodes, joined by links that each do their part by themselves.

A *root* (a cause) has a prior chance. An *any* node is a leaky noisy-OR in the net form (Diez 1993): its chance is its
leak, the probability that it is on though no parent is, and each parent that is on turns it on by itself with the link's
strength. An *all* node is a leaky noisy-AND: it is on if every parent is on and every link acts, or by its leak; without
parents it has only its leak.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal, NamedTuple


@dataclass(frozen=True, slots=True)
class Node:
    """One yes/no node. `chance` is the prior of a root and the leak of any other node; `parents` are (id, strength)."""

    id: str
    kind: Literal["root", "any", "all"]
    chance: float
    parents: tuple[tuple[str, float], ...] = ()


class Likelihood(NamedTuple):
    """What an answer says of a node: the chance of this answer if the node is absent, and if it is present."""

    absent: float
    present: float


YES = Likelihood(0.0, 1.0)
NO = Likelihood(1.0, 0.0)

Evidence = Mapping[str, Likelihood]
"""Answers by node id, in the order in which they were given."""


class Network:
    """Nodes in an order in which parents come before children.

    Raises ValueError for an unknown parent, a repeated id, a cycle, a root with parents, or a number outside its range:
    priors and strengths lie strictly between 0 and 1, a leak may also be 0.
    """

    def __init__(self, nodes: Iterable[Node]) -> None:
        given = list(nodes)
        by_id = {node.id: node for node in given}
        if len(by_id) != len(given):
            raise ValueError("a node id is used twice")
        for node in given:
            _check(node, by_id)
        self.nodes: dict[str, Node] = _parents_first(by_id)
        self.index: dict[str, int] = {name: at for at, name in enumerate(self.nodes)}
        self.children: dict[str, list[tuple[str, float]]] = {name: [] for name in self.nodes}
        for node in self.nodes.values():
            for parent, strength in node.parents:
                self.children[parent].append((node.id, strength))
        self.roots: tuple[str, ...] = tuple(name for name, node in self.nodes.items() if node.kind == "root")

    def ancestors(self, ids: Iterable[str]) -> set[str]:
        """The given nodes and everything above them."""
        found: set[str] = set()
        waiting = list(ids)
        while waiting:
            name = waiting.pop()
            if name not in found:
                found.add(name)
                waiting.extend(parent for parent, _ in self.nodes[name].parents)
        return found

    def descendants(self, name: str) -> set[str]:
        """The node and everything below it."""
        found: set[str] = set()
        waiting = [name]
        while waiting:
            here = waiting.pop()
            if here not in found:
                found.add(here)
                waiting.extend(child for child, _ in self.children[here])
        return found


def _check(node: Node, by_id: Mapping[str, Node]) -> None:
    lowest_allowed = node.chance > 0.0 if node.kind == "root" else node.chance >= 0.0
    if not (lowest_allowed and node.chance < 1.0):
        raise ValueError(f"{node.id}: chance {node.chance} is outside its range")
    if node.kind == "root" and node.parents:
        raise ValueError(f"{node.id}: a root has no parents")
    if len({parent for parent, _ in node.parents}) != len(node.parents):
        raise ValueError(f"{node.id}: the same parent twice")
    for parent, strength in node.parents:
        if parent not in by_id:
            raise ValueError(f"{node.id}: unknown parent {parent}")
        if not 0.0 < strength < 1.0:
            raise ValueError(f"{node.id}: strength {strength} of the link from {parent} is not between 0 and 1")


def _parents_first(by_id: Mapping[str, Node]) -> dict[str, Node]:
    ordered: dict[str, Node] = {}
    for start in by_id:
        open_path: list[str] = []
        waiting = [(start, False)]
        while waiting:
            name, leaving = waiting.pop()
            if leaving:
                open_path.pop()
                ordered[name] = by_id[name]
            elif name in open_path:
                raise ValueError(f"{name}: is its own ancestor")
            elif name not in ordered:
                open_path.append(name)
                waiting.append((name, True))
                waiting.extend((parent, False) for parent, _ in by_id[name].parents)
    return ordered
