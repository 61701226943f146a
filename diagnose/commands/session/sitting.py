"""One sitting at one case: what everything in the session shares.

The events are the case. Each new one goes to the disk first and into memory second; what is known, what ranks first and
what to ask next are worked out from them afresh.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import takewhile
from typing import TYPE_CHECKING, Literal

from diagnose.casework.case import Case, last_undoable, state_of
from diagnose.casework.casebook import Casebook
from diagnose.casework.events import Answer, Event, Opened, Retract

from .safety import danger_seen
from .talk import Talk
from .tools import Later, Tools

if TYPE_CHECKING:
    from diagnose.casework.diagnosis import Diagnosis
    from diagnose.corpus.records import Cause, Knowledge, Needs, Sign


class Leave(Exception):  # noqa: N818  a way out, no error
    """The person saves and leaves."""


class ToReport(Exception):  # noqa: N818  a way out, no error
    """The person wants the report now."""


class ToLists(Exception):  # noqa: N818  a way out, no error
    """The person wants to go through the lists of signs: all of them again, or those of details only."""

    def __init__(self, kind: Literal["all", "details"] = "all") -> None:
        super().__init__(kind)
        self.kind: Literal["all", "details"] = kind


class ToQuestions(Exception):  # noqa: N818  a way out, no error
    """The person wants to go to the questions, or back to the one that was put."""


class Sitting:
    """The state of a session. `case_id` is empty until the product is chosen and the case begins."""

    def __init__(self, talk: Talk, book: Casebook, tools: Later[Tools]) -> None:
        self.talk = talk
        self.book = book
        self.case_id = ""
        self.events: list[Event] = []
        self.warned: set[str] = set()
        """Ids of the cautions that were shown in this sitting."""
        self.suspected: set[str] = set()
        """Titles of the dangerous causes that were named in this sitting as to be ruled out."""
        self.asides: dict[str, Callable[[Sitting, str], bool]] = {}
        """What to do for a command that is good at any moment; true if the case has changed by it."""
        self._tools = tools
        self._case: tuple[int, Case] | None = None
        self._worked_out: tuple[int, Diagnosis] | None = None

    @property
    def tools(self) -> Tools:
        """The knowledge and the calculations; waits for them the first time."""
        return self._tools.result()

    @property
    def knowledge(self) -> Knowledge:
        """The knowledge."""
        return self.tools.knowledge

    def begin(self, product: str, have: tuple[Needs, ...], title: str | None = None) -> None:
        """Begin the case, or correct the product, the reach and the title of one that has begun."""
        if title is None:
            title = self.case.title if self.events else ""
        opened = Opened(product, have, self.knowledge.version, title)
        if self.events:
            self.record(opened)
            return
        self.case_id = self.book.start(opened)
        self.events.append(opened)

    def take_up(self, case_id: str) -> None:
        """Go on with a case of the casebook."""
        self.events = self.book.read(case_id)
        self.case_id = case_id

    def record(self, event: Event) -> None:
        """Keep the event. On return it is on the disk."""
        self.book.append(self.case_id, len(self.events) + 1, event)
        self.events.append(event)

    def take_back(self) -> list[str]:
        """Take the latest answer or skip back; its id, or all ids if it said no to the rest of a list. Empty: nothing left."""
        about = last_undoable(self.events)
        if about is None:
            return []
        answers = state_of(self.events).answers
        gone = [about]
        if about in answers and answers[about].came == "rest":
            region = self._region(about)
            run = takewhile(
                lambda one: one.came == "rest" and self._region(one.about) == region, reversed(list(answers.values()))
            )
            gone = [one.about for one in run]
        for one in gone:
            self.record(Retract(one))
        return gone

    def _region(self, about: str) -> str:
        sign = self.knowledge.signs.get(about)
        return sign.region if sign else ""

    @property
    def case(self) -> Case:
        """What is known now, in ids that this knowledge still uses."""
        if self._case is not None and self._case[0] == len(self.events):
            return self._case[1]
        case = state_of(self.events)
        answers: dict[str, Answer] = {}
        for answer in case.answers.values():
            current = self._current(answer.about)
            if current is not None:
                answers[current] = replace(answer, about=current)
        self._case = (len(self.events), replace(case, answers=answers))
        return self._case[1]

    def outdated(self) -> list[str]:
        """Ids that were answered and that this knowledge no longer holds."""
        return [about for about in state_of(self.events).answers if self._current(about) is None]

    def _current(self, about: str) -> str | None:
        retired = self.knowledge.retired.get(about)
        current = retired.instead if retired and retired.instead else about
        return current if self.entry(current) is not None else None

    def entry(self, about: str) -> Sign | Cause | None:
        """The sign or cause of an id."""
        return self.knowledge.signs.get(about) or self.knowledge.causes.get(about)

    def title(self, about: str) -> str:
        """The title of a sign or cause; the id itself if it is not known."""
        entry = self.entry(about)
        return entry.title if entry else about

    def belongs(self, entry: Sign | Cause) -> bool:
        """Whether it is about the product of this case."""
        return not entry.products or self.case.product in entry.products

    def within_reach(self, entry: Sign | Cause) -> bool:
        """Whether this person can look at it: it belongs to the product, and its check needs nothing they do not have."""
        return self.belongs(entry) and entry.check.needs in self.case.have

    def may_ask(self, entry: Sign | Cause) -> bool:
        """Whether it may be offered now: within reach, and no tasting once there is danger."""
        return self.within_reach(entry) and not (self.in_danger() and entry.check.by_tasting)

    def in_danger(self) -> bool:
        """Whether a sign of danger was seen, or is suspected by what was worked out last."""
        if danger_seen(self.knowledge, self.case):
            return True
        if self._worked_out is None:
            return False
        found = self._worked_out[1]
        return bool(found.rule_out) or any(caution.weight == "danger" for caution in found.cautions)

    def diagnosis(self) -> Diagnosis:
        """The quick outcome of the case as it stands. An answer that makes the case too tangled is taken back."""
        from diagnose.inference.elimination import TooEntangledError

        while self._worked_out is None or self._worked_out[0] != len(self.events):
            try:
                self._worked_out = (len(self.events), self.tools.assess(self.knowledge, self.case))
            except TooEntangledError as error:
                standing = list(state_of(self.events).answers)
                if not standing:
                    raise
                self.talk.say(f"{error}. The last answer is taken back: {self.title(standing[-1])}.", lead="! ")
                self.record(Retract(standing[-1]))
        return self._worked_out[1]

    def full_diagnosis(self) -> Diagnosis:
        """The outcome with reasons, chains, plan and robustness. What is too tangled is taken back as for the quick one."""
        self.diagnosis()
        return self.tools.assess(self.knowledge, self.case, full=True)
