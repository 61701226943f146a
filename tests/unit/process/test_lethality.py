"""The F-value: against quadrature, against the worksheet's way, and the way back to time still needed."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.process import charts, lethality
from diagnose.process.comparing import Side

integrate = pytest.importorskip("scipy.integrate")

HAM = {"d_minutes": 3.38, "reference_c": 60.0, "z_c": 5.05}
MINUTES = [0.0, 60.0, 150.0, 240.0, 300.0, 330.0]
CELSIUS = [5.0, 25.0, 48.0, 61.0, 66.5, 58.0]


def _quadrature(minutes: list[float], celsius: list[float], reference: float, z: float, floor: float = -1e9) -> float:
    def rate(t: float) -> float:
        c = float(np.interp(t, minutes, celsius))
        return float(10 ** ((c - reference) / z)) if c >= floor else 0.0

    stops = sorted({*minutes, *(t for t in charts.crossings(minutes, celsius, floor) if floor > -1e8)})
    return float(sum(integrate.quad(rate, a, b, epsabs=1e-13, epsrel=1e-11)[0] for a, b in itertools.pairwise(stops)))


def test_integral_agrees_with_quadrature() -> None:
    """The closed form over straight pieces is the integral itself, with and without a lowest temperature counted."""
    for z in (4.0, 5.56, 7.5, 10.0):
        assert lethality.f_value(MINUTES, CELSIUS, 60.0, z) == pytest.approx(
            _quadrature(MINUTES, CELSIUS, 60.0, z), rel=1e-9
        )
        assert lethality.f_value(MINUTES, CELSIUS, 60.0, z, counted_from_c=55.0) == pytest.approx(
            _quadrature(MINUTES, CELSIUS, 60.0, z, 55.0), rel=1e-6
        )


@settings(max_examples=60, deadline=None)
@given(celsius=st.lists(st.floats(20, 75), min_size=2, max_size=10), z=st.floats(4, 12))
def test_worksheet_never_counts_less(celsius: list[float], z: float) -> None:
    """The trapezoid of worksheets is never below the exact sum, so the exact sum is the cautious one."""
    minutes = [5.0 * i for i in range(len(celsius))]
    exact = lethality.f_value(minutes, celsius, 60.0, z)
    assert lethality.f_value_by_trapezoid(minutes, celsius, 60.0, z) >= exact * (1 - 1e-9)


@settings(max_examples=60, deadline=None)
@given(celsius=st.lists(st.floats(20, 75), min_size=3, max_size=10), cut=st.floats(0.1, 0.9))
def test_cutting_a_chart_in_two_loses_nothing(celsius: list[float], cut: float) -> None:
    """Killing up to a moment and after it add up to the whole."""
    minutes = [5.0 * i for i in range(len(celsius))]
    at = cut * minutes[-1]
    there = charts.temperature_at(minutes, celsius, at)
    pairs = list(zip(minutes, celsius, strict=True))
    left = [(t, c) for t, c in pairs if t < at] + [(at, there)]
    right = [(at, there)] + [(t, c) for t, c in pairs if t > at]
    parts = sum(lethality.f_value(*map(list, zip(*half, strict=True)), 60.0, 5.56) for half in (left, right))
    assert parts == pytest.approx(lethality.f_value(minutes, celsius, 60.0, 5.56), rel=1e-8)


def test_sum_runs_along_the_chart() -> None:
    """The running sum begins at 0, never falls, and ends at the F-value."""
    sums = lethality.cumulative_f(MINUTES, CELSIUS, 60.0, 5.56, counted_from_c=50.0)
    assert sums[0] == 0.0
    assert list(sums) == sorted(sums)
    assert sums[-1] == lethality.f_value(MINUTES, CELSIUS, 60.0, 5.56, counted_from_c=50.0)
    assert len(sums) == len(MINUTES)


@settings(max_examples=60, deadline=None)
@given(hold=st.floats(58, 70), target=st.floats(1, 9), peak=st.floats(40, 64))
def test_time_still_needed_reaches_the_target(hold: float, target: float, peak: float) -> None:
    """Adding the hold that was asked for brings the chart to the target exactly, or nothing was asked."""
    minutes, celsius = [0.0, 120.0, 200.0], [5.0, peak - 5, peak]
    needed = lethality.minutes_still_needed(minutes, celsius, hold, target_logs=target, **HAM)
    logs = lethality.lethality(minutes, celsius, target_logs=target, **HAM).log_reduction
    added = needed / lethality.d_value_at(hold, **HAM)
    if needed > 0:
        assert logs + added == pytest.approx(target, rel=1e-9)
    else:
        assert logs >= target * (1 - 1e-12)


def test_verdict_of_a_chart() -> None:
    """The same chart is within one target and under a higher one, and says how far it came."""
    low = lethality.lethality(MINUTES, CELSIUS, target_logs=6.5, **HAM)
    assert low.side is Side.WITHIN
    high = lethality.lethality(MINUTES, CELSIUS, target_logs=low.log_reduction + 1, **HAM)
    assert (high.side, high.log_reduction) == (Side.UNDER, low.log_reduction)


@settings(max_examples=60, deadline=None)
@given(z=st.floats(3, 20), d=st.floats(0.05, 50), far=st.floats(-20, 20))
def test_d_and_z_are_inverse(z: float, d: float, far: float) -> None:
    """z found from two D values that were made with it is that z; time at D gives one tenfold reduction."""
    if abs(far) < 0.1:
        return
    other = lethality.d_value_at(60 + far, d, 60.0, z)
    assert lethality.z_value([(60.0, d), (60 + far, other)]) == pytest.approx(z, rel=1e-6)
    assert lethality.log_reduction(other, other) == pytest.approx(1.0)


def test_units_of_z_do_not_matter() -> None:
    """A chart and z in Fahrenheit give the same minutes as the same chart in Celsius, if z is divided by 1.8."""
    fahrenheit = [c * 1.8 + 32 for c in CELSIUS]
    rates = [10 ** ((f - 140) / 10) for f in fahrenheit]
    trapezoid = sum(
        (a + b) / 2 * (t1 - t0)
        for (a, b), (t0, t1) in zip(itertools.pairwise(rates), itertools.pairwise(MINUTES), strict=True)
    )
    assert lethality.f_value_by_trapezoid(MINUTES, CELSIUS, 60.0, 10 / 1.8) == pytest.approx(trapezoid, rel=1e-9)


def test_refusals() -> None:
    """Numbers without meaning are refused with their name."""
    with pytest.raises(ValueError, match="z must"):
        lethality.f_value(MINUTES, CELSIUS, 60.0, 0.0)
    with pytest.raises(ValueError, match="D must"):
        lethality.log_reduction(1.0, 0.0)
    with pytest.raises(ValueError, match="temperature must"):
        lethality.lethal_rate(150.0, 60.0, 5.0)
    with pytest.raises(ValueError, match="2 temperatures"):
        lethality.z_value([(60.0, 5.0), (60.0, 4.0)])
    with pytest.raises(ValueError, match="do not fall"):
        lethality.z_value([(60.0, 1.0), (65.0, 2.0)])
    with pytest.raises(ValueError, match="target must"):
        lethality.hold_minutes_needed(0.0, 60.0, **HAM)
    with pytest.raises(ValueError, match="counts nothing"):
        lethality.minutes_still_needed(MINUTES, CELSIUS, 50.0, target_logs=6.5, counted_from_c=55.0, **HAM)
    with pytest.raises(ValueError, match="F must"):
        lethality.log_reduction(-1.0, 1.0)
    with pytest.raises(ValueError, match="minutes must"):
        lethality.equivalent_minutes(-1.0, 60.0, 61.0, 5.0)
