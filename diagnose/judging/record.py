"""What a judge does at the keyboard, kept answer by answer: one append-only file for each judge.

Each line is one event in JSON and is on the disk before the judge sees the next question. No judge's file is read for another
judge, but for one thing: that somebody has set a piece aside as suspect, since nobody must taste it then.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any, cast

from diagnose.corpus.scorecards import Scorecard
from diagnose.errors import CaseError, Problem
from diagnose.text import clean

from .sheet import SET_ASIDE, JudgedClass, Mark, Points, Sheet
from .suggesting import suspect_marks

Event = Mapping[str, Any]

_ABOUT_AN_ENTRY: dict[str, dict[str, type]] = {
    "points": {"criterion": str, "points": int},
    "mark": {"fault": str, "is": str},
    "no-mark": {"fault": str},
    "note": {"text": str},
    "suspect": {"why": str},
    "lifted": {"why": str},
    "disqualified": {"rule": str},
    "final": {"text": str},
}
"""What an event of each kind must hold besides the number of its entry."""


def folder_of(class_file: Path) -> Path:
    """The folder beside a class file that keeps what was judged at the keyboard."""
    return class_file.with_name(f"{class_file.stem}.sheets")


def record_path(class_file: Path, judged: JudgedClass, judge: str) -> Path:
    """The file of one judge."""
    slug = re.sub(r"[^a-z0-9]+", "-", judge.casefold()).strip("-") or "judge"
    return folder_of(class_file) / f"{judged.judges.index(judge) + 1:02d}-{slug}.jsonl"


class Record:
    """An append-only file of events: of one judge's sheets, or of the final comments."""

    def __init__(self, path: Path) -> None:
        """Read the file if it is there. A last line cut short by a crash is left out. Raises CaseError if it is damaged."""
        self.path = path
        self.events: list[Event] = []
        self._size = 0
        if path.is_file():
            data = path.read_bytes()
            whole = data[: data.rfind(b"\n") + 1]
            self._size = len(whole)
            self.events = [self._event(number, line) for number, line in enumerate(whole.splitlines(), 1)]

    def _event(self, number: int, line: bytes) -> Event:
        try:
            event = json.loads(line)
            if not _is_event(event):
                raise ValueError("no event")
        except ValueError as error:
            message = "this line cannot be read; keep a copy of the file and take the line out"
            raise CaseError([Problem(self.path.as_posix(), number, 1, message)]) from error
        return cast(Event, event)

    def append(self, do: str, **values: Any) -> None:
        """Add an event; on return it is on the disk. Raises CaseError if another window has written meanwhile."""
        event = {"do": do, **values, "at": datetime.now().isoformat(timespec="seconds")}
        self.path.parent.mkdir(parents=True, exist_ok=True)
        handle = os.open(self.path, os.O_RDWR | os.O_CREAT, 0o644)
        try:
            size = os.fstat(handle).st_size
            if size < self._size or (size > self._size and self._whole_line_behind(handle)):
                message = "these sheets were gone on with in another window; close one of the two and start again"
                raise CaseError([Problem(self.path.as_posix(), 0, 0, message)])
            os.ftruncate(handle, self._size)  # what a crash left of a line
            os.lseek(handle, 0, os.SEEK_END)
            line = (json.dumps(event, ensure_ascii=False) + "\n").encode()
            while line:
                line = line[os.write(handle, line) :]
            os.fsync(handle)
            self._size = os.fstat(handle).st_size
        finally:
            os.close(handle)
        self.events.append(event)

    def _whole_line_behind(self, handle: int) -> bool:
        os.lseek(handle, self._size, os.SEEK_SET)
        return b"\n" in os.read(handle, 1 << 16)


def _is_event(event: object) -> bool:
    """Whether it holds all that is read from it later. Kinds that this version does not know need only their entry."""
    if not isinstance(event, dict) or not isinstance(event.get("do"), str):
        return False
    if event["do"] in ("closed", "reopened"):
        return True
    needed = {"entry": int, **_ABOUT_AN_ENTRY.get(event["do"], {})}
    return all(isinstance(event.get(name), kind) for name, kind in needed.items())


def sheets_of(judge: str, events: Iterable[Event]) -> tuple[tuple[Sheet, ...], bool]:
    """The sheets that the events stand for, in the order in which the judge began them, and whether the judge is done."""
    sheets: dict[int, Sheet] = {}
    closed = False
    for event in events:
        if event["do"] in ("closed", "reopened"):
            closed = event["do"] == "closed"
            continue
        entry = event["entry"]
        sheets[entry] = _after(sheets.get(entry) or Sheet(judge, entry), event)
    return tuple(sheets.values()), closed


