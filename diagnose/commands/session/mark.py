"""Marking what is there: region by region from numbered lists, or by a few letters from anywhere."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from diagnose.casework.events import Amount, Answer, Retract
from diagnose.corpus.records import Sign
from diagnose.reports.words import REGION, counted

from .answer import explain, put_entry
from .desk import Heard, listen
from .pick import pick, suggestions
from .safety import MOUTH_REGIONS
from .sitting import Sitting
from .warning import warn_at_once
from .words import Reply, in_words, marks_in

NO_TASTING_YET = (
    "Smell first, from a hand's distance. Taste nothing if it smells off, if the piece is swollen, or if it may not be "
    "cooked through."
)
ONLY_DETAILS = "No defects here, only details that help to tell causes apart; they can wait."


def mark_everything(sitting: Sitting) -> None:
    """Go through all regions that hold something for this person."""
    talk = sitting.talk
    regions = [*REGION, *sorted({sign.region for sign in sitting.knowledge.signs.values()} - set(REGION))]
    talk.heading("Mark what is wrong, region by region")
    talk.say("Type the numbers of what you see, such as 2 or 2 5. Unsure: 2? From memory: 2m. A little: 2 slight.")
    talk.say("Or type a few letters to search everywhere. Enter goes on. ? shows all commands.")
    at = 0
    while at < len(regions):
        step = Region(sitting, regions[at], last=at == len(regions) - 1).go_through()
        at = max(0, at + step)
        if step < 0:
            while at > 0 and not _listed(sitting, regions[at], "defect"):
                at -= 1


def _listed(sitting: Sitting, region: str, kind: str) -> list[Sign]:
    return [
        sign
        for sign in sitting.knowledge.signs.values()
        if sign.region == region and sign.kind == kind and sitting.may_ask(sign)
    ]


class Region:
    """One region while it is gone through. Its list grows: defects a screen at a time, then details if wished."""

    def __init__(self, sitting: Sitting, region: str, *, last: bool) -> None:
        self.sitting = sitting
        self.talk = sitting.talk
        self.region = region
        self.title = REGION.get(region, region.replace("-", " ")).capitalize()
        self.waiting = _listed(sitting, region, "defect")
        self.details = _listed(sitting, region, "detail")
        self.shown: list[Sign] = []
        self.marked: list[str] = []

    def go_through(self) -> int:
        """Ask until the person is done here; how many regions to move on (1 or -1)."""
        if not self.waiting and not self.details:
            return 1
        self.talk.heading(self.title)
        if self.region in MOUTH_REGIONS:
            self.talk.say("There is a warning: do not taste." if self.sitting.in_danger() else NO_TASTING_YET)
        self._show_more()
        while True:
            heard = listen(
                self.sitting,
                self._prompt(),
                local={"back", "skip", "how"},
                suggest=lambda typed: suggestions(self.sitting, typed),
                remember=True,
                reminder=self.title,
            )
            if heard.changed:
                continue
            step = self._hear(heard)
            if step:
                return step

    def _prompt(self) -> str:
        if self.waiting:
            return f"Number or letters; Enter = {len(self.waiting)} more"
        more = f", more = {counted(len(self.details), 'detail')}" if self.details else ""
        return f"Number or letters; Enter = nothing {'more ' if self.marked else ''}here{more}"

    def _hear(self, heard: Heard) -> int:
        """Do what was said; how many regions to move on, 0 to stay."""
        if heard.command == "back":
            return self._back()
        if heard.command == "skip":
            return 1
        if heard.command == "how":
            self._explain(heard.rest)
        elif not heard.line:
            if not self.waiting:
                return 1
            self._show_more()
        elif heard.line.casefold() in ("more", "details"):
            self.waiting, self.details = self.waiting or self.details, self.details if self.waiting else []
            self._show_more()
        elif (marks := marks_in(heard.line)) is not None:
            self._mark(marks)
        else:
            self._search(heard.line)
        return 0

    def _show_more(self) -> None:
        """The next screenful of the list."""
        if not self.waiting:
            self.talk.say(ONLY_DETAILS if self.details and not self.shown else "That was all.")
            return
        room = max(5, self.talk.rows - 11)  # heading, prompt, status line, and room for completions
        if len(self.waiting) <= room + 3:  # a last screen of one or two is a nuisance
            room += 3
        page, self.waiting = self.waiting[:room], self.waiting[room:]
        for number, sign in enumerate(page, len(self.shown) + 1):
            answer = self.sitting.case.answers.get(sign.id)
            state = f"[{in_words(answer.verdict, answer.sure, answer.how_much)}] " if answer else ""
            self.talk.one_line(state + sign.title, sign.what, lead=f"{number:>3}  ")
        self.shown += page

    def _explain(self, which: str) -> None:
        if not which or not 1 <= int(which[:6]) <= len(self.shown):
            self.talk.say("Type how and a number of the list: how 3.")
            return
        explain(self.sitting, self.shown[int(which) - 1])

    def _back(self) -> int:
        if not self.marked:
            return -1
        about = self.marked.pop()
        self.sitting.record(Retract(about))
        self.talk.say(f"Taken back: {self.sitting.title(about)}.")
        return 0

    def _mark(self, marks: Sequence[tuple[int, Reply]]) -> None:
        wrong = [number for number, _ in marks if not 1 <= number <= len(self.shown)]
        if wrong:
            self.talk.say(f"There is no {wrong[0]} in this list.")
            return
        for number, reply in marks:
            self._mark_one(self.shown[number - 1], reply, ask_how_much=len(marks) == 1)

    def _mark_one(self, sign: Sign, reply: Reply, *, ask_how_much: bool = True) -> None:
        mark(self.sitting, sign, reply, ask_how_much=ask_how_much)
        self.marked.append(sign.id)

    def _search(self, words: str) -> None:
        found = pick(self.sitting, words)
        if found is None:
            return
        entry, reply = found
        if isinstance(entry, Sign):
            self._mark_one(entry, reply)
        elif put_entry(self.sitting, entry):
            self.marked.append(entry.id)


def mark(sitting: Sitting, sign: Sign, reply: Reply, *, ask_how_much: bool = True) -> None:
    """Keep the mark, say so, and show at once whatever warning it calls for."""
    answer = Answer(sign.id, reply.verdict, reply.sure, reply.how_much if sign.graded else None)
    sitting.record(answer)
    _say_marked(sitting, sign, answer)
    if answer.verdict != "yes":
        return
    warn_at_once(sitting, sign)
    if sign.graded and answer.how_much is None and ask_how_much:
        heard = listen(sitting, "How much? s = slight, m = marked, Enter = leave open", local={"skip", "mark", "back"})
        amounts: tuple[Amount, Amount] = ("slight", "marked")
        amount = next((amount for amount in amounts if heard.line and amount.startswith(heard.line.casefold())), None)
        if amount is not None:
            answer = replace(answer, how_much=amount)
            sitting.record(answer)
            _say_marked(sitting, sign, answer)


def _say_marked(sitting: Sitting, sign: Sign, answer: Answer) -> None:
    sitting.talk.say(f"Marked: {sign.title} ({in_words(answer.verdict, answer.sure, answer.how_much)}).")
