"""Whole sessions on a real pseudo-terminal, as a person has them."""

from __future__ import annotations

import io
import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

import diagnose
from diagnose.casework.casebook import Casebook
from diagnose.casework.events import Answer

pexpect = pytest.importorskip("pexpect")
pytestmark = pytest.mark.skipif(os.name != "posix", reason="needs a pseudo-terminal")

CHILD = Path(__file__).parent / "child.py"
WAYS = [[], ["--plain"]]
"""With prompt_toolkit, and without."""

Start = Callable[..., "pexpect.spawn"]


def environment(**more: str) -> dict[str, str]:
    """An environment for the child; the pty does not answer where its cursor is, so it is not asked."""
    kept = {name: os.environ[name] for name in ("PATH", "HOME") if name in os.environ}
    here = str(Path(diagnose.__file__).parent.parent)
    return {**kept, "PYTHONPATH": here, "TERM": "xterm", "LANG": "C.UTF-8", "PROMPT_TOOLKIT_NO_CPR": "1", **more}


@pytest.fixture
def start(tmp_path: Path) -> Iterator[Start]:
    """Starts a session in a pty of 80 columns; what is still running at the end is stopped."""
    running = []

    def _start(*arguments: str, **more: str) -> pexpect.spawn:
        child = pexpect.spawn(
            sys.executable,
            [str(CHILD), str(tmp_path / "casebook.sqlite"), *arguments],
            dimensions=(40, 80),
            env=environment(**more),
            timeout=10,
            encoding="utf-8",
            cwd=str(tmp_path),
        )
        running.append(child)
        return child

    yield _start
    for child in running:
        child.close(force=True)


def play(child: pexpect.spawn, *steps: tuple[str, str]) -> None:
    """Wait for each text, then type the line."""
    for awaited, typed in steps:
        child.expect_exact(awaited)
        child.expect_exact(" >")
        child.send(typed + "\r")


def end_of(child: pexpect.spawn) -> tuple[str, int]:
    """What is said to the end, and the exit code."""
    child.expect(pexpect.EOF)
    said = str(child.before)
    child.close()
    return said, child.exitstatus


def answers(folder: Path) -> list[tuple[str, str]]:
    """The answers of the only case."""
    with Casebook(folder / "casebook.sqlite") as book:
        (entry,) = book.recent()
        return [(event.about, event.verdict) for event in book.read(entry.id) if isinstance(event, Answer)]


TO_QUESTIONS = (
    ("look at?", "2"),
    ("product?", "1"),
    ("Outside", ""),
    ("Cut face", "1 slight"),
    ("Marked", ""),
    ("Smell", ""),
)


@pytest.mark.parametrize("way", WAYS)
def test_from_the_first_question_to_the_saved_report(start: Start, tmp_path: Path, way: list[str]) -> None:
    """A plant person marks a sign, answers a question, reads the report and saves it."""
    child = start(*way)
    play(
        child,
        *TO_QUESTIONS,
        ("Question 1", "y"),
        ("worth its time", ""),
        ("whole report?", ""),
        ("Save the report?", "out.md"),
    )
    said, code = end_of(child)
    assert code == 0
    assert "Saved as out.md" in said
    assert "diagnose resume" in said
    assert "Injector takes in air" in (tmp_path / "out.md").read_text()
    assert answers(tmp_path) == [("small-round-holes", "yes"), ("injector-draws-air", "yes")]


@pytest.mark.parametrize("way", WAYS)
def test_a_judge_meets_danger(start: Start, way: list[str]) -> None:
    """With only the ham, a dangerous sign brings the warning before the next list."""
    child = start(*way)
    play(child, ("look at?", "1"), ("product?", "1"), ("Outside", ""), ("Cut face", "2"))
    child.expect_exact("DANGER: Hold the lot and do not taste it")
    play(child, ("Press Enter", ""), ("Number or letters", ""))
    child.expect_exact("There is a warning: do not taste.")


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize(("key", "code"), [("\x03", 130), ("\x04", 0)])
def test_leaving_by_key_and_resuming(start: Start, tmp_path: Path, way: list[str], key: str, code: int) -> None:
    """Ctrl-C and Ctrl-D say where the case is and how to go on; going on finds every answer."""
    child = start(*way)
    play(child, *TO_QUESTIONS)
    child.expect_exact("Question 1")
    child.expect_exact(" >")
    child.send(key)
    said, exit_code = end_of(child)
    assert exit_code == code
    assert "Traceback" not in said
    case = re.search(r"diagnose resume (\S+)", said)
    assert case is not None
    again = start(*way, "--resume", case[1])
    again.expect_exact("Small round holes scattered through the lean: yes, slight")
    play(again, ("Question 1", "n?"), ("worth its time", "q"))
    assert end_of(again)[1] == 0
    assert answers(tmp_path)[-1] == ("injector-draws-air", "no")


