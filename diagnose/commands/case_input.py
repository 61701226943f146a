"""A case from a file or from standard input, as the state that the calculation works on."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

from diagnose.casework.case import Case, state_of
from diagnose.casework.events import Answer, Event, Note, Number, Opened
from diagnose.errors import CaseError, Problem

if TYPE_CHECKING:
    from collections.abc import Sequence

    from diagnose.casework.measuring import Measurements
    from diagnose.corpus.case_file import CaseFile
    from diagnose.corpus.records import Knowledge

STANDARD_INPUT = "standard input"


def case_from(knowledge: Knowledge, path: str) -> Case:
    """The case in a file, or in standard input if the path is `-`. Raises CaseError with all that is wrong."""
    return state_of(events_of(_read(knowledge, path), knowledge.version))


def case_and_measurements(
    knowledge: Knowledge, path: str, folders: Sequence[Path], rules: str = "us"
) -> tuple[Case, Measurements | None]:
    """The case, and what its numbers say; None where it has none. Raises CaseError with all that is wrong.

    `folders` are the knowledge folders, the one that all rests on first; `rules` says whose figures count, us or eu.
    """
    read = _read(knowledge, path)
    case = state_of(events_of(read, knowledge.version))
    if not read.numbers:
        return case, None

    from diagnose.casework.batch_record import Written, record_of_case
    from diagnose.casework.batch_results import results_of
    from diagnose.casework.measuring import measurements
    from diagnose.corpus.figures_file import load_figures

    folder = Path() if path == "-" else Path(path).parent
    written = [Written(name, text, read.number_places[name]) for name, text in read.numbers.items()]
    record = record_of_case(knowledge, read.product, written, folder)
    if record is None:
        return case, None
    figures = load_figures(knowledge, folders)
    return case, measurements(knowledge, figures, results_of(knowledge, figures, record, rules))


def events_of(read: CaseFile, version: str) -> list[Event]:
    """The events that a case file stands for, in the order of the file."""
    return [
        Opened(read.product, read.have, version, read.title or ""),
        *(Answer(one.id, one.answer, one.sure, one.how_much) for one in read.answers),
        *(Number(name, value) for name, value in read.numbers.items()),
        *(Note(text) for text in read.notes),
    ]


def _read(knowledge: Knowledge, path: str) -> CaseFile:
    if path == "-":
        return _from_standard_input(knowledge)
    from diagnose.corpus.case_file import load_case

    return load_case(knowledge, Path(path))


def _from_standard_input(knowledge: Knowledge) -> CaseFile:
    from diagnose.corpus.case_file import read_case
    from diagnose.corpus.folder import LARGEST_FILE

    if sys.stdin is None or sys.stdin.closed:
        raise CaseError([Problem(STANDARD_INPUT, 1, 1, "there is no standard input")])
    if sys.stdin.isatty():
        sys.stderr.write("Reading the case from the keyboard; end it with Ctrl-D on a line of its own.\n")
    data = sys.stdin.buffer.read(LARGEST_FILE + 1)
    problems: list[Problem] = []
    with tempfile.TemporaryDirectory(prefix="diagnose-") as folder:
        path = Path(folder) / "case.yaml"
        path.write_bytes(data)
        read = read_case(knowledge, path, STANDARD_INPUT, problems)
    if problems or read is None:
        raise CaseError(sorted(problems))
    return read
