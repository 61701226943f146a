"""The engine against every world of small networks, one by one."""

from __future__ import annotations

from random import Random

import numpy as np
import pytest
from oracles.enumeration import Worlds
from oracles.random_nets import small_network, some_answer, some_evidence

from diagnose.inference.evidence import Observed
from diagnose.inference.network import NO, YES, Evidence, Likelihood, Network, Node
from diagnose.inference.posterior import gone_chances, posterior
from diagnose.inference.questions import Question, gains
from diagnose.inference.sensitivity import Variation, responsible_if
from diagnose.inference.weighing import weigh

SEEDS = range(200)
CLOSE = 1e-9


def a_case(seed: int, most_events: int = 15) -> tuple[Random, Network, Evidence]:
    """A small network and possible evidence."""
    rng = Random(seed)
    while True:
        network = small_network(rng, most_events=most_events)
        evidence = some_evidence(rng, network)
        if Worlds(network, evidence).total > 0.0:
            return rng, network, evidence


def some_defects(rng: Random, network: Network, evidence: Evidence) -> list[str]:
    """Nodes that the evidence speaks for, as a case has it; now and then any answered sign."""
    spoken_for = [n for n, e in evidence.items() if network.nodes[n].kind != "root" and e.present > e.absent]
    return spoken_for or [name for name in evidence if network.nodes[name].kind != "root" and rng.random() < 0.5]


@pytest.mark.parametrize("seed", SEEDS)
def test_posterior(seed: int) -> None:
    """`present`, `responsible`, `unlisted` and P(evidence) equal their definitions, world by world."""
    rng, network, evidence = a_case(seed)
    defects = some_defects(rng, network, evidence)
    worlds = Worlds(network, evidence)
    found = posterior(Observed(network, evidence), defects)
    expected = worlds.present()
    assert found.present == pytest.approx({name: expected[name] for name in network.roots}, abs=CLOSE)
    assert found.responsible == pytest.approx(worlds.responsible(defects), abs=CLOSE)
    assert found.unlisted == pytest.approx(worlds.unlisted(defects), abs=CLOSE)
    assert found.log_probability == pytest.approx(np.log(worlds.total), abs=CLOSE)


@pytest.mark.parametrize("seed", SEEDS)
def test_gone_chances(seed: int) -> None:
    """The chance of a clean batch made again equals its definition, link by link, for partial and several removals."""
    rng, network, evidence = a_case(seed, most_events=11)
    defects = some_defects(rng, network, evidence)
    removals = [
        {name: rng.choice([0.4, 0.75, 0.93, 1.0]) for name in network.roots if rng.random() < 0.6} for _ in range(3)
    ]
    removals = [removal for removal in removals if sum(len(network.children[name]) for name in removal) <= 6]
    expected = [Worlds(network, evidence, removal).gone(defects) for removal in removals]
    assert gone_chances(Observed(network, evidence), defects, removals) == pytest.approx(expected, abs=CLOSE)


@pytest.mark.parametrize("seed", SEEDS)
def test_weigh(seed: int) -> None:
    """Decibans and conflict equal plain recomputation with each beginning of the answers, each alone, and all but one."""
    _, network, evidence = a_case(seed, most_events=13)
    names = list(evidence)
    found = weigh(Observed(network, evidence))

    def under(chosen: list[str]) -> Worlds:
        return Worlds(network, {name: evidence[name] for name in chosen})

    def odds(chance: float) -> float:
        chance = min(max(chance, 1e-6), 1.0 - 1e-6)
        return float(10.0 * np.log10(chance / (1.0 - chance)))

    touched = network.ancestors(names)
    begun = [under(names[:count]).present() for count in range(len(names) + 1)]
    for at, name in enumerate(names):
        expected = {
            root: odds(begun[at + 1][root]) - odds(begun[at][root]) for root in network.roots if root in touched
        }
        assert found.decibans[name] == pytest.approx(expected, abs=1e-6)
    all_of_them = np.log(under(names).total)
    alone = {name: np.log(under([name]).total) for name in names}
    assert found.conflict == pytest.approx(sum(alone.values()) - all_of_them, abs=CLOSE)
    for name in names:
        rest = np.log(under([other for other in names if other != name]).total)
        assert found.against_rest[name] == pytest.approx(alone[name] + rest - all_of_them, abs=CLOSE)


def _entropy(chances: list[float]) -> float:
    return -sum(p * np.log2(p) for chance in chances for p in (chance, 1.0 - chance) if p > 0.0)


