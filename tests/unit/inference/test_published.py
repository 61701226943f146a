"""The engine against numbers that others have published or that follow by hand; the origin stands beside each."""

from __future__ import annotations

import math
from itertools import product

import pytest

from diagnose.inference.evidence import Observed
from diagnose.inference.network import NO, YES, Evidence, Network, Node
from diagnose.inference.posterior import posterior, present
from diagnose.inference.questions import Question, gains
from diagnose.inference.weighing import weigh

ALMOST_CERTAIN = 1.0 - 1e-13
"""A strength that stands for a link that always acts; what is missing lies far below every tolerance here."""


def noisy_or(leak: float, *strengths: float) -> Network:
    """One sign below so many causes."""
    causes = [Node(f"c{at}", "root", 0.5) for at in range(len(strengths))]
    return Network([*causes, Node("s", "any", leak, tuple((f"c{at}", q) for at, q in enumerate(strengths)))])


def chance_given(network: Network, name: str, given: Evidence) -> float:
    """P(node on | evidence), from the probabilities of the evidence with and without a no."""
    without = present(Observed(network, given))[1]
    return 1.0 - math.exp(present(Observed(network, {**given, name: NO}))[1] - without)


def states(*on: int) -> Evidence:
    return {f"c{at}": YES if state else NO for at, state in enumerate(on)}


def test_fever_table() -> None:
    """N1: cold, flu, malaria with .4, .8, .9 and no leak (Russell and Norvig; also a unit test of aGrUM)."""
    network = noisy_or(0.0, 0.4, 0.8, 0.9)
    expected = [0.0, 0.9, 0.8, 0.98, 0.4, 0.94, 0.88, 0.988]
    found = [chance_given(network, "s", states(*on)) for on in product((0, 1), repeat=3)]
    assert found == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize(
    ("on", "expected"),
    [
        ((0, 0, 0, 0, 0), 0.0001),
        ((0, 0, 0, 0, 1), 0.90001),
        ((0, 0, 0, 1, 0), 0.70003),
        ((0, 0, 0, 1, 1), 0.970003),
        ((1, 1, 1, 1, 1), 0.990551),
    ],
)
def test_net_form_of_the_leak(on: tuple[int, ...], expected: float) -> None:
    """N2: five weights with leak .0001 in the net form (aGrUM, MultiDimNoisyORNetTestSuite)."""
    network = noisy_or(0.0001, 0.1, 0.3, 0.5, 0.7, 0.9)
    assert chance_given(network, "s", states(*on)) == pytest.approx(expected, abs=1e-6)


def test_documented_two_causes() -> None:
    """N4: leak .1, strengths .2 and .4 (parameters of the noisy-OR example in Netica's manual)."""
    network = noisy_or(0.1, 0.2, 0.4)
    found = [chance_given(network, "s", states(*on)) for on in ((0, 0), (1, 0), (0, 1), (1, 1))]
    assert found == pytest.approx([0.1, 0.28, 0.46, 0.568], abs=1e-12)


def test_net_and_compound_differ() -> None:
    """N5: the digits .4 and .3 with leak .1 mean .46, .37, .622 in our net form, and not the .4, .3, .533333 of compound."""
    ours = [chance_given(noisy_or(0.1, 0.4, 0.3), "s", states(*on)) for on in ((1, 0), (0, 1), (1, 1))]
    assert ours == pytest.approx([0.46, 0.37, 0.622], abs=1e-12)
    converted = noisy_or(0.1, (0.4 - 0.1) / 0.9, (0.3 - 0.1) / 0.9)
    compound = [chance_given(converted, "s", states(*on)) for on in ((1, 0), (0, 1), (1, 1))]
    assert compound == pytest.approx([0.4, 0.3, 0.533333], abs=1e-6)


