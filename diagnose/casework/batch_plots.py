"""The charts of a record with their limits laid on them, as lines to draw."""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.corpus.figures import CoolingTable, Figures, HoldTable
from diagnose.process import charts, heating

from .batch_outcome import Line, Plot
from .batch_record import BatchRecord
from .chart_file import Chart

CURED_OPTION, RAPID_OPTION = "cured-slow-100-ppm", "fsis-rapid"


def plots_of(record: BatchRecord, figures: Figures, rules: str) -> tuple[Plot, ...]:
    """One plot for each chart of the record."""
    found = []
    if (chart := record.charts.get("cook-chart")) is not None:
        found.append(Plot("Cook chart", (*_read(chart), *_cook_limits(record, chart, figures))))
    if (chart := record.charts.get("chill-chart")) is not None:
        found.append(Plot("Chill chart", (*_read(chart), *_chill_limits(chart, figures, rules))))
    return tuple(found)


def _read(chart: Chart) -> Iterator[Line]:
    for name, trace in chart.traces.items():
        yield Line(name, trace.minutes, trace.celsius)


def _cook_limits(record: BatchRecord, chart: Chart, figures: Figures) -> Iterator[Line]:
    start = min(trace.minutes[0] for trace in chart.traces.values())
    end = max(trace.minutes[-1] for trace in chart.traces.values())
    if (target := record.get("target-core")) is not None:
        yield Line(f"target core {target:.3g} °C", (start, end), (target, target), limit=True)
    table = figures.table("lethality-meat-6-5-log", HoldTable)
    if table is not None and chart.core is not None:
        row = heating.table_hold(chart.core.minutes, chart.core.celsius, table.rows)
        time = f" for {row.published_minutes:.3g} min" if row.published_minutes else ", no time asked"
        name = f"table row {row.row_c:.3g} °C{time}"
        yield Line(name, (start, end), (row.row_c, row.row_c), limit=True)


def _chill_limits(chart: Chart, figures: Figures, rules: str) -> Iterator[Line]:
    """The slowest way down that an option leaves, drawn from where the core passed its first temperature."""
    table = figures.table("cooling-options", CoolingTable)
    core = chart.core
    if table is None or core is None:
        return
    wanted = (CURED_OPTION, RAPID_OPTION) if rules == "us" else ("uk-longest-uncured",)
    for row in table.rows:
        if row.id not in wanted:
            continue
        first = row.ranges[0][0]
        passed = charts.crossings(core.minutes, core.celsius, first)
        at = passed[0] if passed else core.minutes[0]
        minutes, celsius = [at], [first]
        for start, end, longest in row.ranges:
            if start == celsius[-1]:  # a total over several ranges is no step of the way
                minutes.append(minutes[-1] + longest)
                celsius.append(end)
            if end < celsius[-1]:
                break
        yield Line(f"slowest within: {_short(row.id, row.title)}", tuple(minutes), tuple(celsius), limit=True)


def _short(option: str, title: str) -> str:
    return {CURED_OPTION: "cured, 100 ppm nitrite", RAPID_OPTION: "any cooked product"}.get(
        option, title.partition(",")[0]
    )
