"""Cooking against a guideline: rows are never read between, stays are unbroken, options say what is missing."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.process import heating
from diagnose.process.comparing import Side
from diagnose.process.figures import Figure, worst

ROWS = [(54.44, 112.0), (60.0, 12.0), (62.78, 4.0), (70.0, 0.0)]


def test_hold_is_that_of_the_row_below() -> None:
    """Between rows the colder row's longer time is asked; a hotter core never gets a time of its own."""
    assert heating.required_hold_minutes(ROWS, 61.9) == 12.0
    assert heating.required_hold_minutes(ROWS, 62.777777) == 4.0
    assert heating.required_hold_minutes(ROWS, 80.0) == 0.0
    with pytest.raises(ValueError, match="coldest row"):
        heating.required_hold_minutes(ROWS, 54.0)


@pytest.mark.parametrize("rows", [[], [(60.0, 4.0), (62.0, 5.0)], [(60.0, 4.0), (60.0, 4.0)]])
def test_faulty_tables_are_refused(rows: list[tuple[float, float]]) -> None:
    """A table without rows, or one that asks more time at a higher temperature, is a slip and is refused."""
    with pytest.raises(ValueError, match="table"):
        heating.required_hold_minutes(rows, 65.0)


def test_two_short_stays_do_not_make_one() -> None:
    """Two stays of two minutes do not meet a row of four."""
    minutes = [0.0, 1.0, 3.0, 4.0, 5.0, 6.0, 8.0, 9.0]
    celsius = [50.0, 63.0, 63.0, 58.0, 58.0, 63.0, 63.0, 50.0]
    found = heating.table_hold(minutes, celsius, ROWS)
    assert found.side is Side.UNDER
    assert found.missing_minutes > 0


def test_row_met_at_once() -> None:
    """Touching the row of no waiting time meets the table."""
    found = heating.table_hold([0.0, 10.0, 11.0], [20.0, 70.0, 60.0], ROWS)
    assert (found.row_c, found.side, found.missing_minutes) == (70.0, Side.WITHIN, 0.0)


def test_cold_chart_meets_nothing() -> None:
    """A core that never reached the table's rows is short of all of them."""
    found = heating.table_hold([0.0, 100.0], [20.0, 50.0], ROWS)
    assert (found.held_minutes, found.side) == (0.0, Side.UNDER)


@settings(max_examples=60, deadline=None)
@given(hold_c=st.floats(54.5, 72), hold=st.floats(0.5, 200))
def test_flat_hold_is_judged_as_the_table_says(hold_c: float, hold: float) -> None:
    """For a flat hold the verdict is the plain comparison with the required time."""
    found = heating.table_hold([0.0, 1e-6, hold + 1e-6], [20.0, hold_c, hold_c], ROWS)
    asked = heating.required_hold_minutes(ROWS, hold_c)
    if abs(hold - asked) > 1e-3:
        assert (found.side is Side.WITHIN) == (hold > asked)


OPTION = heating.HumidityOption("half", counts="sealed", share_percent=50, minutes=60, core_c=62.78)


def test_option_with_a_gap_in_the_record_is_not_decided() -> None:
    """What was not recorded is neither within nor under; what is short stays short whatever is missing."""
    silent = heating.humidity_outcome(OPTION, heating.CookRecord(cook_minutes=200, sealed_minutes=150))
    assert silent.side is None
    short = heating.humidity_outcome(OPTION, heating.CookRecord(cook_minutes=200, sealed_minutes=90))
    assert short.side is Side.UNDER
    assert [f.beyond for f in short.figures] == [pytest.approx(10.0), 0.0]


def test_dry_oven_option_compares_oven_and_piece() -> None:
    """The dry oven option asks heat and weight and no humidity."""
    option = heating.HumidityOption("dry", counts="dry-oven", oven_c=121.11, piece_kg=4.536)
    record = heating.CookRecord(cook_minutes=300, oven_lowest_c=125, piece_kg=7)
    assert heating.humidity_outcome(option, record).side is Side.WITHIN
    light = heating.CookRecord(cook_minutes=300, oven_lowest_c=125, piece_kg=4)
    assert heating.humidity_outcome(option, light).side is Side.UNDER


def test_option_refusals() -> None:
    """A part longer than the whole, a cook of no length, and an unknown option are refused."""
    with pytest.raises(ValueError, match="sealed time"):
        heating.humidity_outcome(OPTION, heating.CookRecord(cook_minutes=60, sealed_minutes=90))
    with pytest.raises(ValueError, match="cooking time"):
        heating.humidity_outcome(OPTION, heating.CookRecord(cook_minutes=0))
    with pytest.raises(ValueError, match="unknown humidity option"):
        heating.humidity_outcome(heating.HumidityOption("odd", counts="foggy"), heating.CookRecord(cook_minutes=60))


def test_humid_time_from_two_charts() -> None:
    """Time at 90 % is read off the bulbs' charts: all of it when the bulbs are equal, none when they are far apart."""
    time = [0.0, 30.0, 60.0]
    assert heating.minutes_at_humidity(time, [70.0] * 3, [69.9] * 3, 90.0) == pytest.approx(60.0)
    assert heating.minutes_at_humidity(time, [70.0] * 3, [50.0] * 3, 90.0) == 0.0


def test_worst_of_figures() -> None:
    """Over and under outrank what is not shown, which outranks within; of nothing nothing is said."""
    assert worst([Side.WITHIN, None, Side.UNDER]) is Side.UNDER
    assert worst([Side.WITHIN, None]) is None
    assert worst([Side.UNDER, Side.OVER]) is Side.OVER
    assert worst([]) is None
    assert Figure("start", "min", 90.0, 100.0, at_most=True).beyond == pytest.approx(10.0)
