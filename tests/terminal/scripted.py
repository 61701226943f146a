"""A session held by a script: lines in, everything that was said out. Works on the small knowledge of these tests."""

from __future__ import annotations

import contextlib
import io
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from diagnose.casework.assess import assess
from diagnose.casework.casebook import Casebook
from diagnose.casework.events import Event
from diagnose.commands.session.hold import go
from diagnose.commands.session.reading import Suggest
from diagnose.commands.session.sitting import Leave, Sitting
from diagnose.commands.session.talk import Talk
from diagnose.commands.session.tools import Later, Tools
from diagnose.corpus.load import load
from diagnose.corpus.records import Knowledge
from diagnose.reports import render

SMALL = Path(__file__).parent.parent / "small"


def small() -> Knowledge:
    """The small knowledge."""
    return load(SMALL, remember=False)


class Script:
    """A reader that reads the lines of a list; at its end the person presses Ctrl-D."""

    def __init__(self, lines: Iterable[str | BaseException]) -> None:
        self.status = ""
        self.prompts: list[str] = []
        self.offered: list[list[str]] = []
        self._lines = list(lines)

    def read(self, prompt: str, suggest: Suggest | None, remember: bool) -> str:
        """The next line."""
        self.prompts.append(prompt)
        if not self._lines:
            raise EOFError
        line = self._lines.pop(0)
        if isinstance(line, BaseException):
            raise line
        self.offered.append([one.title for one in suggest(line)] if suggest else [])
        return line


@dataclass
class Held:
    """What came of a session. `end` names how it ended: "report", or the class of what was raised."""

    said: str
    end: str
    events: list[Event]
    sitting: Sitting
    script: Script = field(repr=False)

    def after(self, words: str) -> str:
        """What was said after these words were said for the first time."""
        assert words in self.said, f"{words!r} was never said:\n{self.said}"
        return self.said.split(words, 1)[1]


def held(
    folder: Path,
    *lines: str | BaseException,
    resume: str | None = None,
    knowledge: Callable[[], Knowledge] = small,
    width: int = 80,
    here: bool = False,
    **others: Any,
) -> Held:
    """Hold a session with these lines typed. `here`: standard output is the terminal. `others` replaces assess or render."""
    stream = io.StringIO()
    script = Script(lines)
    talk = Talk(stream, lambda: script, colour=False, plain=True)
    talk.console.width, talk.console.height = width, 24
    later = Later(lambda: Tools(knowledge(), others.get("assess", assess), others.get("render", render)))
    aim = contextlib.redirect_stdout(stream) if here else contextlib.nullcontext()
    with Casebook(folder / "casebook.sqlite") as book, aim:
        sitting = Sitting(talk, book, later)
        try:
            go(sitting, later, resume)
            end = "report"
        except (Leave, EOFError, KeyboardInterrupt) as error:
            end = type(error).__name__
        events = book.read(sitting.case_id) if sitting.case_id else []
    return Held(stream.getvalue(), end, events, sitting, script)
