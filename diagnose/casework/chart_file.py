"""Charts from a data logger: CSV files with a time, the core temperature, and dry and wet bulb where there are any.

The first line names the columns with their units, such as `time (min), core (F), dry bulb (F), wet bulb (F)`. Times may also
be clock times (14:05, or 2026-03-02 14:05) or hours and minutes (1:25). Blank cells are readings that were not taken. Every
problem is told with its line.
"""

from __future__ import annotations

import csv
import io
import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from diagnose.corpus.folder import LARGEST_FILE, read_limited
from diagnose.corpus.scalars import guess
from diagnose.errors import Problem
from diagnose.text import clean

COLUMNS: Mapping[str, tuple[str, ...]] = {
    "time": ("time", "minutes", "elapsed", "date", "date time", "datetime", "timestamp"),
    "core": ("core", "core temperature", "internal", "internal temperature", "product", "meat", "probe"),
    "dry bulb": ("dry bulb", "dry", "dry-bulb", "house", "air"),
    "wet bulb": ("wet bulb", "wet", "wet-bulb"),
}
COLDEST_C, HOTTEST_C = -60.0, 250.0
SAME_C = 0.5
"""A wet bulb above the dry bulb by no more than this is taken for saturated air read by two imperfect thermometers."""

MOST_PROBLEMS = 20
LONGEST_LINE = 4000
_TIME_UNITS = {"s": 1 / 60, "sec": 1 / 60, "min": 1.0, "minutes": 1.0, "h": 60.0, "hours": 60.0, "hr": 60.0}
_HEAT_UNITS = {"c": "C", "°c": "C", "degc": "C", "f": "F", "°f": "F", "degf": "F"}
_HALF_DAY, _DAY = 720.0, 1440.0


@dataclass(frozen=True, slots=True)
class Trace:
    """Readings of one probe: minutes from the chart's first line, rising, and °C."""

    minutes: tuple[float, ...]
    celsius: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Air:
    """Readings of both bulbs at the same times: minutes, °C, °C."""

    minutes: tuple[float, ...]
    dry: tuple[float, ...]
    wet: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Chart:
    """One chart; `traces` by the name of the column (core, dry bulb, wet bulb), each with at least two readings."""

    name: str
    traces: Mapping[str, Trace] = field(default_factory=dict)
    air: Air | None = None

    @property
    def core(self) -> Trace | None:
        """The core, where it was read."""
        return self.traces.get("core")


def read_chart(path: Path, shown: str, problems: list[Problem]) -> Chart | None:
    """The chart in a file, adding what is wrong to `problems` under the name `shown`; None if it has no usable form."""
    try:
        data = read_limited(path)
        if data is None:
            problems.append(Problem(shown, 1, 1, f"the chart is larger than {LARGEST_FILE // 1_000_000} MB"))
            return None
        text = data.decode("utf-8-sig")
    except OSError as error:
        problems.append(Problem(shown, 1, 1, f"the chart cannot be read: {error.strerror or error}"))
        return None
    except UnicodeDecodeError:
        problems.append(Problem(shown, 1, 1, "the chart is not UTF-8 text"))
        return None
    return _Reader(shown, problems).read(text)


@dataclass(frozen=True, slots=True)
class _Column:
    at: int
    kind: str
    unit: str


