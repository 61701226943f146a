"""Every error that this program raises on purpose.

    DiagnoseError
    |-- UsageError           the command was called in a way that makes no sense
    `-- ProblemsError        files are not in order; carries every problem found
        |-- KnowledgeError   the knowledge folder, or one laid over it
        `-- CaseError        what a person brought: a case, a record, a chart, a class, the casebook

The commands catch `DiagnoseError` in one place, print its text and leave with its `exit_code`.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

EXIT_FINE = 0
EXIT_FINDING = 1
EXIT_USAGE = 2
EXIT_BAD_INPUT = 3
EXIT_FAULT = 70
EXIT_INTERRUPTED = 130


class Problem(NamedTuple):
    """One thing that is wrong in a file.

    `line` and `column` count from 1, both 1 when the whole file is meant; both are 0 for a file that has no lines.
    """

    path: str
    line: int
    column: int
    message: str

    def __str__(self) -> str:
        place = f":{self.line}:{self.column}" if self.line else ""
        return f"{self.path}{place}: {self.message}"


class DiagnoseError(Exception):
    """Root of all errors of this program; its text is meant for the person at the keyboard."""

    exit_code = EXIT_BAD_INPUT


class UsageError(DiagnoseError):
    """The command or function was called in a way that makes no sense."""

    exit_code = EXIT_USAGE


class ProblemsError(DiagnoseError):
    """An error that carries all problems found, not only the first; its text lists them one a line."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(map(str, self.problems)))


class KnowledgeError(ProblemsError):
    """The knowledge folder, or a folder laid over it, is not in order."""


class CaseError(ProblemsError):
    """A file that a person brought (a case, a batch record, a chart, a class, the casebook) is not in order."""