def _after(sheet: Sheet, event: Event) -> Sheet:
    """A sheet after one event."""
    match event["do"]:
        case "points":
            given = Points(event["points"], event.get("suggested"), clean(str(event.get("reason", ""))))
            return replace(sheet, points={**sheet.points, event["criterion"]: given})
        case "mark":
            mark = Mark(event["fault"], event["is"], event.get("how_much"), clean(str(event.get("where", ""))))
            return sheet.with_mark(mark)
        case "no-mark":
            return sheet.without_mark(event["fault"])
        case "note":
            return replace(sheet, notes=(*sheet.notes, clean(event["text"])))
        case "suspect":
            return replace(sheet, suspect=clean(event["why"]))
        case "lifted":
            return replace(sheet, suspect="")
        case "disqualified":
            return replace(sheet, disqualified=event["rule"])
        case _:
            return sheet


def with_records(judged: JudgedClass, class_file: Path) -> JudgedClass:
    """The class with what was judged at the keyboard; judges whose sheets stand in the class file keep those."""
    sheets = dict(judged.sheets)
    closed = set(judged.closed)
    for judge in judged.judges:
        path = record_path(class_file, judged, judge)
        if judge in sheets or not path.is_file():
            continue
        sheets[judge], done = sheets_of(judge, Record(path).events)
        if done:
            closed.add(judge)
    return replace(judged, sheets=_still_aside(judged.card, _known(judged, sheets)), closed=frozenset(closed))


def _known(judged: JudgedClass, sheets: Mapping[str, tuple[Sheet, ...]]) -> dict[str, tuple[Sheet, ...]]:
    """Sheets of entries that the class still has."""
    return {judge: tuple(one for one in of_judge if one.entry in judged.entries) for judge, of_judge in sheets.items()}


def _still_aside(card: Scorecard, sheets: Mapping[str, tuple[Sheet, ...]]) -> dict[str, tuple[Sheet, ...]]:
    """The sheets, without the setting aside on another judge's word where that judge has taken it back.

    Such a sheet waits for its bite and flavour again. A sheet whose own marks call for it stays set aside.
    """
    held = {one.entry for of_judge in sheets.values() for one in of_judge if one.suspect not in ("", SET_ASIDE)}

    def settled(sheet: Sheet) -> Sheet:
        free = sheet.suspect == SET_ASIDE and sheet.entry not in held and not suspect_marks(card, sheet.marks)
        return replace(sheet, suspect="") if free else sheet

    return {judge: tuple(map(settled, of_judge)) for judge, of_judge in sheets.items()}


def set_aside(judged: JudgedClass, class_file: Path) -> dict[int, str]:
    """Entries that some judge has set aside as suspect, with the judge. Nothing else of anybody's sheets is told."""
    found: dict[int, str] = {}
    for judge, sheets in with_records(judged, class_file).sheets.items():
        for one in sheets:
            if one.suspect and one.suspect != SET_ASIDE:
                found.setdefault(one.entry, judge)
    return found


def still_open(judged: JudgedClass) -> list[str]:
    """What keeps the class from being closed, one line each: judges not done, sheets not complete."""
    from .standing import status_of

    lines = []
    for judge in judged.judges:
        sheets = {one.entry: one for one in judged.sheets.get(judge, ())}
        waiting = [
            entry
            for entry in judged.entries
            if status_of(judged, entry)[0] == "placed"
            and (entry not in sheets or not sheets[entry].complete(judged.card))
        ]
        if waiting:
            lines.append(f"judge {judge}: {len(waiting)} of {len(judged.entries)} entries are not complete")
        elif judge not in judged.closed:
            lines.append(f"judge {judge}: all is scored, but the judge has not closed the sheets yet")
    return lines


def running_order(judged: JudgedClass, judge: str) -> tuple[int, ...]:
    """The order in which a judge takes the entries: another one for each judge, always the same for the same class.

    It is mixed by a hash of class, judge and entry, so that no entry is first or last for everybody.
    """
    import hashlib

    def key(entry: int) -> str:
        return hashlib.sha256(f"{judged.id}|{judge}|{entry}".encode()).hexdigest()

    return tuple(sorted(judged.entries, key=key))
