"""Brine strength: salometer degrees, per cent salt, density and Baume, each into the other, at any brine temperature.

A salometer says how much of full saturation a brine of salt and water holds: 100 degrees are 26.395 per cent salt at
60 F (15.56 C). What the float senses is density, so a warm brine reads low, and sugar, phosphate and cure read as salt;
`brine_formula` reckons with the latter. Per cent means per cent by weight of the brine. Temperatures in C, densities in
kg/m3. Range: pure salt brines from 0 to 26.5 per cent, 0 to 60 C.
"""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum
from math import exp

from diagnose.process.ranges import require, require_positive

SATURATED = 26.395
"""Per cent salt at 100 salometer degrees and 60 F. Source: The Salometer and How to Use It (manufacturer's manual, seen)."""

SATURATED_OLD = 26.5
"""The rounder figure of older tables (USDA Farmers' Bulletin on pickles, hydrometer makers; seen)."""

SIXTY_F = (60 - 32) / 1.8
"""Temperature in C at which salometers and US Baume floats are graduated unless they say otherwise."""

STRONGEST = 26.5
BAUME_US = 145.0
BAUME_EUROPE = 144.3
_GLASS = 25e-6  # cubic expansion of hydrometer glass per C; common figure, read from memory


class Scale(StrEnum):
    """What a float in brine may be graduated in."""

    SALOMETER = "salometer"
    PERCENT = "percent"
    BAUME = "baume"
    SPECIFIC_GRAVITY = "specific-gravity"
    DENSITY = "density"


def salt_percent_from_salometer(degrees: float, saturated: float = SATURATED) -> float:
    """Per cent salt = degrees x saturated / 100. Degrees 0 to 100; `saturated` 25 to 26.5 (25 is the canner's scale).

    Raises:
        ValueError: a number lies outside its range.
    """
    require("salometer reading", degrees, 0, 100, "degrees")
    return degrees * require("salt at saturation", saturated, 25, STRONGEST, "per cent") / 100


def salometer_from_salt_percent(salt_percent: float, saturated: float = SATURATED) -> float:
    """Degrees = 100 x per cent salt / saturated. Salt from 0 to `saturated`, which is 25 to 26.5 per cent.

    Raises:
        ValueError: a number lies outside its range.
    """
    require("salt at saturation", saturated, 25, STRONGEST, "per cent")
    return 100 * require("salt in the brine", salt_percent, 0, saturated, "per cent") / saturated


def water_density(temperature_c: float) -> float:
    """Density of air-free water in kg/m3 at 1 atmosphere, 0 to 60 C.

    Formula of Kell (1975, J. Chem. Eng. Data 20:97), coefficients read from memory; 999.97 at 4 C, 998.20 at 20 C.

    Raises:
        ValueError: the temperature lies outside its range.
    """
    t = require("brine temperature", temperature_c, 0, 60, "C")
    above = 999.83952 + t * (
        16.945176 + t * (-7.9870401e-3 + t * (-4.6170461e-5 + t * (1.0556302e-7 - 2.8054253e-10 * t)))
    )
    return above / (1 + 0.01687985 * t)


def salt_apparent_density(solutes: float, temperature_c: float) -> float:
    """Density in kg/m3 that dissolved salt seems to have, for a mass fraction of all solutes (0 to 0.4), 0 to 60 C.

    Model of Laliberte and Cooper (2004, J. Chem. Eng. Data 49:1141); its form was seen, the five numbers for sodium
    chloride were read from memory and agree with two printed density tables within 0.8 kg/m3.

    Raises:
        ValueError: a number lies outside its range.
    """
    w = require("share of everything dissolved", solutes, 0, 0.4)
    t = require("brine temperature", temperature_c, 0, 60, "C")
    return (-0.00433 * w + 0.06471) * exp(1e-6 * (t + 3315.6) ** 2) / (w + 1.01660 + 0.014624 * t)


def density(salt_percent: float, temperature_c: float) -> float:
    """Density of brine in kg/m3: 1 / (water share / water density + salt share / apparent density of salt).

    Range 0 to 26.5 per cent, 0 to 60 C; within 0.8 kg/m3 of the tables (a tenth of a per cent of salt). Sources as for
    `water_density` and `salt_apparent_density`.

    Raises:
        ValueError: a number lies outside its range.
    """
    w = require("salt in the brine", salt_percent, 0, STRONGEST, "per cent") / 100
    return 1 / ((1 - w) / water_density(temperature_c) + w / salt_apparent_density(w, temperature_c))


