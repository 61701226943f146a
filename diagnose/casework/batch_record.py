"""A batch record: the weights, recipe, charts and analysis of one lot, read from YAML or from the `numbers` of a case.

Whatever nobody took is left out, left blank, or written as `not recorded`. What cannot be (pumped lighter than green, a wet
bulb above the dry bulb, shares that sum to more than the whole) is refused, all of it at once, each with its line.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import NamedTuple, cast

from diagnose.corpus.reader import read_record
from diagnose.corpus.records import Knowledge, said
from diagnose.corpus.scalars import guess, kind_name
from diagnose.corpus.yamltree import MapNode, Node, Place, TextNode, place_of, read_file
from diagnose.errors import CaseError, Problem
from diagnose.text import clean

from .chart_file import Chart, read_chart
from .quantities import UNITS, Kind, parse, shown
from .record_checks import impossible
from .record_fields import FIELDS, Field

MISSING = ("", "not recorded", "unknown", "missing", "n/a", "?", "-")
"""What may be written for a figure that nobody took."""

RECORD = "record"
"""The key of a case's numbers that names a batch record in a file of its own."""


class Written(NamedTuple):
    """One figure as written, with its place."""

    key: str
    text: str
    place: Place


@dataclass(frozen=True, slots=True)
class RecordHead:
    """All of a batch record but its figures."""

    product: str = said("Id of the product.", refers="product")
    batch: str | None = said("Name or number of the lot.", longest=60, default=None)
    title: str | None = said("The lot in one line.", longest=150, default=None)
    notes: tuple[str, ...] = said("Remarks, kept as they are.", default=())


@dataclass(frozen=True, slots=True)
class BatchRecord:
    """One lot. `values` are in the unit of their kind (see `record_fields`), `written` as the person wrote them."""

    product: str
    title: str = ""
    batch: str = ""
    notes: tuple[str, ...] = ()
    values: Mapping[str, float] = field(default_factory=dict)
    choices: Mapping[str, str] = field(default_factory=dict)
    charts: Mapping[str, Chart] = field(default_factory=dict)
    written: Mapping[str, str] = field(default_factory=dict)

    def get(self, key: str) -> float | None:
        """A figure in the unit of its kind, or None where it was not recorded."""
        return self.values.get(key)

    @property
    def method(self) -> str:
        """How the cure went in."""
        return self.choices.get("cure-method", "pumped")


def load_record(knowledge: Knowledge, path: Path) -> BatchRecord:
    """The batch record in a file. Raises CaseError with all problems found."""
    problems: list[Problem] = []
    record = _read(knowledge, path, path.as_posix(), problems)
    if problems or record is None:
        raise CaseError(sorted(set(problems)))
    return record


def record_of_case(knowledge: Knowledge, product: str, numbers: Iterable[Written], folder: Path) -> BatchRecord | None:
    """The record that a case's numbers hold or name; None where there are none. Raises CaseError with all problems found."""
    written = list(numbers)
    if not written:
        return None
    problems: list[Problem] = []
    named = next((one for one in written if one.key == RECORD), None)
    rest = [one for one in written if one.key != RECORD]
    base: BatchRecord | None = None
    if named is not None:
        path = folder / named.text
        if path.is_file():
            base = _read(knowledge, path, path.as_posix(), problems)
        else:
            problems.append(named.place.problem(f"there is no file {clean(path.as_posix(), 200)}"))
        if base is not None and base.product != product:
            problems.append(named.place.problem(f'the record is of "{base.product}", the case of "{product}"'))
    for one in rest:
        if base is not None and one.key in base.written:
            problems.append(one.place.problem(f'"{one.key}" stands in the record {base.batch or "named here"} as well'))
    record = _figures(rest, folder, problems)
    if base is not None:
        record = _laid_over(base, record)
    places = {one.key: one.place for one in written}
    here = next(iter(places.values()))
    if rest and not problems:
        problems.extend(
            places.get(key, here).problem(message) for key, message in impossible(record.values, record.charts)
        )
    if problems:
        raise CaseError(sorted(set(problems)))
    return BatchRecord(
        product, record.title, record.batch, record.notes, record.values, record.choices, record.charts, record.written
    )


