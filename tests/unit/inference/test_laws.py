"""Laws that hold for every network and all answers."""

from __future__ import annotations

import math
from random import Random

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from oracles.enumeration import exact
from oracles.random_nets import layered_network, small_network, some_answer, some_evidence

from diagnose.inference.evidence import Observed
from diagnose.inference.network import NO, YES, Evidence, Likelihood, Network, Node
from diagnose.inference.posterior import gone_chances, posterior, present
from diagnose.inference.questions import Question, gains
from diagnose.inference.sensitivity import Variation, responsible_if
from diagnose.inference.weighing import weigh

SEEDS = st.integers(0, 2**32)
often = settings(max_examples=60, deadline=None, derandomize=True)


def medium_network(rng: Random) -> Network:
    return layered_network(rng, 12, 4, 14, parents=4)


def answers_on(rng: Random, network: Network, most: int) -> dict[str, Likelihood]:
    """Some answers on signs, at least one of them a sure yes."""
    signs = [name for name in network.nodes if name.startswith("sign")]
    evidence = {name: some_answer(rng) for name in rng.sample(signs, rng.randint(2, most))}
    return {**evidence, next(iter(evidence)): YES}


def yes_among(evidence: Evidence) -> list[str]:
    return [name for name, likelihood in evidence.items() if likelihood.present > likelihood.absent]


@often
@given(SEEDS)
def test_no_evidence_leaves_the_priors(seed: int) -> None:
    """Without answers every cause keeps its prior and nothing is responsible for anything."""
    network = medium_network(Random(seed))
    found = posterior(Observed(network, {}), [])
    assert found.present == {name: network.nodes[name].chance for name in network.roots}
    assert set(found.responsible.values()) == {0.0}
    assert (found.unlisted, found.log_probability) == (0.0, 0.0)
    assert gone_chances(Observed(network, {}), [], [{}]) == [1.0]


@often
@given(SEEDS)
def test_only_noes_lower_every_parent(seed: int) -> None:
    """Where all answers are sure noes, no cause becomes likelier, and every cause above one of them less likely."""
    rng = Random(seed)
    network = medium_network(rng)
    signs = rng.sample([name for name in network.nodes if name.startswith("sign")], 5)
    found = present(Observed(network, dict.fromkeys(signs, NO)))[0]
    above = network.ancestors(signs)
    for name in network.roots:
        prior = network.nodes[name].chance
        assert found[name] < prior if name in above else found[name] == prior


@often
@given(SEEDS)
def test_order_of_answers(seed: int) -> None:
    """The order in which the answers came changes nothing but the weights of the single answers, whose sum stays."""
    rng = Random(seed)
    network = medium_network(rng)
    evidence = answers_on(rng, network, 6)
    shuffled = dict(rng.sample(list(evidence.items()), len(evidence)))
    defects = yes_among(evidence)
    one, other = Observed(network, evidence), Observed(network, shuffled)
    assert posterior(one, defects).present == pytest.approx(posterior(other, defects).present, abs=1e-12)
    assert posterior(one, defects).responsible == pytest.approx(posterior(other, defects).responsible, abs=1e-12)
    first, second = weigh(one), weigh(other)
    assert first.conflict == pytest.approx(second.conflict, abs=1e-9)
    for root in one.structure.roots:
        sums = [sum(by_root[root] for by_root in found.decibans.values()) for found in (first, second)]
        assert sums[0] == pytest.approx(sums[1], abs=1e-6)


@often
@given(SEEDS)
def test_an_answer_that_says_nothing(seed: int) -> None:
    """An answer as likely either way (can't tell) changes no probability and weighs nothing."""
    rng = Random(seed)
    network = medium_network(rng)
    evidence = answers_on(rng, network, 4)
    silent = rng.choice([name for name in network.nodes if name not in evidence])
    more = {**evidence, silent: Likelihood(1.0, 1.0)}
    assert present(Observed(network, more))[0] == pytest.approx(present(Observed(network, evidence))[0], abs=1e-12)
    assert all(abs(db) < 1e-9 for db in weigh(Observed(network, more)).decibans[silent].values())


@often
@given(SEEDS)
def test_gains_are_not_negative(seed: int) -> None:
    """No question is expected to lose information, and one with nothing in common with the causes in play gains none."""
    rng = Random(seed)
    network = medium_network(rng)
    evidence = answers_on(rng, network, 4)
    asked = [Question(name, rng.choice([1.0, 0.8])) for name in network.nodes if name not in evidence]
    in_play = [name for name in network.roots if name in network.ancestors(evidence)]
    for found in gains(Observed(network, evidence), asked, in_play):
        assert found.bits >= 0.0
        assert 0.0 <= found.yes <= 1.0
    apart = Network([*network.nodes.values(), Node("x", "root", 0.3), Node("y", "any", 0.1, (("x", 0.5),))])
    for found in gains(Observed(apart, evidence), [Question("x"), Question("y", 0.9)], in_play):
        assert found.bits == pytest.approx(0.0, abs=1e-9)


