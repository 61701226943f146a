"""The engine against pyAgrum, an independent program, on small networks and on the whole shipped knowledge."""

from __future__ import annotations

from random import Random

import numpy as np
import pytest

pytest.importorskip("pyagrum")

from oracles import cases
from oracles.agrum import agrum_engine
from oracles.enumeration import Worlds
from oracles.random_nets import layered_network, small_network, some_answer, some_evidence

from diagnose.casework.model import model_of
from diagnose.corpus.load import load
from diagnose.inference.evidence import Observed
from diagnose.inference.network import Evidence, Network
from diagnose.inference.posterior import present

CLOSE = 1e-9


def agree(network: Network, evidence: Evidence) -> bool:
    """Hold `present` and P(evidence) of both programs together; False if pyAgrum cannot do these answers."""
    engine = agrum_engine(network, evidence)
    if engine is None:
        return False
    engine.makeInference()
    found, log_probability = present(Observed(network, evidence))
    touched = network.ancestors(evidence)
    expected = {
        name: float(engine.posterior(name)[1]) if name in touched else network.nodes[name].chance
        for name in network.roots
    }
    assert found == pytest.approx(expected, abs=CLOSE)
    assert log_probability == pytest.approx(np.log(engine.evidenceProbability()), abs=1e-8)
    return True


@pytest.mark.parametrize("seed", range(60))
def test_small_networks(seed: int) -> None:
    """`present` agrees on small networks with any and all mechanisms and every kind of answer."""
    rng = Random(seed)
    network = small_network(rng)
    evidence = some_evidence(rng, network)
    if Worlds(network, evidence).total == 0.0:
        with pytest.raises(ValueError, match="cannot all be true"):
            present(Observed(network, evidence))
    else:
        assert agree(network, evidence)


def test_layered_network() -> None:
    """`present` agrees on a large made-up network of the shape of the knowledge."""
    rng = Random(11)
    network = layered_network(rng, 120, 30, 150)
    signs = [name for name in network.nodes if name.startswith("sign")]
    for _ in range(20):
        assert agree(network, {name: some_answer(rng) for name in rng.sample(signs, rng.randint(1, 8))})


def test_shipped_knowledge() -> None:
    """`present` agrees on the shipped knowledge: 200 sets of 1-10 positives, with sure noes, soft answers and causes."""
    knowledge = load()
    model = model_of(knowledge, next(iter(knowledge.products)))
    compared = tried = 0
    while compared < 200:
        compared += agree(model.network, cases.some_evidence(Random(tried), model))
        tried += 1
    assert tried <= 225, "pyAgrum should only rarely find the answers too entangled"
