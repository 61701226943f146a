"""The knowledge as a graph: what leads to what, and by which chains."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from diagnose.corpus.records import Knowledge, Link
from diagnose.corpus.ways import Ways

if TYPE_CHECKING:
    import networkx


def as_graph(knowledge: Knowledge) -> networkx.DiGraph[str]:
    """A directed graph of causes, mechanisms and signs by id, edges along the links.

    Nodes carry `kind` (cause, mechanism, defect or detail), `title` and `stage` (a cause's stage, else empty); edges
    carry `strength` (the word), `chance` (its number, between 0 and 1) and `basis` (the tuple of sources).
    """
    import networkx

    graph: networkx.DiGraph[str] = networkx.DiGraph(version=knowledge.version)
    for cause in knowledge.causes.values():
        graph.add_node(cause.id, kind="cause", title=cause.title, stage=cause.stage)
    for mechanism in knowledge.mechanisms.values():
        graph.add_node(mechanism.id, kind="mechanism", title=mechanism.title, stage="")
    for sign in knowledge.signs.values():
        graph.add_node(sign.id, kind=sign.kind, title=sign.title, stage="")
    scale = knowledge.scales["strength"]
    for parent, links in Ways(knowledge).links.items():
        for link in links:
            edge: dict[str, Any] = {
                "strength": link.strength,
                "chance": scale.value(link.strength),
                "basis": link.basis,
            }
            graph.add_edge(parent, link.to, **edge)
    return graph


def chains(knowledge: Knowledge, cause: str, sign: str) -> list[tuple[Link, ...]]:
    """Every chain of links from a cause to a sign, the one with the largest product of strengths first.

    Empty when there is none. Raises KeyError for ids that are no cause or no sign.
    """
    if cause not in knowledge.causes:
        raise KeyError(cause)
    if sign not in knowledge.signs:
        raise KeyError(sign)
    links = Ways(knowledge).links
    found: list[tuple[Link, ...]] = []
    ahead: list[tuple[str, tuple[Link, ...]]] = [(cause, ())]
    while ahead:
        at, way = ahead.pop()
        for link in links.get(at, ()):
            if link.to == sign:
                found.append((*way, link))
            else:
                ahead.append((link.to, (*way, link)))
    return sorted(found, key=lambda way: (-chance_of(knowledge, way), len(way), [link.to for link in way]))


def chance_of(knowledge: Knowledge, chain: Sequence[Link]) -> float:
    """The product of the strengths of a chain's links, between 0 and 1: how often the end follows by this chain alone."""
    scale = knowledge.scales["strength"]
    return math.prod(scale.value(link.strength) for link in chain)


def belonging(knowledge: Knowledge) -> dict[str, frozenset[str] | None]:
    """The products that each cause, mechanism and sign belongs to, by id; None stands for all of them.

    A mechanism names none itself: it belongs where one of the causes above it can be at work and one of the signs below it
    can be seen.
    """
    everywhere = frozenset(knowledge.products)
    own = {one.id: frozenset(one.products) or everywhere for one in knowledge.causes.values()}
    seen = {one.id: frozenset(one.products) or everywhere for one in knowledge.signs.values()}
    ways = Ways(knowledge)
    parents: dict[str, list[str]] = {}
    for start, links in ways.links.items():
        for link in links:
            parents.setdefault(link.to, []).append(start)
    children = {start: [link.to for link in links] for start, links in ways.links.items()}
    above = dict(own)
    below = dict(seen)

    def gathered(name: str, steps: Mapping[str, list[str]], known: dict[str, frozenset[str]]) -> frozenset[str]:
        if name not in known:
            known[name] = frozenset()  # the knowledge has no circles; a draft that has ends here all the same
            known[name] = frozenset().union(*(gathered(one, steps, known) for one in steps.get(name, ())))
        return known[name]

    home = {**own, **seen}
    for name in knowledge.mechanisms:
        home[name] = (gathered(name, parents, above) or everywhere) & (gathered(name, children, below) or everywhere)
    return {name: None if products >= everywhere else products for name, products in home.items()}