@pytest.mark.parametrize("seed", SEEDS)
def test_gains(seed: int) -> None:
    """The gain of every possible question equals full conditioning on both answers, with right and with unsure checks."""
    rng, network, evidence = a_case(seed, most_events=14)
    in_play = [name for name in network.roots if name in network.ancestors(evidence)]
    asked = [Question(name, rng.choice([1.0, 0.96, 0.7])) for name in network.nodes if name not in evidence]
    now = Worlds(network, evidence)
    before = now.present()
    for question, gain in zip(asked, gains(Observed(network, evidence), asked, in_play), strict=True):
        right, about = question.reliability, question.about
        chance_on = before[about]
        bits, afterwards = _entropy([before[name] for name in in_play]), []
        for present, absent in ((right, 1.0 - right), (1.0 - right, right)):
            chance = present * chance_on + absent * (1.0 - chance_on)
            if chance <= 1e-12:
                continue
            spoken = present * now.actual[about] + absent * ~now.actual[about]
            after = [float((now.weight * spoken)[now.actual[name]].sum() / now.total / chance) for name in in_play]
            afterwards.append(after)
            bits -= chance * _entropy(after)
        yes = right * chance_on + (1.0 - right) * (1.0 - chance_on)
        assert gain.about == about
        assert gain.yes == pytest.approx(yes, abs=CLOSE)
        assert gain.bits == pytest.approx(bits, abs=1e-8)
        if len(afterwards) == 2:
            expected = {name: afterwards[0][at] - afterwards[1][at] for at, name in enumerate(in_play)}
            assert gain.moves == pytest.approx(expected, abs=1e-8)


@pytest.mark.parametrize("seed", SEEDS)
def test_responsible_if(seed: int) -> None:
    """`responsible` with one number moved equals enumeration of the network that has this number."""
    rng, network, evidence = a_case(seed, most_events=13)
    defects = some_defects(rng, network, evidence)
    touched = network.ancestors(evidence)
    contenders = [name for name in network.roots if name in touched]
    variations, expected = [], []
    for name in touched:
        node = network.nodes[name]
        chance = rng.uniform(0.05, 0.9)
        variations.append(Variation(name, chance=chance))
        expected.append((_changed(network, Node(name, node.kind, chance, node.parents)), evidence))
        for at, (parent, _) in enumerate(node.parents):
            moved = (*node.parents[:at], (parent, chance), *node.parents[at + 1 :])
            variations.append(Variation(name, parent=parent, strength=chance))
            expected.append((_changed(network, Node(name, node.kind, node.chance, moved)), evidence))
    for name, likelihood in evidence.items():
        if min(likelihood) > 0.0:
            answer = Likelihood(*(rng.uniform(0.1, 0.9) for _ in likelihood))
            variations.append(Variation(name, answer=answer))
            expected.append((network, {**evidence, name: answer}))
    found = responsible_if(Observed(network, evidence), defects, contenders, variations)
    for row, (other, answers) in zip(found, expected, strict=True):
        worlds = Worlds(other, answers).responsible(defects)
        assert list(row) == pytest.approx([worlds[name] for name in contenders], abs=CLOSE)


def _changed(network: Network, node: Node) -> Network:
    return Network(node if name == node.id else other for name, other in network.nodes.items())


def test_evidence_that_cannot_be() -> None:
    """Answers that exclude each other are refused in words, not met with a division by zero."""
    network = Network([Node("c", "root", 0.1), Node("s", "any", 0.0, (("c", 0.5),))])
    with pytest.raises(ValueError, match="cannot all be"):
        posterior(Observed(network, {"s": YES, "c": NO}), ["s"])


def test_answers_must_be_likelihoods() -> None:
    """Negative, empty and unknown evidence is refused when it is laid on the network."""
    network = Network([Node("c", "root", 0.1)])
    for wrong in ({"c": Likelihood(0.0, 0.0)}, {"c": Likelihood(-0.1, 1.0)}, {"d": YES}):
        with pytest.raises(ValueError, match=r"likelihoods|unknown"):
            Observed(network, wrong)


@pytest.mark.parametrize("seed", range(40))
def test_rows_may_be_split(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Sweeps cut into small batches of rows give the same numbers as whole ones."""
    rng, network, evidence = a_case(seed)
    defects = some_defects(rng, network, evidence)
    asked = [Question(name, 0.9) for name in network.nodes if name not in evidence]
    observed = Observed(network, evidence)
    whole = (posterior(observed, defects), gains(observed, asked, network.roots), weigh(observed))
    monkeypatch.setattr("diagnose.inference.elimination.ROWS_AT_ONCE", 1)
    split = (posterior(observed, defects), gains(observed, asked, network.roots), weigh(observed))
    assert split[0].responsible == pytest.approx(whole[0].responsible, abs=1e-12)
    assert [one.bits for one in split[1]] == pytest.approx([one.bits for one in whole[1]], abs=1e-12)
    assert split[2].against_rest == pytest.approx(whole[2].against_rest, abs=1e-12)


def test_some_answer_is_of_every_kind() -> None:
    """The random answers hold sure and unsure ones both ways, so that the comparisons above cover them."""
    rng = Random(1)
    answers = [some_answer(rng) for _ in range(200)]
    assert YES in answers
    assert NO in answers
    assert any(0.0 < one.absent < one.present for one in answers)
    assert any(0.0 < one.present < one.absent for one in answers)
