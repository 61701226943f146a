"""Moist air: wet and dry bulb to relative humidity and dew point at any pressure, and back; will a surface dry or sweat.

The equations are those of the ASHRAE Handbook - Fundamentals (2017), chapter 1: a wet wick in moving air settles where the
heat it takes from the air pays for the water it loses. Temperatures are °C, pressures Pa, humidity ratios kg of water per
kg of dry air, relative humidity per cent (0-100). A dirty or dry wick, or still air, reads high: no formula can see that.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from diagnose.process.ranges import require

STANDARD_PRESSURE_PA = 101_325.0
WATER_TO_AIR = 0.621945  # molar mass of water over that of dry air (ASHRAE 2017)
PSYCHROMETER_COEFFICIENT = 6.6e-4  # per °C, water on the wick (AMS Glossary of Meteorology)

_ICE = (-5.6745359e3, 6.3925247, -9.677843e-3, 6.2215701e-7, 2.0747825e-9, -9.484024e-13, 4.1635019)
_WATER = (-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 6.5459673)


def saturation_pressure(celsius: float) -> float:
    """Vapour pressure of water at saturation, Pa, over ice below 0.01 °C and over water above it.

    ln p = C1/T + C2 + C3 T + C4 T² + ... + Cn ln T, T in kelvin. Range -100 to 200 °C; else ValueError.
    Source: ASHRAE (2017), Handbook - Fundamentals, chapter 1, equations 5 and 6 (Hyland and Wexler 1983).
    """
    require("temperature", celsius, -100.0, 200.0, "°C")
    t = celsius + 273.15
    if celsius < 0.01:
        a, b, c, d, e, f, g = _ICE
        return math.exp(a / t + b + c * t + d * t**2 + e * t**3 + f * t**4 + g * math.log(t))
    a, b, c, d, e, g = _WATER
    return math.exp(a / t + b + c * t + d * t**2 + e * t**3 + g * math.log(t))


def pressure_at_altitude(metres: float) -> float:
    """Pressure of the standard atmosphere, Pa, at `metres` above the sea: 101325 (1 - 2.25577e-5 z)^5.2559.

    Range -500 to 10000 m; else ValueError. Source: ASHRAE (2017), Handbook - Fundamentals, chapter 1, equation 3.
    """
    require("altitude", metres, -500.0, 10_000.0, "m")
    return float(STANDARD_PRESSURE_PA * (1.0 - 2.25577e-5 * metres) ** 5.2559)


def humidity_ratio(vapour_pressure_pa: float, pressure_pa: float = STANDARD_PRESSURE_PA) -> float:
    """Humidity ratio, kg water per kg dry air: 0.621945 e / (p - e).

    vapour_pressure_pa below pressure_pa, both Pa; pressure 30 000 to 200 000 Pa; else ValueError.
    Source: ASHRAE (2017), Handbook - Fundamentals, chapter 1.
    """
    _check_pressure(pressure_pa)
    if not 0 <= vapour_pressure_pa < pressure_pa:
        raise ValueError(f"vapour pressure must be 0 to below {pressure_pa:g} Pa, not {vapour_pressure_pa:g}")
    return WATER_TO_AIR * vapour_pressure_pa / (pressure_pa - vapour_pressure_pa)


def humidity_ratio_from_wet_bulb(
    dry_bulb_c: float, wet_bulb_c: float, pressure_pa: float = STANDARD_PRESSURE_PA
) -> float:
    """Humidity ratio, kg/kg, from dry and wet bulb in °C.

    Above freezing ((2501 - 2.326 Tw) Ws - 1.006 (T - Tw)) / (2501 + 1.86 T - 4.186 Tw); with ice on the wick
    ((2830 - 0.24 Tw) Ws - 1.006 (T - Tw)) / (2830 + 1.86 T - 2.1 Tw); Ws is the ratio at saturation at the wet bulb.
    Dry bulb -40 to 150 °C, wet bulb not above it and below boiling. ValueError also when the wet bulb is lower than
    perfectly dry air could make it: one of the two thermometers is wrong.
    Source: ASHRAE (2017), Handbook - Fundamentals, chapter 1, equations 33 and 35.
    """
    require("dry bulb", dry_bulb_c, -40.0, 150.0, "°C")
    _check_pressure(pressure_pa)
    if not -40.0 <= wet_bulb_c <= dry_bulb_c:
        raise ValueError(f"wet bulb must be -40 °C to the dry bulb ({dry_bulb_c:g} °C), not {wet_bulb_c:g}")
    ratio = _ratio_at_wet_bulb(dry_bulb_c, wet_bulb_c, pressure_pa)
    if ratio < 0:
        raise ValueError(
            f"wet bulb {wet_bulb_c:g} °C is lower than perfectly dry air at {dry_bulb_c:g} °C could make it; "
            "check both thermometers"
        )
    return ratio


def _ratio_at_wet_bulb(dry: float, wet: float, pressure: float) -> float:
    saturated = humidity_ratio(_below_boiling("wet bulb", wet, pressure), pressure)
    if wet >= 0:
        return ((2501.0 - 2.326 * wet) * saturated - 1.006 * (dry - wet)) / (2501.0 + 1.86 * dry - 4.186 * wet)
    return ((2830.0 - 0.24 * wet) * saturated - 1.006 * (dry - wet)) / (2830.0 + 1.86 * dry - 2.1 * wet)


def _below_boiling(name: str, celsius: float, pressure: float) -> float:
    vapour = saturation_pressure(celsius)
    if vapour >= pressure:
        raise ValueError(f"{name} {celsius:g} °C is at or above boiling at {pressure:g} Pa")
    return vapour


def _check_pressure(pressure_pa: float) -> None:
    require("pressure", pressure_pa, 30_000.0, 200_000.0, "Pa")


def vapour_pressure(dry_bulb_c: float, wet_bulb_c: float, pressure_pa: float = STANDARD_PRESSURE_PA) -> float:
    """Vapour pressure of the air, Pa, from dry and wet bulb: p W / (0.621945 + W). Ranges as humidity_ratio_from_wet_bulb."""
    ratio = humidity_ratio_from_wet_bulb(dry_bulb_c, wet_bulb_c, pressure_pa)
    return pressure_pa * ratio / (WATER_TO_AIR + ratio)


def relative_humidity(dry_bulb_c: float, wet_bulb_c: float, pressure_pa: float = STANDARD_PRESSURE_PA) -> float:
    """Relative humidity in per cent from dry and wet bulb in °C: 100 e / e_saturated(dry bulb).

    Ranges, errors and source as humidity_ratio_from_wet_bulb. Above 100 °C the figure is still e over saturation
    pressure at the dry bulb, so air full of steam at ordinary pressure reads less than 100.
    """
    vapour = vapour_pressure(dry_bulb_c, wet_bulb_c, pressure_pa)
    return 100.0 * vapour / saturation_pressure(dry_bulb_c)


def relative_humidity_by_psychrometer(
    dry_bulb_c: float,
    wet_bulb_c: float,
    pressure_pa: float = STANDARD_PRESSURE_PA,
    coefficient_per_c: float = PSYCHROMETER_COEFFICIENT,
) -> float:
    """Relative humidity in per cent by the short formula of printed tables, e = es(Tw) - A (1 + 0.00115 Tw) p (T - Tw).

    es(T) = 610.8 exp(17.27 T / (237.3 + T)) Pa. coefficient_per_c is A; it belongs to the instrument and its air speed
    (5e-4 to 1.2e-3 per °C taken here). Wick wet, not frozen: 0 to 100 °C. Kept to compare with instruments and tables
    that use it; it reads within about one point of relative_humidity. ValueError outside the ranges or below 0 %.
    Source: Arizona Meteorological Network, Dewpoint Formulas; AMS Glossary of Meteorology, Psychrometric formula.
    """
    require("dry bulb", dry_bulb_c, 0.0, 100.0, "°C")
    _check_pressure(pressure_pa)
    require("psychrometer coefficient", coefficient_per_c, 5e-4, 1.2e-3, "per °C")
    if not 0 <= wet_bulb_c <= dry_bulb_c:
        raise ValueError(f"wet bulb must be 0 °C to the dry bulb ({dry_bulb_c:g} °C), not {wet_bulb_c:g}")
    spread = coefficient_per_c * (1.0 + 1.15e-3 * wet_bulb_c) * pressure_pa * (dry_bulb_c - wet_bulb_c)
    vapour = _magnus(wet_bulb_c) - spread
    if vapour < 0:
        raise ValueError(f"wet bulb {wet_bulb_c:g} °C is too low for a dry bulb of {dry_bulb_c:g} °C")
    return 100.0 * vapour / _magnus(dry_bulb_c)


def _magnus(celsius: float) -> float:
    return 610.8 * math.exp(17.27 * celsius / (237.3 + celsius))


def dew_point(dry_bulb_c: float, relative_humidity_percent: float) -> float:
    """Dew point in °C (frost point below 0) of air at a dry bulb in °C and a relative humidity in per cent.

    The temperature whose saturation pressure is the air's vapour pressure, by bisection to 1e-9 °C. Dry bulb -40 to
    150 °C, humidity above 0.01 to 100 %; else ValueError. Source: definition; saturation pressure as above.
    """
    require("dry bulb", dry_bulb_c, -40.0, 150.0, "°C")
    require("relative humidity", relative_humidity_percent, 0.01, 100.0, "%")
    wanted = saturation_pressure(dry_bulb_c) * relative_humidity_percent / 100.0
    low, high = -100.0, dry_bulb_c
    if wanted < saturation_pressure(low):
        raise ValueError("the air is too dry: its dew point is below -100 °C")
    while high - low > 1e-9:
        middle = (low + high) / 2.0
        if saturation_pressure(middle) < wanted:
            low = middle
        else:
            high = middle
    return high


def dew_point_from_wet_bulb(dry_bulb_c: float, wet_bulb_c: float, pressure_pa: float = STANDARD_PRESSURE_PA) -> float:
    """Dew point in °C from dry and wet bulb in °C; ranges and errors as relative_humidity and dew_point."""
    humidity = relative_humidity(dry_bulb_c, wet_bulb_c, pressure_pa)
    return dew_point(dry_bulb_c, min(humidity, 100.0))


def wet_bulb_for(
    dry_bulb_c: float, relative_humidity_percent: float, pressure_pa: float = STANDARD_PRESSURE_PA
) -> float:
    """Wet bulb in °C to set so that air at a dry bulb in °C has the wanted relative humidity in per cent.

    Inverse of relative_humidity by bisection to 1e-9 °C. Dry bulb -35 to 150 °C, humidity 0 to 100 %; ValueError outside,
    and when the wanted humidity would need more vapour than the pressure allows (dry bulb above boiling).
    Near 0 °C water and ice on the wick give two readings; the wet one is returned where it exists.
    """
    require("dry bulb", dry_bulb_c, -35.0, 150.0, "°C")
    require("relative humidity", relative_humidity_percent, 0.0, 100.0, "%")
    _check_pressure(pressure_pa)
    vapour = saturation_pressure(dry_bulb_c) * relative_humidity_percent / 100.0
    if vapour >= pressure_pa:
        raise ValueError(
            f"{relative_humidity_percent:g} % at {dry_bulb_c:g} °C needs {vapour:.0f} Pa of vapour, "
            f"more than the pressure of {pressure_pa:g} Pa"
        )
    wanted = humidity_ratio(vapour, pressure_pa)
    low, high = -60.0, dry_bulb_c
    if dry_bulb_c > 0 and _ratio_at_wet_bulb(dry_bulb_c, 0.0, pressure_pa) <= wanted:
        low = 0.0
    elif dry_bulb_c > 0:
        high = -1e-9
    while high - low > 1e-9:
        middle = (low + high) / 2.0
        if saturation_pressure(middle) < pressure_pa and _ratio_at_wet_bulb(dry_bulb_c, middle, pressure_pa) < wanted:
            low = middle
        else:
            high = middle
    return high


@dataclass(frozen=True, slots=True)
class SurfaceMoisture:
    """Whether water leaves or gathers on a surface.

    state: `sweats` (colder than the dew point, water gathers), `takes-up-water` (warmer than the dew point, but its salt
    or dryness draws vapour from the air), `dries`, or `close` (within the thermometers' error of turning over).
    above_dew_point_c: surface less dew point, °C. drying_pressure_pa: vapour pressure that drives water off the surface,
    Pa; negative when it drives water on. dew_point_c: °C.
    """

    state: str
    dew_point_c: float
    above_dew_point_c: float
    drying_pressure_pa: float


def surface_moisture(
    surface_c: float,
    dry_bulb_c: float,
    wet_bulb_c: float,
    pressure_pa: float = STANDARD_PRESSURE_PA,
    *,
    water_activity: float = 1.0,
    thermometer_error_c: float = 0.5,
) -> SurfaceMoisture:
    """Will a surface at `surface_c` °C dry or sweat in air of these bulbs (°C) and pressure (Pa)?

    Compares a_w x saturation pressure at the surface with the vapour pressure of the air, and the surface with the dew
    point. water_activity: of the surface, above 0 to 1 (1 for wet meat, less for a salted crust). thermometer_error_c:
    within this many °C of turning over, the answer is `close` (0 to 5). ValueError outside these or the bulbs' ranges.
    Source: physics of moist air (Dalton); ASHRAE (2017), Handbook - Fundamentals, chapter 1.
    """
    require("surface temperature", surface_c, -40.0, 100.0, "°C")
    require("water activity of the surface", water_activity, 1e-6, 1.0, "")
    require("thermometer error", thermometer_error_c, 0.0, 5.0, "°C")
    dew = dew_point_from_wet_bulb(dry_bulb_c, wet_bulb_c, pressure_pa)
    air = vapour_pressure(dry_bulb_c, wet_bulb_c, pressure_pa)
    drive = water_activity * saturation_pressure(surface_c) - air
    warmer = water_activity * saturation_pressure(surface_c + thermometer_error_c) - air
    colder = water_activity * saturation_pressure(surface_c - thermometer_error_c) - air
    if colder < 0 < warmer:
        state = "close"
    elif drive >= 0:
        state = "dries"
    else:
        state = "sweats" if surface_c < dew else "takes-up-water"
    return SurfaceMoisture(state, dew, surface_c - dew, drive)
