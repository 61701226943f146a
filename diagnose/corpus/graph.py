"""The knowledge as a graph: what leads to what, and by which chains."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from diagnose.corpus.records import Knowledge, Link

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
    for parent, links in _links(knowledge).items():
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
    links = _links(knowledge)
    scale = knowledge.scales["strength"]
    found: list[tuple[float, tuple[Link, ...]]] = []
    ahead: list[tuple[str, float, tuple[Link, ...]]] = [(cause, 1.0, ())]
    while ahead:
        at, product, way = ahead.pop()
        for link in links.get(at, ()):
            step = (link.to, product * scale.value(link.strength), (*way, link))
            if link.to == sign:
                found.append(step[1:])
            else:
                ahead.append(step)
    found.sort(key=lambda each: (-each[0], len(each[1]), [link.to for link in each[1]]))
    return [way for _, way in found]


def _links(knowledge: Knowledge) -> Mapping[str, tuple[Link, ...]]:
    causes = {cause.id: cause.leads_to for cause in knowledge.causes.values()}
    return causes | {mechanism.id: mechanism.leads_to for mechanism in knowledge.mechanisms.values()}
