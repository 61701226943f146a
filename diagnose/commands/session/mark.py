"""Marking what is there: region by region from numbered lists, or by a few letters from anywhere."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from diagnose.casework.events import Amount, Answer, Retract
from diagnose.corpus.records import Sign
from diagnose.reports.words import REGION, counted

from .answer import explain, put_entry
from .desk import Heard, listen
from .listing import Listing
from .pick import pick, suggestions
from .safety import MOUTH_REGIONS
from .sitting import Sitting
from .warning import warn_at_once
from .words import Reply, in_words, marks_in, reply_in

NO_TASTING_YET = (
    "Smell first, from a hand's distance. Taste nothing if it smells off, if the piece is swollen, or if it may not be "
    "cooked through."
)


def mark_everything(sitting: Sitting, kind: Literal["all", "details"] = "all") -> None:
    """Go through the regions that hold defects this person can look for, or, on wish, through those that hold details."""
    talk = sitting.talk
    regions = [*REGION, *sorted({sign.region for sign in sitting.knowledge.signs.values()} - set(REGION))]
    wanted = [region for region in regions if listed(sitting, region, "defect" if kind == "all" else "detail")]
    talk.heading("Mark what is wrong, region by region" if kind == "all" else "Details, region by region")
    talk.say("Type the numbers of what you see, such as 2 or 2 5. Unsure: 2? From memory: 2m. A little: 2 slight.")
    talk.say("Or type a few letters to search everywhere. Enter goes on. ? shows all commands.")
    at = 0
    while at < len(wanted):
        onward = in_the_lists(wanted[at + 1]) if at + 1 < len(wanted) else "questions"
        at = max(0, at + Region(sitting, wanted[at], details=kind == "details", onward=onward).go_through())
    passed_over = [region for region in regions if region not in wanted and listed(sitting, region, "detail")]
    if passed_over:
        counts = ", ".join(
            f"{in_the_lists(region)} ({len(listed(sitting, region, 'detail'))})" for region in passed_over
        )
        talk.say(
            f"Passed over, since they hold details only: {counts}. The questions ask for those that matter; d lists them."
        )


def in_the_lists(region: str) -> str:
    """A region as it is called in the middle of a sentence."""
    return REGION.get(region, region.replace("-", " "))


def listed(sitting: Sitting, region: str, kind: str) -> list[Sign]:
    """The signs of a region that may be asked now."""
    return [
        sign
        for sign in sitting.knowledge.signs.values()
        if sign.region == region and sign.kind == kind and sitting.may_ask(sign)
    ]


class Region:
    """One region while it is gone through: its defects a screen at a time, then, if wished, its details."""

    def __init__(self, sitting: Sitting, region: str, *, details: bool, onward: str) -> None:
        self.sitting = sitting
        self.talk = sitting.talk
        self.region = region
        self.title = in_the_lists(region).capitalize()
        self.onward = onward
        self.details = listed(sitting, region, "detail")
        self.list = Listing(sitting, self.details if details else listed(sitting, region, "defect"))
        if details:
            self.details = []
        self.marked: list[str] = []

    def go_through(self) -> int:
        """Ask until the person is done here; how many regions to move on (1 or -1)."""
        self.talk.heading(self.title)
        if self.region in MOUTH_REGIONS:
            self.talk.say("There is a warning: do not taste." if self.sitting.in_danger() else NO_TASTING_YET)
        if self.list.waiting:
            self.list.show_more()
        while True:
            heard = listen(
                self.sitting,
                self._prompt(),
                local={"back", "skip", "how", "details"},
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
        if self.list.waiting:
            return f"Number or letters; Enter = {len(self.list.waiting)} more"
        details = f"; d = {counted(len(self.details), 'detail')}" if self.details else ""
        return f"Number or letters; Enter = on to {self.onward}{details}"

    def _hear(self, heard: Heard) -> int:
        """Do what was said; how many regions to move on, 0 to stay."""
        if heard.command == "back":
            return self._back()
        if heard.command == "skip":
            return 1
        if heard.command == "how":
            self._explain(heard.rest)
        elif heard.command == "details":
            self._show_details()
        elif not heard.line:
            if not self.list.waiting:
                return 1
            self.list.show_more()
        elif (marks := marks_in(heard.line)) is not None:
            return self._mark(marks)
        elif len(heard.line) == 1 or reply_in(heard.line) is not None:
            self.talk.say("Please type numbers of the list, such as 2 or 2 5, or two letters and more to search.")
        else:
            return self._search(heard.line)
        return 0

    def _show_details(self) -> None:
        """Put the details at the end of the list, and show what comes next of it."""
        self.list.add(self.details)
        self.details = []
        if self.list.waiting:
            self.list.show_more()
        else:
            self.talk.say("That was all.")

    def _explain(self, which: str) -> None:
        if not which or not 1 <= int(which[:6]) <= len(self.list.shown):
            self.talk.say("Type how and a number of the list: how 3.")
            return
        explain(self.sitting, self.list.shown[int(which) - 1])

    def _back(self) -> int:
        if not self.marked:
            return -1
        about = self.marked.pop()
        self.sitting.record(Retract(about))
        self.talk.say(f"Taken back: {self.sitting.title(about)}.")
        return 0

    def _mark(self, marks: Sequence[tuple[int, Reply]]) -> int:
        wrong = [number for number, _ in marks if not 1 <= number <= len(self.list.shown)]
        if wrong:
            self.talk.say(f"There is no {wrong[0]} in this list.")
            return 0
        step = 0
        for number, reply in marks:
            step = self._mark_one(self.list.shown[number - 1], reply, ask_how_much=len(marks) == 1)
        return step

    def _mark_one(self, sign: Sign, reply: Reply, *, ask_how_much: bool = True) -> int:
        """Mark it, and do what was said instead of how much."""
        instead = mark(self.sitting, sign, reply, ask_how_much=ask_how_much)
        self.marked.append(sign.id)
        return self._hear(instead) if instead else 0

    def _search(self, words: str) -> int:
        found = pick(self.sitting, words)
        if found is None:
            return 0
        entry, reply = found
        if isinstance(entry, Sign):
            return self._mark_one(entry, reply)
        if put_entry(self.sitting, entry):
            self.marked.append(entry.id)
        return 0


def mark(sitting: Sitting, sign: Sign, reply: Reply, *, ask_how_much: bool = True) -> Heard | None:
    """Keep the mark, say so, and show at once whatever warning it calls for.

    Returns what the person said in place of how much: the next number or search, or back.
    """
    answer = Answer(sign.id, reply.verdict, reply.sure, reply.how_much if sign.graded else None)
    sitting.record(answer)
    _say_marked(sitting, sign, answer)
    if answer.verdict != "yes":
        return None
    warn_at_once(sitting, sign)
    if not sign.graded or answer.how_much is not None or not ask_how_much:
        return None
    heard = listen(sitting, "How much? s = slight, m = marked, Enter = leave open", local={"skip", "mark", "back"})
    amounts: tuple[Amount, Amount] = ("slight", "marked")
    amount = next((amount for amount in amounts if heard.line and amount.startswith(heard.line.casefold())), None)
    if amount is not None:
        answer = replace(answer, how_much=amount)
        sitting.record(answer)
        _say_marked(sitting, sign, answer)
        return None
    return heard if heard.command == "back" or (heard.line and not heard.command) else None


def _say_marked(sitting: Sitting, sign: Sign, answer: Answer) -> None:
    sitting.talk.say(f"Marked: {sign.title} ({in_words(answer.verdict, answer.sure, answer.how_much)}).")
