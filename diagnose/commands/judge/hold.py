"""Holding a judge's sitting from the first entry to the last, and leaving it in good order however it ends."""

from __future__ import annotations

import sys
from pathlib import Path

from diagnose.commands.options import Settings
from diagnose.commands.session.reading import best_reader
from diagnose.commands.session.talk import Talk, widen_encoding
from diagnose.errors import EXIT_FINE, UsageError
from diagnose.judging.class_file import load_class
from diagnose.judging.record import Record, record_path
from diagnose.judging.sheet import JudgedClass

from .bench import Bench, Leave, ToEntry
from .entry import EntryDesk
from .orders import WORDS

EXIT_INTERRUPTED = 130


def hold(settings: Settings, file: Path, judge: str | None, *, plain: bool) -> int:
    """Hold one sitting; the exit code. Raises UsageError where nobody can be asked."""
    if settings.no_input or not sys.stdin or not sys.stdin.isatty():
        raise UsageError(
            "judging asks for points, and nobody can be asked here (no terminal, or --no-input); write the sheets into the "
            "class file, and see the results with: diagnose judge FILE --results"
        )
    widen_encoding()
    stream = sys.stdout if sys.stdout.isatty() else sys.stderr
    colour = False if settings.no_color else None
    talk = Talk(stream, lambda: best_reader(stream, plain=plain, colour=talk.colour), colour=colour, plain=plain)
    knowledge = settings.knowledge()
    judged = load_class(knowledge, file, settings.folders)
    try:
        name = judge or which_judge(talk, judged)
        bench = Bench(talk, knowledge, judged, file, name, open_record(judged, file, name))
        work(bench)
    except KeyboardInterrupt:
        talk.say()
        talk.say("Stopped. Everything given so far is saved.")
        return EXIT_INTERRUPTED
    except (EOFError, Leave):
        talk.say("Everything given so far is saved. Go on with the same command.")
    return EXIT_FINE


def open_record(judged: JudgedClass, file: Path, judge: str) -> Record:
    """The judge's own record. Raises UsageError for a stranger, or one whose sheets stand in the class file."""
    if judge not in judged.judges:
        raise UsageError(f'"{judge}" is not among the judges of this class: {", ".join(judged.judges)}')
    if judge in judged.sheets:
        raise UsageError(f"the sheets of judge {judge} stand in {file}; change them there")
    return Record(record_path(file, judged, judge))


def which_judge(talk: Talk, judged: JudgedClass) -> str:
    """The judge at the keyboard, asked from the list."""
    open_for = [one for one in judged.judges if one not in judged.sheets]
    if not open_for:
        raise UsageError("the sheets of all judges stand in the class file; see the results with --results")
    if len(open_for) == 1:
        return open_for[0]
    talk.heading("Who is judging?")
    talk.choices(open_for)
    while True:
        line = talk.ask(f"1 to {len(open_for)}")
        if line.isdecimal() and 1 <= int(line[:6]) <= len(open_for):
            return open_for[int(line) - 1]
        if line.casefold() in ("q", "quit"):
            raise Leave
        talk.say(f"Please type a number from 1 to {len(open_for)}.")


def work(bench: Bench) -> None:
    """Entry after entry until the judge leaves or closes. Raises Leave, EOFError or KeyboardInterrupt."""
    talk, judged = bench.talk, bench.judged
    talk.heading(f"{judged.title}. Judge {bench.judge}")
    talk.say(
        f"{len(judged.entries)} entries, by number only, in an order of your own. Every answer is saved at once; nobody sees"
        " your sheets before all judges are done, and you see nobody's."
    )
    show_help(bench)
    bench.place = bench.first_waiting()
    talk.status = f"{judged.id} | judge {bench.judge} | ? help | b back | n next | x suspect | l list | q leave"
    while True:
        if not bench.waiting() and not bench.closed:
            offer_to_close(bench)
        try:
            EntryDesk(bench).go_through()
            _on(bench)
        except ToEntry as to:
            bench.place = to.place


def _on(bench: Bench) -> None:
    """To the next entry that waits, behind this one first."""
    waiting = {bench.order.index(one) for one in bench.waiting()}
    if waiting:
        behind = [place for place in waiting if place > bench.place]
        bench.place = min(behind or waiting)


def offer_to_close(bench: Bench) -> None:
    """All is scored: close, or look at something again."""
    talk = bench.talk
    talk.heading("All entries are scored")
    while True:
        line = talk.ask("close = done; go and a number = look at an entry again; q = leave it open").casefold()
        if line in ("close", "z"):
            bench.record.append("closed")
            talk.say("Closed. When all judges have closed, the results come with: diagnose judge FILE --results")
            raise Leave
        if line in ("q", "quit", ""):
            raise Leave
        word, _, number = line.partition(" ")
        if word in ("go", "g") and number.isdecimal() and int(number[:9]) in bench.order:
            bench.place = bench.order.index(int(number))
            return


def show_help(bench: Bench) -> None:
    """The commands, one a line."""
    talk = bench.talk
    talk.say()
    for word in WORDS:
        talk.say(word.says, lead=f"  {word.letter}  {word.word:<9}")
    talk.say(
        "Mark what you see by its number: 2, or 2s (slight), or 2 5m (marked); no 3 = looked for and not there; off 2 = back."
    )
