"""The questions, one at a time: the one that tells the most for its minutes first, until nothing is worth its time."""

from __future__ import annotations

from diagnose.casework.case import state_of
from diagnose.casework.diagnosis import Diagnosis
from diagnose.casework.events import Skip
from diagnose.reports.words import minutes

from .answer import Asked, put_question, take_answer
from .aside import add
from .desk import listen
from .show import where_it_stands
from .sitting import Sitting, ToReport
from .warning import warn_of_all


def ask_on(sitting: Sitting) -> None:
    """Ask until the person goes to the report, which comes as ToReport."""
    asking = _Asking(sitting)
    _stand(sitting, None)
    while True:
        asking.step()


def _stand(sitting: Sitting, before: Diagnosis | None) -> None:
    """The warnings first, then the ranking."""
    warn_of_all(sitting)
    where_it_stands(sitting, before)


class _Asking:
    """The loop's memory: a question to come back to, and whether the person goes on though it is not worth the time."""

    def __init__(self, sitting: Sitting) -> None:
        self.sitting = sitting
        self.again: str | None = None
        self.going_on = False

    def step(self) -> None:
        """Put one question and act on what is said."""
        before = self.sitting.diagnosis()
        asked = self._next(before)
        if asked is None or (asked.offered and not before.worth_asking and not self.going_on):
            self._nothing_worth_asking(before, asked)
            return
        put_question(self.sitting, asked, f"Question {self._number()}")
        self.again = None
        match take_answer(self.sitting, asked):
            case "skipped":
                self.sitting.record(Skip(asked.entry.id))
                self.sitting.talk.say("Put aside; b brings it back.")
            case "back":
                self._back(asked)
            case "changed" | "answered":
                _stand(self.sitting, before)

    def _number(self) -> int:
        """One more than the questions that were answered or put aside, in this sitting and in earlier ones."""
        case = state_of(self.sitting.events)
        return 1 + sum(answer.came == "question" for answer in case.answers.values()) + len(case.skipped)

    def _next(self, diagnosis: Diagnosis) -> Asked | None:
        offered = {question.about: question for question in diagnosis.next}
        for about in [self.again, *offered]:
            entry = self.sitting.entry(about) if about else None
            if entry is not None and self.sitting.may_ask(entry):
                return Asked(entry, offered.get(entry.id))
        return None

    def _back(self, asked: Asked) -> None:
        if not self._take_back():
            self.again = asked.entry.id

    def _take_back(self) -> bool:
        """Take the last answer back, so that its question comes again; false if there is none."""
        gone = self.sitting.take_back()
        if not gone:
            self.sitting.talk.say("There is no answer to take back.")
            return False
        if len(gone) > 1:
            self.sitting.talk.say(f"Taken back: the no to {len(gone)} signs of a list.")
            return True
        self.sitting.talk.say(f"Taken back: {self.sitting.title(gone[0])}.")
        self.again = gone[0]
        return True

    def _nothing_worth_asking(self, before: Diagnosis, asked: Asked | None) -> None:
        """Say so, and let the person decide."""
        talk = self.sitting.talk
        talk.say()
        if not before.seen:
            talk.say("Nothing is marked yet, so there is nothing to reason back from.")
        elif asked is None:
            talk.say("There is nothing more to ask that you can look at and that would tell the causes apart.")
        else:
            check = asked.entry.check
            talk.say(
                f"No open question is worth its time any more. The best of them: {check.ask} ({minutes(check.minutes)})"
            )
        go = ", go = ask it anyway" if asked else ""
        while True:
            heard = listen(self.sitting, f"Enter = report{go}, or letters to add a sign", local={"back"})
            if heard.command == "back":
                if self._take_back():
                    return
                continue
            if asked and heard.line.casefold() in ("go", "go on"):
                self.going_on = True
                return
            if not heard.line and not heard.changed:
                raise ToReport
            if heard.changed or add(self.sitting, heard.line):
                _stand(self.sitting, before)
                return
