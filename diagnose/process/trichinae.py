"""Trichinae in pork: which product needs a treatment, and how a heating, freezing or dry-cure record stands to the tables.

The tables are the former US rule, 9 CFR 318.10 (withdrawn in 2018, when plants were left to show control in their own
plan; states and other countries still hold the figures). They are data (knowledge/tables/trichinae-*.yaml) and come in
as rows in degrees F, as published. A row is met as a whole or not at all: nothing is interpolated, no two rows are added.
These treatments say nothing about Salmonella, Listeria or other hazards.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypedDict, TypeVar

from diagnose.process.ranges import require, require_positive

HeatingRow = TypedDict("HeatingRow", {"internal-f": float, "minutes": float})
FreezingRow = TypedDict("FreezingRow", {"room-f": float, "thickest-inches": float, "days": float})
ColdRow = TypedDict("ColdRow", {"internal-f": float, "hours": float})
DryCureRow = TypedDict(
    "DryCureRow",
    {"cure-days": float, "cure-f": float, "salt-percent": float, "drying-f": float, "drying-days": float},
)

_Row = TypeVar("_Row")

_CM_PER_INCH = 2.54
_ROUNDED_C = 0.09  # F; half of a tenth of a degree C, as the cold rows were printed in C so rounded
_EXACT = 0.005  # F; only what converting C to F leaves


@dataclass(frozen=True, slots=True)
class Treatment:
    """How a record stands to one row of a table: the figure reached, the published one, and what is still missing."""

    at_f: float
    reached: float
    published: float
    still_needed: float
    unit: str
    met: bool


def treatment_needed(
    holds_pork_muscle: bool, cooked_by_the_eater: bool, from_free_source: bool, cooked_through_here: bool = False
) -> bool:
    """Whether a product is of the kind that the rule wanted treated.

    Yes for pork muscle that is eaten without being cooked first (dry-cured hams, coppa, dried sausage, hams that only
    look cooked), unless the pork is from a source shown free of trichinae or the product is fully cooked in the plant by
    a lethality process of its own. Fresh pork, bacon and jowls are customarily cooked by the eater.
    Source: 9 CFR 318.10(a)-(b) as it stood (seen).
    """
    return holds_pork_muscle and not cooked_by_the_eater and not from_free_source and not cooked_through_here


def heating_minutes(internal_c: float, rows: Sequence[HeatingRow]) -> float:
    """Minutes that the table asks for at an internal temperature: the row at or next below it. -10 to 100 C.

    Raises:
        ValueError: the temperature is out of range or below the lowest row.
    """
    fahrenheit = _fahrenheit("internal temperature", internal_c, -10, 100)
    reached = [row for row in _rows(rows) if row["internal-f"] <= fahrenheit + _EXACT]
    if not reached:
        lowest = min(row["internal-f"] for row in rows)
        raise ValueError(f"the table starts at {lowest:g} F ({(lowest - 32) / 1.8:.1f} C), above {internal_c:g} C")
    return max(reached, key=lambda row: row["internal-f"])["minutes"]


def freezing_days(room_c: float, thickness_cm: float, rows: Sequence[FreezingRow]) -> float:
    """Days that the table asks for in a freezer at a temperature, for pieces or packs of a thickness (smallest side).

    The room must stay at or below a row's temperature; among the rows for which it does, in the smallest thickness group
    that holds the piece, the coldest asks for the fewest days. -60 to 0 C, thickness up to the table's last group. A room that
    misses a row by less than 0.05 C, the rounding of its printed C, counts as meeting it.

    Raises:
        ValueError: a number is out of range, the room is warmer than every row, or the piece thicker than every group.
    """
    fahrenheit = _fahrenheit("freezer temperature", room_c, -60, 0)
    require_positive("thickness", thickness_cm, "cm")
    inches = require("thickness", thickness_cm, 0, 200, "cm") / _CM_PER_INCH
    cold_enough = [row for row in _rows(rows) if fahrenheit <= row["room-f"] + _ROUNDED_C]
    if not cold_enough:
        warmest = max(row["room-f"] for row in rows)
        raise ValueError(
            f"the table starts at {warmest:g} F ({(warmest - 32) / 1.8:.1f} C) or colder, not {room_c:g} C"
        )
    fitting = [row for row in cold_enough if inches <= row["thickest-inches"] + 1e-9]
    if not fitting:
        thickest = max(row["thickest-inches"] for row in cold_enough) * _CM_PER_INCH
        raise ValueError(f"the table ends at {thickest:.1f} cm, below {thickness_cm:g} cm")
    group = min(row["thickest-inches"] for row in fitting)
    return min(row["days"] for row in fitting if row["thickest-inches"] == group)


def internal_freezing_hours(internal_c: float, rows: Sequence[ColdRow]) -> float:
    """Hours that the table asks for at an internal temperature of the frozen meat, or colder. -60 to 0 C.

    A temperature that misses a row by less than 0.05 C, the rounding of its printed C, counts as meeting it.

    Raises:
        ValueError: the temperature is out of range or warmer than every row.
    """
    fahrenheit = _fahrenheit("internal temperature", internal_c, -60, 0)
    reached = [row for row in _rows(rows) if fahrenheit <= row["internal-f"] + _ROUNDED_C]
    if not reached:
        warmest = max(row["internal-f"] for row in rows)
        raise ValueError(
            f"the table starts at {warmest:g} F ({(warmest - 32) / 1.8:.1f} C) or colder, not {internal_c:g} C"
        )
    return min(row["hours"] for row in reached)


def heating_from_chart(
    minutes: Sequence[float], internal_c: Sequence[float], rows: Sequence[HeatingRow]
) -> tuple[Treatment, ...]:
    """Each row of the heating table beside a core chart: the longest unbroken time at or above the row's temperature.

    `minutes` rises; `internal_c` holds the coldest point at those times, straight lines between. Rows come back hottest
    first; the record meets the table if any one row is met. A row of 0 minutes is met by touching its temperature.

    Raises:
        ValueError: fewer than two readings, lists of unequal length, times that do not rise, or a temperature out of range.
    """
    if len(minutes) != len(internal_c) or len(minutes) < 2:
        raise ValueError("a chart needs two readings or more, with one temperature for each time")
    if any(later <= earlier for earlier, later in pairwise(minutes)):
        raise ValueError("the times of a chart must rise")
    curve = [_fahrenheit("internal temperature", value, -10, 120) for value in internal_c]
    found = []
    for row in sorted(_rows(rows), key=lambda row: -row["internal-f"]):
        level = row["internal-f"] - _EXACT
        held = _longest_above(minutes, curve, level)
        met = held >= row["minutes"] - 1e-9 and max(curve) >= level
        missing = 0.0 if met else max(0.0, row["minutes"] - held)
        found.append(Treatment(row["internal-f"], held, row["minutes"], missing, "minutes", met))
    return tuple(found)


def dry_cure_against_table(
    rows: Sequence[DryCureRow],
    *,
    cure_days: float,
    coldest_cure_c: float,
    salt_percent: float,
    drying_c: float,
    drying_days: float,
) -> tuple[Treatment, ...]:
    """A dry-cured ham's record beside each row: days in salt, coldest cure, salt on green weight, drying heat and days.

    `at_f` and the figures of each `Treatment` are those of the drying, the step that kills; `met` asks for the whole
    row. Cure 0 to 400 days, -5 to 30 C, salt 0 to 20 per cent; drying -5 to 60 C, 0 to 1000 days.

    Raises:
        ValueError: a number lies outside its range or the table is empty.
    """
    require("days in cure", cure_days, 0, 400, "days")
    require("salt", salt_percent, 0, 20, "per cent of green weight")
    require("drying time", drying_days, 0, 1000, "days")
    cure_f = _fahrenheit("coldest cure temperature", coldest_cure_c, -5, 30) + _EXACT
    drying_f = _fahrenheit("drying temperature", drying_c, -5, 60) + _EXACT
    found = []
    for row in _rows(rows):
        cured = cure_days >= row["cure-days"] and cure_f >= row["cure-f"] and salt_percent >= row["salt-percent"]
        days = drying_days if drying_f >= row["drying-f"] else 0.0
        missing = max(0.0, row["drying-days"] - days)
        met = cured and not missing
        found.append(Treatment(row["drying-f"], days, row["drying-days"], missing, "days of drying", met))
    return tuple(found)


def _longest_above(minutes: Sequence[float], curve: Sequence[float], level: float) -> float:
    longest = run = 0.0
    for at in range(1, len(curve)):
        start, end = curve[at - 1], curve[at]
        span = minutes[at] - minutes[at - 1]
        if start >= level and end >= level:
            run += span
        elif start >= level:
            run += span * (start - level) / (start - end)
            longest, run = max(longest, run), 0.0
        elif end >= level:
            run = span * (end - level) / (end - start)
        longest = max(longest, run)
    return longest


def _fahrenheit(quantity: str, celsius: float, low: float, high: float) -> float:
    return require(quantity, celsius, low, high, "C") * 1.8 + 32


def _rows(rows: Sequence[_Row]) -> Sequence[_Row]:
    if not rows:
        raise ValueError("the table is empty")
    return rows