def written_in(node: Node | None, problems: list[Problem]) -> Iterator[Written]:
    """The figures of a mapping, each with its place; what is no single text is a problem."""
    if node is None:
        return
    if not isinstance(node, MapNode):
        problems.append(node.place.problem(f'"numbers" takes a mapping (green-weight: 412 kg), not {kind_name(node)}'))
        return
    for key, below in node.items.items():
        if isinstance(below, TextNode):
            yield Written(key, below.text.strip(), below.place)
        else:
            problems.append(below.place.problem(f'"{key}" takes a number with its unit, not {kind_name(below)}'))


def _read(knowledge: Knowledge, path: Path, name: str, problems: list[Problem]) -> BatchRecord | None:
    before = len(problems)
    root = read_file(path, name, problems)
    if root is None:
        return None
    if not isinstance(root, MapNode):
        problems.append(
            root.place.problem(f"a batch record is a mapping (product: ..., numbers: ...), not {kind_name(root)}")
        )
        return None
    head_node = MapNode(root.place, dict(root.items), root.keys)
    numbers = head_node.items.pop("numbers", None)
    if numbers is None:
        near = [key for key in head_node.items if key in FIELDS or guess(key, ("numbers",))]
        message = 'the field "numbers" is missing; the figures of the lot stand below it'
        problems.append(root.keys[near[0]].problem(message) if near else root.place.problem(message))
        for key in near:
            del head_node.items[key]
    head: RecordHead = read_record(head_node, RecordHead, problems)
    if head.product and head.product not in knowledge.products:
        problems.append(
            place_of(root, "product").problem(
                f'no product has the id "{head.product}"{guess(head.product, knowledge.products)}'
            )
        )
    written = list(written_in(numbers, problems))
    record = _figures(written, path.parent, problems)
    if len(problems) == before:
        places = {one.key: one.place for one in written}
        for key, message in impossible(record.values, record.charts):
            problems.append(places.get(key, root.place).problem(message))
    return BatchRecord(
        head.product,
        head.title or "",
        head.batch or "",
        head.notes,
        record.values,
        record.choices,
        record.charts,
        record.written,
    )


def _figures(written: Iterable[Written], folder: Path, problems: list[Problem]) -> BatchRecord:
    values: dict[str, float] = {}
    choices: dict[str, str] = {}
    charts: dict[str, Chart] = {}
    texts: dict[str, str] = {}
    for one in written:
        known = FIELDS.get(one.key)
        if known is None:
            problems.append(
                one.place.problem(f'no figure goes by the name "{clean(one.key, 60)}"{guess(one.key, FIELDS)}')
            )
        elif one.text.lower() in MISSING:
            continue
        elif known.kind == "chart":
            chart = _chart(known, one, folder, problems)
            if chart is not None:
                charts[one.key] = chart
        elif known.kind == "choice":
            if one.text in known.choices:
                choices[one.key] = one.text
            else:
                problems.append(one.place.problem(f'"{one.key}" must be one of {", ".join(known.choices)}'))
        else:
            value = _value(known, one, problems)
            if value is not None:
                values[one.key] = value
        texts[one.key] = one.text
    return BatchRecord("", values=values, choices=choices, charts=charts, written=texts)


def _value(known: Field, one: Written, problems: list[Problem]) -> float | None:
    kind = cast(Kind, known.kind)  # charts and choices are read elsewhere
    try:
        value = parse(one.text, kind)
    except ValueError as error:
        problems.append(one.place.problem(f'"{one.key}": {error}'))
        return None
    if not known.low <= value <= known.high:
        unit = UNITS[kind]
        allowed = f"{shown(known.low, unit)} to {shown(known.high, unit)}"
        problems.append(one.place.problem(f'"{one.key}" is {one.text}; it lies from {allowed}'))
        return None
    return value


def _chart(known: Field, one: Written, folder: Path, problems: list[Problem]) -> Chart | None:
    path = folder / one.text
    if not path.is_file():
        problems.append(one.place.problem(f'"{one.key}": there is no file {clean(path.as_posix(), 200)}'))
        return None
    chart = read_chart(path, path.as_posix(), problems)
    if chart is not None and chart.core is None and (known.key != "cook-chart" or chart.air is None):
        problems.append(Problem(chart.name, 1, 1, "the chart needs a column core (C) or core (F)"))
        return None
    return chart


def _laid_over(base: BatchRecord, more: BatchRecord) -> BatchRecord:
    return BatchRecord(
        base.product,
        base.title,
        base.batch,
        base.notes,
        {**base.values, **more.values},
        {**base.choices, **more.choices},
        {**base.charts, **more.charts},
        {**base.written, **more.written},
    )
