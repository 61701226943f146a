"""Chill forecasts: inverse of the series, the effect of size and air, and the line fitted to a chart."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.process import chilling, transient

HAM = {"conductivity": 0.45, "diffusivity": 1.18e-7, "surface_coefficient": 9.1}


@settings(max_examples=30, deadline=None)
@given(half=st.floats(0.03, 0.15), target=st.floats(5, 60), shape=st.sampled_from(transient.SHAPES))
def test_forecast_gives_the_target_back(half: float, target: float, shape: transient.Shape) -> None:
    """Putting the forecast time into the series gives the target temperature."""
    minutes = chilling.chill_minutes(shape, half, 70.0, 0.0, target, **HAM)
    fourier = HAM["diffusivity"] * minutes * 60 / half**2
    left = transient.left_at_middle(shape, fourier, HAM["surface_coefficient"] * half / HAM["conductivity"])
    assert 70.0 * left == pytest.approx(target, abs=1e-5)


def test_order_of_shapes_and_air() -> None:
    """A ball chills before a bar and a bar before a slab; a short bar lies between; faster air always helps."""
    times = {s: chilling.chill_minutes(s, 0.09, 70.0, 0.0, 10.0, **HAM) for s in transient.SHAPES}
    assert times["sphere"] < times["cylinder"] < times["slab"]
    short = chilling.chill_minutes("cylinder", 0.09, 70.0, 0.0, 10.0, half_length_m=0.15, **HAM)
    assert times["sphere"] < short < times["cylinder"]
    windy = chilling.chill_minutes("cylinder", 0.09, 70.0, 0.0, 10.0, **{**HAM, "surface_coefficient": 25.0})
    assert windy < times["cylinder"]


def test_square_law_holds_when_flesh_sets_the_pace() -> None:
    """With an unhindered surface the series follows the square law; with slow air it stays well below it."""
    quick = {**HAM, "surface_coefficient": 3000.0}
    one, two = (chilling.chill_minutes("slab", half, 70.0, 0.0, 10.0, **quick) for half in (0.06, 0.12))
    assert two == pytest.approx(chilling.chill_minutes_for_thickness(one, 0.06, 0.12), rel=0.01)
    slow = {**HAM, "surface_coefficient": 5.0}
    one, two = (chilling.chill_minutes("slab", half, 70.0, 0.0, 10.0, **slow) for half in (0.06, 0.12))
    assert two < 0.95 * chilling.chill_minutes_for_thickness(one, 0.06, 0.12)


def test_raw_leg_comes_out_in_a_plant_like_time() -> None:
    """A leg of 20 cm across from 39 to 7 °C in a -1 °C chill room takes between half a day and a day and a half."""
    minutes = chilling.chill_minutes("cylinder", 0.10, 39.0, -1.0, 7.0, **{**HAM, "surface_coefficient": 12.0})
    assert 12 * 60 < minutes < 36 * 60


def test_line_finds_the_half_time_of_a_chart() -> None:
    """The line fitted to an exact cooling curve gives its lag, its half time, and the minute of a target."""
    minutes = [15.0 * i for i in range(60)]
    celsius = [70.0] + [2.0 + 68.0 * 1.2 * math.exp(-math.log(2) * t / 150.0) for t in minutes[1:]]
    celsius = [min(c, 70.0) for c in celsius]
    line = chilling.cooling_line(minutes, celsius, 2.0)
    assert line.half_minutes == pytest.approx(150.0, rel=1e-6)
    assert line.lag == pytest.approx(1.2, rel=1e-6)
    assert 2.0 + 68.0 * 1.2 * 2 ** (-line.minute_at(10.0) / 150.0) == pytest.approx(10.0, abs=1e-6)


def test_line_agrees_with_the_series() -> None:
    """A chart made by the series is forecast by the line to within two per cent, though only its first half is given."""
    half, air = 0.08, 0.0
    minutes = [20.0 * i for i in range(25)]
    biot = HAM["surface_coefficient"] * half / HAM["conductivity"]
    celsius = [
        70.0 * transient.left_at_middle("cylinder", HAM["diffusivity"] * t * 60 / half**2, biot) for t in minutes
    ]
    line = chilling.cooling_line(minutes, celsius, air)
    assert line.minute_at(7.0) == pytest.approx(
        chilling.chill_minutes("cylinder", half, 70.0, air, 7.0, **HAM), rel=0.02
    )


def test_refusals() -> None:
    """Targets that are never reached, charts that do not cool, and odd sizes are refused."""
    with pytest.raises(ValueError, match="between start"):
        chilling.chill_minutes("slab", 0.05, 70.0, 5.0, 4.0, **HAM)
    with pytest.raises(ValueError, match="must differ"):
        chilling.chill_minutes("slab", 0.05, 5.0, 5.0, 5.0, **HAM)
    with pytest.raises(ValueError, match="half thickness"):
        chilling.chill_minutes("slab", 5.0, 70.0, 0.0, 10.0, **HAM)
    with pytest.raises(ValueError, match="cylinder only"):
        chilling.chill_minutes("slab", 0.05, 70.0, 0.0, 10.0, half_length_m=0.1, **HAM)
    with pytest.raises(ValueError, match="begin at its warmest"):
        chilling.cooling_line([0.0, 1.0, 2.0], [20.0, 30.0, 10.0], 0.0)
    with pytest.raises(ValueError, match="3 readings"):
        chilling.cooling_line([0.0, 1.0, 2.0], [70.0, 69.0, 68.0], 0.0)
    with pytest.raises(ValueError, match="not cooling"):
        chilling.cooling_line([0.0, 1.0, 2.0, 3.0], [70.0, 30.0, 31.0, 32.0], 0.0)
    with pytest.raises(ValueError, match="thickness"):
        chilling.chill_minutes_for_thickness(10.0, 0.0, 1.0)
