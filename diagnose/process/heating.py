"""A cook against a guideline: rows of temperature and time for the core, and options for the humidity of the house.

A row says: keep the coldest spot at this temperature or hotter for so long, while one of the humidity options keeps the
surface moist. Times are minutes, temperatures °C. Rows and options are data and come in as arguments. A cook that meets a
row and an option is within the published figure; that does not clear the product. For the killing added up over the whole
chart see lethality.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from diagnose.process import charts
from diagnose.process.comparing import Side
from diagnose.process.figures import Figure, worst
from diagnose.process.humidity import STANDARD_PRESSURE_PA, relative_humidity
from diagnose.process.ranges import require, require_positive

Row = Sequence[float]  # (°C, minutes)

ROUNDING_C = 0.006  # a whole °F kept as °C to a hundredth may be off by this much


def _checked_rows(rows: Sequence[Row]) -> list[tuple[float, float]]:
    if not rows:
        raise ValueError("the table has no rows")
    ordered = sorted((float(c), float(m)) for c, m in rows)
    for (colder, longer), (hotter, shorter) in pairwise(ordered):
        if not (colder < hotter and longer >= shorter >= 0):
            raise ValueError(f"the table must ask less time at a higher temperature; it does not at {hotter:g} °C")
    return ordered


def required_hold_minutes(rows: Sequence[Row], celsius: float) -> float:
    """Minutes that a guideline table asks at `celsius`: the row at or next below it, never a value between rows.

    rows: (°C, minutes). Above the hottest row that row's time holds. ValueError below the coldest row: the table gives no
    time there. Source: the way FSIS Appendix A words its table, as a minimum temperature kept for at least a time.
    """
    ordered = _checked_rows(rows)
    reached = [minutes for row_c, minutes in ordered if row_c <= celsius + ROUNDING_C]
    if not reached:
        raise ValueError(f"{celsius:g} °C is below the table's coldest row, {ordered[0][0]:g} °C")
    return reached[-1]


@dataclass(frozen=True, slots=True)
class TableHold:
    """The table row that the chart comes nearest to, or goes furthest past.

    row_c: °C. published_minutes, held_minutes: asked, and longest unbroken stay at or above row_c.
    missing_minutes: 0 when within. peak_c: the hottest reading, °C. side: within or under the published figure.
    """

    row_c: float
    published_minutes: float
    held_minutes: float
    missing_minutes: float
    peak_c: float
    side: Side


def table_hold(minutes: Sequence[float], celsius: Sequence[float], rows: Sequence[Row]) -> TableHold:
    """Compare a core chart (minutes, °C) with a guideline's rows (°C, minutes) by the longest unbroken stay at each row.

    Rows are not added to each other: one row must be met by itself. ValueError for a faulty chart or table.
    Source: as required_hold_minutes.
    """
    best: tuple[float, TableHold] | None = None
    for row_c, asked in _checked_rows(rows):
        stays = charts.stays_at_or_above(minutes, celsius, row_c - ROUNDING_C)
        held = max((end - start for start, end in stays), default=0.0)
        met = bool(stays) and held >= asked - 1e-6  # a floating-point crumb is not a fault
        share = math.inf if met and asked == 0 else held / asked if asked > 0 else 0.0
        missing, side = (0.0, Side.WITHIN) if met else (asked - held, Side.UNDER)
        outcome = TableHold(row_c, asked, held, missing, float(max(celsius)), side)
        if best is None or share > best[0]:
            best = (share, outcome)
    assert best is not None
    return best[1]


@dataclass(frozen=True, slots=True)
class HumidityOption:
    """One way of a guideline to keep the surface moist while cooking.

    counts: what is timed, `humid` (at or above humidity_percent), `steam` (steam let in without a break), `sealed` (oven
    shut), or `dry-oven` (no humidity asked, but oven_c and piece_kg). share_percent: of the cooking time. minutes: at
    least. core_c, oven_c, piece_kg: lowest core peak, lowest oven temperature, lightest piece; None = not asked.
    """

    id: str
    counts: str
    share_percent: float = 0.0
    minutes: float = 0.0
    humidity_percent: float | None = None
    core_c: float | None = None
    oven_c: float | None = None
    piece_kg: float | None = None


@dataclass(frozen=True, slots=True)
class CookRecord:
    """What the plant's records show of one cook; None = not recorded. Minutes, °C, kg."""

    cook_minutes: float
    humid_minutes: float | None = None
    steam_minutes: float | None = None
    sealed_minutes: float | None = None
    core_peak_c: float | None = None
    oven_lowest_c: float | None = None
    piece_kg: float | None = None


@dataclass(frozen=True, slots=True)
class HumidityOutcome:
    """A cook against one humidity option; side is the worst of its figures, None when something is not recorded."""

    option: str
    figures: tuple[Figure, ...]

    @property
    def side(self) -> Side | None:
        return worst(f.side for f in self.figures)


def humidity_outcome(option: HumidityOption, record: CookRecord) -> HumidityOutcome:
    """Compare a cook's record with one humidity option; each figure with its published and measured value.

    ValueError when the cooking time is not above 0, a timed part is longer than the cook, or `counts` is unknown.
    Source: FSIS Appendix A (1999, 2012; as quoted) for the form of the options.
    """
    require_positive("cooking time", record.cook_minutes, "min")
    timed = {"humid": record.humid_minutes, "steam": record.steam_minutes, "sealed": record.sealed_minutes}
    for name, value in timed.items():
        if value is not None:
            require(f"{name} time", value, 0.0, record.cook_minutes, "min")
    figures = []
    if option.counts in timed:
        asked = max(option.minutes, option.share_percent / 100.0 * record.cook_minutes)
        figures.append(Figure(f"{option.counts} time", "min", asked, timed[option.counts]))
    elif option.counts != "dry-oven":
        raise ValueError(f"unknown humidity option: it counts {option.counts!r}")
    for name, unit, asked_for, measured in (
        ("core peak", "°C", option.core_c, record.core_peak_c),
        ("lowest oven temperature", "°C", option.oven_c, record.oven_lowest_c),
        ("weight of a piece", "kg", option.piece_kg, record.piece_kg),
    ):
        if asked_for is not None:
            figures.append(Figure(name, unit, asked_for, measured))
    return HumidityOutcome(option.id, tuple(figures))


def minutes_at_humidity(
    minutes: Sequence[float],
    dry_bulb_c: Sequence[float],
    wet_bulb_c: Sequence[float],
    at_least_percent: float,
    pressure_pa: float = STANDARD_PRESSURE_PA,
) -> float:
    """Minutes that the house was at or above a relative humidity, from its dry- and wet-bulb charts (°C) on one time list.

    Humidity is worked out at each reading and joined by straight lines. ValueError for faulty charts, unequal lists, or a
    reading that humidity.relative_humidity refuses.
    """
    charts.checked(minutes, dry_bulb_c)
    charts.checked(minutes, wet_bulb_c)
    humidity = [relative_humidity(d, w, pressure_pa) for d, w in zip(dry_bulb_c, wet_bulb_c, strict=True)]
    return charts.minutes_at_or_above(minutes, humidity, at_least_percent)
