"""Every world of a small network, one by one.

A world says which causes are on, which links act and which leaks act; all of these are independent. What follows is worked
out by the plain definition of each node, once as it is and once as it would have been had some links or leaks not acted.
Nothing is shared with the engine but the description of the network.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from fractions import Fraction
from itertools import product

import numpy as np
from numpy.typing import NDArray

from diagnose.inference.network import Evidence, Network

Bools = NDArray[np.bool_]

MOST_EVENTS = 17
"""Independent yes/no events in one enumeration; each doubles the worlds."""


def events_of(network: Network) -> dict[tuple[str, ...], float]:
    """The independent events with their chances: ("cause", id), ("link", parent, child), ("leak", id)."""
    events: dict[tuple[str, ...], float] = {}
    for node in network.nodes.values():
        events[("cause" if node.kind == "root" else "leak", node.id)] = node.chance
        for parent, strength in node.parents:
            events["link", parent, node.id] = strength
    return {event: chance for event, chance in events.items() if chance > 0.0}


class Worlds:
    """All worlds of a network under some evidence. `kept` adds an event per link of the causes it names: that the link
    would be kept from acting in a batch made again, with the given chance."""

    def __init__(self, network: Network, evidence: Evidence, kept: Mapping[str, float] | None = None) -> None:
        self.network = network
        chances = events_of(network)
        for event in list(chances):
            if kept and event[0] == "link" and event[1] in kept:
                chances["kept", *event[1:]] = kept[event[1]]
        if len(chances) > MOST_EVENTS:
            raise ValueError(f"{len(chances)} events are too many to enumerate")
        count = 2 ** len(chances)
        self.weight = np.ones(count)
        self.happens: dict[tuple[str, ...], Bools] = {}
        for at, (event, chance) in enumerate(chances.items()):
            self.happens[event] = (np.arange(count) >> at & 1).astype(bool)
            self.weight *= np.where(self.happens[event], chance, 1.0 - chance)
        self.never = np.zeros(count, dtype=bool)
        self.actual = self.play(lambda _: self.never)
        for name, likelihood in evidence.items():
            self.weight *= np.where(self.actual[name], likelihood.present, likelihood.absent)
        self.total = float(self.weight.sum())

    def play(self, prevented: Callable[[tuple[str, ...]], Bools]) -> dict[str, Bools]:
        """Which nodes are on in each world when the events for which `prevented` holds do not happen."""
        on: dict[str, Bools] = {}

        def happens(*event: str) -> Bools:
            return self.happens.get(event, self.never) & ~prevented(event)

        for name, node in self.network.nodes.items():
            if node.kind == "root":
                on[name] = happens("cause", name)
                continue
            acting = [on[parent] & happens("link", parent, name) for parent, _ in node.parents]
            together = np.logical_or if node.kind == "any" else np.logical_and
            on[name] = happens("leak", name)
            if acting:
                on[name] = on[name] | together.reduce(acting)
        return on

    def chance(self, where: Bools) -> float:
        """Chance of the worlds `where`, given the evidence."""
        return float(self.weight[where].sum()) / self.total

    def present(self) -> dict[str, float]:
        return {name: self.chance(self.actual[name]) for name in self.network.nodes}

    def responsible(self, defects: Collection[str]) -> dict[str, float]:
        """By cause: it is on, and some defect that is on would have been off without it."""
        found = {}
        for name in self.network.roots:
            other = self.play(lambda event, name=name: ~self.never if event == ("cause", name) else self.never)  # type: ignore[misc]
            found[name] = self.chance(self.actual[name] & self._lost(other, defects))
        return found

    def unlisted(self, defects: Collection[str]) -> float:
        """Some defect that is on would have been off without leaks."""
        other = self.play(lambda event: ~self.never if event[0] == "leak" else self.never)
        return self.chance(self._lost(other, defects))

    def gone(self, defects: Collection[str]) -> float:
        """No defect is on in the batch made again."""
        other = self.play(lambda event: self.happens.get(("kept", *event[1:]), self.never))
        still = np.logical_or.reduce([self.never, *(other[name] for name in defects)])
        return self.chance(~still)

    def _lost(self, other: Mapping[str, Bools], defects: Collection[str]) -> Bools:
        lost: Bools = np.logical_or.reduce([self.never, *(self.actual[name] & ~other[name] for name in defects)])
        return lost


def exact(network: Network, evidence: Evidence) -> tuple[Fraction, dict[str, Fraction]]:
    """P(evidence) and P(root on, evidence) in fractions, for a network whose nodes are causes and `any` signs only."""
    total = Fraction(0)
    on = dict.fromkeys(network.roots, Fraction(0))
    for states in product((False, True), repeat=len(network.roots)):
        state = dict(zip(network.roots, states, strict=True))
        weight = Fraction(1)
        for name, node in network.nodes.items():
            chance = Fraction(node.chance)
            if node.kind == "root":
                weight *= chance if state[name] else 1 - chance
            if node.kind != "root":
                off = 1 - chance
                for parent, strength in node.parents:
                    off *= 1 - Fraction(strength) if state[parent] else 1
                chance = 1 - off
                if name in evidence:
                    weight *= (1 - chance) * Fraction(evidence[name].absent) + chance * Fraction(evidence[name].present)
            elif name in evidence:
                weight *= Fraction(evidence[name].present if state[name] else evidence[name].absent)
        total += weight
        for name in network.roots:
            if state[name]:
                on[name] += weight
    return total, on
