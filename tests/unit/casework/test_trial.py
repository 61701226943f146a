"""Worked cases put to the test, on the small knowledge of the tests."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from diagnose.casework.case import state_of
from diagnose.casework.trial import COMES_OUT, Score, Trial, score_of, trial_of
from diagnose.commands.case_input import events_of
from diagnose.corpus.case_file import CaseAnswer, CaseFile, Expectation
from diagnose.corpus.load import load
from diagnose.corpus.records import Basis, Knowledge

SMALL = Path(__file__).parents[2] / "small"
AIR, PRESSURE, WARM = "injector-draws-air", "injection-pressure-too-high", "held-too-warm"
PINHOLES = CaseFile(product="bone-in-ham", answers=(CaseAnswer("small-round-holes", "yes"),))


@pytest.fixture(scope="module")
def small() -> Knowledge:
    return load(SMALL, remember=False)


def trial(small: Knowledge, expect: Expectation, case: CaseFile = PINHOLES) -> Trial:
    case = replace(case, expect=expect)
    return trial_of(small, "a-case", case, state_of(events_of(case, small.version)))


def test_a_case_that_comes_out_has_no_finding(small: Knowledge) -> None:
    """Air is the only listed cause of pinholes here, so it ranks first."""
    found = trial(small, Expectation(first=(AIR,), within_three=(AIR,), not_first=(PRESSURE,)))
    assert (found.place, found.findings) == (1, ())


def test_each_kind_of_miss_is_named(small: Knowledge) -> None:
    """Wrong first place, not among three, a look-alike first, and a silent caution each get a sentence."""
    found = trial(
        small,
        Expectation(
            first=(PRESSURE, WARM), within_three=(WARM,), not_first=(AIR,), cautions=("hold-and-do-not-taste",)
        ),
    )
    assert found.place is None
    assert found.findings == (
        f"{PRESSURE} or {WARM} must rank first; {AIR} does",
        f"{WARM} must be among the first 3; it is not ranked",
        f"{AIR} must not rank first; it does",
        "the caution hold-and-do-not-taste must be shown; it is not",
    )


def test_a_caution_that_is_shown_is_no_finding(small: Knowledge) -> None:
    """Gas holes call for the warning by themselves."""
    gas = CaseFile(product="bone-in-ham", answers=(CaseAnswer("gas-holes", "yes"),))
    assert trial(small, Expectation(first=(WARM,), cautions=("hold-and-do-not-taste",)), gas).findings == ()


def test_one_of_several_first_causes_is_enough(small: Knowledge) -> None:
    """`first` names causes of which one must rank first."""
    assert trial(small, Expectation(first=(PRESSURE, AIR))).findings == ()


def test_a_marked_miss_is_no_finding_but_its_silent_caution_is(small: Knowledge) -> None:
    """The mark excuses the ranking and never a warning that is not shown."""
    assert trial(small, Expectation(first=(WARM,), missed="why")).findings == ()
    found = trial(small, Expectation(first=(WARM,), cautions=("hold-and-do-not-taste",), missed="why"))
    assert found.findings == ("the caution hold-and-do-not-taste must be shown; it is not",)


def test_a_marked_case_that_comes_out_is_a_finding(small: Knowledge) -> None:
    """A mark cannot outlive its reason."""
    assert trial(small, Expectation(first=(AIR,), missed="why")).findings == (COMES_OUT,)


def test_a_case_without_any_answer_names_that_nothing_ranks(small: Knowledge) -> None:
    """Where nothing is ranked the trial says so instead of stumbling."""
    empty = CaseFile(product="bone-in-ham")
    assert trial(small, Expectation(first=(AIR,)), empty).misses == (f"{AIR} must rank first; nothing does",)


def test_a_case_is_published_if_it_has_a_source(small: Knowledge) -> None:
    """Common practice is read as an empty basis."""
    sourced = replace(PINHOLES, basis=(Basis("plant-notes", "It happened.", "same-product", "page 1"),))
    assert trial(small, Expectation(first=(AIR,)), sourced).published
    assert not trial(small, Expectation(first=(AIR,))).published


def test_shares_count_only_cases_that_expect_a_cause(small: Knowledge) -> None:
    """First and within-three places are counted by the best of the expected causes; a marked miss stays in the whole."""
    hit = trial(small, Expectation(within_three=(WARM, AIR)))
    second = replace(hit, place=2)
    fourth = replace(hit, place=4)
    marked = trial(small, Expectation(first=(WARM,), missed="why"))
    none = trial(small, Expectation(not_first=(PRESSURE,)))
    assert (hit.place, none.place) == (1, None)
    assert score_of([hit, second, fourth, marked, none]) == Score(cases=4, first=1, within=2)
