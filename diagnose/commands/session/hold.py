"""Holding a session from the first question to the last line, and leaving it in good order however it ends."""

from __future__ import annotations

import shlex
import sys
from collections.abc import Callable
from pathlib import Path

from diagnose.casework.casebook import Casebook, default_path
from diagnose.errors import DiagnoseError

from . import EXIT_INTERRUPTED
from .desk import choose
from .reading import best_reader
from .sitting import Leave, Sitting, ToLists, ToReport
from .talk import Talk, widen_encoding
from .tools import Later, Tools


def hold(
    *, tools: Callable[[], Tools], casebook_path: Path | None, resume: str | None, colour: bool | None, plain: bool
) -> int:
    """See `diagnose.commands.session.run`."""
    widen_encoding()
    stream = sys.stdout if sys.stdout.isatty() else sys.stderr  # results may go to a file, the talk may not
    later = Later(tools)
    talk = Talk(stream, lambda: best_reader(stream, plain=plain, colour=talk.colour), colour=colour, plain=plain)
    with Casebook(casebook_path or default_path()) as book:
        sitting = Sitting(talk, book, later)
        try:
            go(sitting, later, resume)
        except KeyboardInterrupt:
            _goodbye(sitting, casebook_path)
            return EXIT_INTERRUPTED
        except (EOFError, Leave):
            _goodbye(sitting, casebook_path)
            return 0
        except DiagnoseError:
            if sitting.case_id:
                _goodbye(sitting, casebook_path)
            raise
        _goodbye(sitting, casebook_path)
        return 0


def go(sitting: Sitting, later: Later[Tools], resume: str | None) -> None:
    """One session on what it is given, to the end of its report. Raises Leave, EOFError or KeyboardInterrupt."""
    from .aside import ASIDES

    sitting.asides = ASIDES
    if resume is None:
        sitting.talk.say("From a defect of a cured ham back to its cause. Every answer is saved at once.")
        sitting.talk.on_ready = later.begin
        from .look import open_case

        open_case(sitting)
        marking = True
    else:
        later.begin()
        if not _take_up(sitting, resume):
            return
        marking = not sitting.case.answers
    sitting.talk.status = f"case {sitting.case_id} | ? help | b back | w why | h how | e report | q leave"
    _work(sitting, marking)


def _work(sitting: Sitting, marking: bool) -> None:
    """Marking, questions and report, with the ways between them."""
    from .ask import ask_on
    from .finish import finish
    from .mark import mark_everything

    while True:
        try:
            if marking:
                mark_everything(sitting)
            ask_on(sitting)
        except ToLists:
            marking = True
            continue
        except ToReport:
            pass
        marking = False
        try:
            if finish(sitting):
                return
        except ToLists:
            marking = True
        except ToReport:
            return


def _take_up(sitting: Sitting, resume: str) -> bool:
    """Go on with a case; false if there is none to go on with."""
    from .look import reach_in_words, what_can_you_look_at, which_product
    from .show import answer_line

    talk = sitting.talk
    case_id = resume or _choose_case(sitting)
    if not case_id:
        talk.say("There is no case to go on with; start one with: diagnose")
        return False
    sitting.take_up(case_id)
    case, knowledge = sitting.case, sitting.knowledge
    if case.product not in knowledge.products:
        talk.say(f'The product "{case.product}" is not in this knowledge; please say again what it is.')
        product = which_product(sitting, knowledge) or next(iter(knowledge.products))
        sitting.begin(product, case.have or what_can_you_look_at(sitting) or ("product",))
        case = sitting.case
    talk.heading(f"Case {case_id}: {knowledge.products[case.product].title}{f', {case.title}' if case.title else ''}")
    talk.say(f"You can look at: {reach_in_words(case.have)}.")
    for answer in case.answers.values():
        talk.say(answer_line(sitting, answer), lead="  -  ")
    for about in sitting.outdated():
        talk.say(f"{about}: no longer in this knowledge, so it counts for nothing now.", lead="  !  ")
    if _known_then(sitting) != knowledge.version:
        talk.say("The knowledge has changed since this case began; the answers are weighed anew.", lead="  !  ")
    return True


def _known_then(sitting: Sitting) -> str:
    from diagnose.casework.events import Opened

    return [event for event in sitting.events if isinstance(event, Opened)][-1].knowledge


def _choose_case(sitting: Sitting) -> str:
    """The id of one of the latest cases; empty if there is none."""
    entries = sitting.book.recent(9)
    if len(entries) < 2:
        return entries[0].id if entries else ""
    titles = [
        f"{entry.id}, last used {entry.latest.replace('T', ' ')[:16]}, {entry.events - 1} entries"
        + (f", {entry.title}" if entry.title else "")
        for entry in entries
    ]
    number = choose(sitting, "Which case? The latest first.", titles, prompt=f"1 to {len(titles)}, Enter = 1")
    return entries[(number or 1) - 1].id


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
