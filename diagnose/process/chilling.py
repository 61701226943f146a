"""How long the deep leg takes to chill: by Fourier's series from size and air, and by the straight line of the chart itself.

A leg, a ham in its mould or a log is taken as a slab, a round bar, a short round bar or a ball of one material with cold
air of one temperature around it, and its middle as the deep leg. Real legs differ (bone, fat, drying, changing air), so
the forecast serves to compare and to plan; the probe decides. Temperatures °C, lengths m, times minutes.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from diagnose.process import charts, transient
from diagnose.process.ranges import require, require_positive
from diagnose.process.transient import Shape


def _left(now_c: float, start_c: float, air_c: float) -> float:
    if start_c == air_c:
        raise ValueError(f"start and air must differ, both are {air_c:g} °C")
    left = (now_c - air_c) / (start_c - air_c)
    if not 0 < left < 1:
        raise ValueError(f"the target must lie between start ({start_c:g} °C) and air ({air_c:g} °C), not {now_c:g}")
    return left


def chill_minutes(
    shape: Shape,
    half_thickness_m: float,
    start_c: float,
    air_c: float,
    target_c: float,
    *,
    conductivity: float,
    diffusivity: float,
    surface_coefficient: float,
    half_length_m: float | None = None,
    position: float = 0.0,
) -> float:
    """Minutes for the middle to go from start_c to target_c in air (or water) of air_c; heating works the same.

    Fourier's series with Bi = h L / k and Fo = a t / L². shape: slab, cylinder, sphere; half_thickness_m: half the
    thickness or the radius, 0.002 to 0.5 m. half_length_m: for a short cylinder, half its length (product of both series).
    conductivity k 0.1 to 2 W/(m K); diffusivity a 5e-8 to 1e-6 m²/s; surface_coefficient h 1 to 3000 W/(m² K).
    position: 0 the middle to 1 the surface (of the slab or the round). No freezing: the answer is not for a target below
    the freezing point. ValueError outside the ranges. Source: see transient.
    """
    require("half thickness", half_thickness_m, 0.002, 0.5, "m")
    require("conductivity", conductivity, 0.1, 2.0, "W/(m K)")
    require("diffusivity", diffusivity, 5e-8, 1e-6, "m²/s")
    require("surface coefficient", surface_coefficient, 1.0, 3000.0, "W/(m² K)")
    biot = surface_coefficient * half_thickness_m / conductivity
    left = _left(target_c, start_c, air_c)
    if half_length_m is None:
        fourier = transient.fourier_when_left(lambda fo: transient.left_at(shape, fo, position, biot), left)
    else:
        if shape != "cylinder":
            raise ValueError("a half length belongs to a cylinder only")
        require("half length", half_length_m, half_thickness_m / 10, 1.0, "m")
        ratio = (half_thickness_m / half_length_m) ** 2
        end_biot = surface_coefficient * half_length_m / conductivity
        fourier = transient.fourier_when_left(
            lambda fo: (
                transient.left_at("cylinder", fo, position, biot)
                * transient.left_at_middle("slab", fo * ratio, end_biot)
            ),
            left,
        )
    return fourier * half_thickness_m**2 / diffusivity / 60.0


def chill_minutes_for_thickness(known_minutes: float, known_thickness: float, thickness: float) -> float:
    """Minutes for another thickness at the same shape, air and end point: t x (thickness / known)².

    Holds when the flesh, not the air, sets the pace; with slow air the true exponent is nearer 1. All above 0; else
    ValueError. Source: square law of cooling (abstract, Cooling rates of foods); follows from the Fourier number.
    """
    for name, value in (("time", known_minutes), ("thickness", known_thickness), ("thickness", thickness)):
        require_positive(name, value)
    return known_minutes * (thickness / known_thickness) ** 2


@dataclass(frozen=True, slots=True)
class CoolingLine:
    """The straight line of log(temperature difference) on time that a cooling core follows after its first lag.

    lag: difference at minute 0 of the line over the first difference (j of cooling tables). half_minutes: minutes in
    which the difference to the air halves. start_minute, start_c, air_c: where the chart began.
    """

    lag: float
    half_minutes: float
    start_minute: float
    start_c: float
    air_c: float

    def minute_at(self, target_c: float) -> float:
        """The chart's minute at which the line reaches target_c; ValueError unless it lies between start and air."""
        left = _left(target_c, self.start_c, self.air_c)
        return self.start_minute + self.half_minutes * math.log2(self.lag / left)


def cooling_line(minutes: Sequence[float], celsius: Sequence[float], air_c: float) -> CoolingLine:
    """Fit the cooling line of a core chart, to forecast when it reaches a target: ln((T - Ta)/(T0 - Ta)) = ln j - t ln2/half.

    Least squares over the readings that are below 0.8 and above 0.03 of the first difference; air_c steady. At least 3
    such readings, first reading the warmest; else ValueError. Source: ASHRAE Handbook - Refrigeration, cooling and freezing
    times of foods, lag factor j and half-cooling time (read from memory).
    """
    time, heat = charts.checked(minutes, celsius)
    if heat.argmax() != 0 or heat[0] <= air_c:
        raise ValueError("the chart must begin at its warmest, above the air")
    left = (heat - air_c) / (heat[0] - air_c)
    used = (left < 0.8) & (left > 0.03)
    if used.sum() < 3:
        raise ValueError("a forecast needs 3 readings on the way down, at least")
    t, y = time[used] - time[0], np.log(left[used])
    spread = t - t.mean()
    slope = float(np.sum(spread * y) / np.sum(spread**2))
    if slope >= 0:
        raise ValueError("the chart is not cooling")
    lag = math.exp(float(y.mean()) - slope * float(t.mean()))
    return CoolingLine(lag, -math.log(2.0) / slope, float(time[0]), float(heat[0]), air_c)
