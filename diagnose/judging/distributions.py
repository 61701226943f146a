"""Tails of the F, chi-square and t distributions, so that no statistics package is needed at run time.

All go back to the regularised incomplete beta and gamma functions, computed by the continued fraction and the series of
Abramowitz and Stegun, Handbook of Mathematical Functions (1964), 26.5.8, 6.5.29 and 6.5.31; a quantile is found by bisection.
"""

from __future__ import annotations

import math
from collections.abc import Callable

_TINY = 1e-300
_CLOSE = 1e-15
_MOST_TERMS = 10_000


def incomplete_beta(a: float, b: float, x: float) -> float:
    """The regularised incomplete beta function I_x(a, b), for a, b > 0 and 0 <= x <= 1."""
    if not 0.0 < x < 1.0:
        return 0.0 if x <= 0.0 else 1.0
    if x > (a + 1.0) / (a + b + 2.0):
        return 1.0 - incomplete_beta(b, a, 1.0 - x)
    front = math.exp(math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b) + a * math.log(x) + b * math.log1p(-x))
    return front * _beta_fraction(a, b, x) / a


def _beta_fraction(a: float, b: float, x: float) -> float:
    """The continued fraction of the incomplete beta function by Lentz's method."""
    c, d = 1.0, 1.0 / _apart(1.0 - (a + b) * x / (a + 1.0))
    value = d
    for m in range(1, _MOST_TERMS):
        even = m * (b - m) * x / ((a + 2 * m - 1.0) * (a + 2 * m))
        odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1.0))
        for term in (even, odd):
            d = 1.0 / _apart(1.0 + term * d)
            c = _apart(1.0 + term / c)
            value *= c * d
        if abs(c * d - 1.0) < _CLOSE:
            break
    return value


def _apart(value: float) -> float:
    return value if abs(value) > _TINY else _TINY


def f_upper(value: float, first: float, second: float) -> float:
    """The chance that F with these degrees of freedom is above `value`."""
    if value <= 0.0:
        return 1.0
    return incomplete_beta(second / 2.0, first / 2.0, second / (second + first * value))


def f_quantile(chance: float, first: float, second: float) -> float:
    """The value below which F lies with this chance, between 0 and 1."""
    return _rising(lambda value: 1.0 - f_upper(value, first, second), chance)


def t_two_sided(value: float, freedom: float) -> float:
    """The chance that t is further from 0 than `value`."""
    return incomplete_beta(freedom / 2.0, 0.5, freedom / (freedom + value * value))


def chi_square_upper(value: float, freedom: float) -> float:
    """The chance that chi-square is above `value`."""
    a, x = freedom / 2.0, value / 2.0
    if x <= 0.0:
        return 1.0
    front = math.exp(a * math.log(x) - x - math.lgamma(a))
    if x < a + 1.0:
        return 1.0 - front * _gamma_series(a, x)
    return front * _gamma_fraction(a, x)


def _gamma_series(a: float, x: float) -> float:
    term = total = 1.0 / a
    for n in range(1, _MOST_TERMS):
        term *= x / (a + n)
        total += term
        if term < total * _CLOSE:
            break
    return total


def _gamma_fraction(a: float, x: float) -> float:
    b = x + 1.0 - a
    c, d = 1.0 / _TINY, 1.0 / _apart(b)
    value = d
    for n in range(1, _MOST_TERMS):
        term = -n * (n - a)
        b += 2.0
        d = 1.0 / _apart(term * d + b)
        c = _apart(b + term / c)
        value *= c * d
        if abs(c * d - 1.0) < _CLOSE:
            break
    return value


def _rising(function: Callable[[float], float], wanted: float) -> float:
    """Where a rising function of a number above 0 takes the value wanted."""
    low, high = 0.0, 1.0
    while function(high) < wanted and high < 1e12:
        high *= 2.0
    for _ in range(200):
        middle = (low + high) / 2.0
        if function(middle) < wanted:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0