def test_quickscore_example() -> None:
    """K1: three causes, three findings, two seen and one not (Quickscore, enumeration and pyAgrum agreed on these)."""
    rows = {"f1": ((0.8, 0.0, 0.4), 0.01), "f2": ((0.3, 0.6, 0.0), 0.02), "f3": ((0.0, 0.5, 0.7), 0.05)}
    nodes = [Node(f"c{at}", "root", prior) for at, prior in enumerate((0.1, 0.05, 0.2))]
    for name, (strengths, leak) in rows.items():
        nodes.append(Node(name, "any", leak, tuple((f"c{at}", q) for at, q in enumerate(strengths) if q > 0.0)))
    found, log_probability = present(Observed(Network(nodes), {"f1": YES, "f2": YES, "f3": NO}))
    assert math.exp(log_probability) == pytest.approx(0.0218233171296, rel=1e-11)
    assert list(found.values()) == pytest.approx([0.956640928857, 0.074110372314, 0.105471511775], abs=1e-11)


def test_five_nodes() -> None:
    """N6: a parent that is on gives .8 and one that is off .1, over a graph with a chain (published as .8144)."""

    def node(name: str, *parents: str) -> Node:
        # What each parent gives when it is off is leak; the strength is what being on adds to that.
        return Node(name, "any", 1.0 - 0.9 ** len(parents), tuple((parent, 1.0 - 0.2 / 0.9) for parent in parents))

    roots = [Node("0", "root", 0.5), Node("4", "root", 0.5)]
    network = Network([*roots, node("1", "0"), node("2", "0", "4"), node("3", "1", "2", "4")])
    assert chance_given(network, "3", {}) == pytest.approx(0.81441875, abs=1e-12)
    assert math.exp(present(Observed(network, {"3": YES}))[1]) == pytest.approx(0.81441875, abs=1e-12)


def one_test(prevalence: float, sensitivity: float, specificity: float) -> Network:
    """One disease and one test: false alarms are the leak."""
    strength = 1.0 - (1.0 - sensitivity) / specificity
    return Network([Node("ill", "root", prevalence), Node("test", "any", 1.0 - specificity, (("ill", strength),))])


def test_one_disease_one_test() -> None:
    """Prevalence .08, sensitivity .75, specificity .96: PPV .619835, NPV .977857, likelihood ratios 18.75 and .260417."""
    network = one_test(0.08, 0.75, 0.96)
    positive, negative = Observed(network, {"test": YES}), Observed(network, {"test": NO})
    assert present(positive)[0]["ill"] == pytest.approx(0.619835, abs=1e-6)
    assert 1.0 - present(negative)[0]["ill"] == pytest.approx(0.977857, abs=1e-6)
    assert weigh(positive).decibans["test"]["ill"] == pytest.approx(12.73, abs=5e-3)
    assert weigh(negative).decibans["test"]["ill"] == pytest.approx(10.0 * math.log10(0.260417), abs=1e-4)


def test_ten_decibans() -> None:
    """W3: even odds and a likelihood ratio of ten are +10 decibans and P = .909091."""
    observed = Observed(one_test(0.5, 0.5, 0.95), {"test": YES})
    assert weigh(observed).decibans["test"]["ill"] == pytest.approx(10.0, abs=1e-9)
    assert present(observed)[0]["ill"] == pytest.approx(0.909091, abs=1e-6)


def test_gain_of_one_test() -> None:
    """The gain of a question about one cause is its mutual information, worked out by hand from the four joint chances.

    The usual textbook example has causes that exclude each other (Q1); ours are independent, so it cannot be said here.
    """
    prior, sensitivity, specificity = 0.3, 0.8, 0.9
    joint = {
        (1, 1): prior * sensitivity,
        (1, 0): prior * (1.0 - sensitivity),
        (0, 1): (1.0 - prior) * (1.0 - specificity),
        (0, 0): (1.0 - prior) * specificity,
    }
    yes = joint[1, 1] + joint[0, 1]
    by_hand = sum(
        p * math.log2(p / ((prior if ill else 1.0 - prior) * (yes if seen else 1.0 - yes)))
        for (ill, seen), p in joint.items()
    )
    network = one_test(prior, sensitivity, specificity)
    # An answer that says nothing brings the cause into play.
    observed = Observed(network, {"ill": NO._replace(present=1.0)})
    found = gains(observed, [Question("test")], ["ill"])[0]
    assert found.bits == pytest.approx(by_hand, abs=1e-12)
    assert found.yes == pytest.approx(yes, abs=1e-12)


