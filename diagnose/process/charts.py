"""A time-temperature chart as two plain lists: minutes and degrees Celsius.

The recorder's readings are taken as points joined by straight lines. Every function here checks the two lists first, then
answers one question of the person who reads a chart: what was the temperature at that minute, when did it pass that
level, how long was it in that range.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Floats: TypeAlias = NDArray[np.float64]

COLDEST_C = -60.0
HOTTEST_C = 250.0


def checked(minutes: Sequence[float], celsius: Sequence[float]) -> tuple[Floats, Floats]:
    """The chart as two arrays, after the checks.

    minutes: time of each reading in minutes, strictly rising. celsius: readings in °C, -60 to 250.
    Raises ValueError when there are fewer than two readings, the lists differ in length, a value is not a finite number,
    time does not rise, or a reading is outside the range of a plant's thermometer.
    """
    time = np.asarray(minutes, dtype=np.float64)
    heat = np.asarray(celsius, dtype=np.float64)
    if time.ndim != 1 or heat.ndim != 1:
        raise ValueError("the chart must be two plain lists of numbers")
    if time.size != heat.size:
        raise ValueError(f"the chart has {time.size} times but {heat.size} temperatures")
    if time.size < 2:
        raise ValueError("the chart needs at least 2 readings")
    if not (np.isfinite(time).all() and np.isfinite(heat).all()):
        raise ValueError("the chart holds a value that is not a finite number")
    steps = np.diff(time)
    if not (steps > 0).all():
        first = int(np.argmax(steps <= 0)) + 1
        raise ValueError(f"the chart's time must rise at each reading; it does not at reading {first + 1}")
    if heat.min() < COLDEST_C or heat.max() > HOTTEST_C:
        raise ValueError(f"the chart's temperatures must be {COLDEST_C:g} to {HOTTEST_C:g} °C")
    return time, heat


def temperature_at(minutes: Sequence[float], celsius: Sequence[float], at: float) -> float:
    """Temperature in °C at the minute `at`, by a straight line between readings; ValueError outside the chart's time."""
    time, heat = checked(minutes, celsius)
    if not time[0] <= at <= time[-1]:
        raise ValueError(f"minute {at:g} is outside the chart, which runs from {time[0]:g} to {time[-1]:g}")
    return float(np.interp(at, time, heat))


def crossings(minutes: Sequence[float], celsius: Sequence[float], level: float) -> tuple[float, ...]:
    """Minutes at which the chart passes through `level` °C, up or down, in order."""
    time, heat = checked(minutes, celsius)
    above = heat >= level
    found = []
    for i in np.flatnonzero(above[1:] != above[:-1]):
        share = (level - heat[i]) / (heat[i + 1] - heat[i])
        found.append(float(time[i] + share * (time[i + 1] - time[i])))
    return tuple(found)


def minutes_within(minutes: Sequence[float], celsius: Sequence[float], low: float, high: float) -> float:
    """Minutes in all between `low` and `high` °C, whether in one stay or several; ValueError unless low < high."""
    if not low < high:
        raise ValueError(f"the range must rise: {low:g} to {high:g} °C does not")
    time, heat = checked(minutes, celsius)
    lower, upper = np.minimum(heat[:-1], heat[1:]), np.maximum(heat[:-1], heat[1:])
    span = upper - lower
    inside = np.minimum(upper, high) - np.maximum(lower, low)
    level = (lower >= low) & (lower <= high)
    share = np.where(span > 0, np.clip(inside, 0.0, None) / np.where(span > 0, span, 1.0), level)
    return float(np.sum(share * np.diff(time)))


def minutes_at_or_above(minutes: Sequence[float], celsius: Sequence[float], level: float) -> float:
    """Minutes in all at `level` °C or hotter."""
    return float(sum(end - start for start, end in stays_at_or_above(minutes, celsius, level)))


def longest_stay_at_or_above(minutes: Sequence[float], celsius: Sequence[float], level: float) -> float:
    """Minutes of the longest unbroken stay at `level` °C or hotter; 0 when it was never reached."""
    return max((end - start for start, end in stays_at_or_above(minutes, celsius, level)), default=0.0)


def stays_at_or_above(
    minutes: Sequence[float], celsius: Sequence[float], level: float
) -> tuple[tuple[float, float], ...]:
    """(start, end) minutes of each unbroken stay at `level` °C or hotter, in order."""
    time, heat = checked(minutes, celsius)
    marks = list(crossings(minutes, celsius, level))
    if heat[0] >= level:
        marks.insert(0, float(time[0]))
    if heat[-1] >= level:
        marks.append(float(time[-1]))
    return tuple(zip(marks[::2], marks[1::2], strict=True))


@dataclass(frozen=True, slots=True)
class Peak:
    """The hottest reading of a chart: the minute it was first reached, and °C."""

    minute: float
    celsius: float


def peak(minutes: Sequence[float], celsius: Sequence[float]) -> Peak:
    """The hottest reading and when it was first reached."""
    time, heat = checked(minutes, celsius)
    top = int(np.argmax(heat))
    return Peak(float(time[top]), float(heat[top]))


def doubts(
    minutes: Sequence[float],
    celsius: Sequence[float],
    *,
    longest_gap_min: float = 30.0,
    steepest_c_per_min: float = 10.0,
) -> tuple[str, ...]:
    """What a careful reader would question about a core chart, in plain words; empty when nothing stands out.

    longest_gap_min: a gap between readings longer than this (minutes) is named. steepest_c_per_min: a change faster than
    this (°C per minute) is named, since the core of a ham cannot do it and a probe pulled out can. Both are our own
    rules of thumb, not figures of a regulation. ValueError when either is not above 0.
    """
    if longest_gap_min <= 0 or steepest_c_per_min <= 0:
        raise ValueError("the longest gap and the steepest change must be above 0")
    time, heat = checked(minutes, celsius)
    gaps = np.diff(time)
    slopes = np.abs(np.diff(heat)) / gaps
    found = [f"no reading for {gaps[i]:g} min after minute {time[i]:g}" for i in np.flatnonzero(gaps > longest_gap_min)]
    found += [
        f"a jump from {heat[i]:g} to {heat[i + 1]:g} °C at minute {time[i + 1]:g}"
        for i in np.flatnonzero(slopes > steepest_c_per_min)
    ]
    if heat.max() == heat.min():
        found.append("the reading never changes")
    return tuple(found)
