"""Marking what is there: region by region from numbered lists, or by a few letters from anywhere."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Literal

from diagnose.casework.events import Answer, Retract
from diagnose.corpus.records import Amount, Cause, Sign
from diagnose.reports.words import REGION, counted

from .answer import explain, put_entry
from .desk import Heard, listen
from .listing import Listing
from .pick import Search, suggestions
from .safety import MOUTH_REGIONS
from .sitting import Sitting
from .warning import warn_at_once
from .words import Reply, in_words, marks_in, number_in, reply_in

NONE_OF_THE_OTHERS = "I looked, and none of the others is here"

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
    talk.say(
        "Or type a few letters to search everywhere. how 3 tells more of number 3. Enter goes on, k goes straight to the "
        "questions, ? shows all commands."
    )
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
        self.marked: list[tuple[str, ...]] = []
        """What was marked here, in order; what was said in one word is taken back in one."""

    def go_through(self) -> int:
        """Ask until the person is done here; how many regions to move on (1 or -1)."""
        self.talk.heading(self.title)
        if self.region in MOUTH_REGIONS:
            self.talk.say("There is a warning: do not taste." if self.sitting.in_danger() else NO_TASTING_YET)
        if self.list.waiting:
            self._show(self.list.show_more)
        while True:
            heard = listen(
                self.sitting,
                self._prompt(),
                local={"back", "skip", "how", "details"},
                suggest=lambda typed: suggestions(self.sitting, typed),
                remember=True,
                reminder=self._show_again,
            )
            if heard.changed:
                self._show_again()
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
            self._show(self.list.show_more)
        elif heard.line == "0":
            self._none_of_the_others()
        elif (marks := marks_in(heard.line)) is not None:
            return self._mark(marks)
        elif len(heard.line) == 1 or reply_in(heard.line) is not None:
            self.talk.say("Please type numbers of the list, such as 2 or 2 5, or two letters and more to search.")
        else:
            return self._search(heard.line)
        return 0

    def _show(self, show: Callable[[], None]) -> None:
        """Print a screenful, and below the last one the choice that none of the others is there."""
        show()
        if not self.list.waiting and self._others():
            self.talk.say(NONE_OF_THE_OTHERS, lead="  0  ")

    def _show_again(self) -> None:
        """What the numbers stand for, once something else has filled the screen."""
        self.talk.heading(self.title)
        self._show(self.list.show_again)

    def _show_details(self) -> None:
        """Put the details at the end of the list, and show what comes next of it."""
        self.list.add(self.details)
        self.details = []
        if self.list.waiting:
            self._show(self.list.show_more)
        else:
            self.talk.say("That was all.")

    def _others(self) -> list[Sign]:
        """The defects of the list of which nothing was said; not those that only tasting tells, since nobody must taste."""
        answered = self.sitting.case.answers
        return [
            sign
            for sign in self.list.shown
            if sign.kind == "defect" and sign.id not in answered and self.sitting.may_ask(sign)
            if not sign.check.by_tasting
        ]

    def _none_of_the_others(self) -> None:
        """Record a sure no to every defect of the list that has no mark, once the person has said that they looked."""
        others = self._others()
        if self.list.waiting:
            self.talk.say(f"{len(self.list.waiting)} more of this list are still to come; Enter shows them.")
        elif not others:
            self.talk.say("Nothing in this list is open.")
        else:
            self.talk.say(
                f"This says that you looked for each of the {counted(len(others), 'sign')} without a mark and that none is "
                "there: a sure no to each. What only tasting tells stays open."
            )
            heard = listen(self.sitting, "y = yes, I looked; Enter = leave them open", local={"back", "skip"})
            if heard.line.casefold() not in ("y", "yes"):
                self.talk.say("Left open.")
                return
            for sign in others:
                self.sitting.record(Answer(sign.id, "no", came="rest"))
            self.marked.append(tuple(sign.id for sign in others))
            self.talk.say(f"Kept: no to {counted(len(others), 'sign')}. b takes all of it back.")

    def _explain(self, which: str) -> None:
        number = number_in(which, len(self.list.shown))
        if number is None:
            self.talk.say("Type how and a number of the list: how 3.")
            return
        explain(self.sitting, self.list.shown[number - 1])

    def _back(self) -> int:
        return 0 if self._take_back() else -1

    def _take_back(self) -> bool:
        """Take back what was marked last in this list; false if nothing was."""
        if not self.marked:
            return False
        gone = self.marked.pop()
        for about in gone:
            self.sitting.record(Retract(about))
        many = len(gone) > 1
        self.talk.say(f"Taken back: {f'the no to {len(gone)} signs' if many else self.sitting.title(gone[0])}.")
        return True

    def _mark(self, marks: Sequence[tuple[int, Reply]]) -> int:
        wrong = [number for number, _ in marks if not 1 <= number <= len(self.list.shown)]
        if wrong:
            self.talk.say(f"There is no {wrong[0]} in this list.")
            return 0
        instead = self._take([(self.list.shown[number - 1], reply) for number, reply in marks])
        return self._hear(instead) if instead else 0

    def _take(self, picked: Sequence[tuple[Sign | Cause, Reply]]) -> Heard | None:
        """Mark all of these, then ask how much of each; what the person said in place of it."""
        open_amounts: list[tuple[Sign, Answer]] = []
        for entry, reply in picked:
            if isinstance(entry, Sign):
                answer = mark(self.sitting, entry, reply)
                self.marked.append((entry.id,))
                if entry.graded and answer.verdict == "yes" and answer.how_much is None:
                    open_amounts.append((entry, answer))
            elif put_entry(self.sitting, entry):
                self.marked.append((entry.id,))
        for sign, answer in open_amounts:
            if instead := how_much(self.sitting, sign, answer, named=len(picked) > 1):
                return instead
        return None

    def _search(self, words: str) -> int:
        """Mark what is found. The finds, once shown, keep their numbers until Enter; then the list comes again."""
        before = len(self.marked)
        search = Search(self.sitting, words, several=True, undo=lambda: len(self.marked) > before and self._take_back())
        picked = search.first()
        while picked:
            instead = self._take(picked)
            if instead and not search.shown:
                return self._hear(instead)
            picked = None if search.over and instead is None else search.ask(instead)
        if search.shown and search.entries:
            self._show_again()
        return 0


def mark(sitting: Sitting, sign: Sign, reply: Reply) -> Answer:
    """Keep the mark, say so, and show at once whatever warning it calls for."""
    answer = Answer(sign.id, reply.verdict, reply.sure, reply.how_much if sign.graded else None)
    sitting.record(answer)
    _say_marked(sitting, sign, answer)
    if answer.verdict == "yes":
        warn_at_once(sitting, sign)
    return answer


def how_much(sitting: Sitting, sign: Sign, answer: Answer, *, named: bool) -> Heard | None:
    """Ask for the amount of what was marked; what the person said in place of it: a number, a search, or back."""
    of = f"{sign.title}: how" if named else "How"
    heard = listen(sitting, f"{of} much? s = slight, m = marked, Enter = leave open", local={"skip", "over", "back"})
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
