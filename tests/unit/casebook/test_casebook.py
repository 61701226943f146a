"""The casebook keeps every event, refuses to lose or change one, and says in plain words what is wrong with its file."""

from __future__ import annotations

import json
import os
import shutil
import sqlite3
import tempfile
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import datetime
from pathlib import Path

import pytest

from diagnose.casework import casebook as module
from diagnose.casework.casebook import Casebook, default_path
from diagnose.casework.events import (
    Answer,
    Attachment,
    Event,
    Note,
    Number,
    Opened,
    Retract,
    Skip,
    from_json,
    to_json,
)
from diagnose.errors import CaseError

OPENED = Opened("bone-in-ham", ("product", "process"), "v1", title="Lot 7 – Schinken")
EVENTS: list[Event] = [
    Answer("gas-holes", "yes", "from-memory"),
    Skip("foam-on-brine"),
    Retract("gas-holes"),
    Note("Zweite Partie, \u706b\u817f"),
]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A casebook's place in a folder that is not there yet."""
    return tmp_path / "data" / "casebook.sqlite"


def filled(path: Path) -> str:
    """A casebook with one case of five events; the id of the case."""
    with Casebook(path) as book:
        case = book.start(OPENED)
        for place, event in enumerate(EVENTS, 2):
            book.append(case, place, event)
    return case


def test_events_come_back_as_they_went_in(path: Path) -> None:
    """A case reads the same after the file was closed and opened again, accents and all."""
    case = filled(path)
    with Casebook(path) as book:
        assert book.read(case) == [OPENED, *EVENTS]


def test_ids_are_the_day_and_a_number(path: Path) -> None:
    """People can name a case over the telephone, and the tenth of a day does not collide with the ninth."""
    with Casebook(path) as book:
        ids = [book.start(OPENED) for _ in range(11)]
    day = datetime.now().date().isoformat()
    assert ids == [f"{day}-{number}" for number in range(1, 12)]


def test_the_latest_case_comes_first(path: Path) -> None:
    """The list of cases goes by when they were last worked on, with what a person knows them by."""
    first = filled(path)
    with Casebook(path) as book:
        second = book.start(Opened("boneless-ham", ("product",), "v1"))
        entries = book.recent()
        assert [entry.id for entry in entries] == [second, first]
        assert (entries[1].product, entries[1].title, entries[1].events) == ("bone-in-ham", "Lot 7 – Schinken", 5)
        assert len(book.recent(1)) == 1


@pytest.mark.parametrize(
    "statement",
    [
        "DELETE FROM events",
        "UPDATE events SET body = '{}'",
        "INSERT OR REPLACE INTO events SELECT case_id, place, at, '{}' FROM events",
        "DELETE FROM cases",
        "UPDATE cases SET started = 'never'",
    ],
)
def test_the_file_itself_refuses_changes(path: Path, statement: str) -> None:
    """Another program with the file open cannot change or delete what was answered."""
    case = filled(path)
    with closing(sqlite3.connect(path)) as other, pytest.raises(sqlite3.IntegrityError, match="never"):
        other.execute(statement)
    with Casebook(path) as book:
        assert book.read(case) == [OPENED, *EVENTS]


def test_every_write_reaches_the_disk_before_it_returns(path: Path) -> None:
    """No event is acknowledged from a cache: synchronous is at least FULL, and no transaction stays open."""
    with Casebook(path) as book:
        case = book.start(OPENED)
        assert book._open.execute("PRAGMA synchronous").fetchone()[0] >= 2
        book.append(case, 2, EVENTS[0])
        assert not book._open.in_transaction
        with closing(sqlite3.connect(path)) as other:
            assert other.execute("SELECT count(*) FROM events").fetchone() == (2,)


