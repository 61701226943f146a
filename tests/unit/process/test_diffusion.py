"""Salt soaking in and evening out: against a numerical solution, conservation, inverses and refusals."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.process import diffusion

integrate = pytest.importorskip("scipy.integrate")

SALT = 2.5e-10


def _steps(level: np.ndarray, fourier: float, *, held: bool) -> np.ndarray:
    """Equal layers of a slab, middle to surface, stepped through time; the surface held at 1 or sealed."""
    cells = level.size

    def change(_: float, now: np.ndarray) -> np.ndarray:
        flow = np.zeros(cells + 1)
        flow[1:-1] = np.diff(now) * cells
        flow[-1] = (1.0 - now[-1]) * 2 * cells if held else 0.0
        return np.diff(flow) * cells

    return integrate.solve_ivp(change, (0, fourier), level, method="LSODA", lband=1, uband=1, rtol=1e-8, atol=1e-10).y[
        :, -1
    ]


@pytest.mark.parametrize("days", [5.0, 20.0, 60.0])
def test_soaking_agrees_with_a_numerical_solution(days: float) -> None:
    """The profile of a slab in cure agrees layer by layer with a step-by-step solution of Fick's law."""
    fourier = diffusion.fourier_number(SALT, days, 0.05)
    ours = diffusion.soaked_profile(SALT, days, 0.05)
    assert np.allclose(ours, _steps(np.zeros(200), fourier, held=True), atol=2e-4)
    assert np.mean(ours) == pytest.approx(diffusion.uptake("slab", SALT, days, 0.05).average, abs=1e-4)


def test_resting_agrees_with_a_numerical_solution() -> None:
    """Equalisation of a salted band agrees layer by layer with a step-by-step solution of Fick's law."""
    start = diffusion.banded_profile(0.3)
    rested = diffusion.rested_profile(start, SALT, 10.0, 0.04)
    fourier = diffusion.fourier_number(SALT, 10.0, 0.04)
    assert np.allclose(rested, _steps(np.array(start), fourier, held=False), atol=1e-5)


@settings(max_examples=40, deadline=None)
@given(share=st.floats(0.05, 1.0), days=st.floats(0, 200))
def test_resting_loses_no_salt(share: float, days: float) -> None:
    """The average stays what it was, and the piece never becomes less even."""
    start = diffusion.banded_profile(share)
    before = diffusion.evenness(start)
    after = diffusion.evenness(diffusion.rested_profile(start, SALT, days, 0.05))
    assert before.average == pytest.approx(1.0)
    assert after.average == pytest.approx(1.0, abs=1e-9)
    assert after.spread_percent <= before.spread_percent + 1e-6


@settings(max_examples=30, deadline=None)
@given(share=st.floats(0.05, 0.95), half=st.floats(0.01, 0.1))
def test_days_and_shares_are_inverse(share: float, half: float) -> None:
    """The days found for a share give that share back, in the middle and on average."""
    days = diffusion.days_until_middle("cylinder", share, SALT, half)
    assert diffusion.uptake("cylinder", SALT, days, half).middle == pytest.approx(share, abs=1e-6)
    days = diffusion.days_until_average("slab", share, SALT, half)
    assert diffusion.uptake("slab", SALT, days, half).average == pytest.approx(share, abs=1e-6)


@settings(max_examples=40, deadline=None)
@given(share=st.floats(0.01, 0.99), days=st.floats(0.1, 300))
def test_depth_and_share_are_inverse(share: float, days: float) -> None:
    """The depth found for a share has that share."""
    depth = diffusion.depth_with_share(share, SALT, days)
    if depth < 0.5:
        assert diffusion.share_at_depth(depth, SALT, days) == pytest.approx(share, abs=1e-9)


def test_days_until_even_reaches_the_spread() -> None:
    """Resting for the days that were asked for brings the spread to the wanted value; an even piece needs none."""
    start = diffusion.banded_profile(0.25)
    days = diffusion.days_until_even(start, 10.0, SALT, 0.03)
    after = diffusion.evenness(diffusion.rested_profile(start, SALT, days, 0.03))
    assert after.spread_percent == pytest.approx(10.0, abs=1e-4)
    assert diffusion.days_until_even([1.0, 1.0], 10.0, SALT, 0.03) == 0.0


def test_square_law_of_cure() -> None:
    """Twice as thick takes four times the days, by the rule and by the series."""
    one = diffusion.days_until_middle("slab", 0.5, SALT, 0.03)
    assert diffusion.days_until_middle("slab", 0.5, SALT, 0.06) == pytest.approx(4 * one, rel=1e-9)
    assert diffusion.days_for_thickness(one, 30.0, 60.0) == pytest.approx(4 * one)


def test_rest_evens_out_what_cure_left() -> None:
    """After cure the surface is salted and the middle is not; rest lowers the spread and keeps the average."""
    found = diffusion.cure_and_rest(
        0.06,
        cure_days=40,
        cure_diffusivity=SALT,
        rest_days=60,
        rest_diffusivity=diffusion.diffusivity_at(12, SALT, 5, 30_000),
    )
    assert found.after_rest.spread_percent < found.after_cure.spread_percent / 3
    assert found.after_rest.average == pytest.approx(found.after_cure.average, rel=1e-9)


def test_colder_room_takes_longer() -> None:
    """Days for the same cure grow in a colder room and shrink in a warmer one, and the way there and back is the same."""
    colder = diffusion.days_at_temperature(30.0, 7.0, 2.0, 60_320)
    assert colder == pytest.approx(30 * 1.601, rel=1e-3)
    assert diffusion.days_at_temperature(colder, 2.0, 7.0, 60_320) == pytest.approx(30.0)


def test_refusals() -> None:
    """Numbers outside the stated ranges are refused with their name."""
    with pytest.raises(ValueError, match="diffusivity"):
        diffusion.fourier_number(1.0, 10.0, 0.05)
    with pytest.raises(ValueError, match="half thickness"):
        diffusion.fourier_number(SALT, 10.0, 5.0)
    with pytest.raises(ValueError, match="days"):
        diffusion.uptake("slab", SALT, -1.0, 0.05)
    with pytest.raises(ValueError, match="share"):
        diffusion.days_until_middle("slab", 1.0, SALT, 0.05)
    with pytest.raises(ValueError, match="too early"):
        diffusion.soaked_profile(1e-13, 1.0, 0.1)
    with pytest.raises(ValueError, match="2 layers"):
        diffusion.evenness([1.0])
    with pytest.raises(ValueError, match="not all 0"):
        diffusion.evenness([0.0, 0.0])
    with pytest.raises(ValueError, match="temperature"):
        diffusion.diffusivity_at(90.0, SALT, 5.0, 30_000)
    with pytest.raises(ValueError, match="salted share"):
        diffusion.banded_profile(0.0)
    with pytest.raises(ValueError, match="thickness"):
        diffusion.cure_days_by_thickness(0.0, 7.0)
    with pytest.raises(ValueError, match="weight"):
        diffusion.cure_days_by_weight(100.0, 4.0)
    with pytest.raises(ValueError, match="above 0"):
        diffusion.days_for_thickness(0.0, 1.0, 1.0)
