"""Reading limits, measures and tables, and saying everything that is wrong with them, each with its place."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from diagnose.corpus.checks.ids import LONGEST_ID, is_id
from diagnose.corpus.figures import TABLES, Figures, Limit, LimitsFile, Measure, MeasuresFile
from diagnose.corpus.reader import read_record
from diagnose.corpus.records import Knowledge
from diagnose.corpus.references import broken_references, sources_without_place
from diagnose.corpus.scalars import guess
from diagnose.corpus.shape import fields
from diagnose.corpus.yamltree import MapNode, place_of, read_file
from diagnose.errors import KnowledgeError, Problem

FOLDER = "tables"
_DATE = re.compile(r"[0-9]{4}(-[0-9]{2}(-[0-9]{2})?)?\Z|undated\Z")


@dataclass(frozen=True, slots=True)
class _Read:
    """One file as read, with its tree."""

    name: str
    record: Any
    root: MapNode


def load_figures(knowledge: Knowledge, folders: Sequence[Path]) -> Figures:
    """The figures of the folders laid over each other. Raises KnowledgeError with all that is wrong."""
    problems: list[Problem] = []
    found = _figures(knowledge, [(folder, folder.as_posix()) for folder in folders], problems)
    if problems:
        raise KnowledgeError(sorted(set(problems)))
    return found


def figures_problems(knowledge: Knowledge, folders: Sequence[tuple[Path, str]]) -> list[Problem]:
    """Everything wrong with the figures of folders, each given with the name to show for it; any may hold none."""
    problems: list[Problem] = []
    _figures(knowledge, folders, problems)
    return sorted(set(problems))


def _figures(knowledge: Knowledge, folders: Sequence[tuple[Path, str]], problems: list[Problem]) -> Figures:
    limits: dict[str, Limit] = {}
    measures: dict[str, Measure] = {}
    tables: dict[str, object] = {}
    for folder, shown in folders:
        at = "" if shown == "." else f"{shown}/"
        if read := _read(folder / "limits.yaml", f"{at}limits.yaml", LimitsFile, problems):
            problems.extend(_checked(knowledge, read))
            problems.extend(_entries(read, "limits", limits))
            problems.extend(_limits(read))
        if read := _read(folder / "measures.yaml", f"{at}measures.yaml", MeasuresFile, problems):
            problems.extend(_checked(knowledge, read))
            problems.extend(_entries(read, "measures", measures))
            problems.extend(_measures(read))
        for path in sorted((folder / FOLDER).glob("*.yaml")):
            name = f"{at}{FOLDER}/{path.name}"
            if path.stem not in TABLES:
                near = guess(path.stem, TABLES)
                problems.append(Problem(name, 1, 1, f"no table goes by this name{near}; known are {', '.join(TABLES)}"))
            elif read := _read(path, name, TABLES[path.stem], problems):
                problems.extend(_checked(knowledge, read))
                problems.extend(_table(read, path.stem))
                tables[path.stem] = read.record
    return Figures(tuple(limits.values()), tuple(measures.values()), tables)


def _read(path: Path, name: str, kind: type, problems: list[Problem]) -> _Read | None:
    if not path.is_file():
        return None
    root = read_file(path, name, problems)
    if root is None:
        return None
    record = read_record(root, kind, problems)
    return _Read(name, record, root) if isinstance(root, MapNode) and record is not None else None


def _checked(knowledge: Knowledge, read: _Read) -> Iterator[Problem]:
    """Whatever a file refers to is there, words are on their scales, and whoever saw a source says where."""
    yield from broken_references(knowledge, read.record, read.root)
    yield from sources_without_place(knowledge, read.record, read.root)
    for shape, value, path in fields(read.record):
        place = place_of(read.root, *path)
        if shape.scale and shape.scale in knowledge.scales:
            words = [step.word for step in knowledge.scales[shape.scale].steps]
            if value not in words:
                yield place.problem(f'"{value}" is not on the scale {shape.scale} ({", ".join(words)})')
        if shape.key == "date" and not _DATE.match(value):
            yield place.problem(
                f'"{value}" is no date such as 2021-12-14, 2021-12 or 2021; write undated where there is none'
            )


def _entries(read: _Read, key: str, found: dict[str, Any]) -> Iterator[Problem]:
    for number, entry in enumerate(getattr(read.record, key)):
        place = place_of(read.root, key, number, "id")
        if not is_id(entry.id):
            yield place.problem(
                f'the id "{entry.id}" must be small letters, digits and single hyphens, at most {LONGEST_ID}'
            )
        elif entry.id in found:
            yield place.problem(f'the id "{entry.id}" stands twice')
        found[entry.id] = entry


def _limits(read: _Read) -> Iterator[Problem]:
    for number, limit in enumerate(read.record.limits):
        if (limit.at_most is None) == (limit.at_least is None):
            yield place_of(read.root, "limits", number).problem('a limit has "at-most" or "at-least", and not both')


def _measures(read: _Read) -> Iterator[Problem]:
    for number, measure in enumerate(read.record.measures):
        for at, band in enumerate(measure.bands):
            place = place_of(read.root, "measures", number, "bands", at)
            if band.at_least is None and band.at_most is None:
                yield place.problem('a band has an edge: "at-least", "at-most" or both')
            if band.at_least is not None and band.at_most is not None and band.at_least >= band.at_most:
                yield place.problem("the lower edge of a band lies below its upper edge")
            for edge, side, meanings in (("at-least", "below", band.below), ("at-most", "above", band.above)):
                if meanings and getattr(band, edge.replace("-", "_")) is None:
                    yield place.problem(f'"{side}" needs the edge "{edge}"')
                for step, meaning in enumerate(meanings):
                    if meaning.full_at <= 0:
                        at_full = place_of(read.root, "measures", number, "bands", at, side, step, "full-at")
                        yield at_full.problem('"full-at" is a distance from the edge and lies above 0')


def _table(read: _Read, stem: str) -> Iterator[Problem]:
    if read.record.id != stem:
        yield place_of(read.root, "table").problem(f'a table bears the name of its file: table: "{stem}"')
    if not read.record.rows:
        yield place_of(read.root, "rows").problem("the table has no rows")
    width = len(getattr(read.record, "columns", ()))
    for number, row in enumerate(read.record.rows):
        if width and len(row) != width:
            yield place_of(read.root, "rows", number).problem(
                f"this row has {len(row)} numbers, the table {width} columns"
            )
        for each in getattr(row, "ranges", ()):
            if len(each) != 3:
                yield place_of(read.root, "rows", number, "ranges").problem("a range is [from °C, to °C, minutes]")
