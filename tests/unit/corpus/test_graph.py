"""The knowledge as a graph."""

import math
import subprocess
import sys
from dataclasses import replace

import pytest

from diagnose.corpus.graph import as_graph, belonging, chains
from diagnose.corpus.records import Knowledge


def test_nodes_and_edges_carry_what_they_are(small: Knowledge) -> None:
    """Kinds, titles, stages and strengths are there for whoever draws or walks the graph."""
    graph = as_graph(small)
    assert graph.nodes["smoke-too-short"] == {
        "kind": "cause",
        "title": "Smoke was too thin or too short",
        "stage": "smoking",
    }
    assert graph.nodes["foam-on-brine"]["kind"] == "detail"
    assert graph.edges["smoke-too-short", "little-smoke-deposited"]["chance"] == 0.75
    assert graph.number_of_nodes() == 6 + 3 + 8


def test_chains_agree_with_all_simple_paths(small: Knowledge) -> None:
    """Every way from cause to sign is found once, strongest first."""
    import networkx

    graph = as_graph(small)
    for cause in small.causes:
        for sign in small.signs:
            found = chains(small, cause, sign)
            expected = {tuple(path[1:]) for path in networkx.all_simple_paths(graph, cause, sign)}
            assert {tuple(link.to for link in way) for way in found} == expected
            strengths = [math.prod(small.scales["strength"].value(link.strength) for link in way) for way in found]
            assert strengths == sorted(strengths, reverse=True)


def test_unknown_ids_are_refused(small: Knowledge) -> None:
    """A slip is not taken for the absence of a chain."""
    with pytest.raises(KeyError):
        chains(small, "nothing", "sour-smell")
    with pytest.raises(KeyError):
        chains(small, "smoke-too-short", "nothing")


def test_networkx_is_loaded_only_when_a_graph_is_made() -> None:
    """The start of the program does not pay for it."""
    code = "import sys, diagnose.corpus.graph, diagnose.corpus.load; sys.exit('networkx' in sys.modules or 'yaml' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_a_mechanism_belongs_where_its_causes_and_its_signs_do(small: Knowledge) -> None:
    """What happens only in other products is kept out of the picture around a sign."""
    chain = "little-smoke-deposited"
    only = {
        name: replace(cause, products=("boneless-ham",)) if any(link.to == chain for link in cause.leads_to) else cause
        for name, cause in small.causes.items()
    }
    home = belonging(replace(small, causes=only))
    assert home[chain] == {"boneless-ham"}
    assert belonging(small)["pale-outside"] is None
