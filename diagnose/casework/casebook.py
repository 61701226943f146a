"""The casebook: every case ever begun, event by event, in one SQLite file.

An event is committed to disk before the person sees the next question, so nothing that was acknowledged can be lost by a
closed window, a crash or a cut in the power. Events are only ever added: triggers in the file itself refuse to change or
delete them, whatever program has it open. A case has a short id that can be said over the telephone: the day and a number.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Self

from diagnose.casework.events import Event, Opened, from_json, to_json
from diagnose.errors import CaseError, Problem

VARIABLE = "DIAGNOSE_CASEBOOK"
"""Environment variable that names the casebook file."""

SCHEMA = 1
"""Version of the tables, kept in the file's `user_version`."""

MARK = 0x48414D43
"""SQLite's `application_id` of a casebook ("HAMC"), so that another program's file is not taken for one."""

PATIENCE = 3.0
"""Seconds to wait for another program that is writing."""

_TABLES = """
CREATE TABLE cases (
    id      TEXT PRIMARY KEY,
    started TEXT NOT NULL
);
CREATE TABLE events (
    case_id TEXT NOT NULL REFERENCES cases (id),
    place   INTEGER NOT NULL,
    at      TEXT NOT NULL,
    body    TEXT NOT NULL,
    PRIMARY KEY (case_id, place)
);
CREATE TRIGGER events_stay BEFORE DELETE ON events
    BEGIN SELECT RAISE(ABORT, 'events of a case are never deleted'); END;
CREATE TRIGGER events_stand BEFORE UPDATE ON events
    BEGIN SELECT RAISE(ABORT, 'events of a case are never changed'); END;
CREATE TRIGGER events_once BEFORE INSERT ON events
    WHEN EXISTS (SELECT 1 FROM events WHERE case_id = NEW.case_id AND place = NEW.place)
    BEGIN SELECT RAISE(ABORT, 'events of a case are never replaced'); END;
CREATE TRIGGER cases_stay BEFORE DELETE ON cases
    BEGIN SELECT RAISE(ABORT, 'cases are never deleted'); END;
CREATE TRIGGER cases_stand BEFORE UPDATE ON cases
    BEGIN SELECT RAISE(ABORT, 'cases are never changed'); END;
"""


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the list of cases. Times are local, ISO 8601 to the second; `events` counts them, `Opened` included."""

    id: str
    started: str
    latest: str
    product: str
    title: str
    events: int


def default_path(environ: Mapping[str, str] | None = None) -> Path:
    """Where the casebook is if nobody says otherwise: the variable DIAGNOSE_CASEBOOK, else the user's data folder."""
    named = (os.environ if environ is None else environ).get(VARIABLE)
    if named:
        return Path(named)
    from platformdirs import user_data_path

    return user_data_path("diagnose", appauthor=False) / "casebook.sqlite"


