"""Entries, chains and search results in their three forms."""

import json
from collections.abc import Callable
from dataclasses import replace

import pytest

from diagnose.corpus.find import find
from diagnose.corpus.graph import chains
from diagnose.corpus.records import Knowledge
from diagnose.reports import render_entry, render_found, render_trail
from diagnose.reports.entry import entry_of

Golden = Callable[[str, str], None]

ENTRIES = ["surface-not-dried", "hams-touch-on-truck", "gas-by-bacteria", "pale-outside", "dry-before-smoke"]
FORMS = [("text", "txt"), ("markdown", "md"), ("json", "json")]


@pytest.mark.parametrize("name", ENTRIES)
@pytest.mark.parametrize(("form", "suffix"), FORMS)
def test_an_entry_reads_as_its_golden_text(
    same_as_golden: Golden, small: Knowledge, name: str, form: str, suffix: str
) -> None:
    """All of a cause (with rates and without), a mechanism, a sign and a correction is shown, with the links around it."""
    entry = entry_of(small, name)
    assert entry is not None
    same_as_golden(render_entry(entry, small, form), f"explain-{name}.{suffix}")  # type: ignore[arg-type]


@pytest.mark.parametrize(("form", "suffix"), FORMS)
def test_chains_read_as_their_golden_text(same_as_golden: Golden, small: Knowledge, form: str, suffix: str) -> None:
    """Chains are shown link by link, with basis and disputes."""
    cause, sign = small.causes["surface-not-dried"], small.signs["pale-outside"]
    text = render_trail(cause, sign, chains(small, cause.id, sign.id), small, form)  # type: ignore[arg-type]
    same_as_golden(text, f"trace.{suffix}")


def test_the_chance_of_a_chain_is_the_product_of_its_strengths(small: Knowledge) -> None:
    """Often (0.50) then usually (0.75) makes 0.375."""
    cause, sign = small.causes["surface-not-dried"], small.signs["pale-outside"]
    found = json.loads(render_trail(cause, sign, chains(small, cause.id, sign.id), small, "json"))
    assert found["chains"][0]["chance"] == 0.375
    assert [link["from"] for link in found["chains"][0]["links"]] == ["surface-not-dried", "little-smoke-deposited"]


def test_no_chain_is_said_plainly(small: Knowledge) -> None:
    """Two entries that have nothing to do with each other give a sentence, not an empty page."""
    text = render_trail(small.causes["smoke-too-short"], small.signs["sour-smell"], (), small, "text")
    assert "No chain of links in this knowledge" in text


@pytest.mark.parametrize(("form", "suffix"), FORMS)
def test_a_search_reads_as_its_golden_text(same_as_golden: Golden, small: Knowledge, form: str, suffix: str) -> None:
    """What was found is listed with the ids to go on with."""
    hits = find(small, "pinholes", kinds=("cause", "mechanism", "sign", "correction", "caution"))
    same_as_golden(render_found("pinholes", hits, small, form), f"find.{suffix}")  # type: ignore[arg-type]


def test_a_search_without_result_says_what_to_try(small: Knowledge) -> None:
    """An empty result is worded."""
    assert "Nothing fits these words." in render_found("zzz", [], small, "text")


def test_a_sign_is_told_with_its_ways_and_nothing_of_other_products(small: Knowledge) -> None:
    """A student reads first how the sign comes about; what cannot be at work in its products is not there."""
    sign = small.signs["pale-outside"]
    text = render_entry(sign, small, "text")
    assert "How it comes about, in short" in text
    elsewhere = "smoke-too-short"
    title = small.causes[elsewhere].title
    assert title in text
    causes = {**small.causes, elsewhere: replace(small.causes[elsewhere], products=("boneless-ham",))}
    shared = replace(small, causes=causes)
    assert title in render_entry(sign, shared, "text", product="boneless-ham")
    assert title not in render_entry(sign, shared, "text", product="bone-in-ham")
    own = replace(sign, products=("bone-in-ham",))
    apart = replace(shared, signs={**small.signs, sign.id: own})
    assert title not in render_entry(own, apart, "text")
    assert elsewhere not in render_entry(own, apart, "json")


@pytest.mark.parametrize(("form", "suffix"), FORMS)
def test_a_stage_reads_as_its_golden_text(same_as_golden: Golden, small: Knowledge, form: str, suffix: str) -> None:
    """What is no cause and no sign is told in a paragraph, with what belongs to it."""
    stage = entry_of(small, "smoking")
    assert stage is not None
    same_as_golden(render_entry(stage, small, form), f"explain-smoking.{suffix}")  # type: ignore[arg-type]
