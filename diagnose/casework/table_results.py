"""Results that are compared with the rows of a guideline: the cook, its humidity, the chill, and the name on the label."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from diagnose.corpus.figures import CoolingRow, CoolingTable, Figures, HoldTable, HumidityTable, NameTable
from diagnose.corpus.records import Basis
from diagnose.process import cooling, heating, labels
from diagnose.process.comparing import Side
from diagnose.process.figures import Figure

from .batch_outcome import Bound, RecordCaution, Result
from .batch_record import BatchRecord
from .computing import house
from .computing.product import water_phase_salt
from .computing.values import Value
from .quantities import shown

NOT_SHOWN = "not shown by the record"
HUMID_PERCENT = 90.0
_LABEL_KIND: Mapping[str, str] = {
    "bone-in-ham": "cooked-ham-or-loin",
    "boneless-ham": "cooked-ham-or-loin",
}
_COOKED = ("bone-in-ham", "boneless-ham", "smoked-sausage", "bacon")

Found = Result | RecordCaution


def verdict_of(side: Side | None) -> str:
    """The words for where a figure stands."""
    return NOT_SHOWN if side is None else side.value


def hold_results(record: BatchRecord, figures: Figures) -> Iterator[Found]:
    """The cook against the table of temperature and time."""
    table = figures.table("lethality-meat-6-5-log", HoldTable)
    chart = record.charts.get("cook-chart")
    if table is None or chart is None or chart.core is None or record.product not in _COOKED:
        return
    hold = heating.table_hold(chart.core.minutes, chart.core.celsius, table.rows)
    bound = Bound(
        id=table.id,
        title=table.title,
        value=hold.published_minutes,
        at_most=False,
        unit="min",
        rules=table.rules,
        date=table.date,
        read="",
        condition=f"core at {hold.row_c:g} °C or hotter; with one of the humidity options",
        basis=table.basis,
    )
    yield Result(
        "lethality-hold",
        f"Time of the core at {hold.row_c:g} °C or hotter",
        hold.held_minutes,
        "min",
        "the cook chart, longest unbroken stay; the row that the chart comes nearest to or goes furthest past",
        verdict_of(hold.side),
        bound,
        note="" if hold.side is Side.WITHIN else f"{hold.missing_minutes:.3g} min short of the row.",
    )
    if hold.side is not Side.WITHIN:
        yield RecordCaution("undercook-hold", f"no row of the table is met: {table.title}")


def row_value(record: BatchRecord, figures: Figures) -> Value | None:
    """The temperature of the table's row that the cook relies on, where one is met."""
    table = figures.table("lethality-meat-6-5-log", HoldTable)
    chart = record.charts.get("cook-chart")
    if table is None or chart is None or chart.core is None or record.product not in _COOKED:
        return None
    hold = heating.table_hold(chart.core.minutes, chart.core.celsius, table.rows)
    if hold.side is not Side.WITHIN:
        return None
    return Value("lethality-row", "Temperature of the row relied on", hold.row_c, "°C", "the cook chart and the table")


def humidity_results(record: BatchRecord, figures: Figures) -> Iterator[Found]:
    """The cook against the humidity options; the one that is met, else the one that is nearest to being shown."""
    table = figures.table("cooking-humidity-options", HumidityTable)
    chart = record.charts.get("cook-chart")
    if table is None or chart is None or record.product not in _COOKED:
        return
    length = max(trace.minutes[-1] - trace.minutes[0] for trace in chart.traces.values())
    humid = None
    if chart.air is not None:
        found = house.humidity_of(chart.air, house.pressure_of(record))
        if found is not None:
            pressure = house.pressure_of(record)
            humid = heating.minutes_at_humidity(
                chart.air.minutes, chart.air.dry, chart.air.wet, HUMID_PERCENT, pressure
            )
            yield Result(
                "humid-time",
                f"Time at {HUMID_PERCENT:g} % humidity or more",
                humid,
                "min",
                f"dry and wet bulb; the whole cook took {length:.4g} min",
            )
    cook = heating.CookRecord(
        cook_minutes=length,
        humid_minutes=humid,
        steam_minutes=record.get("steam-time"),
        sealed_minutes=record.get("sealed-time"),
        core_peak_c=max(chart.core.celsius) if chart.core else None,
        oven_lowest_c=min(chart.air.dry) if chart.air else None,
        piece_kg=record.get("piece-weight"),
    )
    best = None
    for row in table.rows:
        option = heating.HumidityOption(
            row.id,
            row.counts,
            row.share_percent,
            row.minutes,
            row.humidity_percent,
            row.core_c,
            row.oven_c,
            row.piece_kg,
        )
        outcome = heating.humidity_outcome(option, cook)
        rank = {Side.WITHIN: 0, None: 1}.get(outcome.side, 2)
        if best is None or rank < best[0]:
            best = (rank, row, outcome)
    if best is None:
        return
    _, row, outcome = best
    yield Result(
        "cook-humidity-option",
        "Humidity option of the cooking guideline",
        row.title if outcome.side is Side.WITHIN else None,
        "",
        "; ".join(_figure_words(figure) for figure in outcome.figures),
        verdict_of(Side.WITHIN if outcome.side is Side.WITHIN else None),
        Bound(row.id, row.title, 0.0, False, "", table.rules, table.date, row.read, table.note, row.basis),
        note=""
        if outcome.side is Side.WITHIN
        else "None of the options is shown; the table's times count only with one.",
    )


