"""Marking what is seen: the faults of one criterion from a numbered list, how much of each, and where."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from diagnose.commands.session.words import Reply, marks_in, number_in
from diagnose.corpus.scorecards import Criterion
from diagnose.judging.sheet import SET_ASIDE, Amount, Mark
from diagnose.judging.suggesting import calls_for, fault_title, graded, suspect_marks

from .orders import looks_like_an_order, numbers_off

if TYPE_CHECKING:
    from .entry import EntryDesk


def mark_faults(desk: EntryDesk, criterion: Criterion) -> None:
    """Ask for marks until the judge goes on; each is saved when it is given."""
    bench, talk = desk.bench, desk.talk
    if not criterion.faults:
        return
    titles = [fault_title(bench.card, bench.knowledge, fault.id) for fault in criterion.faults]
    desk.places_shown = False
    talk.choices(
        [
            f"{title}{_state(bench.sheet.marked(fault.id))}"
            for title, fault in zip(titles, criterion.faults, strict=True)
        ]
    )
    while True:
        line = desk.hear(f"{criterion.title}: what do you see? Numbers, Enter = go on")
        if not line:
            return
        off = numbers_off(line)
        marks = marks_in(_spelled_out(line))
        numbers = off or [number for number, _ in marks or []]
        if not numbers:
            talk.say("Please type numbers of the list: 2, or 2 slight, or 2 5; ? shows the commands.")
            continue
        wrong = [number for number in numbers if not 1 <= number <= len(titles)]
        if wrong:
            talk.say(f"There is no {wrong[0]} in this list.")
            continue
        if off:
            for number in off:
                bench.keep("no-mark", fault=criterion.faults[number - 1].id)
                talk.say(f"Taken back: {titles[number - 1]}.")
            if bench.sheet.suspect and not suspect_marks(bench.card, bench.sheet.marks):
                talk.say("The piece stays set aside. If that was a slip: lift, and the reason.", lead="!!! ")
            continue
        for number, reply in marks or []:
            _mark(desk, criterion.faults[number - 1].id, titles[number - 1], reply)
        if criterion.tasted and bench.sheet.suspect:
            return


def _mark(desk: EntryDesk, fault: str, title: str, reply: Reply) -> None:
    bench, talk = desk.bench, desk.talk
    if reply.verdict == "cant-tell":
        return
    verdict = "no" if reply.verdict == "no" else "yes"
    how_much = reply.how_much if graded(bench.card, bench.knowledge, fault) else None
    bench.keep("mark", fault=fault, **{"is": verdict}, how_much=how_much, where="")
    if verdict == "no":
        talk.say(f"Not there: {title}.")
        return
    if not _warn(desk, Mark(fault, "yes", how_much), title):
        bench.keep("no-mark", fault=fault)
        talk.say(f"Taken back: {title}.")
        return
    if how_much is None and graded(bench.card, bench.knowledge, fault):
        how_much = _degree(desk, title)
        if how_much:
            bench.keep("mark", fault=fault, **{"is": verdict}, how_much=how_much, where="")
    where = _where(desk, title)
    if where:
        bench.keep("mark", fault=fault, **{"is": verdict}, how_much=how_much, where=where)
    talk.say(f"Marked: {title}{_state(Mark(fault, 'yes', how_much, where))}.")


def _degree(desk: EntryDesk, title: str) -> Amount | None:
    while True:
        line = desk.hear(f"{title}: s = slight, m = marked (plain to see), Enter = not said").casefold()
        if not line or line in _DEGREE_WORDS:
            return _DEGREE_WORDS.get(line)
        desk.talk.say("Please type s or m, or press Enter.")


def _warn(desk: EntryDesk, mark: Mark, title: str) -> bool:
    """Tell what a mark calls for; false if it was a slip and the mark goes."""
    out = calls_for(desk.card, mark)
    if out is None:
        return True
    if out.kind != "unsafe":
        desk.talk.say(f"{out.title}: {out.do} Use the command out if it has to go.", lead="!   ")
    elif desk.bench.sheet.suspect not in ("", SET_ASIDE):
        desk.talk.say("It is set aside already. Nobody tastes it.", lead="!!! ")
    else:
        return desk.suspect(title, out.do)
    return True


def _where(desk: EntryDesk, title: str) -> str:
    """A place from the scorecard's list, or free words. The list is shown once a criterion."""
    places = desk.card.places
    if places and not desk.places_shown:
        desk.talk.say("; ".join(f"{number} {place}" for number, place in enumerate(places, 1)), lead="  Where: ")
        desk.places_shown = True
    while True:
        line = desk.hear(f"{title}: where? Number or words, Enter = not said")
        if number := number_in(line, len(places)):
            return places[number - 1]
        if not line or not looks_like_an_order(line):
            return line[:60]
        desk.talk.say(
            f"That is no place. Type a number from 1 to {len(places)} or words, or press Enter; the list comes next."
            if places
            else "That is no place. Type words, or press Enter; the list comes next."
        )


def _spelled_out(line: str) -> str:
    """The line with the letters s and m behind a number written out as slight and marked."""
    return re.sub(r"(\d+)\s*([sm])(?![a-z])", lambda found: f"{found[1]} {_DEGREES[found[2]]}", line.casefold())


_DEGREES = {"s": "slight", "m": "marked"}
_DEGREE_WORDS: dict[str, Amount] = {
    "s": "slight",
    "slight": "slight",
    "m": "marked",
    "marked": "marked",
    "c": "marked",
    "clear": "marked",
    "strong": "marked",
}


def _state(mark: Mark | None) -> str:
    if mark is None:
        return ""
    if mark.verdict == "no":
        return " [not there]"
    return f" [{', '.join(part for part in ('yes', mark.how_much or '', mark.place) if part)}]"
