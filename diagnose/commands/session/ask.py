"""The questions, one at a time: the one that tells the most for its minutes first, until nothing is worth its time."""

from __future__ import annotations

from diagnose.casework.case import last_undoable
from diagnose.casework.diagnosis import Diagnosis
from diagnose.casework.events import Retract, Skip

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
        self.number = 0
        self.going_on = False

    def step(self) -> None:
        """Put one question and act on what is said."""
        before = self.sitting.diagnosis()
        asked = self._next(before)
        if asked is None or (asked.offered and not before.worth_asking and not self.going_on):
            self._nothing_worth_asking(before, asked)
            return
        self.number += self.again is None
        put_question(self.sitting, asked, f"Question {max(self.number, 1)}")
        self.again = None
        match take_answer(self.sitting, asked):
            case "skipped":
                self.sitting.record(Skip(asked.entry.id))
                self.sitting.talk.say("Put aside; b brings it back.")
            case "back":
                self._back(asked)
            case "changed":  # the question itself is still open
                self.number -= 1
                _stand(self.sitting, before)
            case "answered":
                _stand(self.sitting, before)

    def _next(self, diagnosis: Diagnosis) -> Asked | None:
        offered = {question.about: question for question in diagnosis.next}
        for about in [self.again, *offered]:
            entry = self.sitting.entry(about) if about else None
            if entry is not None and self.sitting.may_ask(entry):
                return Asked(entry, offered.get(entry.id))
        return None

    def _back(self, asked: Asked) -> None:
        about = last_undoable(self.sitting.events)
        if about is None:
            self.sitting.talk.say("There is no answer to take back.")
            self.again = asked.entry.id
            return
        self.sitting.record(Retract(about))
        self.sitting.talk.say(f"Taken back: {self.sitting.title(about)}.")
        self.again = about
        self.number = max(1, self.number - 1)

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
                f"No open question is worth its time any more. The best of them: {check.ask} ({check.minutes} min)"
            )
        go = ", go = ask it anyway" if asked else ""
        while True:
            heard = listen(self.sitting, f"Enter = report{go}, or letters to add a sign", local={"back"})
            if heard.command == "back" and (about := last_undoable(self.sitting.events)) is not None:
                self.sitting.record(Retract(about))
                talk.say(f"Taken back: {self.sitting.title(about)}.")
                self.again = about
                return
            if asked and heard.line.casefold() in ("go", "go on"):
                self.going_on = True
                return
            if not heard.line and not heard.changed:
                raise ToReport
            if heard.changed or add(self.sitting, heard.line):
                _stand(self.sitting, before)
                return
