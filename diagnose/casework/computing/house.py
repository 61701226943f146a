"""The house and the cook: humidity, dew point, core temperature and the killing added up over the chart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from diagnose.casework.batch_record import BatchRecord
from diagnose.casework.chart_file import Air, Trace
from diagnose.corpus.figures import Figures, ResistanceRow, ResistanceTable
from diagnose.process import charts, humidity, lethality

from .values import Value

COME_UP_C = (10.0, 54.44)


def pressure_of(record: BatchRecord) -> float:
    """Pressure of the air at the plant in Pa, from its altitude; sea level where that was not recorded."""
    return humidity.pressure_at_altitude(record.get("altitude") or 0.0)


def house_values(record: BatchRecord, figures: Figures) -> Iterator[Value]:
    """Whatever the cook chart allows."""
    chart = record.charts.get("cook-chart")
    if chart is None:
        return
    if chart.air is not None:
        yield from _air(record, chart.air)
    if chart.core is not None:
        yield from _core(record, chart.core)
        yield from _killing(chart.core, figures)


def humidity_of(air: Air, pressure_pa: float) -> list[float] | None:
    """Relative humidity at each reading, per cent; None where the bulbs cannot both be right."""
    try:
        return [humidity.relative_humidity(dry, wet, pressure_pa) for dry, wet in zip(air.dry, air.wet, strict=True)]
    except ValueError:
        return None


def _air(record: BatchRecord, air: Air) -> Iterator[Value]:
    pressure = pressure_of(record)
    found = humidity_of(air, pressure)
    if found is None:
        return
    start, end = record.get("colour-from"), record.get("colour-to")
    if start is not None and end is not None and air.minutes[0] <= start < end <= air.minutes[-1]:
        mean = _mean(air.minutes, found, start, end)
        how = f"dry and wet bulb from minute {start:g} to {end:g}"
        yield Value("humidity-colour", "Humidity during colour development", mean, "%", how)
    surface = record.get("surface-temperature")
    if surface is not None:
        dew = humidity.dew_point_from_wet_bulb(air.dry[0], air.wet[0], pressure)
        state = humidity.surface_moisture(surface, air.dry[0], air.wet[0], pressure).state
        words = {
            "sweats": "Water gathers on the hams.",
            "takes-up-water": "The surface draws water from the air.",
            "dries": "The surface dries.",
            "close": "Too close to tell whether the surface dries or sweats.",
        }
        how = f"surface at loading, dew point {dew:.3g} °C of the first reading"
        yield Value("surface-above-dew-point", "Surface less dew point", surface - dew, "°C", how, note=words[state])


def _mean(minutes: Sequence[float], values: Sequence[float], start: float, end: float) -> float:
    """Mean over time between two minutes, straight lines between readings."""
    inner = [minute for minute in minutes if start < minute < end]
    times = np.array([start, *inner, end])
    levels = np.interp(times, minutes, values)
    return float(np.sum((levels[1:] + levels[:-1]) / 2 * np.diff(times)) / (end - start))


def _core(record: BatchRecord, core: Trace) -> Iterator[Value]:
    peak = charts.peak(core.minutes, core.celsius)
    doubts = charts.doubts(core.minutes, core.celsius, longest_gap_min=60)
    note = f"Doubtful on the chart: {'; '.join(doubts[:3])}." if doubts else ""
    yield Value("core-peak", "Core at its hottest", peak.celsius, "°C", "the cook chart", note=note)
    if (target := record.get("target-core")) is not None:
        how = f"peak less {target:.3g} °C"
        yield Value("core-off-target", "Core against the target", peak.celsius - target, "°C", how)
    low, high = COME_UP_C
    upward = [at for at, minute in enumerate(core.minutes) if minute <= peak.minute]
    if len(upward) >= 2 and peak.celsius > low:
        minutes = charts.minutes_within(
            [core.minutes[at] for at in upward], [core.celsius[at] for at in upward], low, high
        )
        note = "" if core.celsius[0] <= low else "The chart begins above 10 °C, so the real time was longer."
        title = "Core between 10 and 54.4 °C on the way up"
        yield Value("come-up-10-54", title, minutes, "min", "the cook chart", note=note)


def _killing(core: Trace, figures: Figures) -> Iterator[Value]:
    table = figures.table("heat-resistance", ResistanceTable)
    rows = {row.id: row for row in table.rows} if table is not None else {}
    for name, row_id, title in (
        ("f70", "listeria-70-c", "F at 70 °C"),
        ("f70-ham", "listeria-ham-resistant", "F at 70 °C with the z of a ham study"),
    ):
        if (row := rows.get(row_id)) is not None:
            f = lethality.f_value(core.minutes, core.celsius, 70.0, row.z_c)
            how = f"the cook chart, {row.organism}, z {row.z_c:g} °C"
            yield Value(name, title, f, "min", how, basis=row.basis)
    if (row := rows.get("salmonella-pork-franks")) is not None and row.points:
        yield _salmonella(core, row)


def _salmonella(core: Trace, row: ResistanceRow) -> Value:
    coldest, hottest = row.points[0][0], row.points[-1][0]
    reference, d = min(row.points, key=lambda point: abs(point[0] - 60.0))
    measured = [min(value, hottest) for value in core.celsius]  # nothing is promised beyond what was measured
    f = lethality.f_value(core.minutes, measured, reference, row.z_c, counted_from_c=coldest)
    logs = lethality.log_reduction(f, d)
    return Value(
        "salmonella-logs",
        "Tenfold reductions of Salmonella",
        min(logs, lethality.MOST_LOGS),
        "log",
        f"the cook chart, D {d:g} min at {reference:g} °C, z {row.z_c:g} °C ({row.product})",
        note=f"Counted from {coldest:g} °C, and no faster than at {hottest:g} °C, the range in which D was measured.",
        basis=row.basis,
        more_than=logs > lethality.MOST_LOGS,
    )
