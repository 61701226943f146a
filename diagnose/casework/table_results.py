"""Results that are compared with the rows of a guideline: the cook, its humidity, and the name on the label."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from diagnose.corpus.figures import Figures, HoldTable, HumidityTable, NameTable
from diagnose.process import heating, labels
from diagnose.process.comparing import Side
from diagnose.process.figures import Figure

from .against_limits import Found
from .batch_outcome import Bound, RecordCaution, Result, verdict_of
from .batch_record import BatchRecord
from .computing import house
from .computing.values import Value
from .quantities import fahrenheit, shown

HUMID_PERCENT = 90.0
_LABEL_KIND: Mapping[str, str] = {
    "bone-in-ham": "cooked-ham-or-loin",
    "boneless-ham": "cooked-ham-or-loin",
}
COOKED = ("bone-in-ham", "boneless-ham", "smoked-sausage", "bacon")


def hold_results(record: BatchRecord, figures: Figures) -> Iterator[Found]:
    """The cook against the table of temperature and time."""
    found = _held(record, figures)
    if found is None:
        return
    yield from held_lines(*found)


def held_lines(table: HoldTable, hold: heating.TableHold) -> Iterator[Found]:
    """Where a cook chart stands to the row that it comes nearest to or goes furthest past."""
    at_once = hold.published_minutes == 0
    row = f"{hold.row_c:g} °C ({fahrenheit(hold.row_c):.0f} °F)"
    bound = Bound(
        id=table.id,
        title=table.title,
        value=hold.row_c if at_once else hold.published_minutes,
        at_most=False,
        unit="°C" if at_once else "min",
        rules=table.rules,
        date=table.date,
        read="",
        condition=f"core at {row} or hotter; with one of the humidity options",
        basis=table.basis,
    )
    if at_once:  # the row asks for no time, so what counts is that the core was there
        yield Result(
            "lethality-hold",
            "Core at its hottest, against the row that asks no time",
            hold.peak_c,
            "°C",
            f"the cook chart; at or above the row for {shown(hold.held_minutes, 'min')}",
            verdict_of(hold.side),
            bound,
        )
    else:
        yield Result(
            "lethality-hold",
            f"Time of the core at {row} or hotter",
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
    found = _held(record, figures)
    if found is None or found[1].side is not Side.WITHIN:
        return None
    row_c = found[1].row_c
    return Value("lethality-row", "Temperature of the row relied on", row_c, "°C", "the cook chart and the table")


def _held(record: BatchRecord, figures: Figures) -> tuple[HoldTable, heating.TableHold] | None:
    """The table and where the cook stands in it; None where either is missing or the product is not cooked."""
    table = figures.table("lethality-meat-6-5-log", HoldTable)
    chart = record.charts.get("cook-chart")
    if table is None or chart is None or chart.core is None or record.product not in COOKED:
        return None
    return table, heating.table_hold(chart.core.minutes, chart.core.celsius, table.rows)


def humidity_results(record: BatchRecord, figures: Figures) -> Iterator[Found]:
    """The cook against the humidity options; the one that is met, else the one that is nearest to being shown."""
    table = figures.table("cooking-humidity-options", HumidityTable)
    chart = record.charts.get("cook-chart")
    if table is None or chart is None or record.product not in COOKED:
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


def label_results(record: BatchRecord, figures: Figures, values: Mapping[str, Value], rules: str) -> Iterator[Found]:
    """The name that the protein on a fat-free basis supports; a US rule."""
    table = figures.table("pff-names", NameTable)
    kind, pff = _LABEL_KIND.get(record.product), values.get("pff")
    if rules != "us" or table is None or kind is None or pff is None:
        return
    supported = labels.supported_name(pff.value, kind, names_of(table))
    better = f"{supported.short_by:.2g} points short of: {supported.next_name}." if supported.next_name else ""
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
            table.basis,
        ),
        note=better,
    )


def names_of(table: NameTable) -> list[labels.NameRow]:
    """The rows as the arithmetic takes them."""
    return [{"product": row.product, "name": row.name, "at-least": row.at_least} for row in table.rows]
