"""Cooling after the cook, and chilling of the raw leg: the chart against each option of a stabilization guideline.

An option is a list of ranges, each with the longest time the core may spend in it, and conditions on the recipe. The time
in a range is counted the strict way: from the first moment after the peak at which the core is below the range's upper
end to the last moment at which it is above its lower end, so a rewarming is counted in. Minutes and °C throughout.
Options are data and come in as arguments. A chart within an option is within the published figure, no more.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from diagnose.process import charts
from diagnose.process.comparing import Side
from diagnose.process.figures import Figure, worst
from diagnose.process.ranges import require_not_negative

_ROUNDING_MIN = 1e-6  # so that a time equal to the figure does not go over it by a floating-point crumb


@dataclass(frozen=True, slots=True)
class CoolingRange:
    """From from_c down to to_c (°C) in at most `minutes`."""

    from_c: float
    to_c: float
    minutes: float


@dataclass(frozen=True, slots=True)
class CoolingOption:
    """One cooling schedule of a guideline.

    ranges: the limits, also of overlapping spans (a total is a range of its own). start_within_minutes: chilling begins at
    most so long after the cook. nitrite_ppm, accelerator_ppm, brine_percent: least ingoing nitrite, least ingoing
    erythorbate or ascorbate, least salt in the water phase. None = not asked.
    """

    id: str
    ranges: tuple[CoolingRange, ...]
    start_within_minutes: float | None = None
    nitrite_ppm: float | None = None
    accelerator_ppm: float | None = None
    brine_percent: float | None = None

    def __post_init__(self) -> None:
        if not self.ranges:
            raise ValueError(f"cooling option {self.id} has no ranges")
        for r in self.ranges:
            if not (r.from_c > r.to_c and r.minutes > 0):
                raise ValueError(f"cooling option {self.id}: a range must fall and have a time above 0")


@dataclass(frozen=True, slots=True)
class RangeOutcome:
    """One range of an option against the chart.

    taken_minutes: spent, or spent so far when the chart is not complete. complete: the chart shows the whole range.
    side: within or over the published figure; None when the chart does not show enough to say. over_by_minutes: 0 when not
    over. left_minutes: what the published figure still leaves.
    """

    range: CoolingRange
    taken_minutes: float
    complete: bool
    side: Side | None

    @property
    def over_by_minutes(self) -> float:
        return max(0.0, self.taken_minutes - self.range.minutes)

    @property
    def left_minutes(self) -> float:
        return max(0.0, self.range.minutes - self.taken_minutes)


@dataclass(frozen=True, slots=True)
class CoolingOutcome:
    """A cooling chart and recipe against one option; side is the worst of its parts, None when the record does not show it."""

    option: str
    ranges: tuple[RangeOutcome, ...]
    conditions: tuple[Figure, ...]

    @property
    def side(self) -> Side | None:
        return worst([r.side for r in self.ranges] + [c.side for c in self.conditions])

    @property
    def exceeded(self) -> tuple[RangeOutcome, ...]:
        """The ranges that took longer than the published figure."""
        return tuple(r for r in self.ranges if r.side is Side.OVER)


def minutes_in_range(minutes: Sequence[float], celsius: Sequence[float], from_c: float, to_c: float) -> float:
    """Minutes from below from_c, first after the peak, to the last time above to_c; up to the chart's end if not there yet.

    0 when the core never fell below from_c. ValueError for a faulty chart or a range that does not fall.
    Source: wording of FSIS Appendix B (1999), time within the range of the maximum internal temperature.
    """
    return _in_range(minutes, celsius, CoolingRange(from_c, to_c, math.inf)).taken_minutes


def _in_range(minutes: Sequence[float], celsius: Sequence[float], limit: CoolingRange) -> RangeOutcome:
    if not limit.from_c > limit.to_c:
        raise ValueError(f"the range must fall: {limit.from_c:g} to {limit.to_c:g} °C does not")
    _, heat = charts.checked(minutes, celsius)
    top = charts.peak(minutes, celsius).minute
    begun_above = bool(heat.max() >= limit.from_c)
    if begun_above:
        downs = [end for _, end in charts.stays_at_or_above(minutes, celsius, limit.from_c) if end >= top]
        start = downs[0]
    else:
        start = top
    warm = charts.stays_at_or_above(minutes, celsius, limit.to_c)
    reached = bool(heat[-1] <= limit.to_c)
    end = max(start, warm[-1][1]) if warm else start
    taken = end - start
    complete = begun_above and reached
    within = Side.WITHIN if complete else None
    return RangeOutcome(limit, taken, complete, Side.OVER if taken > limit.minutes + _ROUNDING_MIN else within)


def cooling_outcome(
    minutes: Sequence[float],
    celsius: Sequence[float],
    option: CoolingOption,
    *,
    start_delay_minutes: float | None = None,
    nitrite_ppm: float | None = None,
    accelerator_ppm: float | None = None,
    brine_percent: float | None = None,
) -> CoolingOutcome:
    """Compare a core chart (minutes, °C) and the recipe with one cooling option.

    start_delay_minutes: end of cook to start of chilling. nitrite_ppm, accelerator_ppm: ingoing, mg/kg. brine_percent:
    salt in the water phase. None = not recorded, and then the side is None. ValueError for a faulty chart or a negative figure.
    Source: form of FSIS Appendix B (1999, 2021).
    """
    recorded = (start_delay_minutes, nitrite_ppm, accelerator_ppm, brine_percent)
    for name, value in zip(("start delay", "nitrite", "accelerator", "brine concentration"), recorded, strict=True):
        if value is not None:
            require_not_negative(name, value)
    conditions = []
    if option.start_within_minutes is not None:
        conditions.append(
            Figure("start of chilling", "min", option.start_within_minutes, start_delay_minutes, at_most=True)
        )
    if option.nitrite_ppm is not None:
        conditions.append(Figure("ingoing nitrite", "ppm", option.nitrite_ppm, nitrite_ppm))
    if option.accelerator_ppm is not None:
        conditions.append(Figure("ingoing erythorbate or ascorbate", "ppm", option.accelerator_ppm, accelerator_ppm))
    if option.brine_percent is not None:
        conditions.append(Figure("salt in the water phase", "%", option.brine_percent, brine_percent))
    ranges = tuple(_in_range(minutes, celsius, r) for r in option.ranges)
    return CoolingOutcome(option.id, ranges, tuple(conditions))


def cooling_outcomes(
    minutes: Sequence[float],
    celsius: Sequence[float],
    options: Sequence[CoolingOption],
    *,
    start_delay_minutes: float | None = None,
    nitrite_ppm: float | None = None,
    accelerator_ppm: float | None = None,
    brine_percent: float | None = None,
) -> tuple[CoolingOutcome, ...]:
    """cooling_outcome for each option, in the order given."""
    return tuple(
        cooling_outcome(
            minutes,
            celsius,
            option,
            start_delay_minutes=start_delay_minutes,
            nitrite_ppm=nitrite_ppm,
            accelerator_ppm=accelerator_ppm,
            brine_percent=brine_percent,
        )
        for option in options
    )
