"""One judge's sitting: the class, the judge's own record, and where in the running order the judge is."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from diagnose.commands.session.talk import Talk
from diagnose.commands.session.words import number_in
from diagnose.corpus.records import Knowledge
from diagnose.judging.record import Record, running_order, set_aside, sheets_of
from diagnose.judging.sheet import SET_ASIDE, JudgedClass, Sheet
from diagnose.judging.suggesting import suspect_marks


class Leave(Exception):  # noqa: N818  a way out, no error
    """The judge saves and leaves."""


class ToEntry(Exception):  # noqa: N818  a way out, no error
    """The judge goes to another entry: its place in the running order."""

    def __init__(self, place: int) -> None:
        self.place = place
        super().__init__(place)


class Bench:
    """What everything at the judge's desk shares. Of other judges it knows only which pieces they set aside as suspect."""

    def __init__(
        self, talk: Talk, knowledge: Knowledge, judged: JudgedClass, file: Path, judge: str, record: Record
    ) -> None:
        self.talk = talk
        self.knowledge = knowledge
        self.judged = judged
        self.card = judged.card
        self.file = file
        self.judge = judge
        self.record = record
        self.order = running_order(judged, judge)
        self.place = 0

    @property
    def entry(self) -> int:
        """The entry that is on the desk."""
        return self.order[self.place]

    def place_of(self, typed: str) -> int | None:
        """The place in the running order of an entry whose number was typed; None if the class has no such entry."""
        number = number_in(typed, max(self.order))
        return self.order.index(number) if number in self.order else None

    @property
    def sheets(self) -> dict[int, Sheet]:
        """This judge's sheets by entry."""
        return {one.entry: one for one in sheets_of(self.judge, self.record.events)[0]}

    @property
    def sheet(self) -> Sheet:
        """The sheet of the entry on the desk."""
        return self.sheets.get(self.entry) or Sheet(self.judge, self.entry)

    @property
    def closed(self) -> bool:
        """Whether this judge has closed the sheets."""
        return sheets_of(self.judge, self.record.events)[1]

    def keep(self, do: str, **values: Any) -> None:
        """Keep an event about the entry on the desk; on return it is on the disk."""
        if self.closed:
            self.record.append("reopened")
        self.record.append(do, entry=self.entry, **values)

    def settle(self) -> list[int]:
        """Take back what was set aside on the word of a judge who has taken it back; those entries, which wait again."""
        held = set_aside(self.judged, self.file)
        free = [
            one.entry
            for one in self.sheets.values()
            if one.suspect == SET_ASIDE and one.entry not in held and not suspect_marks(self.card, one.marks)
        ]
        if free and self.closed:
            self.record.append("reopened")
        for entry in free:
            self.record.append("lifted", entry=entry, why="the judge who set it aside has taken it back")
        return free

    def aside(self) -> str:
        """The judge who has set the entry on the desk aside as suspect, if anybody has."""
        return set_aside(self.judged, self.file).get(self.entry, "")

    def waiting(self) -> list[int]:
        """Entries of the running order whose sheets are not complete."""
        sheets = self.sheets
        return [one for one in self.order if one not in sheets or not sheets[one].complete(self.card)]

    def first_waiting(self) -> int:
        """The place of the first entry that is not complete, or 0."""
        waiting = self.waiting()
        return self.order.index(waiting[0]) if waiting else 0
