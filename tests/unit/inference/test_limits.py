"""What the engine refuses, and that it does so before it takes the memory."""

from __future__ import annotations

import math
import time
import tracemalloc
from random import Random

import pytest

from diagnose.inference.elimination import LARGEST_TABLE, TooEntangledError
from diagnose.inference.evidence import Observed
from diagnose.inference.network import NO, YES, Network, Node
from diagnose.inference.posterior import posterior, present
from diagnose.inference.questions import MOST_TERMS, Question, gains


def tangle(causes: int, signs: int, parents: int) -> Network:
    """Signs that share many causes at random: the worst there is for exact inference."""
    rng = Random(1)
    roots = [Node(f"c{at}", "root", 0.05) for at in range(causes)]
    return Network(
        [
            *roots,
            *(
                Node(f"s{at}", "any", 0.01, tuple((root.id, 0.5) for root in rng.sample(roots, parents)))
                for at in range(signs)
            ),
        ]
    )


def test_refusal_comes_first() -> None:
    """Forty positives on sixty shared causes are refused in words, at once and without the memory they would need."""
    network = tangle(60, 40, 12)
    observed = Observed(network, {f"s{at}": YES for at in range(40)})
    tracemalloc.start()
    begun = time.perf_counter()
    with pytest.raises(TooEntangledError, match="leave out"):
        posterior(observed, ["s0"])
    assert time.perf_counter() - begun < 5.0
    assert tracemalloc.get_traced_memory()[1] < 50e6
    tracemalloc.stop()


def test_memory_of_what_is_not_refused() -> None:
    """A sweep keeps within some tables of the largest size that it was found to need."""
    network = tangle(24, 13, 8)
    observed = Observed(network, {f"s{at}": YES for at in range(13)})
    size = observed.structure.largest_table(lambda _: 2)
    assert 2**17 < size <= LARGEST_TABLE
    tracemalloc.start()
    present(observed)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 12 * 8 * size


def test_noes_tie_nothing_together() -> None:
    """The same forty signs answered no are no work at all: each only multiplies a factor onto its parents."""
    network = tangle(60, 40, 12)
    observed = Observed(network, {f"s{at}": NO for at in range(40)})
    assert observed.structure.largest_table(lambda _: 2) <= 2
    found = present(observed)[0]
    for name in network.roots:
        signs = len(network.children[name])
        quiet = 0.05 * 0.5**signs
        assert found[name] == pytest.approx(quiet / (quiet + 0.95), abs=1e-12)


def test_a_question_too_far_away() -> None:
    """A question below too many mechanisms that no answer touches gains nothing, and is not taken for a certain no."""
    many = MOST_TERMS.bit_length() + 1
    causes = [Node(f"c{at}", "root", 0.1) for at in range(many)]
    middle = [Node(f"m{at}", "any", 0.01, ((f"c{at}", 0.5), ("seen", 0.5))) for at in range(many)]
    below = Node("far", "any", 0.01, tuple((node.id, 0.5) for node in middle))
    sign = Node("sign", "any", 0.01, (("seen", 0.5),))
    network = Network([Node("seen", "root", 0.1), *causes, *middle, below, sign])
    near, far = gains(Observed(network, {"sign": YES}), [Question("m0"), Question("far")], ["seen"])
    assert near.bits > 0.0
    assert far.bits == 0.0
    assert not far.yes <= 1.0


@pytest.mark.parametrize(
    ("nodes", "words"),
    [
        ([Node("a", "root", 0.0)], "outside its range"),
        ([Node("a", "root", 1.0)], "outside its range"),
        ([Node("a", "any", float("nan"))], "outside its range"),
        ([Node("a", "root", 0.1), Node("a", "root", 0.1)], "twice"),
        ([Node("a", "any", 0.1, (("b", 0.5),))], "unknown parent"),
        ([Node("a", "root", 0.1), Node("b", "root", 0.1, (("a", 0.5),))], "no parents"),
        ([Node("a", "root", 0.1), Node("b", "any", 0.1, (("a", 1.0),))], "not between 0 and 1"),
        ([Node("a", "root", 0.1), Node("b", "any", 0.1, (("a", 0.5), ("a", 0.5)))], "same parent twice"),
        ([Node("a", "any", 0.1, (("b", 0.5),)), Node("b", "any", 0.1, (("a", 0.5),))], "its own ancestor"),
    ],
)
def test_networks_that_make_no_sense(nodes: list[Node], words: str) -> None:
    """A network with a number out of range, an unknown or repeated name, or a cycle is refused with the reason."""
    with pytest.raises(ValueError, match=words):
        Network(nodes)


def test_parents_come_first() -> None:
    """Nodes may be given in any order; the network holds parents before children."""
    nodes = [
        Node("c", "any", 0.1, (("b", 0.5), ("a", 0.5))),
        Node("b", "any", 0.1, (("a", 0.5),)),
        Node("a", "root", 0.1),
    ]
    network = Network(nodes)
    assert list(network.nodes) == ["a", "b", "c"]
    assert network.ancestors(["c"]) == {"a", "b", "c"}
    assert network.descendants("b") == {"b", "c"}


def test_a_needed_parent_left_out_everywhere() -> None:
    """An `all` node without parents is on by its leak alone, to the sweep and to the questions."""
    network = Network([Node("m", "all", 0.2), Node("c", "root", 0.3), Node("s", "any", 0.1, (("m", 0.5), ("c", 0.5)))])
    observed = Observed(network, {"c": YES})
    assert gains(observed, [Question("m")], ["c"])[0].yes == pytest.approx(0.2)
    on = 1.0 - 0.9 * (1.0 - 0.2 * 0.5) * (1.0 - 0.3 * 0.5)
    assert present(Observed(network, {"s": YES}))[1] == pytest.approx(math.log(on))
