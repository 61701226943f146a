"""What comes out of a batch record: results with their verdicts, cautions, and the charts to draw, as plain data."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from diagnose.corpus.records import Basis, Knowledge
from diagnose.process.comparing import Side

COMMON = "common practice"
NOT_SHOWN = "not shown by the record"


@dataclass(frozen=True, slots=True)
class Bound:
    """The published figure that a value was compared with; `read` is seen, memory or common practice."""

    id: str
    title: str
    value: float
    at_most: bool
    unit: str
    rules: str
    date: str
    read: str
    condition: str
    basis: tuple[Basis, ...]


@dataclass(frozen=True, slots=True)
class Result:
    """One line of the page. `value` is a number, or words where the result is a name or an option; None: not shown.

    `verdict` is one of the words of `diagnose.process.comparing.Side`, "not shown by the record", or empty where there is no
    published figure here.
    """

    name: str
    title: str
    value: float | str | None
    unit: str
    how: str
    verdict: str = ""
    bound: Bound | None = None
    note: str = ""
    basis: tuple[Basis, ...] = ()
    more_than: bool = False
    """The real value is greater than `value`, but nothing can show by how much."""

    @property
    def off(self) -> bool:
        """Not within its published figure, or not shown to be."""
        return self.verdict not in ("", Side.WITHIN.value)


@dataclass(frozen=True, slots=True)
class RecordCaution:
    """A caution of the record, by its id, and what called for it."""

    id: str
    because: str


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a plot: its name, and its points in minutes and °C. A `limit` is drawn apart from what was read."""

    name: str
    minutes: tuple[float, ...]
    celsius: tuple[float, ...]
    limit: bool = False


@dataclass(frozen=True, slots=True)
class Plot:
    """One chart with the limits on it."""

    title: str
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class BatchOutcome:
    """Everything that a batch record gives under one set of rules."""

    product: str
    title: str
    batch: str
    notes: tuple[str, ...]
    rules: str
    results: tuple[Result, ...]
    cautions: tuple[RecordCaution, ...]
    plots: tuple[Plot, ...]
    missing: tuple[str, ...]
    """What could not be computed for want of a figure, in words."""
    values: Mapping[str, float] = field(default_factory=dict)
    """Every computed number by its name, also those that stand within a result of another name."""

    def value(self, name: str) -> float | None:
        """A number by its name, or None."""
        if name in self.values:
            return self.values[name]
        found = next((one.value for one in self.results if one.name == name), None)
        return found if isinstance(found, float | int) else None


def standing_of(basis: Iterable[Basis], knowledge: Knowledge) -> str:
    """seen if any of the sources was, memory if none was, common practice where there is none."""
    read = [knowledge.sources[one.source].read for one in basis if one.source in knowledge.sources]
    if not read:
        return COMMON
    return "seen" if "seen" in read else "memory"


def verdict_of(side: Side | None) -> str:
    """The words for where a figure stands."""
    return NOT_SHOWN if side is None else side.value
