"""A judge's sitting held by a script: lines in, everything that was said out."""

from __future__ import annotations

import contextlib
import io
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from diagnose.commands.judge.bench import Bench, Leave
from diagnose.commands.judge.hold import open_record, work
from diagnose.commands.session.reading import Suggest
from diagnose.commands.session.talk import Talk
from diagnose.corpus.records import Knowledge
from diagnose.judging.sheet import JudgedClass


class Script:
    """A reader that reads the lines of a list; at its end the judge presses Ctrl-D."""

    def __init__(self, lines: Iterable[str]) -> None:
        self.status = ""
        self.prompts: list[str] = []
        self._lines = list(lines)

    def read(self, prompt: str, suggest: Suggest | None, remember: bool) -> str:
        """The next line."""
        self.prompts.append(prompt)
        if not self._lines:
            raise EOFError
        return self._lines.pop(0)


@dataclass
class Sat:
    """What came of a sitting."""

    said: str
    prompts: list[str]
    bench: Bench


def sat(knowledge: Knowledge, judged: JudgedClass, file: Path, judge: str, *lines: str) -> Sat:
    """Hold a sitting with these lines typed."""
    stream = io.StringIO()
    script = Script(lines)
    talk = Talk(stream, lambda: script, colour=False, plain=True)
    talk.console.width = 100
    bench = Bench(talk, knowledge, judged, file, judge, open_record(judged, file, judge))
    with contextlib.suppress(Leave, EOFError):
        work(bench)
    return Sat(stream.getvalue(), script.prompts, bench)