def cross_ratio_differs(x: tuple[float, ...], y: list[float]) -> float:
    """0 if a ratio of two linear functions takes the four points x to the four points y: it keeps the cross-ratio."""
    left = (y[0] - y[2]) * (y[1] - y[3]) * (x[0] - x[3]) * (x[1] - x[2])
    right = (y[0] - y[3]) * (y[1] - y[2]) * (x[0] - x[2]) * (x[1] - x[3])
    return left - right


@often
@given(SEEDS)
def test_linear_fractional_in_every_number(seed: int) -> None:
    """`present` and `responsible` are ratios of two linear functions of any prior, strength or leak."""
    rng = Random(seed)
    network = small_network(rng)
    sign = rng.choice([name for name in network.nodes if name.startswith("sign")])
    observed = Observed(network, {**some_evidence(rng, network, 2), sign: YES})
    assume(math.isfinite(_log(observed)))
    causes = list(observed.structure.roots)
    name = rng.choice(observed.structure.names)
    points = (0.1, 0.35, 0.6, 0.95)
    parents = network.nodes[name].parents
    if parents and rng.random() < 0.5:
        parent = rng.choice(parents)[0]
        moved = [Variation(name, parent=parent, strength=x) for x in points]
    else:
        moved = [Variation(name, chance=x) for x in points]
    found = responsible_if(observed, [sign], causes, moved)
    for at, cause in enumerate(causes):
        assert cross_ratio_differs(points, list(found[:, at])) == pytest.approx(0.0, abs=1e-12), cause


def _log(observed: Observed) -> float:
    try:
        return present(observed)[1]
    except ValueError:
        return -math.inf


@often
@given(SEEDS)
def test_responsible_is_part_of_present(seed: int) -> None:
    """A responsible cause is present; removing a cause altogether clears the batch no oftener than some cause is
    responsible for what is seen; and more removal never makes it worse."""
    rng = Random(seed)
    network = medium_network(rng)
    evidence = answers_on(rng, network, 5)
    defects = yes_among(evidence)
    observed = Observed(network, evidence)
    found = posterior(observed, defects)
    for name in network.roots:
        assert 0.0 <= found.responsible[name] <= found.present[name] + 1e-12
    assert 0.0 <= found.unlisted <= 1.0
    chosen = rng.sample(network.roots, 3)
    removals = [{}, {chosen[0]: 0.5}, {chosen[0]: 1.0}, {chosen[0]: 1.0, chosen[1]: 0.4}, dict.fromkeys(chosen, 1.0)]
    clean = gone_chances(observed, defects, removals)
    assert clean == sorted(clean)
    assert clean[2] - clean[0] <= found.responsible[chosen[0]] + 1e-12


def test_one_cause_one_defect_cleared() -> None:
    """With one defect, removing a cause altogether clears the batch exactly as often as the cause is responsible."""
    for seed in range(20):
        network = medium_network(Random(seed))
        observed = Observed(network, {"sign-3": YES, "sign-5": NO})
        found = posterior(observed, ["sign-3"])
        clean = gone_chances(observed, ["sign-3"], [{name: 1.0} for name in network.roots])
        assert clean == pytest.approx([found.responsible[name] for name in network.roots], abs=1e-12)


def test_nothing_cancels() -> None:
    """With ten positives on ten shared causes P(evidence) has a relative error below 1e-12, and so have rare causes.

    Inclusion and exclusion over the positives loses several digits more on the same networks.
    """
    for seed in range(3):
        rng = Random(seed)
        causes = [Node(f"c{at}", "root", rng.choice([0.002, 0.015, 0.04])) for at in range(10)]
        signs = [
            Node(
                f"s{at}",
                "any",
                rng.choice([0.001, 0.012]),
                tuple((cause.id, rng.choice([0.03, 0.25, 0.92])) for cause in rng.sample(causes, 4)),
            )
            for at in range(12)
        ]
        network = Network([*causes, *signs])
        evidence = {sign.id: YES for sign in signs[:10]} | {signs[10].id: NO, signs[11].id: Likelihood(0.2, 0.8)}
        total, on = exact(network, evidence)
        found, log_probability = present(Observed(network, evidence))
        assert math.exp(log_probability) == pytest.approx(float(total), rel=1e-12)
        assert found == pytest.approx({name: float(part / total) for name, part in on.items()}, rel=1e-12)
