"""Charts as plain lists: what is refused, what is read off, and that the readings add up."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.process import charts

MINUTES = [0.0, 10.0, 20.0, 40.0]
CELSIUS = [20.0, 60.0, 60.0, 40.0]

readings = st.lists(st.floats(-20, 90, allow_nan=False).map(lambda c: round(c, 3)), min_size=2, max_size=12)


@pytest.mark.parametrize(
    ("minutes", "celsius", "words"),
    [
        ([0.0], [20.0], "at least 2"),
        ([0.0, 1.0], [20.0], "2 times but 1"),
        ([0.0, 0.0], [20.0, 21.0], "rise"),
        ([0.0, 1.0], [20.0, float("nan")], "finite"),
        ([0.0, 1.0], [20.0, 300.0], "-60 to 250"),
        ([[0.0, 1.0]], [[1.0, 2.0]], "plain lists"),
    ],
)
def test_faulty_charts_are_refused(minutes: list[float], celsius: list[float], words: str) -> None:
    """A chart that cannot be read is refused with a message that says why."""
    with pytest.raises(ValueError, match=words):
        charts.checked(minutes, celsius)


def test_reading_between_points() -> None:
    """Temperatures between readings lie on the straight line, and nothing is read outside the chart."""
    assert charts.temperature_at(MINUTES, CELSIUS, 5.0) == pytest.approx(40.0)
    assert charts.temperature_at(MINUTES, CELSIUS, 30.0) == pytest.approx(50.0)
    with pytest.raises(ValueError, match="outside the chart"):
        charts.temperature_at(MINUTES, CELSIUS, 41.0)


def test_crossings_and_stays() -> None:
    """The minutes at which a level is passed, and the stay between them."""
    assert charts.crossings(MINUTES, CELSIUS, 50.0) == pytest.approx((7.5, 30.0))
    assert charts.stays_at_or_above(MINUTES, CELSIUS, 50.0) == (pytest.approx((7.5, 30.0)),)
    assert charts.longest_stay_at_or_above(MINUTES, CELSIUS, 60.0) == pytest.approx(10.0)
    assert charts.longest_stay_at_or_above(MINUTES, CELSIUS, 61.0) == 0.0


def test_longest_stay_is_unbroken() -> None:
    """Two stays are not added to each other when the longest is asked for, but are in the sum."""
    minutes = [0.0, 1.0, 2.0, 3.0, 4.0, 8.0, 9.0]
    celsius = [50.0, 70.0, 70.0, 50.0, 70.0, 70.0, 50.0]
    assert charts.longest_stay_at_or_above(minutes, celsius, 60.0) == pytest.approx(5.0)
    assert charts.minutes_at_or_above(minutes, celsius, 60.0) == pytest.approx(7.0)


def test_level_stretch_counts_within() -> None:
    """A flat stretch inside a range counts whole, outside it not at all."""
    assert charts.minutes_within(MINUTES, CELSIUS, 55.0, 65.0) == pytest.approx(10 + 10 * 5 / 40 + 20 * 5 / 20)
    assert charts.minutes_within([0.0, 5.0], [30.0, 30.0], 31.0, 40.0) == 0.0
    with pytest.raises(ValueError, match="must rise"):
        charts.minutes_within(MINUTES, CELSIUS, 60.0, 50.0)


@settings(max_examples=80, deadline=None)
@given(celsius=readings, level=st.floats(-10, 80).map(lambda c: round(c, 2) + 0.0005))
def test_ranges_add_up_to_the_whole_chart(celsius: list[float], level: float) -> None:
    """Time below a level and time above it are the whole time of the chart, however it wanders."""
    minutes = [float(i) for i in range(len(celsius))]
    below = charts.minutes_within(minutes, celsius, -60.0, level)
    above = charts.minutes_within(minutes, celsius, level, 250.0)
    assert below + above == pytest.approx(minutes[-1], abs=1e-6)
    assert above == pytest.approx(charts.minutes_at_or_above(minutes, celsius, level), abs=1e-6)


def test_peak_is_the_first_hottest_reading() -> None:
    """The peak is named at the minute it was first reached."""
    assert charts.peak(MINUTES, CELSIUS) == charts.Peak(10.0, 60.0)


def test_doubts_name_gaps_jumps_and_dead_probes() -> None:
    """A careful reader's doubts are named, and a good chart has none."""
    assert charts.doubts([0.0, 10.0, 20.0], [20.0, 30.0, 40.0]) == ()
    found = charts.doubts([0.0, 60.0, 61.0], [70.0, 50.0, 20.0])
    assert [text.split(" ")[0] for text in found] == ["no", "a"]
    assert charts.doubts([0.0, 1.0], [20.0, 20.0]) == ("the reading never changes",)
    with pytest.raises(ValueError, match="above 0"):
        charts.doubts(MINUTES, CELSIUS, longest_gap_min=0)
