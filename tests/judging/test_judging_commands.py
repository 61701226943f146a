"""The commands `judge` and `comment`, run unattended on the class of 24."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from diagnose.commands.main import call

EXAMPLE = Path(__file__).parent.parent.parent / "docs" / "examples" / "class-of-24.yaml"


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A copy of the class, so that nothing is written beside the documentation."""
    return Path(shutil.copy(EXAMPLE, tmp_path / "class.yaml"))


def test_comments_of_all_entries_as_json(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A list with the number and the words of each entry."""
    assert call(["comment", str(file), "--format", "json"]) == 0
    found = json.loads(capsys.readouterr().out)["comments"]
    assert [one["entry"] for one in found] == list(range(1, 25))
    assert all(isinstance(one["comment"], str) and 40 <= len(one["comment"].split()) <= 110 for one in found)


def test_one_entry_reads_as_among_all(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The comment of an entry is the same whether it is asked for alone or with the others."""
    call(["comment", str(file), "--format", "json"])
    every = json.loads(capsys.readouterr().out)["comments"]
    call(["comment", str(file), "--entry", "17", "--format", "json"])
    assert json.loads(capsys.readouterr().out)["comments"] == [every[16]]


def test_results_clinic_and_table(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """All three run without a terminal; the clinic names no entry."""
    assert call(["judge", str(file), "--results"]) == 0
    assert "Kendall's W" in capsys.readouterr().out
    assert call(["judge", str(file), "--results", "--format", "json"]) == 0
    results = json.loads(capsys.readouterr().out)
    assert [one["place"] for one in results["results"][:3]] == [1, 2, 3]
    assert call(["judge", str(file), "--clinic"]) == 0
    assert "entry 2" not in capsys.readouterr().out
    assert call(["judge", str(file), "--csv"]) == 0
    assert len(capsys.readouterr().out.splitlines()) == 25


def test_sheets_are_written_whole_and_not_over_others(
    file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """24 sheets twice and one to print; a second run needs --force."""
    folder = tmp_path / "sheets"
    assert call(["judge", str(file), "--sheets", str(folder)]) == 0
    assert len(list(folder.iterdir())) == 49
    assert call(["judge", str(file), "--sheets", str(folder)]) == 2
    assert call(["judge", str(file), "--sheets", str(folder), "--force"]) == 0


def test_final_words_replace_the_draft(file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What a judge made final is what is printed from then on, marked as such."""
    words = tmp_path / "words.txt"
    words.write_text("A fine ham.\nKeep going.\n", encoding="utf-8")
    assert call(["comment", str(file), "--entry", "3", "--final", str(words)]) == 0
    capsys.readouterr()
    call(["comment", str(file), "--entry", "3", "--format", "json"])
    (found,) = json.loads(capsys.readouterr().out)["comments"]
    assert (found["comment"], found["final"]) == ("A fine ham. Keep going.", True)


def test_usage_that_makes_no_sense(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Wrong entries, options that exclude each other, nobody to ask: told, with exit code 2."""
    assert call(["comment", str(file), "--entry", "99"]) == 2
    assert call(["judge", str(file), "--results", "--csv"]) == 2
    assert call(["judge", str(file)]) == 2
    assert call(["judge", str(file), "--results", "--without", "z"]) == 2
    assert call(["comment", str(file), "--edit", "--no-input"]) == 2


def test_a_class_without_sheets_shows_no_results(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Before the judges are done, the answer says who is still at work."""
    path = tmp_path / "c.yaml"
    path.write_text("class: c\ntitle: C\nscorecard: bacon\njudges: [a]\nentries: [1]\n", encoding="utf-8")
    assert call(["judge", str(path), "--results"]) == 2
    assert "judge a: 1 of 1 entries are not complete" in capsys.readouterr().err


def test_check_prints_findings_in_each_form(file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """--check is content with the class, names what is wrong with a broken one, and gives programs an object."""
    assert call(["judge", str(file), "--check", "--format", "json"]) == 0
    assert json.loads(capsys.readouterr().out)["problems"] == []
    broken = tmp_path / "broken.yaml"
    broken.write_text("class: c\ntitle: C\nscorecard: bacon\njudges: [a, a]\nentries: [1]\n", encoding="utf-8")
    assert call(["judge", str(broken), "--check", "--format", "json"]) == 1
    (found,) = json.loads(capsys.readouterr().out)["problems"]
    assert (found["line"], found["message"]) == (4, '"a" stands twice')
    assert call(["judge", str(broken), "--check"]) == 1
    assert capsys.readouterr().out.endswith("1 problem\n")


def test_leaving_a_judge_out_makes_sense_for_results_only(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """--without at the keyboard is refused rather than passed over."""
    assert call(["judge", str(file), "--without", "a"]) == 2
    assert "--without goes with" in capsys.readouterr().err


def test_final_words_on_a_suspect_piece_come_with_a_warning(
    file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The judge is told that the box stays; the printed comment has it, too. A single letter is no comment."""
    words = tmp_path / "words.txt"
    words.write_text("x", encoding="utf-8")
    assert call(["comment", str(file), "--entry", "10", "--final", str(words)]) == 2
    words.write_text("A very nice ham, well done, enjoy it.", encoding="utf-8")
    assert call(["comment", str(file), "--entry", "10", "--final", str(words)]) == 0
    told = capsys.readouterr()
    assert "begins with the box" in told.err
    assert "Hold the whole lot" in told.out
    call(["comment", str(file), "--entry", "10", "--format", "json"])
    assert "Nobody tastes it" in json.loads(capsys.readouterr().out)["comments"][0]["hold"]


def test_an_entry_goes_by_its_number(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A word for the number is refused in plain words."""
    assert call(["comment", str(file), "--entry", "three"]) == 2
    assert "an entry goes by its number" in capsys.readouterr().err