def _figure_words(figure: Figure) -> str:
    asked = f"{'at most' if figure.at_most else 'at least'} {shown(figure.published, figure.unit)}"
    got = "not recorded" if figure.measured is None else shown(figure.measured, figure.unit)
    return f"{figure.quantity} {got} ({asked})"


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
            title = f"Core from {start:.3g} to {end:.2g} °C" if end < 10 else f"Core from {start:.3g} to {end:.3g} °C"
            yield Value(name, title, minutes, "min", "the chill chart", note=note)


def cooling_results(record: BatchRecord, figures: Figures, values: Mapping[str, Value], rules: str) -> Iterator[Found]:
    """The chill against every option of these rules: the first that is met, else the one that asks least."""
    table = figures.table("cooling-options", CoolingTable)
    chart = record.charts.get("chill-chart")
    if table is None or chart is None or chart.core is None or record.product not in _COOKED:
        return
    accelerator = [values[name].value for name in ("ingoing-ascorbate", "ingoing-ascorbic-acid") if name in values]
    nitrite = values.get("ingoing-nitrite")
    outcomes = []
    for row in sorted(table.rows, key=lambda row: row.read != "seen"):  # a recalled option is the last resort
        if row.rules not in (rules, "any") or (rules == "us" and row.rules != "us"):
            continue
        outcome = cooling.cooling_outcome(
            chart.core.minutes,
            chart.core.celsius,
            option_of(row),
            start_delay_minutes=record.get("chill-delay"),
            nitrite_ppm=nitrite.value if nitrite else None,
            accelerator_ppm=sum(accelerator) if accelerator else None,
            brine_percent=water_phase_salt(record),
        )
        outcomes.append((row, outcome))
    if not outcomes:
        return
    row, outcome = min(outcomes, key=lambda pair: _preference(pair[1]))
    yield from _cooling_lines(row, outcome)
    if outcome.side is not Side.WITHIN:
        over = [
            f"{r.range.from_c:.3g} to {r.range.to_c:.3g} °C by {shown(r.over_by_minutes, 'min')}"
            for r in outcome.exceeded
        ]
        because = (
            f"over the published time from {', '.join(over)}" if over else "the record does not show cooling in time"
        )
        hints = [hint for each in outcomes if (hint := _would_do(*each)) is not None]
        yield RecordCaution("slow-chill-hold", "; ".join([because, *hints]))


def option_of(row: CoolingRow) -> cooling.CoolingOption:
    """The row as the arithmetic takes it."""
    return cooling.CoolingOption(
        row.id,
        tuple(cooling.CoolingRange(*each) for each in row.ranges),
        row.start_within_minutes,
        row.nitrite_ppm,
        row.accelerator_ppm,
        row.brine_percent,
    )


def _preference(outcome: cooling.CoolingOutcome) -> tuple[int, float]:
    """Met first; else an option whose conditions the record shows, by the least time over; the others last.

    So an option that asks for what was not recorded never hides that another one is exceeded.
    """
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


def _cooling_lines(row: CoolingRow, outcome: cooling.CoolingOutcome) -> Iterator[Result]:
    def bound(value: float, unit: str, at_most: bool, what: str) -> Bound:
        return Bound(row.id, row.title, value, at_most, unit, row.rules, row.date, row.read, what, row.basis)

    for each in outcome.ranges:
        words = f"{each.range.from_c:.3g} to {each.range.to_c:.3g} °C"
        beyond = f"Over by {shown(each.over_by_minutes, 'min')}." if each.over_by_minutes > 0 else ""
        short = "" if each.complete else "The chart does not show the whole range."
        yield Result(
            f"chill-{each.range.from_c:.0f}-to-{each.range.to_c:.0f}",
            f"Chill of the core, {words}",
            each.taken_minutes,
            "min",
            f"the chill chart; option: {row.title}",
            verdict_of(each.side),
            bound(each.range.minutes, "min", True, row.note),
            note=" ".join(part for part in (beyond, short) if part),
        )
    for condition in outcome.conditions:
        yield Result(
            f"chill-condition-{condition.quantity.replace(' ', '-')}",
            f"Condition of the chill option: {condition.quantity}",
            condition.measured,
            condition.unit,
            f"option: {row.title}",
            verdict_of(condition.side),
            bound(condition.published, condition.unit, condition.at_most, row.note),
        )


def label_results(record: BatchRecord, figures: Figures, values: Mapping[str, Value], rules: str) -> Iterator[Found]:
    """The name that the protein on a fat-free basis supports; a US rule."""
    table = figures.table("pff-names", NameTable)
    kind, pff = _LABEL_KIND.get(record.product), values.get("pff")
    if rules != "us" or table is None or kind is None or pff is None:
        return
    rows: Sequence[labels.NameRow] = [
        {"product": row.product, "name": row.name, "at-least": row.at_least} for row in table.rows
    ]
    supported = labels.supported_name(pff.value, kind, rows)
    better = f"{supported.short_by:.2g} points short of: {supported.next_name}." if supported.next_name else ""
    basis: tuple[Basis, ...] = table.basis
    yield Result(
        "label-name",
        "Name on the label that the PFF supports",
        supported.name,
        "",
        f"PFF {supported.pff:.4g}",
        Side.WITHIN.value,
        Bound(
            table.id,
            table.title,
            supported.published,
            False,
            "per cent PFF",
            table.rules,
            table.date,
            "",
            "",
            basis,
        ),
        note=better,
    )
