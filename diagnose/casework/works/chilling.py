"""Cooling after the cook, chilling of the leg, and treatments against trichinae."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal, cast

from diagnose.casework.against_limits import Found
from diagnose.casework.computing.values import Value
from diagnose.casework.cooling_results import Chill, chill_caution, judge, option_lines
from diagnose.corpus.figures import CoolingTable, ThermalTable, TrichinaeTable
from diagnose.process import chilling, trichinae

from . import published
from .work import Given, Parameter, Work

Shape = Literal["slab", "cylinder", "sphere"]


def _options(given: Given) -> Iterator[Value | Found]:
    table = given.figures.table("cooling-options", CoolingTable)
    core = given.core("chart")
    if table is None:
        raise ValueError("this knowledge has no cooling options")
    chill = Chill(
        core, given.get("delay"), given.get("nitrite"), given.get("erythorbate"), given.get("water-phase-salt")
    )
    judged = judge(chill, table, given.words["rules"])
    yield from chill_caution(judged)
    for row, outcome in judged:
        yield from option_lines(row, outcome, row.id)


def _chill_time(given: Given) -> Iterator[Value]:
    table = given.figures.table("thermal-properties", ThermalTable)
    figures = {row.id: row for row in table.rows} if table else {}
    if not {"ham-conductivity", "ham-diffusivity"} <= set(figures):
        raise ValueError("this knowledge has no thermal figures of ham")
    minutes = chilling.chill_minutes(
        cast(Shape, given.words["shape"]),
        given["thickness"] / 2000,
        given["start"],
        given["air"],
        given["target"],
        conductivity=figures["ham-conductivity"].value,
        diffusivity=figures["ham-diffusivity"].value,
        surface_coefficient=given["coefficient"],
    )
    note = f"One material, steady air: to compare and to plan. The probe decides. {_NO_VERDICT}"
    yield Value("minutes", "Time for the middle", minutes, "min", "", note=note, basis=figures["ham-diffusivity"].basis)


def _forecast(given: Given) -> Iterator[Value]:
    core = given.core("chart")
    line = chilling.cooling_line(core.minutes, core.celsius, given["air"])
    yield Value("half", "Time in which the difference to the air halves", line.half_minutes, "min", "")
    at = line.minute_at(given["target"])
    yield Value("minute", "Minute of the chart at which the core reaches it", at, "min", "")
    still = max(0.0, at - core.minutes[-1])
    yield Value("still", "Time still needed after the last reading", still, "min", "", note=_NO_VERDICT)


def _heating(given: Given) -> Iterator[Value | Found]:
    table = _table(given, "trichinae-heating")
    rows: Sequence[trichinae.HeatingRow] = [
        {"internal-f": row.internal_f, "minutes": row.minutes}
        for row in table.rows
        if row.internal_f is not None and row.minutes is not None
    ]
    found = trichinae.heating_minutes(given["core"], rows)
    value = Value("minutes", "Time against trichinae alone", found, "min", "", note=_OLD_RULE, basis=table.basis)
    yield from published.hold_beside_table(given, value, given["core"])


def _freezing(given: Given) -> Iterator[Value]:
    table = _table(given, "trichinae-freezing")
    rows: Sequence[trichinae.FreezingRow] = [
        {"room-f": row.room_f, "thickest-inches": row.thickest_inches, "days": row.days}
        for row in table.rows
        if row.room_f is not None and row.thickest_inches is not None and row.days is not None
    ]
    found = trichinae.freezing_days(given["room"], given["thickness"] / 10, rows)
    yield Value("days", "Days that the table asks", found, "days", "", note=_OLD_RULE, basis=table.basis)


def _table(given: Given, name: str) -> TrichinaeTable:
    table = given.figures.table(name, TrichinaeTable)
    if table is None:
        raise ValueError(f"this knowledge has no table {name}")
    return table


_OLD_RULE = "The former US rule, withdrawn in 2018; it says nothing of Salmonella, Listeria or other hazards."
_NO_VERDICT = "It says nothing of the published cooling times: put the chart to diagnose work cooling."
_CHART = Parameter("chart", "chart", "CSV file with time and core")
_FSIS = "cooling options of FSIS (1999, as quoted; 2021, recalled) and of UK good practice (1998)"
WORKS = (
    Work(
        "cooling",
        "A chill chart against every cooling option",
        (
            _CHART,
            Parameter("delay", "time", "end of the cook to start of chilling", 0, 1440, optional=True),
            Parameter("nitrite", "ppm", "ingoing nitrite", 0, 5000, optional=True),
            Parameter("erythorbate", "ppm", "ingoing erythorbate or ascorbate", 0, 5000, optional=True),
            Parameter("water-phase-salt", "share", "salt in the water phase", 0, 26, optional=True),
            published.RULES,
        ),
        _options,
        _FSIS,
    ),
    Work(
        "chill-time",
        "Time for the middle of a ham to chill",
        (
            Parameter("thickness", "length", "thickness or diameter", 4, 1000),
            Parameter("start", "temperature", "at the start", -5, 100),
            Parameter("air", "temperature", "of the air or water", -40, 60),
            Parameter("target", "temperature", "wanted in the middle", -1, 90),
            Parameter("shape", "choice", "nearest shape", default="cylinder", choices=("slab", "cylinder", "sphere")),
            Parameter("coefficient", "plain", "surface coefficient, W/(m² K); 5 to 20 in air", 1, 3000, default=9.1),
        ),
        _chill_time,
        "Fourier's series; thermal figures of ham from the table thermal-properties",
        backwards=True,
    ),
    Work(
        "chill-forecast",
        "When a chill chart will reach a temperature",
        (
            _CHART,
            Parameter("air", "temperature", "of the air, steady", -40, 60),
            Parameter("target", "temperature", "wanted in the core", -2, 90),
        ),
        _forecast,
        "straight line of the logarithm of the difference (ASHRAE Refrigeration, recalled)",
        backwards=True,
    ),
    Work(
        "trichinae-heating",
        "Time at a core temperature against trichinae",
        (Parameter("core", "temperature", "lowest core temperature", 40, 100),),
        _heating,
        "9 CFR 318.10 as it stood, reposted",
    ),
    Work(
        "trichinae-freezing",
        "Days in a freezer against trichinae",
        (
            Parameter("room", "temperature", "warmest of the freezer", -60, 0),
            Parameter("thickness", "length", "of the piece or pack", 1, 1000),
        ),
        _freezing,
        "9 CFR 318.10 as it stood, reposted",
    ),
)