def test_two_windows_on_one_case_do_not_mix(path: Path) -> None:
    """An answer given on an outdated view of the case is refused and said to be unsaved."""
    case = filled(path)
    with Casebook(path) as one, Casebook(path) as other:
        one.append(case, 6, Note("first"))
        with pytest.raises(CaseError, match="not saved"):
            other.append(case, 6, Note("second"))
        assert one.read(case)[-1] == Note("first")


def test_an_unknown_case_is_named_with_the_latest_ones(path: Path) -> None:
    """A slip in the id is answered with ids that exist."""
    case = filled(path)
    with Casebook(path) as book:
        with pytest.raises(CaseError, match=f"no case 1999-01-01-1; the latest are:\n  {case}"):
            book.read("1999-01-01-1")
        with pytest.raises(CaseError, match="no case 1999-01-01-1"):
            book.append("1999-01-01-1", 2, EVENTS[0])


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"verdict": "maybe"}, "'maybe' for \"verdict\"; it must be one of yes, no, cant-tell"),
        ({"sure": "very"}, "'very' for \"sure\"; it must be one of sure, fairly, from-memory"),
        ({"how_much": "much"}, "'much' for \"how-much\"; it must be one of slight, marked"),
        ({"about": 7}, "'7' for \"about\"; it must be a text"),
        ({"about": ["gas-holes"]}, 'for "about"; it must be a text'),
        ({"verdict": True}, 'for "verdict"; it must be one of'),
    ],
)
def test_a_stored_word_that_is_not_allowed_is_refused(change: dict[str, object], says: str) -> None:
    """A word that no answer can have is named with the words that are meant, and never reaches a calculation."""
    stored = {**json.loads(to_json(Answer("gas-holes", "yes", "sure", "slight"))), **change}
    with pytest.raises(CaseError) as caught:
        from_json(json.dumps(stored))
    assert says in str(caught.value)


@pytest.mark.parametrize("have", [["product", "dog"], "product", [["lab"]], [7]])
def test_a_stored_reach_that_is_not_allowed_is_refused(have: object) -> None:
    """What somebody can look at is one of four things, however it was stored."""
    with pytest.raises(CaseError, match="it must be one of product, process, raw-material, lab"):
        from_json(json.dumps({**json.loads(to_json(OPENED)), "have": have}))


@pytest.mark.parametrize("event", [OPENED, *EVENTS, Number("pump", "11 %"), Attachment("a.jpg")])
def test_an_event_comes_back_as_it_was(event: Event) -> None:
    """Every kind of event survives its line of JSON."""
    assert from_json(to_json(event)) == event


def test_an_event_that_cannot_be_read_is_named(path: Path) -> None:
    """A line that is no event stops its own case with its number, and leaves the list of cases standing."""
    case = filled(path)
    with closing(sqlite3.connect(path)) as other:
        other.execute("INSERT INTO events VALUES (?, 6, '2026-01-01T00:00:00', 'no json')", (case,))
        other.commit()
    with Casebook(path) as book:
        with pytest.raises(CaseError, match=f"event 6 of case {case} cannot be read"):
            book.read(case)
        assert [entry.id for entry in book.recent()] == [case]


def test_a_newer_form_is_refused(path: Path) -> None:
    """An old program does not write into a file whose form it does not know."""
    filled(path)
    with closing(sqlite3.connect(path)) as other:
        other.execute("PRAGMA user_version = 99")
    with pytest.raises(CaseError, match="newer version"):
        Casebook(path)


def test_another_programs_file_is_refused(path: Path) -> None:
    """A SQLite file with other tables is not taken over."""
    path.parent.mkdir()
    with closing(sqlite3.connect(path)) as other:
        other.execute("CREATE TABLE songs (title TEXT)")
    with pytest.raises(CaseError, match="not a casebook"):
        Casebook(path)


