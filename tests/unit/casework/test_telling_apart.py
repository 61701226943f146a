"""Which causes no sign can tell apart."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from random import Random

import pytest
from oracles.enumeration import Worlds
from oracles.random_nets import small_network

from diagnose.casework.model import Model
from diagnose.casework.telling_apart import Pair, chances_alone, not_told_apart, pairs_not_told_apart
from diagnose.corpus.load import load
from diagnose.corpus.records import ALL_NEEDS, Knowledge
from diagnose.inference.network import NO, YES

SMALL = Path(__file__).parents[2] / "small"


@pytest.fixture(scope="module")
def small() -> Knowledge:
    return load(SMALL, remember=False)


@pytest.mark.parametrize("seed", range(60))
def test_chances_alone_against_every_world(seed: int) -> None:
    """The chance of each node with one cause on and the others off is that of counting all worlds, through any mechanism."""
    network = small_network(Random(seed), most_events=13)
    below = [name for name in network.nodes if name not in network.roots]
    found = chances_alone(network, below)
    assert found.shape == (len(below), len(network.roots))
    for column, only in enumerate(network.roots):
        worlds = Worlds(network, {root: YES if root == only else NO for root in network.roots})
        for row, name in enumerate(below):
            assert found[row, column] == pytest.approx(worlds.chance(worlds.actual[name]), abs=1e-12)


def test_all_causes_of_the_small_knowledge_can_be_told_apart(small: Knowledge) -> None:
    """Each has a sign of the product that the others of its family do not give as often."""
    found = not_told_apart(small)
    assert found.everybody == {"bone-in-ham": (), "boneless-ham": ()}
    assert found.judge == {"bone-in-ham": (), "boneless-ham": ()}


def test_only_signs_that_the_person_can_look_at_count(small: Knowledge) -> None:
    """With the process alone there is only foam, which nothing but air makes."""
    found = pairs_not_told_apart(Model(small, "bone-in-ham"), ("process",))
    assert found == (
        Pair("injection-pressure-too-high", "held-too-warm", ("holes",)),
        Pair("surface-not-dried", "smoke-too-short", ("outside-colour",)),
        Pair("surface-not-dried", "hams-touch-on-truck", ("outside-colour",)),
        Pair("smoke-too-short", "hams-touch-on-truck", ("outside-colour",)),
    )


def test_who_can_look_at_nothing_tells_nothing_apart(small: Knowledge) -> None:
    """Without a sign every pair of a family is left, three in each of the two."""
    assert len(pairs_not_told_apart(Model(small, "bone-in-ham"), ())) == 6


@pytest.mark.parametrize(("strength", "apart"), [("hardly-ever", False), ("sometimes", True)])
def test_a_small_difference_does_not_tell_apart(small: Knowledge, strength: str, apart: bool) -> None:
    """Two causes that lead to the same, one of them to one more sign, need that sign to follow often enough."""
    short = small.causes["smoke-too-short"]
    streaks = replace(short.leads_to[0], to="streaked-outside", strength=strength)
    twin = replace(short, id="twin", leads_to=(*short.leads_to, streaks))
    knowledge = replace(small, version=f"twin-{strength}", causes={**small.causes, "twin": twin})
    pair = Pair("smoke-too-short", "twin", ("outside-colour",))
    assert (pair in pairs_not_told_apart(Model(knowledge, "bone-in-ham"), ALL_NEEDS)) is not apart


def test_causes_of_another_product_are_no_pair(small: Knowledge) -> None:
    """What cannot be there together in one product's list need not be told apart."""
    short = small.causes["smoke-too-short"]
    twin = replace(short, id="twin", products=("boneless-ham",))
    found = not_told_apart(replace(small, version="twin", causes={**small.causes, "twin": twin}))
    assert found.everybody["bone-in-ham"] == ()
    assert found.everybody["boneless-ham"] == (Pair("smoke-too-short", "twin", ("outside-colour",)),)
