"""Holding a session from the first question to the last line, and leaving it in good order however it ends."""

from __future__ import annotations

import shlex
from collections.abc import Callable
from pathlib import Path
from typing import Literal

from diagnose.casework.casebook import Casebook, default_path
from diagnose.errors import EXIT_FINE, EXIT_INTERRUPTED, DiagnoseError

from .sitting import Leave, Sitting, ToLists, ToQuestions, ToReport
from .talk import talk_here
from .tools import Later, Tools, warm_up


def hold(
    *, tools: Callable[[], Tools], casebook_path: Path | None, resume: str | None, colour: bool | None, plain: bool
) -> int:
    """See `diagnose.commands.session.run`."""
    later = Later(tools)
    talk = talk_here(colour=colour, plain=plain)
    with Casebook(casebook_path or default_path()) as book:
        sitting = Sitting(talk, book, later)
        try:
            go(sitting, later, resume)
        except KeyboardInterrupt:
            _goodbye(sitting, casebook_path)
            return EXIT_INTERRUPTED
        except (EOFError, Leave):
            _goodbye(sitting, casebook_path)
            return EXIT_FINE
        except DiagnoseError:
            if sitting.case_id:
                _goodbye(sitting, casebook_path)
            raise
        _goodbye(sitting, casebook_path)
        return EXIT_FINE


def go(sitting: Sitting, later: Later[Tools], resume: str | None) -> None:
    """One session on what it is given, to the end of its report. Raises Leave, EOFError or KeyboardInterrupt."""

    def work_ahead() -> None:
        later.begin()
        warm_up()

    if resume is None:
        sitting.talk.say("From a defect of a cured ham back to its cause. Every answer is saved at once.")
        sitting.talk.on_ready = work_ahead
        from .look import open_case

        open_case(sitting)
        marking = True
    else:
        later.begin()
        sitting.talk.on_ready = warm_up
        from .resuming import take_up

        if not take_up(sitting, resume):
            return
        marking = not sitting.case.answers
    from .aside import ASIDES  # no sooner, so that the first question need not wait for it

    sitting.asides = ASIDES
    sitting.talk.status = f"case {sitting.case_id} | ? help | b back | w why | h how | e report | q leave"
    _work(sitting, marking)


def _work(sitting: Sitting, marking: bool) -> None:
    """Marking, questions and report, with the ways between them."""
    from .ask import ask_on
    from .finish import finish
    from .mark import mark_everything

    lists: Literal["all", "details"] | None = "all" if marking else None
    while True:
        try:
            if lists is not None:
                mark_everything(sitting, lists)
            ask_on(sitting)
        except ToLists as wish:
            lists = wish.kind
            continue
        except ToQuestions:
            lists = None
            continue
        except ToReport:
            pass
        lists = None
        try:
            if finish(sitting):
                return
        except ToLists as wish:
            lists = wish.kind
        except ToQuestions:
            continue
        except ToReport:
            return


def _goodbye(sitting: Sitting, casebook_path: Path | None) -> None:
    """Where the case is and how to go on with it."""
    talk = sitting.talk
    talk.say()
    if not sitting.case_id:
        talk.say("No case was begun, so nothing is saved.")
        return
    where = f" --casebook {shlex.quote(str(casebook_path))}" if casebook_path else ""
    talk.say(f"Case {sitting.case_id} is saved in {sitting.book.path}")
    talk.say(f"Go on with it: diagnose resume {sitting.case_id}{where}")
