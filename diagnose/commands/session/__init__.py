"""The guided session: what is wrong with this ham, asked and answered on the terminal, one line at a time.

`run` is the way in; it imports what it needs only when it is called, so that the first question is there at once.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from diagnose.corpus.records import Knowledge

    from .tools import Tools


def run(
    *,
    knowledge_loader: Callable[[], Knowledge],
    casebook_path: Path | str | None = None,
    resume: str | None = None,
    colour: bool | None = None,
    plain: bool = False,
    no_input: bool = False,
    tools: Callable[[Callable[[], Knowledge]], Tools] | None = None,
) -> int:
    """Hold one session and return the exit code: 0 when it ended or was left, 130 when Ctrl-C ended it.

    `resume` is None for a new case, the id of a case, or an empty text to choose one from the list. `casebook_path` None
    stands for the usual place. `colour` None leaves it to the terminal and NO_COLOR. `tools` puts other calculators in
    the place of the real ones. Raises UsageError where nobody can be asked, CaseError for trouble with the casebook,
    KnowledgeError for trouble with the knowledge.
    """
    from diagnose.errors import UsageError

    from .reading import can_ask

    if no_input or not can_ask():
        if resume:
            _see_to_it_that_it_is_there(resume, None if casebook_path is None else Path(casebook_path))
        raise UsageError(
            "the guided session asks questions, and nobody can be asked here (no terminal, or --no-input); "
            "write the answers into a file and run: diagnose rank CASE.yaml"
        )
    from .hold import hold
    from .tools import real_tools

    return hold(
        tools=lambda: (tools or real_tools)(knowledge_loader),
        casebook_path=None if casebook_path is None else Path(casebook_path),
        resume=resume,
        colour=colour,
        plain=plain,
    )


def _see_to_it_that_it_is_there(case: str, casebook_path: Path | None) -> None:
    """Raises CaseError if no such case is kept; makes no casebook where there is none."""
    from diagnose.casework.casebook import Casebook, default_path
    from diagnose.errors import CaseError, Problem

    path = casebook_path or default_path()
    if not path.is_file():
        raise CaseError([Problem(str(path), 0, 0, f"there is no case {case}; no casebook is kept here")])
    with Casebook(path) as book:
        book.read(case)
