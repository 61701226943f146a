"""Holding a judge's sitting from the first entry to the last, and leaving it in good order however it ends."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from diagnose.commands.options import Settings
from diagnose.commands.session.reading import can_ask
from diagnose.commands.session.talk import Talk, talk_here
from diagnose.commands.session.words import number_in
from diagnose.errors import EXIT_FINE, EXIT_INTERRUPTED, UsageError
from diagnose.judging.class_file import load_class
from diagnose.judging.record import Record, record_path
from diagnose.judging.sheet import JudgedClass

from .bench import Bench, Leave, ToEntry
from .entry import EntryDesk
from .orders import WORDS


def hold(settings: Settings, file: Path, judge: str | None, *, plain: bool) -> int:
    """Hold one sitting; the exit code. Raises UsageError where nobody can be asked."""
    if settings.no_input or not can_ask():
        raise UsageError(
            "judging asks for points, and nobody can be asked here (no terminal, or --no-input); write the sheets into the "
            "class file, and see the results with: diagnose judge FILE --results"
        )
    talk = talk_here(colour=False if settings.no_color else None, plain=plain)
    knowledge = settings.knowledge()
    judged = load_class(knowledge, file, settings.folders)
    try:
        name = (judge_named(judge, judged.judges) or judge) if judge else which_judge(talk, judged)
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


def judge_named(typed: str, judges: Sequence[str]) -> str | None:
    """The judge of a name as typed, in capitals or not; None if there is none, or more than one."""
    if typed in judges:
        return typed
    same = [one for one in judges if one.casefold() == typed.strip().casefold()]
    return same[0] if len(same) == 1 else None


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
        line = talk.ask(f"1 to {len(open_for)}, or the name")
        if number := number_in(line, len(open_for)):
            return open_for[number - 1]
        if (named := judge_named(line, open_for)) is not None:
            return named
        if line.casefold() in ("q", "quit"):
            raise Leave
        talk.say(f"Please type your name or its number, 1 to {len(open_for)}; q leaves.")


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
    while True:
        for entry in bench.settle():
            talk.say(f"Entry {entry} is no longer set aside; its bite and flavour wait for you.")
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
        word, _, entry = line.partition(" ")
        if word in ("go", "g") and (place := bench.place_of(entry)) is not None:
            bench.place = place
            return


def show_help(bench: Bench) -> None:
    """The commands, one a line."""
    talk = bench.talk
    talk.say()
    for word in WORDS:
        talk.say(word.says, lead=f"  {word.letter}  {word.word:<9}")
    talk.say(
        "Mark what you see by its number: 2, or 2s (slight), or 2 5m (marked, plain to see); no 3 = looked for and not there;"
        " off 2 = taken back. Points have no default where nothing is marked; the levels stand above."
    )