def salt_percent_from_density(kg_per_m3: float, temperature_c: float) -> float:
    """Per cent salt of a brine of this density at this temperature, by bisection of `density`.

    Raises:
        ValueError: the temperature lies outside 0 to 60 C, or no brine of 0 to 26.5 per cent has this density there.
    """
    lightest, heaviest = density(0, temperature_c), density(STRONGEST, temperature_c)
    require(f"density of brine at {temperature_c:g} C", kg_per_m3, lightest - 1e-9, heaviest + 1e-9, "kg/m3")
    return _bisect(lambda salt: density(salt, temperature_c), kg_per_m3)


def specific_gravity(salt_percent: float, temperature_c: float = SIXTY_F, reference_c: float = SIXTY_F) -> float:
    """Density of the brine over that of water at the reference temperature (60 F / 60 F unless told otherwise).

    Raises:
        ValueError: a number lies outside the range of `density`.
    """
    return density(salt_percent, temperature_c) / water_density(reference_c)


def baume_from_specific_gravity(gravity: float, modulus: float = BAUME_US) -> float:
    """Baume degrees of a liquid heavier than water: modulus - modulus / gravity. Gravity 0.99 to 1.9.

    Modulus 145 is the US scale at 60 F / 60 F (seen); 144.3 the European one at 15 C (read from memory).

    Raises:
        ValueError: gravity outside its range, or the modulus not between 140 and 150.
    """
    m = require("Baume modulus", modulus, 140, 150)
    return m - m / require("specific gravity", gravity, 0.99, 1.9)


def specific_gravity_from_baume(degrees: float, modulus: float = BAUME_US) -> float:
    """Specific gravity = modulus / (modulus - degrees). Degrees -1.5 to 68.

    Raises:
        ValueError: degrees outside their range, or the modulus not between 140 and 150.
    """
    m = require("Baume modulus", modulus, 140, 150)
    return m / (m - require("Baume reading", degrees, -1.5, 68, "degrees"))


def baume_from_salt_percent(salt_percent: float) -> float:
    """US Baume degrees of a salt brine at 60 F, 0 to 26.5 per cent.

    Raises:
        ValueError: the salt lies outside its range.
    """
    return baume_from_specific_gravity(specific_gravity(salt_percent))


def salt_percent_from_baume(degrees: float) -> float:
    """Per cent salt of a brine that reads so many US Baume degrees at 60 F.

    Raises:
        ValueError: no brine of 0 to 26.5 per cent reads so.
    """
    return salt_percent_from_density(specific_gravity_from_baume(degrees) * water_density(SIXTY_F), SIXTY_F)


def reading_of_density(kg_per_m3: float, scale: str, temperature_c: float, graduated_at_c: float = SIXTY_F) -> float:
    """What a glass float reads in a liquid of this density at this temperature.

    The float weighs the liquid at its own temperature, and its glass has grown a little (25e-6 per C): it shows the value
    that its scale puts to density x (1 + 25e-6 x (temperature - graduation temperature)). Scales: `Scale`.

    Raises:
        ValueError: the scale is unknown, a temperature lies outside 0 to 60 C, or the reading falls off the scale.
    """
    require("brine temperature", temperature_c, 0, 60, "C")
    shown = kg_per_m3 * (1 + _GLASS * (temperature_c - graduated_at_c))
    kind = _scale(scale)
    if kind is Scale.DENSITY:
        return shown
    if kind in (Scale.BAUME, Scale.SPECIFIC_GRAVITY):
        gravity = shown / water_density(graduated_at_c)
        return gravity if kind is Scale.SPECIFIC_GRAVITY else baume_from_specific_gravity(gravity)
    salt = _salt_on_scale(shown, graduated_at_c)
    return salt if kind is Scale.PERCENT else 100 * salt / SATURATED


