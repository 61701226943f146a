"""Cooling against options: the strict way of counting, what is not shown, and conditions of the recipe."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.process import cooling
from diagnose.process.comparing import Side

RAPID = cooling.CoolingOption(
    "rapid", (cooling.CoolingRange(54.44, 26.67, 90.0), cooling.CoolingRange(26.67, 4.44, 300.0))
)
CURED = cooling.CoolingOption(
    "cured",
    (cooling.CoolingRange(54.44, 26.67, 300.0),),
    start_within_minutes=90.0,
    nitrite_ppm=100.0,
    accelerator_ppm=250.0,
    brine_percent=6.0,
)


def test_cook_and_chill_on_one_chart() -> None:
    """The warm-up before the peak is not counted: a range begins on the way down."""
    minutes = [0.0, 200.0, 300.0, 320.0, 400.0, 650.0]
    celsius = [5.0, 60.0, 68.0, 54.44, 26.67, 4.0]
    found = cooling.cooling_outcome(minutes, celsius, RAPID)
    assert found.ranges[0].taken_minutes == pytest.approx(80.0)
    assert found.side is Side.WITHIN
    assert found.exceeded == ()


def test_rewarming_is_counted_in() -> None:
    """Core that warms again above the lower end is still in the range, so a door left open cannot shorten the time."""
    minutes = [0.0, 60.0, 90.0, 120.0, 200.0]
    celsius = [54.44, 25.0, 30.0, 20.0, 4.0]
    assert cooling.minutes_in_range(minutes, celsius, 54.44, 26.67) == pytest.approx(90 + 30 * 3.33 / 10)


def test_time_equal_to_the_figure_is_within() -> None:
    """Exactly the published minutes is within; a minute more is over by one."""
    exact = cooling.cooling_outcome([0.0, 90.0, 390.0], [54.44, 26.67, 4.44], RAPID)
    assert exact.side is Side.WITHIN
    more = cooling.cooling_outcome([0.0, 91.0, 391.0], [54.44, 26.67, 4.44], RAPID)
    assert [r.over_by_minutes for r in more.exceeded] == [pytest.approx(1.0)]


def test_chart_that_begins_inside_a_range_shows_too_little() -> None:
    """A probe put in late proves nothing about the first range unless that is already over."""
    late = cooling.cooling_outcome([0.0, 60.0, 300.0], [50.0, 26.67, 4.44], RAPID)
    assert (late.ranges[0].complete, late.ranges[0].side) == (False, None)
    assert late.side is None
    slow = cooling.cooling_outcome([0.0, 100.0, 300.0], [50.0, 26.67, 4.44], RAPID)
    assert slow.side is Side.OVER


def test_chart_that_stops_early() -> None:
    """A chart still warm at its end is not within, and is over as soon as the figure has passed."""
    early = cooling.cooling_outcome([0.0, 60.0], [54.44, 40.0], RAPID)
    assert (early.ranges[0].side, early.ranges[0].left_minutes) == (None, pytest.approx(30.0))
    never = cooling.cooling_outcome([0.0, 95.0], [60.0, 55.0], RAPID)
    assert never.ranges[0].taken_minutes == 0.0
    assert never.side is None


def test_cold_chart_shows_nothing() -> None:
    """A chart that was never warm cannot speak for the cooling."""
    assert cooling.cooling_outcome([0.0, 60.0], [4.0, 3.0], RAPID).side is None


def test_conditions() -> None:
    """Each condition is compared when recorded and left open when not; less than asked is under."""
    chart = ([0.0, 200.0], [54.44, 26.0])
    silent = cooling.cooling_outcome(*chart, CURED)
    assert [c.side for c in silent.conditions] == [None] * 4
    assert silent.side is None
    good = {"start_delay_minutes": 60.0, "nitrite_ppm": 120.0, "accelerator_ppm": 400.0, "brine_percent": 6.0}
    assert cooling.cooling_outcome(*chart, CURED, **good).side is Side.WITHIN
    assert cooling.cooling_outcome(*chart, CURED, **{**good, "nitrite_ppm": 80.0}).side is Side.UNDER
    assert cooling.cooling_outcome(*chart, CURED, **{**good, "start_delay_minutes": 95.0}).side is Side.OVER


def test_all_options_in_order() -> None:
    """Several options are compared in the order given, each by itself."""
    found = cooling.cooling_outcomes([0.0, 200.0, 450.0], [54.44, 26.67, 4.0], [RAPID, CURED], nitrite_ppm=120.0)
    assert [o.option for o in found] == ["rapid", "cured"]
    assert found[0].side is Side.OVER


@settings(max_examples=80, deadline=None)
@given(steps=st.lists(st.tuples(st.floats(1, 90), st.floats(0.1, 12)), min_size=1, max_size=12))
def test_ranges_of_a_steady_fall_add_up(steps: list[tuple[float, float]]) -> None:
    """When the core only falls, the times of joined ranges are the time of the whole range."""
    minutes, celsius = [0.0], [70.0]
    for step, drop in steps:
        minutes.append(minutes[-1] + step)
        celsius.append(celsius[-1] - drop)
    parts = [cooling.minutes_in_range(minutes, celsius, a, b) for a, b in ((60.0, 40.0), (40.0, 10.0))]
    assert sum(parts) == pytest.approx(cooling.minutes_in_range(minutes, celsius, 60.0, 10.0), abs=1e-6)


def test_refusals() -> None:
    """Options and figures that make no sense are refused."""
    with pytest.raises(ValueError, match="no ranges"):
        cooling.CoolingOption("empty", ())
    with pytest.raises(ValueError, match="must fall"):
        cooling.CoolingOption("up", (cooling.CoolingRange(10.0, 20.0, 5.0),))
    with pytest.raises(ValueError, match="must fall"):
        cooling.minutes_in_range([0.0, 1.0], [60.0, 50.0], 10.0, 20.0)
    with pytest.raises(ValueError, match="nitrite"):
        cooling.cooling_outcome([0.0, 1.0], [60.0, 50.0], CURED, nitrite_ppm=-1.0)
