"""What a check found wrong in files, as lines for people and as a list for programs."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.errors import Problem
from diagnose.reports.words import counted
from diagnose.text import clean


def problem_lines(problems: Sequence[Problem]) -> str:
    """The problems one a line, and their number in a last one."""
    return "".join(f"{clean(str(one))}\n" for one in problems) + f"{counted(len(problems), 'problem')}\n"


def problems_json(problems: Sequence[Problem]) -> list[dict[str, object]]:
    """The problems in their order, each with path, line, column (both from 1) and message."""
    return [{"path": one.path, "line": one.line, "column": one.column, "message": one.message} for one in problems]
