"""The guideline tables that ship as data: in order with each other, with their law, and with the functions that take them."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import pytest

from diagnose.process import cooling, heating, lethality

ROOT = Path(__file__).resolve().parents[3]
TABLES = ROOT / "knowledge" / "tables"
sys.path.insert(0, str(ROOT / "tests" / "checks"))

import checklist  # noqa: E402


def _table(name: str) -> dict[str, Any]:
    table = checklist.read_yaml(TABLES / f"{name}.yaml")
    assert isinstance(table, dict)
    return table


def _fields(row: dict[str, Any], *kept: str) -> dict[str, Any]:
    return {name.replace("-", "_"): row[name] for name in kept if name in row}


def _options() -> list[cooling.CoolingOption]:
    kept = ("start-within-minutes", "nitrite-ppm", "accelerator-ppm", "brine-percent")
    return [
        cooling.CoolingOption(
            row["id"], tuple(cooling.CoolingRange(*map(float, r)) for r in row["ranges"]), **_fields(row, *kept)
        )
        for row in _table("cooling-options")["rows"]
    ]


@pytest.mark.parametrize("log", ["6-5", "7"])
def test_lethality_rows_run_from_130_to_158_fahrenheit(log: str) -> None:
    """Every whole degree Fahrenheit has its row, and time falls as temperature rises."""
    rows = _table(f"lethality-meat-{log}-log")["rows"]
    assert [round(c * 1.8 + 32, 1) for c, _ in rows] == [float(f) for f in range(130, 159)]
    for celsius, minutes in rows:
        assert heating.required_hold_minutes(rows, celsius) == minutes


def test_more_killing_asks_more_time() -> None:
    """No row of the 7-log table asks less than the same row of the 6.5-log table."""
    for (_, less), (_, more) in zip(
        _table("lethality-meat-6-5-log")["rows"], _table("lethality-meat-7-log")["rows"], strict=True
    ):
        assert more >= less


def test_rows_follow_the_law_they_were_made_by() -> None:
    """Each 6.5-log row is 112 min x 10^((130 - F)/10) to the whole minute or second: a slip of the pen would stand out."""
    for celsius, minutes in _table("lethality-meat-6-5-log")["rows"][:-1]:
        law = lethality.equivalent_minutes(112, 130 / 1.8 - 32 / 1.8, celsius, 10 / 1.8)
        assert minutes == pytest.approx(law, abs=1.0 if minutes >= 4 else 1.1 / 60)


def test_every_cooling_option_can_be_used() -> None:
    """Each option makes a record, has an id of its own, and takes a slow ham to be over its figures."""
    options = _options()
    assert len({o.id for o in options}) == len(options)
    for outcome in cooling.cooling_outcomes([0.0, 1500.0, 3000.0], [75.0, 30.0, 3.0], options):
        assert outcome.exceeded


def test_fast_ham_is_within_every_range() -> None:
    """A core that falls from 75 to 3 °C in an hour is within every range of every option."""
    for outcome in cooling.cooling_outcomes([0.0, 60.0], [75.0, 3.0], _options()):
        assert not outcome.exceeded
        assert all(r.complete for r in outcome.ranges)


def test_every_humidity_option_can_be_used() -> None:
    """Each humidity option is met by a long, humid, sealed, steamed, hot cook of a heavy piece."""
    record = heating.CookRecord(
        cook_minutes=300,
        humid_minutes=300,
        steam_minutes=300,
        sealed_minutes=300,
        core_peak_c=75,
        oven_lowest_c=180,
        piece_kg=8,
    )
    kept = ("id", "counts", "share-percent", "minutes", "humidity-percent", "core-c", "oven-c", "piece-kg")
    for row in _table("cooking-humidity-options")["rows"]:
        option = heating.HumidityOption(**_fields(row, *kept))
        assert heating.humidity_outcome(option, record).side is not None, row["id"]
        assert not any(f.beyond for f in heating.humidity_outcome(option, record).figures), row["id"]


def test_heat_resistance_fits_its_points() -> None:
    """Where D values are listed, the z beside them is the one they give."""
    for row in _table("heat-resistance")["rows"]:
        if "points" in row:
            assert lethality.z_value(row["points"]) == pytest.approx(row["z-c"], abs=0.06), row["id"]