def asia() -> Network:
    """The part of Asia (Lauritzen and Spiegelhalter 1988) above the x-ray; shortness of breath is no noisy-OR."""

    def child(name: str, parent: str, off: float, on: float) -> Node:
        return Node(name, "any", off, ((parent, 1.0 - (1.0 - on) / (1.0 - off)),))

    return Network(
        [
            Node("asia", "root", 0.01),
            Node("smoke", "root", 0.5),
            child("tub", "asia", 0.01, 0.05),
            child("lung", "smoke", 0.01, 0.1),
            Node("either", "any", 0.0, (("tub", ALMOST_CERTAIN), ("lung", ALMOST_CERTAIN))),
            child("xray", "either", 0.05, 0.98),
        ]
    )


def test_asia_without_evidence() -> None:
    """Asia with no evidence: tub .0104, lung .055, either .064828, xray .11029."""
    found = {name: chance_given(asia(), name, {}) for name in ("tub", "lung", "either", "xray")}
    assert found == pytest.approx({"tub": 0.0104, "lung": 0.055, "either": 0.064828, "xray": 0.11029}, abs=1e-6)


def test_asia_weight_of_evidence() -> None:
    """W1: a positive x-ray weighs +9.8626 decibans for tuberculosis, from odds of -19.7843 to -9.9217."""
    whole = asia()
    causes = [Node("tub", "root", 0.0104), Node("lung", "root", 0.055)]
    network = Network([*causes, whole.nodes["either"], whole.nodes["xray"]])
    observed = Observed(network, {"xray": YES})
    assert weigh(observed).decibans["xray"]["tub"] == pytest.approx(9.8626, abs=1e-4)
    after = present(observed)[0]["tub"]
    assert 10.0 * math.log10(after / (1.0 - after)) == pytest.approx(-9.9217, abs=1e-4)


def test_asia_conflict() -> None:
    """No smoker and a positive x-ray: the conflict of the two answers is +.4708 in natural logs."""
    found = weigh(Observed(asia(), {"smoke": NO, "xray": YES}))
    assert found.conflict == pytest.approx(0.4708, abs=1e-4)
    assert found.against_rest == pytest.approx({"smoke": found.conflict, "xray": found.conflict}, abs=1e-12)


def test_an_answered_cause_explains_no_conflict() -> None:
    """A cause that was answered yes is certain by that answer; that does not make it an explanation of the conflict."""
    found = weigh(Observed(asia(), {"asia": YES, "smoke": NO, "xray": YES}))
    assert found.conflict > 0.0
    assert found.explained_by is None


def test_a_rare_cause_explains_a_conflict() -> None:
    """Two answers that clash unless a rare cause is there: the cause is named, since its chance grew at least as much."""
    network = Network(
        [
            Node("usual", "root", 0.3),
            Node("rare", "root", 0.01),
            Node("s", "any", 0.001, (("usual", 0.9), ("rare", 0.9))),
        ]
    )
    found = weigh(Observed(network, {"usual": NO, "s": YES}))
    assert found.conflict > 0.0
    assert found.explained_by == "rare"


def test_probability_of_necessity() -> None:
    """One cause, one sign: responsible is P(cause) (P(on | cause) - leak) / P(on), Pearl's formula for a monotone effect."""
    prior, leak, strength = 0.2, 0.1, 0.6
    network = Network([Node("c", "root", prior), Node("s", "any", leak, (("c", strength),))])
    on = 1.0 - (1.0 - leak) * (1.0 - strength)
    seen = prior * on + (1.0 - prior) * leak
    found = posterior(Observed(network, {"s": YES}), ["s"])
    assert found.responsible["c"] == pytest.approx(prior * (on - leak) / seen, abs=1e-12)
    assert found.unlisted == pytest.approx((leak * (1.0 - prior) + prior * leak * (1.0 - strength)) / seen, abs=1e-12)
