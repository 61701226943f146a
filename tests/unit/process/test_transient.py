"""The series: Bessel functions and roots against scipy, limits, and a numerical solution of the equation itself."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.process import transient

special = pytest.importorskip("scipy.special")
integrate = pytest.importorskip("scipy.integrate")


def test_bessel_functions_agree_with_scipy() -> None:
    """The two Bessel functions are good to 1e-12 over the arguments that the roots reach."""
    x = np.linspace(0, 300, 2001)
    assert np.allclose(transient.bessel_j(0, x), special.j0(x), atol=1e-12)
    assert np.allclose(transient.bessel_j(1, x), special.j1(x), atol=1e-12)


@pytest.mark.parametrize("biot", [0.001, 0.2, 1.0, 7.0, 1000.0])
@pytest.mark.parametrize("shape", transient.SHAPES)
def test_every_root_satisfies_its_equation(shape: transient.Shape, biot: float) -> None:
    """No root is missed or doubled, and each one solves the equation of its shape."""
    z = np.array(transient._roots(shape, biot))
    assert (np.diff(z) > 2.5).all()
    sides = {
        "slab": z * np.sin(z) - biot * np.cos(z),
        "cylinder": z * special.j1(z) - biot * special.j0(z),
        "sphere": z * np.cos(z) + (biot - 1) * np.sin(z),
    }
    assert np.allclose(sides[shape] / (1 + biot), 0, atol=1e-6)


def _by_finite_volumes(shape: str, fourier: float, biot: float, cells: int = 200) -> tuple[float, float]:
    """(left in the middle, left on average), by shells of equal thickness: another way to the same numbers."""
    power = {"slab": 0, "cylinder": 1, "sphere": 2}[shape]
    edges = np.linspace(0, 1, cells + 1)
    volume = np.diff(edges ** (power + 1)) / (power + 1)
    step = 1 / cells
    outer = 1 / (step / 2 + (0 if math.isinf(biot) else 1 / biot))

    def change(_: float, level: np.ndarray) -> np.ndarray:
        flow = np.zeros(cells + 1)
        flow[1:-1] = edges[1:-1] ** power * np.diff(level) / step
        flow[-1] = -outer * level[-1]
        return np.diff(flow) / volume

    solved = integrate.solve_ivp(
        change, (0, fourier), np.ones(cells), method="LSODA", lband=1, uband=1, rtol=1e-8, atol=1e-10
    )
    level = solved.y[:, -1]
    return float(level[0]), float(np.sum(level * volume) / volume.sum())


@pytest.mark.parametrize("shape", transient.SHAPES)
@pytest.mark.parametrize(("fourier", "biot"), [(0.05, math.inf), (0.4, math.inf), (0.1, 2.0), (0.8, 0.5)])
def test_series_agrees_with_a_numerical_solution(shape: transient.Shape, fourier: float, biot: float) -> None:
    """Middle and average agree with a step-by-step solution of the heat equation to 1e-4."""
    middle, average = _by_finite_volumes(shape, fourier, biot)
    assert transient.left_at_middle(shape, fourier, biot) == pytest.approx(middle, abs=1e-4)
    if math.isinf(biot):
        assert transient.left_on_average(shape, fourier) == pytest.approx(average, abs=1e-4)


@settings(max_examples=40, deadline=None)
@given(
    shape=st.sampled_from(transient.SHAPES),
    fourier=st.floats(0, 5),
    biot=st.one_of(st.floats(0.01, 500), st.just(math.inf)),
)
def test_shares_stay_between_nothing_and_all(shape: transient.Shape, fourier: float, biot: float) -> None:
    """What is left is between 0 and 1 and does not grow with time."""
    now, later = transient.left_at_middle(shape, fourier, biot), transient.left_at_middle(shape, fourier + 0.1, biot)
    assert 0 <= later <= now + 1e-12 <= 1 + 1e-12


@pytest.mark.parametrize("shape", transient.SHAPES)
def test_short_time_form_joins_the_series(shape: transient.Shape) -> None:
    """The short-time form of the average hands over to the series without a step."""
    at = transient.SERIES_FROM_FO
    assert transient.left_on_average(shape, at * (1 - 1e-9)) == pytest.approx(
        transient.left_on_average(shape, at), abs=2e-5
    )


@settings(max_examples=40, deadline=None)
@given(left=st.floats(0.01, 0.99), shape=st.sampled_from(transient.SHAPES))
def test_time_and_share_are_inverse(left: float, shape: transient.Shape) -> None:
    """The Fourier number found for a share gives that share back."""
    fourier = transient.fourier_when_left(lambda fo: transient.left_at_middle(shape, fo), left)
    assert transient.left_at_middle(shape, fourier) == pytest.approx(left, abs=1e-8)


def test_surface_of_a_slab_with_slow_air_is_warmer_than_the_air() -> None:
    """With finite Bi the surface keeps part of the difference, less than the middle does."""
    assert 0 < transient.left_at("slab", 0.3, 1.0, 2.0) < transient.left_at("slab", 0.3, 0.0, 2.0)
    assert transient.left_at("cylinder", 0.0, 1.0) == 1.0


def test_refusals() -> None:
    """Unknown shapes and numbers outside the range are refused."""
    with pytest.raises(ValueError, match="shape"):
        transient.left_at_middle("cube", 0.1)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="Fourier"):
        transient.left_at_middle("slab", -1.0)
    with pytest.raises(ValueError, match="Biot"):
        transient.first_root("slab", 1e6)
    with pytest.raises(ValueError, match="position"):
        transient.left_at("slab", 0.1, 1.1)
    with pytest.raises(ValueError, match="too early"):
        transient.left_at("slab", 1e-4, 0.9)
    with pytest.raises(ValueError, match="share left"):
        transient.fourier_when_left(lambda fo: math.exp(-fo), 1.0)
    with pytest.raises(ValueError, match="not reached"):
        transient.fourier_when_left(lambda _: 1.0, 0.5)