def test_killed_between_answers(start: Start, tmp_path: Path) -> None:
    """A killed session has kept every answer that was followed by a prompt."""
    child = start()
    play(child, *TO_QUESTIONS)
    child.expect_exact("Question 1")
    child.expect_exact(" >")
    child.kill(signal.SIGKILL)
    child.wait()
    assert answers(tmp_path) == [("small-round-holes", "yes")]


def test_completion_while_typing(start: Start, tmp_path: Path) -> None:
    """A few letters bring up a sign of another region; the arrow key and Enter take it."""
    child = start()
    play(child, ("look at?", "1"), ("product?", "1"))
    child.expect_exact("Number or letters")
    child.expect_exact(" >")
    child.send("pinh")
    child.expect_exact("Small round holes")
    child.send("\x1b[B")
    time.sleep(0.2)
    child.send("\r")
    play(child, ("How much?", "s"))
    child.expect_exact("Marked: Small round holes")
    assert answers(tmp_path)[0] == ("small-round-holes", "yes")


@pytest.mark.parametrize("more", [{"TERM": "dumb"}, {"NO_COLOR": "1", "TERM": "xterm-256color"}])
def test_terminals_that_can_do_little(start: Start, more: dict[str, str]) -> None:
    """A dumb terminal gets no escape sequence at all, and NO_COLOR keeps every colour away."""
    child = start(**more)
    child.logfile_read = io.StringIO()
    play(child, ("look at?", "1"), ("product?", "1"), ("Outside", ""), ("Cut face", "2"), ("Press Enter", "q"))
    code = end_of(child)[1]
    said = child.logfile_read.getvalue()
    assert code == 0
    assert "DANGER" in said
    assert not re.search(r"\x1b\[[0-9;]*(?:3[0-7]|4[0-7]|9[0-7])m", said)
    if more["TERM"] == "dumb":
        assert "\x1b" not in said


def test_a_terminal_of_few_letters(start: Start) -> None:
    """Where the encoding has no block characters the bars are made of ASCII."""
    child = start(PYTHONIOENCODING="ascii")
    play(child, *TO_QUESTIONS)
    child.expect_exact("Most likely at work")
    child.expect(r"#+\.*  \d+ %")


def test_the_first_question_is_there_at_once(start: Start) -> None:
    """No work on the knowledge keeps the first question waiting. The design says 0.3 s; a busy machine is given more."""
    best = 9.0
    for _ in range(3):
        begun = time.perf_counter()
        child = start()
        child.expect_exact("Enter = 1")
        best = min(best, time.perf_counter() - begun)
        child.close(force=True)
    assert best < 0.9


def test_a_case_that_is_not_there(start: Start) -> None:
    """Resuming an unknown case is an error in plain words, without a traceback."""
    said, code = end_of(start("--resume", "1999-01-01-1"))
    assert code == 3
    assert "there is no case 1999-01-01-1" in said
    assert "Traceback" not in said


def test_where_nobody_can_be_asked(tmp_path: Path) -> None:
    """Without a terminal nothing is prompted; the error names the unattended way, and the exit code says usage."""
    ran = subprocess.run(
        [sys.executable, str(CHILD), str(tmp_path / "casebook.sqlite")],
        input="1\n1\n",
        capture_output=True,
        text=True,
        timeout=20,
        env=environment(),
        check=False,
    )
    assert ran.returncode == 2
    assert ran.stdout == ""
    assert "diagnose rank CASE.yaml" in ran.stderr
    assert not (tmp_path / "casebook.sqlite").exists()


def test_results_sent_to_a_file(tmp_path: Path) -> None:
    """With standard output in a file the talk stays on the terminal and the file holds the report alone."""
    report = tmp_path / "report.txt"
    command = f"exec {sys.executable} {CHILD} {tmp_path / 'casebook.sqlite'} > {report}"
    child = pexpect.spawn("/bin/sh", ["-c", command], env=environment(), timeout=10, encoding="utf-8")
    play(child, *TO_QUESTIONS, ("Question 1", "end"), ("Save the report?", ""))
    said, code = end_of(child)
    assert code == 0
    assert "Injector takes in air" in report.read_text()
    assert "look at?" not in report.read_text()
    assert "\x1b" not in report.read_text()
    assert "is saved in" in said