class Casebook:
    """An open casebook. Every method raises CaseError, with the file's name and what to do, when the file gives trouble."""

    def __init__(self, path: Path) -> None:
        """Open the file, or make it, with its folder, if there is none."""
        self.path = path
        self._connection: sqlite3.Connection | None = None
        try:
            with self._trouble():
                path.parent.mkdir(parents=True, exist_ok=True)
                self._connection = sqlite3.connect(path, timeout=PATIENCE, isolation_level=None)
                self._prepare()
        except CaseError:
            self.close()
            raise

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Close the file; may be called twice."""
        if self._connection is not None:
            self._connection.close()
            self._connection = None

    def start(self, opened: Opened) -> str:
        """A new case that begins with this event; its id."""
        now = datetime.now()
        with self._trouble(), self._writing() as connection:
            day = now.date().isoformat()
            numbers = [
                int(tail)
                for (found,) in connection.execute("SELECT id FROM cases WHERE id GLOB ?", (f"{day}-*",))
                if (tail := found.removeprefix(f"{day}-")).isdigit()
            ]
            case = f"{day}-{max(numbers, default=0) + 1}"
            connection.execute("INSERT INTO cases (id, started) VALUES (?, ?)", (case, _stamp(now)))
            self._insert(connection, case, 1, opened, now)
        return case

    def append(self, case: str, place: int, event: Event) -> None:
        """Add the event as number `place` of the case (the first is 1); on return it is on the disk.

        The caller says the place so that two windows on the same case cannot mix their answers unawares.
        """
        with self._trouble(), self._writing() as connection:
            (last,) = connection.execute("SELECT max(place) FROM events WHERE case_id = ?", (case,)).fetchone()
            if last is None:
                raise self._error(f"there is no case {case}")
            if last != place - 1:
                raise self._error(
                    f"case {case} was gone on with in another window, so this answer is not saved; "
                    f"close one of the two and resume the case"
                )
            self._insert(connection, case, place, event, datetime.now())

    def read(self, case: str) -> list[Event]:
        """All events of a case in order."""
        with self._trouble():
            rows = self._open.execute(
                "SELECT place, body FROM events WHERE case_id = ? ORDER BY place", (case,)
            ).fetchall()
        if not rows:
            latest = "".join(f"\n  {entry.id}" for entry in self.recent(5))  # a line each: none is broken in two
            raise self._error(f"there is no case {case}" + (f"; the latest are:{latest}" if latest else ""))
        return [self._event(case, place, body) for place, body in rows]

    def recent(self, at_most: int = 20) -> list[Entry]:
        """The cases that were worked on last, the latest first."""
        with self._trouble():
            rows = self._open.execute(
                """
                SELECT cases.id, started, max(at), count(*)
                FROM cases JOIN events ON case_id = cases.id
                GROUP BY cases.id ORDER BY max(at) DESC, cases.rowid DESC LIMIT ?
                """,
                (at_most,),
            ).fetchall()
        entries = []
        for case, started, latest, count in rows:
            opened = self._opened(case)
            entries.append(Entry(case, started, latest, opened.product, opened.title, count))
        return entries

    def _opened(self, case: str) -> Opened:
        """What a case is about; an empty one if it cannot be read, so that one bad case does not hide the others."""
        try:
            return [event for event in self.read(case) if isinstance(event, Opened)][-1]
        except (CaseError, IndexError):
            return Opened(product="", have=(), knowledge="")

    @property
    def _open(self) -> sqlite3.Connection:
        if self._connection is None:
            raise self._error("the casebook is closed")
        return self._connection

    def _prepare(self) -> None:
        """Settings, then the tables of a new file, or a look at an old one."""
        connection = self._open
        connection.execute("PRAGMA foreign_keys = ON")
        # EXTRA is FULL plus a sync of the folder, without which a power cut may bring back a rollback journal.
        connection.execute("PRAGMA synchronous = EXTRA")
        if self._number("application_id") == 0 and self._number("user_version") == 0 and self._is_empty():
            self._create()
        if self._number("application_id") != MARK:
            raise self._error("this is not a casebook; give another file with --casebook")
        version = self._number("user_version")
        if version > SCHEMA:
            raise self._error(
                f"this casebook was made by a newer version of the program (form {version}, this one knows {SCHEMA}); "
                f"update the program, or give another file with --casebook"
            )
        (verdict,) = connection.execute("PRAGMA quick_check(1)").fetchone()
        if verdict != "ok":
            raise self._error(_damaged(str(verdict)))

    def _create(self) -> None:
        with self._writing() as connection:
            if not self._is_empty():  # another window was faster
                return
            for statement in _statements(_TABLES):
                connection.execute(statement)
            connection.execute(f"PRAGMA application_id = {MARK}")
            connection.execute(f"PRAGMA user_version = {SCHEMA}")

    def _number(self, pragma: str) -> int:
        (value,) = self._open.execute(f"PRAGMA {pragma}").fetchone()
        return int(value)

    def _is_empty(self) -> bool:
        (count,) = self._open.execute("SELECT count(*) FROM sqlite_master").fetchone()
        return bool(count == 0)

    @contextmanager
    def _writing(self) -> Iterator[sqlite3.Connection]:
        """One transaction, on the disk when the block ends well, undone when it does not."""
        connection = self._open
        connection.execute("BEGIN IMMEDIATE")
        try:
            yield connection
            connection.execute("COMMIT")
        except BaseException:
            if connection.in_transaction:
                connection.execute("ROLLBACK")
            raise

    @staticmethod
    def _insert(connection: sqlite3.Connection, case: str, place: int, event: Event, at: datetime) -> None:
        connection.execute(
            "INSERT INTO events (case_id, place, at, body) VALUES (?, ?, ?, ?)",
            (case, place, _stamp(at), to_json(event)),
        )

    def _event(self, case: str, place: int, body: str) -> Event:
        try:
            return from_json(body)
        except CaseError as error:
            reason = "; ".join(problem.message for problem in error.problems)
            raise self._error(f"event {place} of case {case} cannot be read ({reason}); {_RESCUE}") from error

    @contextmanager
    def _trouble(self) -> Iterator[None]:
        """Turns what SQLite and the file system raise into CaseError with words for the person."""
        try:
            yield
        except sqlite3.Error as error:
            raise self._error(_in_words(error)) from error
        except UnicodeDecodeError as error:  # from table names or messages of a damaged file
            raise self._error(_damaged("unreadable text")) from error
        except OSError as error:
            reason = error.strerror or str(error)
            raise self._error(
                f"the casebook cannot be kept here: {reason}; give another file with --casebook"
            ) from error

    def _error(self, message: str) -> CaseError:
        return CaseError([Problem(str(self.path), 0, 0, message)])


_RESCUE = "keep a copy of the file as it is, and start a new one with --casebook"


def _damaged(detail: str) -> str:
    return f"this casebook is damaged ({detail}); {_RESCUE}"


_IN_WORDS = {
    "SQLITE_NOTADB": "this is not a casebook, or it is damaged from its first byte; give another file with --casebook",
    "SQLITE_BUSY": "another program is writing to this casebook; close it, or wait a moment, and try again",
    "SQLITE_LOCKED": "another program is writing to this casebook; close it, or wait a moment, and try again",
    "SQLITE_READONLY": "this casebook, or its folder, may not be written to; give another file with --casebook",
    "SQLITE_PERM": "this casebook, or its folder, may not be written to; give another file with --casebook",
    "SQLITE_CANTOPEN": "the casebook cannot be opened or made here; give another file with --casebook",
    "SQLITE_FULL": "the disk is full, so nothing can be added to the casebook; free some space and try again",
    "SQLITE_IOERR": "the disk refused the casebook; see to the disk, or give another file with --casebook",
}


def _in_words(error: sqlite3.Error) -> str:
    """What SQLite says, in words for the person; the longer names of its codes begin with the shorter."""
    name = getattr(error, "sqlite_errorname", "")
    if name.startswith("SQLITE_CORRUPT"):
        return _damaged(str(error))
    return next(
        (words for code, words in _IN_WORDS.items() if name.startswith(code)), f"the casebook gave trouble ({error})"
    )


def _statements(script: str) -> Iterator[str]:
    """The statements of a script one by one: `executescript` would commit the transaction that is open."""
    gathered = ""
    for line in script.splitlines():
        gathered += line + "\n"
        if sqlite3.complete_statement(gathered):
            yield gathered.strip()
            gathered = ""


def _stamp(at: datetime) -> str:
    return at.isoformat(timespec="seconds")
