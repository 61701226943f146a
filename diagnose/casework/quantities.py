"""Numbers with units as people write them: "412 kg", "38 F", "2 h 10 min".

Every quantity is brought to one unit of its kind (`UNITS`). The conversions are done by the library pint, which is loaded at
the first use; this module only knows how people spell units and what they may not leave out.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from functools import cache
from typing import TYPE_CHECKING, Any, Literal

if TYPE_CHECKING:
    from pint import UnitRegistry

Kind = Literal[
    "weight", "temperature", "time", "share", "ppm", "length", "altitude", "pressure", "float", "plain", "degrees"
]

UNITS: Mapping[Kind, str] = {
    "weight": "kg",
    "temperature": "°C",
    "time": "min",
    "share": "per cent",
    "ppm": "ppm",
    "length": "mm",
    "altitude": "m",
    "pressure": "Pa",
    "float": "degrees salometer",
    "plain": "",
    "degrees": "°C difference",
}
"""The unit that each kind of quantity is brought to."""

EXAMPLES: Mapping[Kind, str] = {
    "weight": "412 kg or 908 lb",
    "temperature": "4 C or 38 F",
    "time": "2 h 10 min or 90 min",
    "share": "18 %",
    "ppm": "156 ppm",
    "length": "120 mm or 5 in",
    "altitude": "300 m or 1000 ft",
    "pressure": "1013 hPa",
    "float": "62 or 62 degrees",
    "plain": "0.96",
    "degrees": "5 C",
}

_WORDS: Mapping[str, str] = {
    **dict.fromkeys(("kg", "kilo", "kilos", "kilogram", "kilograms"), "kg"),
    **dict.fromkeys(("g", "gram", "grams"), "g"),
    **dict.fromkeys(("mg", "milligram", "milligrams"), "mg"),
    **dict.fromkeys(("lb", "lbs", "pound", "pounds"), "lb"),
    **dict.fromkeys(("oz", "ounce", "ounces"), "oz"),
    **dict.fromkeys(("t", "tonne", "tonnes"), "metric_ton"),
    **dict.fromkeys(("c", "°c", "degc", "deg c", "celsius"), "degC"),
    **dict.fromkeys(("f", "°f", "degf", "deg f", "fahrenheit"), "degF"),
    **dict.fromkeys(("k", "kelvin"), "kelvin"),
    **dict.fromkeys(("s", "sec", "second", "seconds"), "second"),
    **dict.fromkeys(("min", "mins", "minute", "minutes"), "minute"),
    **dict.fromkeys(("h", "hr", "hrs", "hour", "hours"), "hour"),
    **dict.fromkeys(("d", "day", "days"), "day"),
    **dict.fromkeys(("week", "weeks"), "week"),
    **dict.fromkeys(("mm", "millimetre", "millimetres"), "mm"),
    **dict.fromkeys(("cm", "centimetre", "centimetres"), "cm"),
    **dict.fromkeys(("m", "metre", "metres"), "m"),
    **dict.fromkeys(("in", "inch", "inches"), "inch"),
    **dict.fromkeys(("ft", "foot", "feet"), "foot"),
    **dict.fromkeys(("pa",), "pascal"),
    **dict.fromkeys(("hpa", "mbar"), "hectopascal"),
    **dict.fromkeys(("kpa",), "kilopascal"),
    **dict.fromkeys(("bar",), "bar"),
    **dict.fromkeys(("atm",), "atmosphere"),
    **dict.fromkeys(("inhg",), "inch_Hg"),
    **dict.fromkeys(("mmhg",), "mmHg"),
}
_TARGETS: Mapping[Kind, str] = {
    "weight": "kg",
    "temperature": "degC",
    "time": "minute",
    "length": "mm",
    "altitude": "m",
    "pressure": "pascal",
    "degrees": "delta_degC",
}
_BARE: Mapping[Kind, Mapping[str, float]] = {
    "share": {"%": 1.0, "per cent": 1.0, "percent": 1.0, "ppm": 1e-4, "mg/kg": 1e-4, "points": 1.0},
    "ppm": {"ppm": 1.0, "mg/kg": 1.0, "%": 1e4, "per cent": 1e4, "percent": 1e4},
    "float": {"": 1.0, "degrees": 1.0, "degree": 1.0, "°": 1.0, "sal": 1.0, "°sal": 1.0, "degrees salometer": 1.0},
    "plain": {"": 1.0, "ph": 1.0, "aw": 1.0},
}
"""Units that are mere factors, kind by kind; an empty word means that the number may stand alone."""

_PART = re.compile(r"\s*([-+]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+))\s*([^0-9+\-.]*)")
_LONGEST = 60


def parse(text: str, kind: Kind) -> float:
    """The quantity in the unit of its kind. Raises ValueError saying what is wrong and how it is written."""
    written = text.strip().replace("\u2212", "-")
    if len(written) > _LONGEST:
        raise ValueError("this is too long for a number with its unit")
    parts = _parts(written, kind)
    values = [_value(number, unit, kind) for number, unit in parts]
    if len(values) > 1 and (kind not in ("time", "weight") or any(value < 0 for value in values)):
        raise ValueError(f"one number with its unit is wanted, such as {EXAMPLES[kind]}")
    total = math.fsum(values)
    if not math.isfinite(total):
        raise ValueError("the number is too large")
    return total


def _parts(written: str, kind: Kind) -> list[tuple[float, str]]:
    if re.search(r"[0-9],[0-9]", written):
        raise ValueError(f"write the decimal point as a dot, and no sign between thousands: {EXAMPLES[kind]}")
    parts: list[tuple[float, str]] = []
    at = 0
    while at < len(written):
        found = _PART.match(written, at)
        if found is None or found.end() == at:
            raise ValueError(f'"{written}" is not a number with its unit, such as {EXAMPLES[kind]}')
        parts.append((float(found[1]), " ".join(found[2].lower().split())))
        at = found.end()
    if not parts:
        raise ValueError(f"a number with its unit is wanted, such as {EXAMPLES[kind]}")
    return parts


def _value(number: float, unit: str, kind: Kind) -> float:
    factors = _BARE.get(kind)
    if factors is not None:
        if unit in factors:
            return number * factors[unit]
        raise ValueError(_wrong_unit(unit, kind))
    name = _WORDS.get(unit)
    if name is None:
        raise ValueError(_wrong_unit(unit, kind))
    if kind == "degrees":
        name = {"degC": "delta_degC", "kelvin": "delta_degC", "degF": "delta_degF"}.get(name, name)
    import pint

    try:
        return float(_registry().Quantity(number, name).to(_TARGETS[kind]).magnitude)
    except pint.errors.PintError:
        raise ValueError(_wrong_unit(unit, kind)) from None


def _wrong_unit(unit: str, kind: Kind) -> str:
    if not unit:
        return f"the unit is missing; write it behind the number, such as {EXAMPLES[kind]}"
    return f'"{unit}" is no unit that fits here; write it like {EXAMPLES[kind]}'


@cache
def _registry() -> UnitRegistry[Any]:
    import pint

    return pint.UnitRegistry(cache_folder=None)


def shown(value: float, unit: str) -> str:
    """A value with its unit, rounded to what a person reads: four figures at most, and no more than are there."""
    if abs(value) >= 1000:
        number = f"{value:.0f}"
    elif abs(value) >= 100:
        number = f"{value:.1f}".removesuffix(".0")
    else:
        number = f"{float(f'{value:.3g}'):g}"
    number = "0" if number == "-0" else number
    return f"{number} {unit}".strip()


def fahrenheit(celsius: float) -> float:
    """A temperature in °F."""
    return celsius * 1.8 + 32.0
