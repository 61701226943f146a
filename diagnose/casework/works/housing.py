"""The air of the house and the killing in the core."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from diagnose.casework.against_limits import Found, compared
from diagnose.casework.batch_outcome import RecordCaution, Result
from diagnose.casework.computing.values import Value
from diagnose.casework.quantities import fahrenheit, shown
from diagnose.corpus.figures import Figures, HoldTable, ResistanceRow, ResistanceTable
from diagnose.process import humidity, lethality

from . import published
from .work import Given, Parameter, Work

_ASHRAE = "ASHRAE Handbook - Fundamentals (2017), chapter 1 (recalled), checked against psychrolib"
_RESISTANCE = ("salmonella-pork-franks", "listeria-pork-franks", "listeria-ham-resistant", "listeria-70-c")


def _pressure(given: Given) -> float:
    return humidity.pressure_at_altitude(given["altitude"])


def _humidity(given: Given) -> Iterator[Value]:
    pressure = _pressure(given)
    found = humidity.relative_humidity(given["dry"], given["wet"], pressure)
    yield Value("humidity", "Relative humidity", found, "%", "")
    yield Value(
        "dew-point", "Dew point", humidity.dew_point_from_wet_bulb(given["dry"], given["wet"], pressure), "°C", ""
    )


def _wet_bulb(given: Given) -> Iterator[Value]:
    found = humidity.wet_bulb_for(given["dry"], given["humidity"], _pressure(given))
    yield Value("wet-bulb", "Wet bulb to set", found, "°C", "")


def _surface(given: Given) -> Iterator[Value]:
    found = humidity.surface_moisture(
        given["surface"], given["dry"], given["wet"], _pressure(given), water_activity=given["water-activity"]
    )
    yield Value("dew-point", "Dew point of the air", found.dew_point_c, "°C", "")
    note = {
        "sweats": "Water gathers on the surface.",
        "takes-up-water": "The surface draws water from the air.",
        "dries": "The surface dries.",
        "close": "Too close to tell.",
    }[found.state]
    yield Value("above-dew-point", "Surface less dew point", found.above_dew_point_c, "°C", "", note=note)


def _hold(given: Given) -> Iterator[Value | Found]:
    table = given.figures.table(given.words["table"], HoldTable)
    if table is None:
        raise ValueError("this knowledge has no such table")
    row = published.row_at(table, given["core"])
    if row is None:
        raise ValueError(f"the table gives no time for a core as cold as {given['core']:.4g} °C: no cook by this table")
    trusted = Value("lethality-row", "Temperature of the row relied on", row[0], "°C", "")
    yield from compared(trusted, published.limits(given, "lethality-row", "pumped"))
    at_once = f"none; the core only has to reach {row[0]:g} °C ({fahrenheit(row[0]):.0f} °F)"
    yield Result(
        "hold",
        "Time that the table asks at this core",
        row[1] or at_once,
        "min" if row[1] else "",
        "",
        bound=published.row_bound(table, row) if row[1] else None,
        note=published.ONE_ROW,
        basis=() if row[1] else table.basis,
    )


def _killed(given: Given) -> Iterator[Value | Found]:
    use = _organism(given.figures, given.words["organism"])
    core = given.core("chart")
    found = lethality.lethality(
        core.minutes,
        [min(value, use.hottest_c) for value in core.celsius],
        d_minutes=use.d_minutes,
        reference_c=use.reference_c,
        z_c=use.row.z_c,
        target_logs=given["logs"],
        counted_from_c=use.coldest_c,
    )
    logs = min(found.log_reduction, lethality.MOST_LOGS)
    more = found.log_reduction > lethality.MOST_LOGS
    note = f"{'Fewer than' if found.log_reduction < given['logs'] else 'At least'} the {given['logs']:g} aimed at."
    value = Value("logs", "Tenfold reductions", logs, "log", "", note=note, more_than=more)
    salmonella = given.words["organism"].startswith("salmonella")
    yield from compared(value, published.limits(given, "salmonella-logs", "pumped") if salmonella else ())
    f = Value(
        "f",
        f"F at {use.reference_c:g} °C",
        min(found.f_minutes, lethality.MOST_LOGS * use.d_minutes),
        "min",
        "",
        note=use.words,
        basis=use.row.basis,
        more_than=more,
    )
    listeria = given.words["organism"] == "listeria-70-c"
    yield from compared(f, published.limits(given, "f70", "pumped") if listeria else ())
    yield from published.chart_held(given, core)


def _still_needed(given: Given) -> Iterator[Value | Found]:
    use = _organism(given.figures, given.words["organism"])
    use.check(given["hold"])
    core = given.core("chart")
    found = lethality.minutes_still_needed(
        core.minutes,
        [min(value, use.hottest_c) for value in core.celsius],
        given["hold"],
        d_minutes=use.d_minutes,
        reference_c=use.reference_c,
        z_c=use.row.z_c,
        target_logs=given["logs"],
        counted_from_c=use.coldest_c,
    )
    yield from published.wanted_logs(given)
    if found > 0:
        short = f"the chart is {shown(found, 'min')} at {given['hold']:.4g} °C short of a drop of {given['logs']:g} log"
        yield RecordCaution("undercook-hold", short)
    title = f"Time still needed at {given['hold']:.4g} °C for a drop of {given['logs']:g} log (tenfold reductions)"
    yield Value("minutes", title, found, "min", "", note=use.words, basis=use.row.basis)
    yield from published.chart_held(given, core)


def _hold_for(given: Given) -> Iterator[Value | Found]:
    use = _organism(given.figures, given.words["organism"])
    use.check(given["core"])
    found = lethality.hold_minutes_needed(
        given["logs"], given["core"], d_minutes=use.d_minutes, reference_c=use.reference_c, z_c=use.row.z_c
    )
    yield from published.wanted_logs(given)
    note = f"{use.words} A sum from D and z, no rule. {published.ONE_ROW}"
    title = f"Time at {given['core']:.4g} °C for a drop of {given['logs']:g} log (tenfold reductions)"
    value = Value("minutes", title, found, "min", "", note=note, basis=use.row.basis)
    yield from published.hold_beside_table(given, value, given["core"])


@dataclass(frozen=True, slots=True)
class _Use:
    """The D and z of an organism, with the temperatures between which they may be used."""

    row: ResistanceRow
    reference_c: float
    d_minutes: float
    coldest_c: float
    hottest_c: float

    @property
    def words(self) -> str:
        """What was used, for the person who reads the result."""
        return (
            f"{self.row.organism} in {self.row.product}: D {self.d_minutes:g} min at {self.reference_c:g} °C, z"
            f" {self.row.z_c:g} °C; counted from {self.coldest_c:g} °C, and no faster than at {self.hottest_c:g} °C."
        )

    def check(self, celsius: float) -> None:
        """Raises ValueError for a temperature at which these figures were not measured."""
        if not self.coldest_c <= celsius <= self.hottest_c:
            raise ValueError(
                f"these D and z may be used from {self.coldest_c:g} to {self.hottest_c:g} °C, not at {celsius:.4g} °C"
            )


_REACH_C = 10.0
"""Where only one D was published, D and z are used no farther from it than this (our own rule)."""


def _organism(figures: Figures, name: str) -> _Use:
    table = figures.table("heat-resistance", ResistanceTable)
    row = next((one for one in table.rows if one.id == name), None) if table is not None else None
    if row is None:
        raise ValueError(f"this knowledge has no heat resistance called {name}")
    if row.reference_c is not None and row.d_minutes is not None:
        return _Use(row, row.reference_c, row.d_minutes, row.reference_c - _REACH_C, row.reference_c + _REACH_C)
    reference, d = min(row.points, key=lambda point: abs(point[0] - 60.0))
    measured = [point[0] for point in row.points]
    return _Use(row, reference, d, min(measured), max(measured))


_ALTITUDE = Parameter("altitude", "altitude", "of the plant", -400, 5000, default=0.0)
_DRY = Parameter("dry", "temperature", "dry bulb", -35, 150)
_WET = Parameter("wet", "temperature", "wet bulb", -35, 100)
_ORGANISM = Parameter("organism", "choice", "whose D and z", default="salmonella-pork-franks", choices=_RESISTANCE)
_LOGS = Parameter("logs", "plain", "tenfold reductions wanted", 0.1, lethality.MOST_LOGS, default=6.5)
_CORE_CHART = Parameter("chart", "chart", "CSV file with time and core")
_BIGELOW = "Bigelow (1921) and Stumbo (1973), recalled; D and z of the table heat-resistance"
WORKS = (
    Work(
        "humidity", "Relative humidity and dew point from dry and wet bulb", (_DRY, _WET, _ALTITUDE), _humidity, _ASHRAE
    ),
    Work(
        "wet-bulb-for",
        "Wet bulb to set for a wanted humidity",
        (_DRY, Parameter("humidity", "share", "wanted relative humidity", 0, 100), _ALTITUDE),
        _wet_bulb,
        _ASHRAE,
        backwards=True,
    ),
    Work(
        "surface",
        "Does a surface dry or sweat in this air",
        (
            Parameter("surface", "temperature", "of the surface", -10, 100),
            _DRY,
            _WET,
            Parameter("water-activity", "plain", "of the surface; 1 for wet meat", 0.3, 1, default=1.0),
            _ALTITUDE,
        ),
        _surface,
        _ASHRAE,
    ),
    Work(
        "table-hold",
        "Time that the cooking table asks at a core temperature",
        (
            Parameter("core", "temperature", "lowest core temperature that is kept", 40, 100),
            Parameter(
                "table",
                "choice",
                "which table",
                default="lethality-meat-6-5-log",
                choices=("lethality-meat-6-5-log", "lethality-meat-7-log"),
            ),
        ),
        _hold,
        "cooking table of FSIS (1999), as copied",
    ),
    Work(
        "lethality",
        "Killing added up over a core chart",
        (_CORE_CHART, _ORGANISM, _LOGS, published.COOKED_PRODUCT),
        _killed,
        _BIGELOW,
    ),
    Work(
        "time-still-needed",
        "Time still to hold the core after a chart",
        (
            _CORE_CHART,
            Parameter("hold", "temperature", "core temperature to hold", 40, 100),
            _ORGANISM,
            _LOGS,
            published.COOKED_PRODUCT,
        ),
        _still_needed,
        _BIGELOW,
        backwards=True,
    ),
    Work(
        "hold-for",
        "Time at a steady core for a number of tenfold reductions",
        (
            Parameter("core", "temperature", "steady core temperature", 50, 90),
            _ORGANISM,
            _LOGS,
            published.COOKED_PRODUCT,
        ),
        _hold_for,
        _BIGELOW,
        backwards=True,
    ),
)
