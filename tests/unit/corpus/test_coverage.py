"""The counts of what the knowledge holds, against counts by hand of the small knowledge."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from diagnose.corpus.case_file import CaseAnswer, CaseFile, Expectation, load_all_cases
from diagnose.corpus.coverage import CaseCounts, CauseCounts, Coverage, LinkCounts, Place, coverage_of
from diagnose.corpus.records import Basis, Knowledge
from diagnose.corpus.ways import Ways

SMALL = Path(__file__).parents[2] / "small"
SMOKING = ("surface-not-dried", "smoke-too-short", "hams-touch-on-truck")


@pytest.fixture
def found(small: Knowledge) -> Coverage:
    return coverage_of(small, load_all_cases(small, [SMALL]))


def place(found: Coverage, name: str) -> Place:
    return next(one for one in (*found.stages, *found.families, *found.products) if one.id == name)


def test_a_stage_has_the_links_of_its_file(found: Coverage) -> None:
    """Injection: two causes with four links, one of them with a source that is recalled from memory."""
    assert place(found, "injection") == Place(
        kind="stage",
        id="injection",
        title="Injection",
        causes=CauseCounts(causes=2, with_check=2, with_correction=2, with_caution=0),
        defects=2,  # small round holes through the air, torn openings
        details=2,  # foam, rows
        links=LinkCounts(links=4, sourced=1, seen=0, direct=1),
        corrections=2,
        sourced_corrections=0,
        cases=CaseCounts(cases=1, published=0, practice=1, missed=0),
        without_case=("injection-pressure-too-high",),
        unreached=(),
    )


def test_one_seen_and_direct_source_among_several_is_enough(found: Coverage) -> None:
    """Smoking: the disputed link has a seen, direct source beside one that is neither."""
    assert place(found, "smoking").links == LinkCounts(links=4, sourced=1, seen=1, direct=1)


def test_a_family_has_the_links_on_the_way_to_its_signs(found: Coverage) -> None:
    """Holes: five links of three causes and three of two mechanisms; the links to the colour of the outside are no part."""
    holes = place(found, "holes")
    assert (holes.causes.causes, holes.causes.with_caution, holes.defects, holes.details) == (3, 1, 4, 2)
    assert holes.links == LinkCounts(links=8, sourced=1, seen=0, direct=1)
    assert holes.corrections == 4
    assert holes.cases.cases == 1
    assert holes.without_case == ("injection-pressure-too-high", "held-too-warm")
    colour = place(found, "outside-colour")
    assert colour.links == LinkCounts(links=5, sourced=2, seen=2, direct=2)
    assert colour.cases.cases == 0
    assert colour.without_case == SMOKING


def test_causes_with_published_rates_are_counted(found: Coverage) -> None:
    """Of the six causes one has its prior from rates."""
    assert (found.causes, found.rated) == (6, 1)


def test_a_product_has_its_own_cases(found: Coverage) -> None:
    """A case of one product says nothing of another that has the same causes."""
    assert place(found, "bone-in-ham").cases.cases == 1
    assert len(place(found, "bone-in-ham").without_case) == 5
    assert place(found, "boneless-ham").cases.cases == 0
    assert len(place(found, "boneless-ham").without_case) == 6


def test_a_product_leaves_out_what_names_others(small: Knowledge) -> None:
    """Causes, signs, links and corrections of other products are not counted; a sign that loses its causes is named."""
    warm = replace(small.causes["held-too-warm"], products=("boneless-ham",))
    smoke = small.causes["smoke-too-short"]
    smoke = replace(smoke, corrections=tuple(replace(one, products=("boneless-ham",)) for one in smoke.corrections))
    knowledge = replace(small, causes={**small.causes, warm.id: warm, smoke.id: smoke})
    ham = place(coverage_of(knowledge, {}), "bone-in-ham")
    assert ham.causes.causes == 5
    assert set(ham.unreached) == {"sour-smell", "gas-holes"}
    assert ham.links.links == 10  # thirteen, less one of the cause and two of its mechanism
    assert ham.corrections == 4  # seven, less two of the cause and one for the other product


def test_totals_count_everything_once(found: Coverage) -> None:
    """Thirteen links: nine under the causes, four under the mechanisms."""
    assert (found.causes, found.mechanisms, found.defects, found.details) == (6, 3, 6, 2)
    assert found.links == LinkCounts(links=13, sourced=3, seen=2, direct=3)
    assert (found.corrections, found.sourced_corrections) == (7, 0)
    assert dict(found.sources) == {("trade-article", "memory"): 1, ("book", "seen"): 1}
    assert found.cases == CaseCounts(cases=1, published=0, practice=1, missed=0)
    assert set(found.without_case) == {"injection-pressure-too-high", "held-too-warm", *SMOKING}
    assert (found.orphans, found.unreached) == ((), ())


def test_the_weakest_place_comes_first(found: Coverage) -> None:
    """By the mean of three shares: 0, then (1/4 + 1/4 + 0)/3, then (1/4 + 0 + 1/2)/3."""
    assert [one.id for one in found.stages] == ["curing-hold", "smoking", "injection"]
    assert [one.standing for one in found.stages] == pytest.approx([0, 1 / 6, 1 / 4])


def test_sourced_corrections_are_counted(small: Knowledge) -> None:
    """A correction with a source counts in its stage and in all."""
    cause = small.causes["smoke-too-short"]
    step = replace(cause.corrections[0], basis=(Basis("second-notes", "It helped.", "same-product", "page 1"),))
    knowledge = replace(
        small,
        causes={**small.causes, cause.id: replace(cause, corrections=(step,))},
        corrections={**small.corrections, step.id: step},
    )
    found = coverage_of(knowledge, {})
    assert (found.sourced_corrections, place(found, "smoking").sourced_corrections) == (1, 1)


@pytest.mark.parametrize(
    "expect",
    [
        Expectation(first=("smoke-too-short", "surface-not-dried")),
        Expectation(within_three=("smoke-too-short",)),
        Expectation(first=("smoke-too-short",), missed="It does not come out."),
    ],
    ids=["one-of-two", "among-three", "marked"],
)
def test_a_case_that_does_not_ask_for_the_cause_alone_is_none_of_its_own(small: Knowledge, expect: Expectation) -> None:
    """Only a case in which the cause itself must rank first, and does, shows that it can be found."""
    cases = {
        "other": CaseFile(product="bone-in-ham", expect=expect),
        "own": CaseFile(product="bone-in-ham", expect=Expectation(first=("hams-touch-on-truck",))),
    }
    smoking = place(coverage_of(small, cases), "smoking")
    assert smoking.cases.cases == 2
    assert smoking.without_case == ("surface-not-dried", "smoke-too-short")
    assert smoking.cases.missed == (1 if expect.missed else 0)


def test_a_family_has_the_cases_in_which_its_defect_was_seen(small: Knowledge) -> None:
    """A defect that was looked for and not found, or a detail alone, makes no case of the family; a source is told apart."""
    told = (Basis("plant-notes", "It was seen.", "same-product", "page 1"),)
    cases = {
        "seen": CaseFile(product="bone-in-ham", answers=(CaseAnswer("gas-holes", "yes"),), basis=told),
        "not-seen": CaseFile(product="bone-in-ham", answers=(CaseAnswer("gas-holes", "no"),)),
        "detail": CaseFile(product="bone-in-ham", answers=(CaseAnswer("holes-in-rows", "yes"),)),
    }
    found = coverage_of(small, cases)
    assert place(found, "holes").cases == CaseCounts(cases=1, published=1, practice=0, missed=0)
    assert found.cases == CaseCounts(cases=3, published=1, practice=2, missed=0)


def test_orphans_are_found_where_the_checker_has_not_looked(small: Knowledge) -> None:
    """A cause without a defect, a mechanism that nothing starts, and a sign that nothing leads to are named."""
    rows = replace(small.causes["injection-pressure-too-high"].leads_to[1], to="holes-in-rows")
    causes = {**small.causes}
    causes["injection-pressure-too-high"] = replace(causes["injection-pressure-too-high"], leads_to=(rows,))
    del causes["held-too-warm"]
    found = coverage_of(replace(small, causes=causes), {})
    assert found.orphans == ("injection-pressure-too-high", "gas-by-bacteria")
    assert set(found.unreached) == {"torn-openings", "gas-holes", "sour-smell"}


def test_the_links_between_leave_out_side_ways(small: Knowledge) -> None:
    """Only links on a whole chain from a start to an end count."""
    ways = Ways(small)
    assert [link.to for link in ways.between(["injector-draws-air"], ["small-round-holes"])] == [
        "air-in-brine",
        "small-round-holes",
    ]
    assert ways.between(["injector-draws-air"], ["pale-outside"]) == []