class _Reader:
    """Reads one chart."""

    def __init__(self, shown: str, problems: list[Problem]) -> None:
        self.shown = shown
        self.problems = problems
        self.found = 0
        self.decimal_comma = False

    def read(self, text: str) -> Chart | None:
        before = len(self.problems)
        lines = [(number, line) for number, line in enumerate(text.splitlines(), 1) if line.strip(" ,;\t")]
        lines = [(number, line) for number, line in lines if not line.lstrip().startswith("#")]
        if long := [number for number, line in lines if len(line) > LONGEST_LINE]:
            self._wrong(long[0], f"a line of a chart has at most {LONGEST_LINE} characters")
            return None
        if len(lines) < 3:
            self._wrong(
                lines[0][0] if lines else 1, "a chart has a line that names its columns and at least two readings"
            )
            return None
        delimiter = max(";\t,", key=lines[0][1].count)
        self.decimal_comma = delimiter != ","
        rows = [(number, _cells(line, delimiter)) for number, line in lines]
        columns = self._columns(*rows[0])
        if columns is None:
            return None
        minutes = self._times(rows[1:], columns["time"])
        readings = {name: self._heat(rows[1:], column) for name, column in columns.items() if name != "time"}
        self._bulbs(rows[1:], readings)
        return self._chart(minutes, readings) if len(self.problems) == before else None

    def _wrong(self, line: int, message: str) -> None:
        self.found += 1
        if self.found < MOST_PROBLEMS:
            self.problems.append(Problem(self.shown, line, 1, message))
        elif self.found == MOST_PROBLEMS:
            self.problems.append(Problem(self.shown, line, 1, f"{message}; more problems follow in this file"))

    def _columns(self, line: int, names: Sequence[str]) -> dict[str, _Column] | None:
        found: dict[str, _Column] = {}
        words = {word: kind for kind, many in COLUMNS.items() for word in many}
        for at, name in enumerate(names):
            word, unit = _name_and_unit(name)
            kind = words.get(word)
            if kind is None:
                if near := guess(word, words):
                    self._wrong(line, f'unknown column "{clean(name, 40)}"{near}')
                continue
            if kind in found:
                self._wrong(line, f"the column {kind} stands twice")
            if kind != "time" and unit not in _HEAT_UNITS:
                self._wrong(line, f'the column "{clean(name, 40)}" needs its unit in brackets, (C) or (F)')
            found[kind] = _Column(at, kind, unit)
        if "time" not in found:
            self._wrong(line, "there is no column for the time; name it time (min), or time for clock times")
            return None
        if len(found) < 2:
            self._wrong(
                line, "there is no column of temperatures; name them core (C), dry bulb (C), wet bulb (C), or (F)"
            )
            return None
        return found

    def _times(self, rows: Sequence[tuple[int, list[str]]], column: _Column) -> list[float]:
        found: list[float] = []
        first: float | None = None
        last: float | None = None
        days = 0.0
        clocks: bool | None = None
        for line, cells in rows:
            value = self._time(line, _cell(cells, column.at), column.unit)
            if value is None:
                found.append(math.nan)
                continue
            moment, clock = value
            if clocks is not None and clock != clocks:
                self._wrong(line, "clock times and numbers stand in one column of times; use one or the other")
            clocks = clock
            if clock and last is not None and moment + days < last - _HALF_DAY:
                days += _DAY  # past midnight
            moment += days if clock else 0.0
            first = moment if first is None and clock else first
            if last is not None and moment <= last:
                self._wrong(line, "time does not rise from the line before")
            last = moment
            found.append(moment - (first if first is not None else 0.0))
        return found

    def _time(self, line: int, text: str, unit: str) -> tuple[float, bool] | None:
        """Minutes, and whether they are clock times, which count from the first one."""
        if found := re.fullmatch(r"([0-9]{1,3}):([0-5][0-9])(?::([0-5][0-9]))?", text):
            return int(found[1]) * 60 + int(found[2]) + int(found[3] or 0) / 60, True
        if re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}[ T][0-9:.]+", text):
            try:
                moment = datetime.fromisoformat(text)
            except ValueError:
                self._wrong(line, f'"{clean(text, 40)}" is no time such as 2026-03-02 14:05')
                return None
            return moment.toordinal() * _DAY + moment.hour * 60 + moment.minute + moment.second / 60, True
        number = self._number(text)
        if number is None:
            self._wrong(line, f'"{clean(text, 40)}" is no time' if text else "the time is missing")
            return None
        if unit not in _TIME_UNITS:
            self._wrong(
                line, "the column of times needs its unit, such as time (min); clock times such as 14:05 need none"
            )
            return None
        return number * _TIME_UNITS[unit], False

    def _number(self, text: str) -> float | None:
        written = text.replace("\u2212", "-")
        if self.decimal_comma:
            written = written.replace(",", ".")
        if not re.fullmatch(r"[-+]?([0-9]+(\.[0-9]*)?|\.[0-9]+)", written):
            return None
        return value if math.isfinite(value := float(written)) else None

    def _heat(self, rows: Sequence[tuple[int, list[str]]], column: _Column) -> list[float]:
        found = []
        for line, cells in rows:
            text = _cell(cells, column.at)
            value = self._number(text)
            if text in ("", "-", "?") or text.lower() in ("na", "n/a", "nan"):
                found.append(math.nan)
                continue
            if value is None:
                self._wrong(line, f'"{clean(text, 40)}" is no temperature for {column.kind}')
                found.append(math.nan)
                continue
            celsius = (value - 32) / 1.8 if _HEAT_UNITS.get(column.unit) == "F" else value
            if not COLDEST_C <= celsius <= HOTTEST_C:
                self._wrong(
                    line, f"{column.kind} {text} is no temperature of a plant ({COLDEST_C:g} to {HOTTEST_C:g} °C)"
                )
            found.append(celsius)
        return found

    def _bulbs(self, rows: Sequence[tuple[int, list[str]]], readings: dict[str, list[float]]) -> None:
        dry, wet = readings.get("dry bulb"), readings.get("wet bulb")
        if dry is None or wet is None:
            return
        for at, (line, _) in enumerate(rows):
            if wet[at] > dry[at] + SAME_C:
                self._wrong(line, f"the wet bulb ({wet[at]:.1f} °C) is above the dry bulb ({dry[at]:.1f} °C)")

    def _chart(self, minutes: list[float], readings: dict[str, list[float]]) -> Chart | None:
        traces = {name: Trace(*_pairs(minutes, values)) for name, values in readings.items()}
        traces = {name: trace for name, trace in traces.items() if len(trace.minutes) >= 2}
        if not traces:
            self._wrong(1, "no column holds two readings or more")
            return None
        air = None
        if "dry bulb" in traces and "wet bulb" in traces:
            both = [
                (minute, dry, min(wet, dry))
                for minute, dry, wet in zip(minutes, readings["dry bulb"], readings["wet bulb"], strict=True)
                if not (math.isnan(dry) or math.isnan(wet))
            ]
            air = Air(*map(tuple, zip(*both, strict=True))) if len(both) >= 2 else None
        return Chart(self.shown, traces, air)


def _cells(line: str, delimiter: str) -> list[str]:
    return [cell.strip() for cell in next(csv.reader(io.StringIO(line), delimiter=delimiter))]


def _cell(cells: Sequence[str], at: int) -> str:
    return cells[at] if at < len(cells) else ""


def _name_and_unit(name: str) -> tuple[str, str]:
    plain = " ".join(name.lower().replace("_", " ").split())
    found = re.fullmatch(r"([^\[(]*)[\[(]([^\])]*)[\])]", plain)
    return (found[1].strip(), found[2].strip()) if found else (plain, "")


def _pairs(minutes: Sequence[float], values: Sequence[float]) -> Iterator[tuple[float, ...]]:
    kept = [(minute, value) for minute, value in zip(minutes, values, strict=True) if not math.isnan(value)]
    yield tuple(minute for minute, _ in kept)
    yield tuple(value for _, value in kept)
