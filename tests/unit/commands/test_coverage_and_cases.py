"""`diagnose knowledge coverage` and `diagnose knowledge cases`."""

import json
import shutil
from pathlib import Path

import pytest

SMALL = Path(__file__).parents[2] / "small"
CASE = Path("cases") / "air-at-the-pump.yaml"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the small knowledge that a test may change."""
    return Path(shutil.copytree(SMALL, tmp_path / "knowledge"))


def change(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def test_coverage_as_text_fits_and_begins_with_the_weakest(run) -> None:
    """Places come weakest first, lines keep to the width, and the totals close the report."""
    found = run("knowledge", "coverage", "--width", "80")
    assert (found.code, found.err) == (0, "")
    places = [found.out.index(f"({name})") for name in ("curing-hold", "smoking", "injection")]
    assert places == sorted(places)
    assert max(map(len, found.out.splitlines())) <= 80
    assert "Orphans: 0, signs that no cause reaches 0" in found.out


def test_coverage_as_markdown_has_a_row_for_each_place(run) -> None:
    """The tables have as many cells in each row as in their head."""
    lines = run("knowledge", "coverage", "--format", "markdown").out.splitlines()
    rows = [line for line in lines if line.startswith("|")]
    assert len([row for row in rows if row.endswith("|") and "(" in row and "---" not in row]) == 3 + 2 + 2
    assert len({row.count("|") for row in rows}) == 1


def test_coverage_as_json_has_counts_and_pairs(run) -> None:
    """Programs get numbers, not shares in words."""
    found = json.loads(run("knowledge", "coverage", "--format", "json").out)
    assert [one["id"] for one in found["stages"]] == ["curing-hold", "smoking", "injection"]
    assert found["totals"]["links"] == {"links": 13, "sourced": 3, "seen": 2, "direct": 3}
    assert found["not_told_apart"]["bone-in-ham"] == {"all_records": [], "judge": []}


def test_coverage_names_the_pairs(run, folder: Path) -> None:
    """Two causes with the same links are named to whoever can add a sign, and counted for a judge."""
    path = folder / "chain" / "13-smoking.yaml"
    text = path.read_text(encoding="utf-8")
    own = text[text.index("- id: smoke-too-short") : text.index("- id: hams-touch-on-truck")]
    own = own.replace("id: smoke-too-short", "id: smoke-too-thin").replace("id: smoke-longer", "id: smoke-thicker")
    path.write_text(text + own.replace("Smoke was too thin or too short", "Smoke was too thin"), encoding="utf-8")
    found = run("knowledge", "coverage", folder, "--width", "100", small=False)
    assert found.code == 0, found.err
    assert "with all records 1 pair, for a judge with only the product 1 pair." in found.out
    assert "- smoke-too-short and smoke-too-thin (outside-colour)" in found.out


def test_the_summary_is_a_small_markdown_table(run) -> None:
    """Every line is a row of two cells, so that it can stand in any Markdown page."""
    found = run("knowledge", "coverage", "--summary")
    assert found.code == 0
    assert found.out.startswith("| What | How much |\n| --- | --- |\n")
    assert all(line.count("|") == 3 for line in found.out.splitlines())
    assert "| Links | 13 (with a source 23 %, with one that was seen 15 %, on the same product 23 %) |\n" in found.out
    assert run("knowledge", "coverage", "--summary", "--format", "json").code == 2


def test_cases_that_come_out_give_code_0(run) -> None:
    """The one case of the small knowledge finds its cause."""
    found = run("knowledge", "cases")
    assert found.code == 0
    assert "1 case, 0 findings, 0 marked as missed." in found.out
    assert "Bone-in cured and smoked ham, common practice\n    cases: 1; first: 1 (100 %)" in found.out


def test_a_case_that_misses_is_named_with_code_1(run, folder: Path) -> None:
    """A finding says which case, what it expects and what came out."""
    change(folder / CASE, "first: [injector-draws-air]", "first: [held-too-warm]")
    found = run("knowledge", "cases", folder, small=False)
    assert found.code == 1
    assert "air-at-the-pump: Pinholes and a foaming tank" in found.out
    assert "held-too-warm must rank first; injector-draws-air does" in found.out
    assert "cases: 1; first: 0 (0 %)" in found.out


def test_a_marked_miss_gives_code_0_and_shows_its_reason(run, folder: Path) -> None:
    """What is explained is listed apart and does not stop a release."""
    change(folder / CASE, "first: [injector-draws-air]", "first: [held-too-warm]\n  missed: Nobody looked at the room.")
    found = run("knowledge", "cases", folder, small=False)
    assert found.code == 0
    assert "0 findings, 1 marked as missed" in found.out
    assert "marked: Nobody looked at the room." in found.out


def test_a_marked_case_that_comes_out_gives_code_1(run, folder: Path) -> None:
    """The mark has to go as soon as its reason has."""
    change(folder / CASE, "first: [injector-draws-air]", "first: [injector-draws-air]\n  missed: No reason.")
    found = run("knowledge", "cases", folder, "--format", "json", small=False)
    assert found.code == 1
    (case,) = json.loads(found.out)["cases"]
    assert (case["id"], case["basis"], case["place"]) == ("air-at-the-pump", "common practice", 1)
    assert case["findings"] == ['the expected cause comes out after all; take "missed" away']


def test_a_broken_case_is_bad_input(run, folder: Path) -> None:
    """A case that cannot be read is no miss; its slip is told with code 3 and its place."""
    change(folder / CASE, "gas-holes: no", "gas-hole: no")
    found = run("knowledge", "cases", folder, small=False)
    assert (found.code, found.out) == (3, "")
    assert 'did you mean "gas-holes"?' in found.err
