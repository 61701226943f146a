"""The chill of a cooked product against the cooling options of the guidelines."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from diagnose.corpus.figures import CoolingRow, CoolingTable, Figures
from diagnose.process import cooling
from diagnose.process.comparing import Side

from .against_limits import Found
from .batch_outcome import Bound, RecordCaution, Result, verdict_of
from .batch_record import BatchRecord
from .chart_file import Trace
from .computing.product import water_phase_salt
from .computing.values import Value
from .quantities import fahrenheit, shown
from .table_results import COOKED

TOLD_BY: Mapping[str, str] = {"cooling-54-27": "chill-54-to-27", "cooling-27-7": "chill-27-to-7"}
"""Computed times that a line of an option tells as well; the page then tells them once, with the verdict."""


@dataclass(frozen=True, slots=True)
class Chill:
    """What is known of one chill; None where it is not recorded. Minutes, ppm of green weight, per cent."""

    core: Trace
    start_delay: float | None = None
    nitrite: float | None = None
    accelerator: float | None = None
    brine: float | None = None


Judged = tuple[CoolingRow, cooling.CoolingOutcome]


def cooling_values(record: BatchRecord) -> Iterator[Value]:
    """Minutes of the core in the two ranges that the cured schedule looks at, where the chart shows them whole."""
    chart = record.charts.get("chill-chart")
    if chart is None or chart.core is None:
        return
    core = chart.core
    for name, start, end in (("cooling-54-27", 54.44, 26.67), ("cooling-27-7", 26.67, 7.22)):
        if max(core.celsius) < start:
            continue
        minutes = cooling.minutes_in_range(core.minutes, core.celsius, start, end)
        whole = core.celsius[-1] <= end
        if whole or minutes > 0:
            note = "" if whole else f"The chart ends before {end:.3g} °C; the real time is longer."
            yield Value(name, f"Core from {span(start, end)}", minutes, "min", "the chill chart", note=note)


def cooling_results(record: BatchRecord, figures: Figures, values: Mapping[str, Value], rules: str) -> Iterator[Found]:
    """The chill of a record: the first option of these rules that is met, else the one that asks least."""
    table = figures.table("cooling-options", CoolingTable)
    chart = record.charts.get("chill-chart")
    if table is None or chart is None or chart.core is None or record.product not in COOKED:
        return
    accelerator = [values[name].value for name in ("ingoing-ascorbate", "ingoing-ascorbic-acid") if name in values]
    nitrite = values.get("ingoing-nitrite")
    chill = Chill(
        chart.core,
        record.get("chill-delay"),
        nitrite.value if nitrite else None,
        sum(accelerator) if accelerator else None,
        water_phase_salt(record),
    )
    judged = judge(chill, table, rules)
    if judged:
        yield from chill_caution(judged)
        yield from option_lines(*nearest(judged))


def judge(chill: Chill, table: CoolingTable, rules: str) -> list[Judged]:
    """The chill against every option of these rules (us or eu), those that were seen first."""
    return [
        (
            row,
            cooling.cooling_outcome(
                chill.core.minutes,
                chill.core.celsius,
                _option_of(row),
                start_delay_minutes=chill.start_delay,
                nitrite_ppm=chill.nitrite,
                accelerator_ppm=chill.accelerator,
                brine_percent=chill.brine,
            ),
        )
        for row in sorted(table.rows, key=lambda row: row.read != "seen")  # a recalled option is the last resort
        if row.rules == rules or (row.rules == "any" and rules != "us")
    ]


def nearest(judged: Sequence[Judged]) -> Judged:
    """Met first; else an option whose conditions the record shows, by the least time over; the others last.

    So an option that asks for what was not recorded never hides that another one is exceeded.
    """
    return min(judged, key=lambda pair: _preference(pair[1]))


def chill_caution(judged: Sequence[Judged]) -> Iterator[RecordCaution]:
    """The caution of a chill that meets none of the options, with what is over and what would have to be shown."""
    _, outcome = nearest(judged)
    if outcome.side is Side.WITHIN:
        return
    over = [f"{span(r.range.from_c, r.range.to_c)} by {shown(r.over_by_minutes, 'min')}" for r in outcome.exceeded]
    because = f"over the published time from {', '.join(over)}" if over else "the record does not show cooling in time"
    hints = [hint for each in judged if (hint := _would_do(*each)) is not None]
    yield RecordCaution("slow-chill-hold", "; ".join([because, *hints]))


def option_lines(row: CoolingRow, outcome: cooling.CoolingOutcome, mark: str = "chill") -> Iterator[Result]:
    """Every range and condition of one option; `mark` begins the names of the results."""

    def bound(value: float, unit: str, at_most: bool) -> Bound:
        return Bound(row.id, row.title, value, at_most, unit, row.rules, row.date, row.read, row.note, row.basis)

    for each in outcome.ranges:
        beyond = f"Over by {shown(each.over_by_minutes, 'min')}." if each.over_by_minutes > 0 else ""
        short = "" if each.complete else "The chart does not show the whole range."
        yield Result(
            f"{mark}-{each.range.from_c:.0f}-to-{each.range.to_c:.0f}",
            f"Chill of the core, {span(each.range.from_c, each.range.to_c)}",
            each.taken_minutes,
            "min",
            f"the chill chart; option: {row.title}",
            verdict_of(each.side),
            bound(each.range.minutes, "min", True),
            note=" ".join(part for part in (beyond, short) if part),
        )
    for condition in outcome.conditions:
        yield Result(
            f"{mark}-condition-{condition.quantity.replace(' ', '-')}",
            f"Condition of the chill option: {condition.quantity}",
            condition.measured,
            condition.unit,
            f"option: {row.title}",
            verdict_of(condition.side),
            bound(condition.published, condition.unit, condition.at_most),
        )


def span(from_c: float, to_c: float) -> str:
    """A range of temperature in both units, as records are kept in either."""
    return (
        f"{from_c:.3g} to {to_c:.{2 if to_c < 10 else 3}g} °C ({fahrenheit(from_c):.0f} to {fahrenheit(to_c):.0f} °F)"
    )


def _option_of(row: CoolingRow) -> cooling.CoolingOption:
    return cooling.CoolingOption(
        row.id,
        tuple(cooling.CoolingRange(*each) for each in row.ranges),
        row.start_within_minutes,
        row.nitrite_ppm,
        row.accelerator_ppm,
        row.brine_percent,
    )


def _preference(outcome: cooling.CoolingOutcome) -> tuple[int, float]:
    if outcome.side is Side.WITHIN:
        return 0, 0.0
    over = sum(r.over_by_minutes for r in outcome.ranges)
    if any(condition.side is not Side.WITHIN for condition in outcome.conditions):
        return 3, over
    return (2 if outcome.exceeded else 1), over


def _would_do(row: CoolingRow, outcome: cooling.CoolingOutcome) -> str | None:
    """What would have to be recorded for an option whose times are kept; None where nothing would help."""
    unknown = [condition.quantity for condition in outcome.conditions if condition.side is None]
    unmet = any(condition.side in (Side.OVER, Side.UNDER) for condition in outcome.conditions)
    kept = all(each.side is Side.WITHIN for each in outcome.ranges)
    return f"{row.title} would be met if {' and '.join(unknown)} were shown" if kept and unknown and not unmet else None
