"""Random networks and random answers, from a random.Random, so that every failure can be played again by its seed."""

from __future__ import annotations

from random import Random

from diagnose.inference.network import NO, YES, Evidence, Likelihood, Network, Node

from .enumeration import MOST_EVENTS, events_of


def small_network(rng: Random, *, most_events: int = MOST_EVENTS, combine_all: bool = True) -> Network:
    """Causes, chains of any and all mechanisms, and signs; small enough to enumerate."""
    while True:
        network = Network(_small_nodes(rng, combine_all))
        if len(events_of(network)) <= most_events:
            return network


def _small_nodes(rng: Random, combine_all: bool) -> list[Node]:
    causes = [f"cause-{at}" for at in range(rng.randint(1, 4))]
    nodes = [Node(name, "root", rng.uniform(0.02, 0.6)) for name in causes]
    above = list(causes)
    for at in range(rng.randint(0, 3)):
        name = f"mechanism-{at}"
        nodes.append(_child(rng, name, "all" if combine_all and rng.random() < 0.4 else "any", above))
        above.append(name)
    nodes += [_child(rng, f"sign-{at}", "any", above) for at in range(rng.randint(1, 3))]
    return nodes


def _child(rng: Random, name: str, kind: str, above: list[str]) -> Node:
    parents = rng.sample(above, rng.randint(1, min(3, len(above))))
    links = tuple((parent, rng.uniform(0.05, 0.98)) for parent in parents)
    leak = rng.choice([0.0, rng.uniform(0.001, 0.3), rng.uniform(0.001, 0.3)])
    return Node(name, "all" if kind == "all" else "any", leak, links)


def some_answer(rng: Random) -> Likelihood:
    """A sure yes, a sure no, or something between."""
    kind = rng.random()
    if kind < 0.6:
        return YES if rng.random() < 0.6 else NO
    right = rng.uniform(0.55, 0.98)
    return Likelihood(1.0 - right, right) if rng.random() < 0.5 else Likelihood(right, 1.0 - right)


def some_evidence(rng: Random, network: Network, most: int = 4) -> Evidence:
    """Answers on a few nodes of any kind, in random order."""
    names = rng.sample(list(network.nodes), min(len(network.nodes), rng.randint(1, most)))
    return {name: some_answer(rng) for name in names}


def layered_network(rng: Random, causes: int, mechanisms: int, signs: int, *, parents: int = 4) -> Network:
    """A larger network of the shape of the knowledge: rare causes, a layer of mechanisms, signs below both."""
    roots = [Node(f"cause-{at}", "root", rng.choice([0.005, 0.015, 0.04, 0.08, 0.15])) for at in range(causes)]
    top = [node.id for node in roots]
    strengths = [0.1, 0.25, 0.5, 0.75, 0.92]

    def child(name: str, above: list[str]) -> Node:
        chosen = rng.sample(above, min(len(above), rng.randint(1, parents)))
        return Node(
            name, "any", rng.choice([0.001, 0.012, 0.04]), tuple((parent, rng.choice(strengths)) for parent in chosen)
        )

    middle = [child(f"mechanism-{at}", top) for at in range(mechanisms)]
    above = [*top, *(node.id for node in middle)]
    return Network([*roots, *middle, *(child(f"sign-{at}", above) for at in range(signs))])
