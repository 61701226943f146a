"""A brine as a list of weights: what it holds, what a float should read in it, and what it puts into the meat.

The reading is the plant's cheapest check on the scales: a float that reads other than the formula foretells says that
salt or water was weighed wrong, that ice has not melted or salt not dissolved. Weights in kg, temperatures in C.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields

from diagnose.process import brine, cure
from diagnose.process.ranges import require, require_not_negative, require_positive

APPARENT_LITRES_PER_KG = {
    "sugar_kg": 0.62,
    "phosphate_kg": 0.16,
    "nitrite_kg": 0.36,
    "nitrate_kg": 0.35,
    "ascorbate_kg": 0.50,
    "other_kg": 0.50,
}
"""Room that a kilogram of each takes up in brine. Sugar, nitrate: CRC Handbook solution tables, read from memory;
phosphate: middle of the mono- and disodium rows of that table, seen (0.27 and 0.05), so polyphosphates are a guess;
nitrite, ascorbate, other: estimates. An error of 0.1 in phosphate at 2 per cent shifts the reading by one degree."""


@dataclass(frozen=True, slots=True)
class BrineFormula:
    """What goes into the tank, in kg, curing mixes already split into their parts (`with_cure_mix` does that).

    `ascorbate_kg` stands for sodium ascorbate and erythorbate and their acids, `other_kg` for anything else dissolved.

    Raises:
        ValueError: a weight is negative, or there is no water.
    """

    water_kg: float
    salt_kg: float = 0.0
    ice_kg: float = 0.0
    sugar_kg: float = 0.0
    phosphate_kg: float = 0.0
    nitrite_kg: float = 0.0
    nitrate_kg: float = 0.0
    ascorbate_kg: float = 0.0
    other_kg: float = 0.0

    def __post_init__(self) -> None:
        for field in fields(self):
            require_not_negative(field.name.replace("_kg", " in the formula"), getattr(self, field.name), "kg")
        require_positive("water and ice in the formula", self.water_kg + self.ice_kg, "kg")

    @property
    def total_kg(self) -> float:
        """Weight of the whole batch, ice included."""
        return float(sum(getattr(self, field.name) for field in fields(self)))

    @property
    def all_water_kg(self) -> float:
        """Water and ice together."""
        return self.water_kg + self.ice_kg

    def percent(self, ingredient: str) -> float:
        """Share of an ingredient (a field's name) in the whole batch, per cent."""
        return 100 * float(getattr(self, ingredient)) / self.total_kg


@dataclass(frozen=True, slots=True)
class Ingoing:
    """What a brine puts into the meat at one pump, all on green weight."""

    salt_percent: float
    sugar_percent: float
    phosphate_percent: float
    nitrite_ppm: float
    nitrate_ppm: float
    ascorbate_ppm: float


@dataclass(frozen=True, slots=True)
class ReadingCheck:
    """A float reading beside the one that the formula foretells.

    `salt_off_kg` is the salt over (above 0) or short (below 0) that would explain the reading if nothing else is wrong;
    `water_off_kg` the water over or short that would do so instead. None where no such error explains it.
    """

    expected: float
    found: float
    difference: float
    salt_off_kg: float | None
    water_off_kg: float | None


def with_cure_mix(formula: BrineFormula, mix_kg: float, mix: cure.CureMix) -> BrineFormula:
    """The formula with a weight of curing mix added, split into salt, nitrite, nitrate and the rest.

    Raises:
        ValueError: the weight is negative.
    """
    require_not_negative("weight of the mix", mix_kg, "kg")
    parts = {
        "salt_kg": cure.in_mix_kg(mix_kg, mix.salt_percent),
        "nitrite_kg": cure.in_mix_kg(mix_kg, mix.nitrite_percent),
        "nitrate_kg": cure.in_mix_kg(mix_kg, mix.nitrate_percent),
    }
    parts["other_kg"] = max(0.0, mix_kg - sum(parts.values()))
    values = {field.name: getattr(formula, field.name) + parts.get(field.name, 0.0) for field in fields(formula)}
    return BrineFormula(**values)


def formula_density(formula: BrineFormula, temperature_c: float, melted: float = 1.0) -> float:
    """Density in kg/m3 of the liquid in the tank; `melted` is the share of the ice that has melted, 0 to 1.

    1 / sum of (share x room per kg), with the salt's room after Laliberte and Cooper (2004) and fixed rooms for the rest
    (`APPARENT_LITRES_PER_KG`). Range: everything dissolved up to 40 per cent of the liquid, 0 to 60 C.

    Raises:
        ValueError: a number lies outside its range, or there is no liquid water.
    """
    share = require("share of the ice that has melted", melted, 0, 1)
    water = require_positive("liquid water", formula.water_kg + share * formula.ice_kg, "kg")
    dissolved = formula.total_kg - formula.all_water_kg
    liquid = water + dissolved
    room = water / brine.water_density(temperature_c)
    room += formula.salt_kg / brine.salt_apparent_density(dissolved / liquid, temperature_c)
    room += sum(getattr(formula, name) * litres / 1000 for name, litres in APPARENT_LITRES_PER_KG.items())
    return float(liquid / room)


def expected_reading(
    formula: BrineFormula,
    scale: str,
    temperature_c: float,
    graduated_at_c: float = brine.SIXTY_F,
    melted: float = 1.0,
) -> float:
    """What a float should read in this brine at this temperature, everything dissolved, sugar and phosphate included.

    Scales as in `brine.Scale`. Good to about one salometer degree in a brine with phosphate, half a degree without.

    Raises:
        ValueError: as for `formula_density` and `brine.reading_of_density`.
    """
    at_temperature = formula_density(formula, temperature_c, melted)
    return brine.reading_of_density(at_temperature, scale, temperature_c, graduated_at_c)


def check_reading(
    formula: BrineFormula,
    found: float,
    scale: str,
    temperature_c: float,
    graduated_at_c: float = brine.SIXTY_F,
) -> ReadingCheck:
    """A reading beside the expected one, and the error in salt or in water that would explain the difference.

    Salt is searched from none to three times the formula's, water from a third to three times; beyond that, None.

    Raises:
        ValueError: as for `expected_reading`, or the found reading is not finite.
    """
    expected = expected_reading(formula, scale, temperature_c, graduated_at_c)
    require("found reading", found, -1000, 5000)

    def read(salt: float, water: float) -> float | None:
        values = {field.name: getattr(formula, field.name) for field in fields(formula)}
        changed = BrineFormula(**{**values, "salt_kg": salt, "water_kg": water, "ice_kg": 0.0})
        try:
            return expected_reading(changed, scale, temperature_c, graduated_at_c)
        except ValueError:  # off the scale: no such error could have given a reading
            return None

    salt, water = formula.salt_kg, formula.all_water_kg
    salt_found = _where(lambda factor: read(salt * factor, water), found, 0.0, 3.0)
    water_found = _where(lambda factor: read(salt, water / factor), found, 1 / 3, 3.0)
    return ReadingCheck(
        expected=expected,
        found=found,
        difference=found - expected,
        salt_off_kg=None if salt_found is None else salt * (salt_found - 1),
        water_off_kg=None if water_found is None else water * (1 / water_found - 1),
    )


def _where(rising: Callable[[float], float | None], wanted: float, low: float, high: float) -> float | None:
    """The factor at which a rising reading meets the wanted one; off the scale counts as too far from 1."""

    def side(factor: float) -> int:
        value = rising(factor)
        if value is None:
            return 1 if factor > 1 else -1
        return 1 if value >= wanted else -1

    if side(low) > 0 or side(high) < 0:
        return None
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (low, middle) if side(middle) > 0 else (middle, high)
    value = rising(high)
    return high if value is not None and abs(value - wanted) <= 1e-6 * max(1.0, abs(wanted)) else None


def ingoing_from_formula(formula: BrineFormula, pump_percent: float) -> Ingoing:
    """Everything a brine puts into the meat at a pump (0 to 200 per cent of green weight), by the pumped-pickle formula.

    The same sum serves pick-up (first immersion method) and the retained pump of a drained lot.

    Raises:
        ValueError: the pump lies outside its range.
    """

    def ppm(kg: float) -> float:
        return cure.ingoing_pumped(kg, formula.total_kg, pump_percent)

    return Ingoing(
        salt_percent=ppm(formula.salt_kg) / cure.PPM_PER_PERCENT,
        sugar_percent=ppm(formula.sugar_kg) / cure.PPM_PER_PERCENT,
        phosphate_percent=ppm(formula.phosphate_kg) / cure.PPM_PER_PERCENT,
        nitrite_ppm=ppm(formula.nitrite_kg),
        nitrate_ppm=ppm(formula.nitrate_kg),
        ascorbate_ppm=ppm(formula.ascorbate_kg),
    )