@pytest.mark.parametrize("content", [b"x" * 5000, b"\0" * 5000, b"answers: {}\n"])
def test_a_file_of_something_else_is_refused(path: Path, content: bytes) -> None:
    """Whatever was put in the file's place stays as it is."""
    path.parent.mkdir()
    path.write_bytes(content)
    with pytest.raises(CaseError, match=r"casebook\.sqlite"):
        Casebook(path)
    assert path.read_bytes() == content


def test_a_damaged_file_never_gives_wrong_events(path: Path, tmp_path: Path) -> None:
    """Cut anywhere, or with any stretch overwritten, the file gives CaseError or the events, and nothing else."""
    case = filled(path)
    whole = path.read_bytes()
    refused = 0
    for at in range(0, len(whole), 509):
        for number, content in enumerate((whole[:at], whole[:at] + b"\xff" * 64 + whole[at + 64 :])):
            copy = tmp_path / f"copy-{at}-{number}.sqlite"
            copy.write_bytes(content)
            try:
                with Casebook(copy) as book:
                    if [entry.id for entry in book.recent()] == [case]:
                        book.read(case)
            except CaseError:
                refused += 1
    assert refused > 10


def test_a_locked_file_is_said_to_be_locked(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """While another program holds the file, the person is told so instead of waiting for ever."""
    monkeypatch.setattr(module, "PATIENCE", 0.05)
    case = filled(path)
    with closing(sqlite3.connect(path)) as other, Casebook(path) as book:
        other.execute("BEGIN EXCLUSIVE")
        with pytest.raises(CaseError, match="another program"):
            book.append(case, 6, EVENTS[0])
        with pytest.raises(CaseError, match="another program"):
            Casebook(path)
        other.execute("ROLLBACK")
        book.append(case, 6, EVENTS[0])
        assert len(book.read(case)) == 6


def test_a_place_that_cannot_hold_a_file(tmp_path: Path) -> None:
    """A folder below a file, or a folder in the file's place, is answered with the option to use."""
    (tmp_path / "file").write_text("x")
    for path in (tmp_path / "file" / "casebook.sqlite", tmp_path):
        with pytest.raises(CaseError, match="--casebook"):
            Casebook(path)


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that every user may look into, outside pytest's private one."""
    folder = Path(tempfile.mkdtemp())
    folder.chmod(0o755)
    yield folder
    folder.chmod(0o755)
    shutil.rmtree(folder)


@pytest.mark.skipif(os.name != "posix", reason="needs POSIX permissions")
@pytest.mark.parametrize("with_file", [True, False])
def test_a_folder_that_may_not_be_written_to(open_folder: Path, with_file: bool) -> None:
    """A read-only folder gives CaseError with the option to use, whether or not the casebook is there."""
    path = open_folder / "casebook.sqlite"
    if with_file:
        filled(path)
        path.chmod(0o444)
    open_folder.chmod(0o555)

    def attempt() -> None:
        with pytest.raises(CaseError, match="--casebook"), Casebook(path) as book:
            book.start(OPENED)

    assert as_ordinary_user(attempt) == 0


def as_ordinary_user(attempt: Callable[[], None]) -> int:
    """Run in a child without the superuser's rights, which would pass over any permission; 0 if it went well."""
    child = os.fork()
    if child == 0:
        try:
            if os.geteuid() == 0:
                os.setuid(65534)
            attempt()
            os._exit(0)
        except BaseException:
            os._exit(1)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def test_the_usual_place_and_the_variable() -> None:
    """The environment variable wins; without it the file lies in the user's data folder."""
    assert default_path({"DIAGNOSE_CASEBOOK": "/somewhere/else.sqlite"}) == Path("/somewhere/else.sqlite")
    usual = default_path({})
    assert usual.name == "casebook.sqlite"
    assert "diagnose" in usual.parts


def test_a_closed_casebook_says_so(path: Path) -> None:
    """Use after closing is a CaseError, not a crash."""
    book = Casebook(path)
    book.close()
    book.close()
    with pytest.raises(CaseError, match="closed"):
        book.start(OPENED)
