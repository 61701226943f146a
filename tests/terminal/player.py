"""A person at a terminal, played by a table: marks signs, answers questions by their id, and remembers what was kept."""

from __future__ import annotations

import re
import sys
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pexpect

from diagnose.casework.events import Answer, Event, Retract, Skip
from diagnose.commands.session.words import reply_in
from diagnose.corpus.records import Cause, Knowledge, Sign

PROMPTS = {
    "reach": r"1 to 5, Enter = 1 \(\? for help\) >",
    "product": r"1 to \d+, Enter = 1 >",
    "list": r"Number or letters; Enter = (?:\d+ more|on to [a-z ]+(?:; d = \d+ details?)?) >",
    "found": r"Enter = (?:none|no more) of these >",
    "amount": r"Enter = leave open >",
    "read": r"Press Enter when you have read this >",
    "question": r"y, n, c \(can't tell\)(?:, y slight, y marked)?, Enter = skip >",
    "own": r"y, n, c \(can't tell\)(?:, y slight, y marked)?, Enter = leave it >",
    "idle": r"letters to add a sign >",
    "whole": r"Show the whole report\? Enter = yes, n = no >",
    "file": r"File >",
}
_ESCAPE = re.compile(r"\x1b\[[0-9;?]*[A-Za-z]|\x1b[=>]|\r")


def start(folder: Path, *arguments: str, env: dict[str, str]) -> pexpect.spawn[str]:
    """The program itself with its own knowledge, in a pty of 100 columns, with the casebook in this folder."""
    program = "from diagnose.commands.main import run; run()"
    return pexpect.spawn(
        sys.executable,
        ["-c", program, *arguments, "--casebook", str(folder / "casebook.sqlite")],
        dimensions=(60, 100),
        env=env,
        timeout=20,
        encoding="utf-8",
        cwd=str(folder),
    )


@dataclass
class Player:
    """Plays on one terminal. `said` is all that was said, `kept` the events that must be in the casebook."""

    child: Any
    knowledge: Knowledge
    plain: bool = True
    kind: str = ""
    heard: str = ""
    said: str = ""
    kept: list[Event] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)

    def wait(self) -> str:
        """Wait for any prompt; its kind. What was said before it is in `heard`."""
        which = self.child.expect(list(PROMPTS.values()))
        self.kind = list(PROMPTS)[which]
        self.heard = _ESCAPE.sub("", self.child.before + self.child.after)
        self.said += self.heard
        return self.kind

    def type(self, line: str) -> str:
        """Type a line and wait for the next prompt."""
        self.child.send(line + "\r")
        if not self.plain:
            self.child.expect_exact("\x1b[?2004l")  # the line is taken; its prompt was drawn once more before this
        return self.wait()

    def must(self, *kinds: str) -> None:
        """The prompt must be one of these."""
        assert self.kind in kinds, f"expected {kinds}, met {self.kind}:\n{self.heard}"

    def numbered(self, title: str) -> str | None:
        """The number of a title in the list that was just shown."""
        found = re.search(rf"^ *(\d+)  {re.escape(title)}(?:[: ]|$)", self.heard, re.MULTILINE)
        return found[1] if found else None

    def mark_by_number(self, sign: Sign) -> None:
        """Go on through the lists until the sign is in sight, and mark it."""
        self.must("list")
        while (number := self.numbered(sign.title)) is None:
            self.type("")
            self.must("list")
        self._marked(sign, number)

    def mark_by_search(self, sign: Sign, letters: str) -> None:
        """Type letters, and mark the sign by its number among what was found."""
        self.must("list")
        self.type(letters)
        self.must("found")
        number = self.numbered(sign.title)
        assert number is not None, f"{letters!r} does not find {sign.id}:\n{self.heard}"
        self._marked(sign, number)
        if self.kind == "found":  # the other finds can still be picked
            self.type("")

    def _marked(self, sign: Sign, number: str) -> None:
        self.kept.append(Answer(sign.id, "yes"))
        self.type(number)
        if self.kind == "read":
            self.type("")
        if self.kind == "amount":
            self.kept.append(Answer(sign.id, "yes", "sure", "marked"))
            self.type("m")

    def leave_the_lists(self) -> None:
        """Enter until the questions begin."""
        while self.kind == "list":
            self.type("")

    def question(self) -> Sign | Cause:
        """What the question on the screen is about."""
        self.must("question")
        found = re.findall(r"Question \d+: (.*?)\n  Why:", self.said, re.DOTALL)
        ask = " ".join(found[-1].split())
        (entry,) = [
            one
            for one in (*self.knowledge.signs.values(), *self.knowledge.causes.values())
            if " ".join(one.check.ask.split()) == ask
        ]
        self.asked.append(entry.id)
        return entry

    def answer(self, entry: Sign | Cause, typed: str) -> None:
        """Answer a question, read a warning that may follow."""
        reply = reply_in(typed)
        assert reply is not None
        graded = isinstance(entry, Sign) and entry.graded
        self.kept.append(Answer(entry.id, reply.verdict, reply.sure, reply.how_much if graded else None))
        self.type(typed)
        if self.kind == "read":
            self.type("")

    def back_and_skip(self) -> None:
        """Take the last answer back, which brings its question again, and put that aside."""
        last = next(event for event in reversed(self.kept) if isinstance(event, Answer))
        self.kept.append(Retract(last.about))
        self.type("back")
        assert self.question().id == last.about
        self.kept.append(Skip(last.about))
        self.type("skip")

    def add(self, entry: Sign | Cause, typed: str) -> None:
        """Tell something unasked."""
        self.type(f"add {entry.title}")
        self.must("own", "found")
        if self.kind == "found":
            number = self.numbered(entry.title)
            assert number is not None, self.heard
            self.type(number)
        self.must("own")
        self.answer(entry, typed)
