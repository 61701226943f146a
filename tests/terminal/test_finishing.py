"""The report at the end and the file it is saved in, held by a script."""

from __future__ import annotations

from pathlib import Path

import pytest
from scripted import held

from diagnose.casework.diagnosis import Diagnosis
from diagnose.corpus.records import Knowledge

TO_REPORT = ("1", "1", "", "1 marked", "", "end")


def brief(diagnosis: Diagnosis, knowledge: Knowledge, format: str, *, width: int = 80, colour: bool = False) -> str:
    """A report that names its format only."""
    return f"report as {format}, {len(diagnosis.ranking)} causes\n"


def test_the_report_goes_to_the_results(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The report is a result and goes to standard output; what is most needed stands below it."""
    end = held(tmp_path, *TO_REPORT, "", render=brief)
    assert end.end == "report"
    assert "report as text" in capsys.readouterr().out
    assert "1  Injector takes in air with the brine" in end.after("First causes")


def test_in_short_before_the_whole(tmp_path: Path) -> None:
    """Warnings, first causes, first steps and the best open check, in that order; who has seen enough types n."""
    end = held(tmp_path, "2", "1", "", "1 marked", "2", "", "", "", "end", "n", "", render=brief, here=True)
    short = end.after("In short")
    order = ["DANGER", "Hold the lot", "First causes:", "First steps:", "This lot: ", "Best next check:"]
    assert [short.index(words) for words in order] == sorted(short.index(words) for words in order)
    assert end.end == "report"
    assert "report as text" not in end.said


@pytest.mark.parametrize(
    ("typed", "name", "form"),
    [
        ("y", "ham-{case}.md", "markdown"),
        ("a.txt", "a.txt", "text"),
        ("b.json", "b.json", "json"),
        ("c.html", "c.html", "html"),
    ],
)
def test_saving(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, typed: str, name: str, form: str) -> None:
    """y takes the name offered, another name its ending's format; the folder holds nothing else afterwards."""
    work = tmp_path / "work"
    work.mkdir()
    monkeypatch.chdir(work)
    end = held(tmp_path, *TO_REPORT, typed, render=brief)
    name = name.format(case=end.sitting.case_id)
    assert [path.name for path in work.iterdir()] == [name]
    assert (work / name).read_text() == f"report as {form}, 1 causes\n"


def test_enter_saves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No file appears that nobody asked for."""
    work = tmp_path / "work"
    work.mkdir()
    monkeypatch.chdir(work)
    held(tmp_path, *TO_REPORT, "", render=brief)
    assert list(work.iterdir()) == []


def test_a_file_is_written_over_only_after_a_yes(tmp_path: Path) -> None:
    """An old file stays on Enter, another name may follow, and y replaces it."""
    old = tmp_path / "old.md"
    old.write_text("precious")
    held(tmp_path, *TO_REPORT, str(old), "", "", render=brief)
    assert old.read_text() == "precious"
    held(tmp_path, *TO_REPORT, str(old), "y", render=brief)
    assert old.read_text().startswith("report as markdown")


def test_a_place_that_does_not_work_is_asked_for_again(tmp_path: Path) -> None:
    """A missing folder or an impossible name is said, and the report can still be saved elsewhere."""
    good = tmp_path / "good.md"
    end = held(tmp_path, *TO_REPORT, str(tmp_path / "none" / "x.md"), "x" * 300, str(good), render=brief)
    assert end.said.count("cannot be saved") == 2
    assert good.exists()


def test_a_folder_takes_the_usual_name(tmp_path: Path) -> None:
    """A folder typed for a file gets the file with the usual name."""
    folder = tmp_path / "reports"
    folder.mkdir()
    end = held(tmp_path, *TO_REPORT, str(folder), render=brief)
    assert [path.name for path in folder.iterdir()] == [f"ham-{end.sitting.case_id}.md"]


def test_back_from_the_report_leads_to_the_questions(tmp_path: Path) -> None:
    """The person can look at the report and then go on."""
    end = held(tmp_path, *TO_REPORT, "b", render=brief)
    assert "Most likely at work" in end.after("Save the report?")


def test_a_report_on_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A person who marks nothing and goes to the report gets one, which blames nothing."""
    end = held(tmp_path, "1", "1", "end", "")
    assert end.end == "report"
    assert "No cause stands out." in end.said
    assert capsys.readouterr().out


def test_a_report_of_no_known_kind_is_not_written(tmp_path: Path) -> None:
    """Another ending is refused with the endings that there are, and asked for again."""
    good = tmp_path / "good.md"
    end = held(tmp_path, *TO_REPORT, str(tmp_path / "odd.exe"), str(good), render=brief)
    assert "A report cannot be made as .exe." in end.said
    assert ".md, .txt, .html, .json" in " ".join(end.said.split())
    assert not (tmp_path / "odd.exe").exists()
    assert good.exists()


def test_a_missing_folder_is_named(tmp_path: Path) -> None:
    """Not the system's words but which folder it is that is not there."""
    said = held(tmp_path, *TO_REPORT, "my reports/lot 7.md", render=brief).said
    assert "there is no folder my reports." in " ".join(said.split())
