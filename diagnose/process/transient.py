"""Fourier's series for a slab, a cylinder and a sphere: how far heat or salt has come from the surface to the middle.

The same equations describe a ham cooling in air and salt soaking in from its faces. Everything is dimensionless here:
Fourier number Fo = (diffusivity x time) / length², length being half the thickness of a slab or the radius; Biot number
Bi = h x length / conductivity, infinite when the surface follows its surroundings at once. `left` means the share of the
first difference that is still there: 1 at the start, 0 at the end.

Source: Carslaw and Jaeger (1959), Conduction of Heat in Solids; Crank (1975), The Mathematics of Diffusion, chapters 4-6
(read from memory); first roots and coefficients agree with the printed table 4-2 of Cengel and Ghajar, Heat and Mass Transfer.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import lru_cache
from typing import Final, Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

Floats: TypeAlias = NDArray[np.float64]
Shape: TypeAlias = Literal["slab", "cylinder", "sphere"]
SHAPES: Final = ("slab", "cylinder", "sphere")

SERIES_FROM_FO = 1e-3  # below this the change is still a thin skin and the series would need too many terms
_TERMS = 48
_NODES = 512  # enough points for Bessel's integral up to an argument of some 300


def bessel_j(order: int, x: Floats) -> Floats:
    """Bessel function of the first kind, order 0 or 1, argument 0 to 300: (1/pi) integral of cos(n t - x sin t), 0 to pi."""
    t = (np.arange(_NODES) + 0.5) * math.pi / _NODES
    return np.asarray(np.cos(order * t - np.multiply.outer(x, np.sin(t))).mean(axis=-1))


def _balance(shape: str, biot: float) -> Callable[[Floats], Floats]:
    """The function whose positive roots are wanted; each form is free of poles."""
    free = math.isinf(biot)
    if shape == "slab":
        return np.cos if free else lambda z: z * np.sin(z) - biot * np.cos(z)
    if shape == "cylinder":
        return lambda z: bessel_j(0, z) if free else z * bessel_j(1, z) - biot * bessel_j(0, z)
    return np.sin if free else lambda z: z * np.cos(z) + (biot - 1.0) * np.sin(z)


@lru_cache(maxsize=256)
def _roots(shape: str, biot: float) -> tuple[float, ...]:
    balance = _balance(shape, biot)
    n = np.arange(_TERMS, dtype=np.float64)
    # one root between neighbouring zeros of the free-surface and the sealed-surface problem
    if shape == "slab":
        low, high = n * math.pi, (n + 0.5) * math.pi
    elif shape == "sphere":
        low, high = n * math.pi, (n + 1.0) * math.pi
        low = low + 1e-9  # the sphere's equation also vanishes at 0
    else:
        low, high = _bessel_zeros(1), _bessel_zeros(0)
    if math.isinf(biot):
        return tuple(high)
    start = balance(low)
    for _ in range(80):
        middle = (low + high) / 2.0
        same = np.sign(balance(middle)) == np.sign(start)
        low, high = np.where(same, middle, low), np.where(same, high, middle)
    return tuple((low + high) / 2.0)


@lru_cache(maxsize=2)
def _bessel_zeros(order: int) -> Floats:
    """First zeros of J0 (order 0), or 0 and the first positive zeros of J1 (order 1)."""
    n = np.arange(_TERMS, dtype=np.float64)
    guess = (n + 0.75) * math.pi if order == 0 else (n + 0.25) * math.pi
    low, high = guess - 0.6, guess + 0.6
    if order == 1:
        low, high = low[1:], high[1:]
    start = bessel_j(order, low)
    for _ in range(60):
        middle = (low + high) / 2.0
        same = np.sign(bessel_j(order, middle)) == np.sign(start)
        low, high = np.where(same, middle, low), np.where(same, high, middle)
    zeros = (low + high) / 2.0
    return zeros if order == 0 else np.concatenate(([1e-9], zeros))


@lru_cache(maxsize=256)
def _coefficients(shape: str, biot: float) -> tuple[Floats, Floats]:
    """(roots, coefficients at the middle); shared, not to be changed."""
    z = np.array(_roots(shape, biot))
    if shape == "slab":
        return z, 4.0 * np.sin(z) / (2.0 * z + np.sin(2.0 * z))
    if shape == "sphere":
        return z, 4.0 * (np.sin(z) - z * np.cos(z)) / (2.0 * z - np.sin(2.0 * z))
    return z, 2.0 / z * bessel_j(1, z) / (bessel_j(0, z) ** 2 + bessel_j(1, z) ** 2)


def _check(shape: str, fourier: float, biot: float = math.inf) -> None:
    if shape not in SHAPES:
        raise ValueError(f"shape must be one of {', '.join(SHAPES)}, not {shape!r}")
    if not fourier >= 0:
        raise ValueError(f"Fourier number must be 0 or more, not {fourier:g}")
    if not (0.001 <= biot <= 1000.0 or math.isinf(biot)):
        raise ValueError(f"Biot number must be 0.001 to 1000, or infinite, not {biot:g}")


def first_root(shape: Shape, biot: float) -> float:
    """First root of the series; its square is the slope of the late, straight part of the line. ValueError as left_at_middle."""
    _check(shape, 0.0, biot)
    return _roots(shape, biot)[0]


def first_coefficient(shape: Shape, biot: float) -> float:
    """Coefficient of the first term at the middle (the lag factor j of cooling tables). ValueError as left_at_middle."""
    _check(shape, 0.0, biot)
    return float(_coefficients(shape, biot)[1][0])


def left_at_middle(shape: Shape, fourier: float, biot: float = math.inf) -> float:
    """Share of the first difference still left in the middle: sum of C_n exp(-z_n² Fo).

    Fo 0 or more, Bi 0.001 to 1000 or infinite; else ValueError. Below Fo 0.001 the middle has felt nothing yet and 1 is
    returned (error below 1e-9).
    """
    return left_at(shape, fourier, 0.0, biot)


def left_at(shape: Shape, fourier: float, position: float, biot: float = math.inf) -> float:
    """Share of the first difference still left at `position`, 0 the middle to 1 the surface.

    Fo 0 or more; ranges as left_at_middle. For Fo in (0, 0.001) only the inner 4/5 is answered (nothing has come there
    yet); nearer the surface the series is not exact enough and ValueError is raised.
    """
    _check(shape, fourier, biot)
    if not 0 <= position <= 1:
        raise ValueError(f"position must be 0 (middle) to 1 (surface), not {position:g}")
    if fourier == 0:
        return 1.0
    if fourier < SERIES_FROM_FO:
        if position > 0.8:
            raise ValueError("too early for a figure so near the surface: Fourier number below 0.001")
        return 1.0
    z, c = _coefficients(shape, biot)
    if shape == "slab":
        spread = np.cos(z * position)
    elif shape == "sphere":
        spread = np.sinc(z * position / math.pi)
    else:
        spread = bessel_j(0, z * position)
    return float(np.clip(np.sum(c * spread * np.exp(-(z**2) * fourier)), 0.0, 1.0))


def left_on_average(shape: Shape, fourier: float) -> float:
    """Share of the first difference still left on average over the piece, surface held at its new value (Bi infinite).

    Sum of 2 k / z_n² exp(-z_n² Fo), k = 1, 2, 3 for slab, cylinder, sphere; below Fo 0.001 the short-time form
    1 - 2 k (Fo/pi)^½ + k(k-1) Fo / 2 (error below 2e-5). Fo 0 or more; else ValueError.
    """
    _check(shape, fourier)
    k = SHAPES.index(shape) + 1
    if fourier < SERIES_FROM_FO:
        return 1.0 - 2.0 * k * math.sqrt(fourier / math.pi) + k * (k - 1) * fourier / 2.0
    z = np.array(_roots(shape, math.inf))
    return float(np.sum(2.0 * k / z**2 * np.exp(-(z**2) * fourier)))


def fourier_when_left(left_after: Callable[[float], float], left: float) -> float:
    """Fourier number at which `left_after(Fo)`, a falling function from 1 to 0, comes down to `left` (0 < left < 1)."""
    if not 0 < left < 1:
        raise ValueError(f"the share left must be above 0 and below 1, not {left:g}")
    low, high = 0.0, 1.0
    while left_after(high) > left:
        high *= 2.0
        if high > 1e7:
            raise ValueError("the share left is not reached in any time worth naming")
    for _ in range(100):
        middle = (low + high) / 2.0
        low, high = (middle, high) if left_after(middle) > left else (low, middle)
    return high
