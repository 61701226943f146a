"""The report of a case, in its three forms."""

import dataclasses
import json
import math
from collections.abc import Callable

import pytest

from diagnose.casework.diagnosis import Diagnosis
from diagnose.corpus.records import Knowledge
from diagnose.reports import render
from diagnose.reports.layout import cells

Golden = Callable[[str, str], None]

SECTIONS = [
    "!! DANGER !!",
    "What was seen",
    "What is behind it",
    "Why",
    "Do the answers fit?",
    "Is it robust?",
    "What to do",
    "This lot",
    "Confirm first",
    "Now",
    "For the next batch",
    "With the supplier",
    "What would settle it best next",
    "Sources",
    "Nothing here declares a product safe.",
]


@pytest.mark.parametrize(("width", "name"), [(80, "case-80.txt"), (120, "case-120.txt"), (40, "case-40.txt")])
def test_text_report_is_the_golden_one(
    same_as_golden: Golden, diagnosis: Diagnosis, small: Knowledge, width: int, name: str
) -> None:
    """The text report changes only when somebody means it to."""
    same_as_golden(render(diagnosis, small, "text", width=width), name)


def test_markdown_report_is_the_golden_one(same_as_golden: Golden, diagnosis: Diagnosis, small: Knowledge) -> None:
    """The Markdown report changes only when somebody means it to."""
    same_as_golden(render(diagnosis, small, "markdown"), "case.md")


def test_json_report_is_the_golden_one(same_as_golden: Golden, diagnosis: Diagnosis, small: Knowledge) -> None:
    """The JSON report, a promise to programs, changes only when somebody means it to."""
    same_as_golden(render(diagnosis, small, "json"), "case.json")


@pytest.mark.parametrize("form", ["text", "markdown"])
def test_cautions_come_first_and_the_rest_in_its_order(diagnosis: Diagnosis, small: Knowledge, form: str) -> None:
    """Nobody reads a cause before the danger, and the last word is that nothing here declares a product safe."""
    marks = [one.replace("!! DANGER !!", "**DANGER") if form == "markdown" else one for one in SECTIONS]
    lines = render(diagnosis, small, form).splitlines()  # type: ignore[arg-type]
    places = [
        next(at for at, line in enumerate(lines) if mark in line and "does not hold" not in line) for mark in marks
    ]
    assert places == sorted(places)


@pytest.mark.parametrize("width", [40, 57, 80, 120, 400])
@pytest.mark.parametrize("colour", [False, True])
def test_no_line_is_wider_than_asked(diagnosis: Diagnosis, small: Knowledge, width: int, colour: bool) -> None:
    """A report fits the terminal, with long web addresses and wide characters in it too."""
    wide = dataclasses.replace(
        diagnosis, title="火腿切面的小圆孔" * 9, notes=("https://example.org/" + "a/very-long-address" * 20,)
    )
    for line in render(wide, small, "text", width=width, colour=colour).splitlines():
        plain = line
        for code in ("1", "2", "0", "36", "1;31", "1;33"):
            plain = plain.replace(f"\x1b[{code}m", "")
        assert "\x1b" not in plain
        assert cells(plain) <= width


def test_without_colour_there_is_no_escape_and_with_it_the_words_are_the_same(
    diagnosis: Diagnosis, small: Knowledge
) -> None:
    """Colour is an addition: taken away, every word is still there."""
    plain, coloured = (render(diagnosis, small, "text", colour=colour) for colour in (False, True))
    assert "\x1b" not in plain
    assert "\x1b[1;31m" in coloured
    for code in ("1", "2", "0", "36", "1;31", "1;33"):
        coloured = coloured.replace(f"\x1b[{code}m", "")
    assert coloured == plain


def test_json_holds_what_the_format_promises(diagnosis: Diagnosis, small: Knowledge) -> None:
    """The keys that programs rely on are there, with full numbers in order."""
    found = json.loads(render(diagnosis, small, "json"))
    assert found["product"] == "bone-in-ham"
    assert [one["id"] for one in found["ranking"]] == ["injector-draws-air", "surface-not-dried", "smoke-too-short"]
    assert {"id", "title", "stage", "present", "responsible"} <= found["ranking"][0].keys()
    assert found["ranking"][1]["responsible"] == 0.0999
    assert (found["unlisted"], found["conflict"]) == (0.07, 1.25)
    assert {"id", "ask", "bits", "minutes"} <= found["next"][0].keys()
    assert found["next"][0]["bits"] == 0.4375
    assert found["plan"]["steps"][0]["id"] == "keep-suction-under-brine"
    assert found["cautions"][0]["id"] == "hold-and-do-not-taste"
    assert [one["id"] for one in found["sources"]] == ["plant-notes", "second-notes"]


def test_json_has_no_number_that_json_does_not_know(diagnosis: Diagnosis, small: Knowledge) -> None:
    """An infinite or missing weight becomes null, so that every parser can read the report."""
    endless = dataclasses.replace(
        diagnosis,
        unlisted=math.nan,
        fit=dataclasses.replace(diagnosis.fit, conflict=math.inf),
    )

    def refuse(name: str) -> float:
        raise AssertionError(name)

    found = json.loads(render(endless, small, "json"), parse_constant=refuse)
    assert found["unlisted"] is None
    assert found["conflict"] is None


@pytest.mark.parametrize("form", ["text", "markdown", "json"])
def test_a_report_of_nothing_still_reads(small: Knowledge, diagnosis: Diagnosis, form: str) -> None:
    """A case without answers gives a report that says so, not an error."""
    empty = dataclasses.replace(
        diagnosis,
        title="",
        seen=(),
        notes=(),
        numbers=(),
        cautions=(),
        ranking=(),
        next=(),
        plan=None,
        robustness=None,
        unlisted=0.0,
        fit=dataclasses.replace(diagnosis.fit, at_odds=(), explained_by=None),
    )
    text = render(empty, small, form)  # type: ignore[arg-type]
    assert "declares a product safe" in text
    if form == "text":
        assert "Nothing has been answered yet." in text
        assert "nan" not in text.lower().split()


def test_a_claim_without_a_source_says_so(diagnosis: Diagnosis, small: Knowledge) -> None:
    """Common practice is called that, never dressed up as a source."""
    text = render(diagnosis, small, "text", width=200)
    assert "Small round holes scattered through the lean, follows 75 % (usually); common practice, no source" in text


def test_sources_tell_whether_they_were_seen(diagnosis: Diagnosis, small: Knowledge) -> None:
    """Each source is listed with the part that was read, or as recalled from memory."""
    text = render(diagnosis, small, "text", width=200)
    assert "[1] Notes of a plant that does not exist." in text
    assert "From memory, not seen for this knowledge." in text
    assert "Seen for this knowledge: the one page there is." in text


def test_causes_that_matter_little_are_counted_not_listed(diagnosis: Diagnosis, small: Knowledge) -> None:
    """A faint cause does not lengthen the report, and its number is not hidden."""
    text = render(diagnosis, small, "text")
    assert "Smoke was too thin or too short (Smoking)" not in text
    assert "1 more cause not listed, under 1 % each." in text


def test_where_no_set_of_steps_helps_the_written_corrections_are_shown(diagnosis: Diagnosis, small: Knowledge) -> None:
    """Nobody is left without anything to do because the sums found no good set of steps."""
    assert diagnosis.plan is not None
    without = dataclasses.replace(diagnosis, plan=dataclasses.replace(diagnosis.plan, steps=()))
    text = render(without, small, "text", width=200)
    assert "Written for: Injector takes in air with the brine" in text
    assert "Keep the suction of the pump under the brine and tighten its joints." in text
