"""Killing added up over the whole chart: the F-value for a stated organism, tenfold reductions, time still needed.

An organism is given by D (minutes for one tenfold reduction at a reference temperature) and z (°C that make D ten times
shorter; a z in °F is divided by 1.8). Times are minutes, temperatures °C of the coldest spot. The answer stands or falls
with D and z: they belong to one organism in one kind of product over the range in which they were measured.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from diagnose.process import charts
from diagnose.process.comparing import Side
from diagnose.process.ranges import require, require_not_negative, require_positive

MOST_LOGS = 10.0
"""Tenfold reductions beyond which no count can show anything: a figure above it is told as more than this."""


def lethal_rate(celsius: float, reference_c: float, z_c: float) -> float:
    """Killing per minute at `celsius` in minutes at the reference: 10^((T - Tref) / z).

    z_c 1 to 60 °C; T within 60 °C of the reference; else ValueError. Source: Bigelow (1921); Stumbo (1973),
    Thermobacteriology in Food Processing (both read from memory); process lethality worksheet of the American Meat Institute.
    """
    require("z", z_c, 1.0, 60.0, "°C")
    require("temperature", celsius, reference_c - 60.0, reference_c + 60.0, "°C")
    return float(10.0 ** ((celsius - reference_c) / z_c))


def cumulative_f(
    minutes: Sequence[float],
    celsius: Sequence[float],
    reference_c: float,
    z_c: float,
    *,
    counted_from_c: float | None = None,
) -> tuple[float, ...]:
    """F-value in minutes at the reference, added up to each reading of the chart.

    Exact for temperature running straight between readings: over a step from rate L1 to L2 it adds
    (L2 - L1) / ln(L2 / L1) x minutes, which is never more than the trapezoid of worksheets. counted_from_c: killing below
    this temperature is left out (a D and z are known only over the range in which they were measured).
    ValueError for a faulty chart or z outside 1 to 60 °C. Source: as lethal_rate; the integral is elementary.
    """
    require("z", z_c, 1.0, 60.0, "°C")
    time, heat = charts.checked(minutes, celsius)
    total, sums = 0.0, [0.0]
    for i in range(time.size - 1):
        t0, t1, c0, c1 = float(time[i]), float(time[i + 1]), float(heat[i]), float(heat[i + 1])
        if counted_from_c is not None:
            if max(c0, c1) <= counted_from_c:
                sums.append(total)
                continue
            if min(c0, c1) < counted_from_c:
                crossing = t0 + (t1 - t0) * (counted_from_c - c0) / (c1 - c0)
                t0, c0, t1, c1 = (crossing, counted_from_c, t1, c1) if c1 > c0 else (t0, c0, crossing, counted_from_c)
        total += (t1 - t0) * _mean_rate((c0 - reference_c) / z_c, (c1 - reference_c) / z_c)
        sums.append(total)
    return tuple(sums)


def _mean_rate(a: float, b: float) -> float:
    """Mean of 10^x for x running straight from a to b."""
    if abs(b - a) < 1e-9:
        return float(10.0 ** ((a + b) / 2.0))
    return float((10.0**b - 10.0**a) / (math.log(10.0) * (b - a)))


def f_value(
    minutes: Sequence[float],
    celsius: Sequence[float],
    reference_c: float,
    z_c: float,
    *,
    counted_from_c: float | None = None,
) -> float:
    """F-value of the whole chart, minutes at the reference; as cumulative_f."""
    return cumulative_f(minutes, celsius, reference_c, z_c, counted_from_c=counted_from_c)[-1]


def f_value_by_trapezoid(minutes: Sequence[float], celsius: Sequence[float], reference_c: float, z_c: float) -> float:
    """F-value as worksheets add it: mean of the rates at both ends of a step times its minutes. High when readings are far apart.

    ValueError as cumulative_f. Source: process lethality worksheet of the American Meat Institute (one-page example).
    """
    require("z", z_c, 1.0, 60.0, "°C")
    time, heat = charts.checked(minutes, celsius)
    rates = 10.0 ** ((heat - reference_c) / z_c)
    return float(np.sum((rates[1:] + rates[:-1]) / 2.0 * np.diff(time)))


def log_reduction(f_minutes: float, d_minutes: float) -> float:
    """Tenfold reductions: F / D, both minutes at the same reference. F 0 or more, D above 0; else ValueError."""
    require_positive("D", d_minutes, "min")
    require_not_negative("F", f_minutes, "min")
    return f_minutes / d_minutes


def d_value_at(celsius: float, d_minutes: float, reference_c: float, z_c: float) -> float:
    """D in minutes at another temperature: D / lethal_rate. Ranges and source as lethal_rate; D above 0."""
    require_positive("D", d_minutes, "min")
    return d_minutes / lethal_rate(celsius, reference_c, z_c)


def equivalent_minutes(minutes_at_reference: float, reference_c: float, celsius: float, z_c: float) -> float:
    """Minutes at `celsius` that kill as much as some minutes at the reference: t / lethal_rate. Minutes 0 or more."""
    require_not_negative("minutes", minutes_at_reference)
    return minutes_at_reference / lethal_rate(celsius, reference_c, z_c)


def z_value(points: Sequence[tuple[float, float]]) -> float:
    """z in °C from (°C, D minutes) pairs: -1 / slope of log10 D on temperature by least squares; two pairs give it exactly.

    At least two different temperatures, D above 0, and D falling with temperature; else ValueError.
    Source: definition of z (Stumbo 1973, read from memory).
    """
    if len({c for c, _ in points}) < 2:
        raise ValueError("z needs D values at 2 temperatures at least")
    for _, d in points:
        require_positive("D", d, "min")
    t = np.array([c for c, _ in points], dtype=np.float64)
    logs = np.log10([d for _, d in points])
    spread = t - t.mean()
    slope = float(np.sum(spread * logs) / np.sum(spread**2))
    if slope >= 0:
        raise ValueError("the D values do not fall with temperature, so z has no meaning")
    return -1.0 / slope


@dataclass(frozen=True, slots=True)
class Lethality:
    """F-value and tenfold reductions of a chart against a target; F in minutes at the reference.

    side: within or under the published figure.
    """

    f_minutes: float
    log_reduction: float
    target_logs: float
    side: Side


def lethality(
    minutes: Sequence[float],
    celsius: Sequence[float],
    *,
    d_minutes: float,
    reference_c: float,
    z_c: float,
    target_logs: float,
    counted_from_c: float | None = None,
) -> Lethality:
    """Tenfold reductions of a core chart for a stated D (minutes at reference_c) and z (°C), against a target.

    It stands or falls with D and z: take them from work on the same kind of product. ValueError as cumulative_f, or when
    the target is not above 0.
    """
    require_positive("target", target_logs, "log")
    f = f_value(minutes, celsius, reference_c, z_c, counted_from_c=counted_from_c)
    logs = log_reduction(f, d_minutes)
    return Lethality(f, logs, target_logs, Side.WITHIN if logs >= target_logs else Side.UNDER)


def hold_minutes_needed(
    target_logs: float, celsius: float, *, d_minutes: float, reference_c: float, z_c: float
) -> float:
    """Minutes at a steady `celsius` for a number of tenfold reductions: logs x D(T). Ranges as d_value_at; logs above 0."""
    require_positive("target", target_logs, "log")
    return target_logs * d_value_at(celsius, d_minutes, reference_c, z_c)


def minutes_still_needed(
    minutes: Sequence[float],
    celsius: Sequence[float],
    hold_c: float,
    *,
    d_minutes: float,
    reference_c: float,
    z_c: float,
    target_logs: float,
    counted_from_c: float | None = None,
) -> float:
    """Minutes still to hold the core at hold_c after this chart to reach the target; 0 when it is reached already.

    (target x D - F so far) / lethal_rate(hold_c). ValueError as lethality, or when hold_c is below counted_from_c.
    """
    if counted_from_c is not None and hold_c < counted_from_c:
        raise ValueError(f"holding at {hold_c:g} °C counts nothing: killing is counted from {counted_from_c:g} °C")
    done = lethality(
        minutes,
        celsius,
        d_minutes=d_minutes,
        reference_c=reference_c,
        z_c=z_c,
        target_logs=target_logs,
        counted_from_c=counted_from_c,
    )
    missing = target_logs * d_minutes - done.f_minutes
    return max(0.0, missing) / lethal_rate(hold_c, reference_c, z_c)