def reading(salt_percent: float, scale: str, temperature_c: float, graduated_at_c: float = SIXTY_F) -> float:
    """What a glass float reads in a pure salt brine of known strength at a given temperature.

    A warm brine reads low and a cold one high. Range as for `density`; near 0 per cent in warm water and near saturation
    in cold brine the reading falls off the scale.

    Raises:
        ValueError: as for `reading_of_density` and `density`.
    """
    return reading_of_density(density(salt_percent, temperature_c), scale, temperature_c, graduated_at_c)


def salt_percent_from_reading(value: float, scale: str, temperature_c: float, graduated_at_c: float = SIXTY_F) -> float:
    """Per cent salt of a pure salt brine from a float reading at the brine's own temperature; inverse of `reading`.

    Raises:
        ValueError: the scale is unknown, the reading is off its scale, or no brine of 0 to 26.5 per cent reads so.
    """
    kind = _scale(scale)
    if kind is Scale.DENSITY:
        shown = require_positive("density", value, "kg/m3")
    elif kind is Scale.BAUME:
        shown = specific_gravity_from_baume(value) * water_density(graduated_at_c)
    elif kind is Scale.SPECIFIC_GRAVITY:
        shown = require("specific gravity", value, 0.99, 1.9) * water_density(graduated_at_c)
    else:
        salt = value if kind is Scale.PERCENT else salt_percent_from_salometer(value)
        shown = density(salt, graduated_at_c)
    actual = shown / (1 + _GLASS * (temperature_c - graduated_at_c))
    return salt_percent_from_density(actual, temperature_c)


def salometer_at_sixty(degrees: float, temperature_c: float, graduated_at_c: float = SIXTY_F) -> float:
    """A salometer reading corrected to what the same brine would read at 60 F; 0 to 100 degrees, 0 to 60 C.

    Raises:
        ValueError: as for `salt_percent_from_reading`.
    """
    salt = salt_percent_from_reading(degrees, Scale.SALOMETER, temperature_c, graduated_at_c)
    return 100 * salt / SATURATED


def salometer_at_sixty_by_rule(degrees: float, temperature_c: float) -> float:
    """The trade's rule for the same correction: add 0.116 degree for each F above 60, take it off below.

    Source: Hilderbrand (1973), Preparation of Salt Brines for the Fishing Industry, rule read from memory. It fits near
    half strength; a strong brine needs more and a weak one less, see `salometer_at_sixty`. 0 to 60 C.

    Raises:
        ValueError: a number lies outside its range.
    """
    require("salometer reading", degrees, 0, 100, "degrees")
    require("brine temperature", temperature_c, 0, 60, "C")
    return degrees + 0.116 * (temperature_c - SIXTY_F) * 1.8


def salt_per_water(salt_percent: float) -> float:
    """Kilograms of salt to each kilogram of water: salt / (100 - salt). 0 to 26.5 per cent.

    Raises:
        ValueError: the salt lies outside its range.
    """
    return require("salt in the brine", salt_percent, 0, STRONGEST, "per cent") / (100 - salt_percent)


def salt_grams_per_litre(salt_percent: float, temperature_c: float) -> float:
    """Grams of salt in a litre of brine: density x salt / 100. Range as for `density`.

    Raises:
        ValueError: a number lies outside its range.
    """
    return density(salt_percent, temperature_c) * salt_percent / 100


def volume_litres(brine_kg: float, salt_percent: float, temperature_c: float) -> float:
    """Volume of a weight of brine in litres. Range as for `density`.

    Raises:
        ValueError: the weight is not above 0 or a number lies outside its range.
    """
    return 1000 * require_positive("weight of the brine", brine_kg, "kg") / density(salt_percent, temperature_c)


def _scale(name: str) -> Scale:
    try:
        return Scale(name)
    except ValueError:
        raise ValueError(f"unknown scale {name}; known are {', '.join(Scale)}") from None


def _salt_on_scale(shown: float, graduated_at_c: float) -> float:
    low, high = density(0, graduated_at_c), density(STRONGEST, graduated_at_c)
    if not low - 1e-9 <= shown <= high + 1e-9:
        raise ValueError(
            f"the float falls off its scale: density {shown:g} kg/m3 lies outside {low:g} to {high:g} kg/m3"
        )
    return _bisect(lambda salt: density(salt, graduated_at_c), shown)


def _bisect(rising: Callable[[float], float], wanted: float) -> float:
    low, high = 0.0, STRONGEST
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if rising(middle) < wanted else (low, middle)
    return (low + high) / 2
