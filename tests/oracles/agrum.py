"""The same network in pyAgrum, an independent engine.

A node with many parents has its noisy-OR split into smaller ones (an OR of noisy-ORs without leaks is the noisy-OR of all
of them), because pyAgrum lays a table over all parents of a node. The default noisy-OR of pyAgrum is the compound form;
`addNoisyORNet` is the net form that we use.
"""

from __future__ import annotations

import pyagrum as gum

from diagnose.inference.network import Evidence, Network, Node

MOST_PARENTS = (2, 3, 4, 5)
"""Ways to split a noisy-OR; which one suits pyAgrum best differs from case to case."""

NARROW = 13
"""Nodes in the largest clique up to which no better split is looked for."""

WIDEST = 20
"""Most nodes in one clique of pyAgrum's junction tree; its table has two to this power numbers."""


def agrum_net(network: Network, most_parents: int) -> gum.BayesNet:
    """The pyAgrum network; nodes keep their ids."""
    net = gum.BayesNet()
    for node in network.nodes.values():
        if node.kind == "root":
            net.add(gum.LabelizedVariable(node.id, "", 2))
            net.cpt(node.id).fillWith([1.0 - node.chance, node.chance])
        elif node.kind == "any":
            _noisy_or(net, node, most_parents)
        else:
            _noisy_and(net, node)
    return net


def _noisy_or(net: gum.BayesNet, node: Node, most_parents: int) -> None:
    parents = list(node.parents)
    level = 0
    while len(parents) > most_parents:
        groups = [parents[at : at + most_parents] for at in range(0, len(parents), most_parents)]
        parents = []
        for at, group in enumerate(groups):
            part = f"{node.id} {level}.{at}"
            _add_noisy_or(net, part, 0.0, group)
            parents.append((part, 1.0))
        level += 1
    _add_noisy_or(net, node.id, node.chance, parents)


def _add_noisy_or(net: gum.BayesNet, name: str, leak: float, parents: list[tuple[str, float]]) -> None:
    net.addNoisyORNet(gum.LabelizedVariable(name, "", 2), leak)
    for parent, strength in parents:
        net.addWeightedArc(parent, name, strength)


def _noisy_and(net: gum.BayesNet, node: Node) -> None:
    net.add(gum.LabelizedVariable(node.id, "", 2))
    for parent, _ in node.parents:
        net.addArc(parent, node.id)
    acting = 1.0
    for _, strength in node.parents:
        acting *= strength
    table = net.cpt(node.id)
    table.fillWith([1.0 - node.chance, node.chance] * (table.domainSize() // 2))
    on = 1.0 - (1.0 - node.chance) * (1.0 - acting)
    table[{parent: 1 for parent, _ in node.parents}] = [1.0 - on, on]


def agrum_engine(network: Network, evidence: Evidence) -> gum.LazyPropagation | None:
    """pyAgrum's engine with the evidence laid in, on the ancestors of the evidence; None if it would be too wide."""
    inside = network.ancestors(evidence)
    part = Network(node for name, node in network.nodes.items() if name in inside)
    narrowest: tuple[int, gum.BayesNet] | None = None
    for most_parents in MOST_PARENTS:
        net = agrum_net(part, most_parents)
        width = _width(_engine(net, part, evidence))
        if narrowest is None or width < narrowest[0]:
            narrowest = width, net
        if width <= NARROW:
            break
    if narrowest is None or narrowest[0] > WIDEST:
        return None
    # A fresh engine: one that was asked for its junction tree first may fail to infer.
    return _engine(narrowest[1], part, evidence)


def _engine(net: gum.BayesNet, part: Network, evidence: Evidence) -> gum.LazyPropagation:
    engine = gum.LazyPropagation(net)
    engine.setTargets(set(part.roots))
    engine.setEvidence(agrum_evidence(evidence))
    return engine


def _width(engine: gum.LazyPropagation) -> int:
    tree = engine.junctionTree()
    return max((len(tree.clique(clique)) for clique in tree.nodes()), default=0)


def agrum_evidence(evidence: Evidence) -> dict[str, list[float]]:
    """Evidence as pyAgrum takes it: a likelihood for each state."""
    return {name: list(likelihood) for name, likelihood in evidence.items()}
