"""Cases as they come: some causes are there, the network plays them out, and a person reports part of what is seen."""

from __future__ import annotations

from random import Random

from diagnose.casework.case import Case
from diagnose.casework.events import Answer
from diagnose.casework.model import Model
from diagnose.inference.network import NO, YES, Evidence, Likelihood, Network


def played(rng: Random, network: Network, causes: int) -> dict[str, bool]:
    """One batch in which exactly so many randomly chosen causes are there."""
    there = set(rng.sample(network.roots, causes))
    on: dict[str, bool] = {}
    for name, node in network.nodes.items():
        if node.kind == "root":
            on[name] = name in there
            continue
        acting = [on[parent] and rng.random() < strength for parent, strength in node.parents]
        led = any(acting) if node.kind == "any" else bool(acting) and all(acting)
        on[name] = rng.random() < node.chance or led
    return on


def a_case(rng: Random, model: Model, yes: int, others: int, *, unsure: float = 0.0) -> Case:
    """A case with `yes` signs seen and `others` related signs not seen; a share `unsure` of the answers is not sure."""
    network = model.network
    while True:
        on = played(rng, network, rng.choice([1, 2, 3, 4]))
        seen = [name for name in model.signs if on[name]]
        if len(seen) >= yes and any(model.signs[name].kind == "defect" for name in seen):
            break
    seen = rng.sample(seen, yes)
    above = network.ancestors(seen)
    related = [name for name in model.signs if not on[name] and network.ancestors([name]) & above]
    answers = [(name, "yes") for name in seen]
    answers += [(name, "no") for name in rng.sample(related, min(others, len(related)))]
    rng.shuffle(answers)
    found: dict[str, Answer] = {}
    for name, verdict in answers:
        sure = "fairly" if rng.random() < unsure else "sure"
        found[name] = Answer(name, "yes" if verdict == "yes" else "no", sure)  # type: ignore[arg-type]
    return Case(model.product, answers=found)


def some_evidence(rng: Random, model: Model) -> Evidence:
    """One to ten signs seen, some noes and some unsure answers beside them, now and then an answer on a cause."""
    case = a_case(rng, model, rng.randint(1, 10), rng.randint(0, 10), unsure=rng.choice([0.0, 0.3]))
    evidence = model.evidence(case.answers)
    if rng.random() < 0.3:
        evidence[rng.choice(model.network.roots)] = rng.choice([YES, NO, Likelihood(0.2, 0.8)])
    return evidence
