"""The other way round: a brine for wanted salt, nitrite and the rest at a pump, and a brine that came out wrong, mended.

`design_brine` solves for the weights and says what stands in the way where it cannot; `mend_strength` puts a salt brine
right, and `mend_to_formula` puts every ingredient right by additions only. Weights in kg, shares in per cent.
Source of the sums: share in pickle = share in green meat / pump fraction, and the two ways of mending as printed under the
brine table of the Seafish smoked fish training (seen); the rest is mass balance.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields

from diagnose.process import brine, cure
from diagnose.process.brine_formula import BrineFormula, Ingoing, ingoing_from_formula
from diagnose.process.comparing import Comparison, against_most
from diagnose.process.ranges import require, require_not_negative, require_positive


@dataclass(frozen=True, slots=True)
class Obstacle:
    """One thing that a design runs into: the quantity, what the targets ask for, and how far it can go."""

    quantity: str
    asked: float
    bound: float
    unit: str
    says: str


@dataclass(frozen=True, slots=True)
class BrineDesign:
    """A brine for stated targets.

    `formula` is None when no brine can do it; `obstacles` then says why and `least_pump_percent` from which pump on it
    could. `mix_kg` is the curing mix to weigh and `salt_to_weigh_kg` the salt besides it.
    """

    formula: BrineFormula | None
    mix_kg: float
    salt_to_weigh_kg: float
    ingoing: Ingoing | None
    obstacles: tuple[Obstacle, ...]
    least_pump_percent: float
    compared: Mapping[str, Comparison]


@dataclass(frozen=True, slots=True)
class Mended:
    """What to add to a brine of wrong strength, and the weight it then has."""

    add_salt_kg: float
    add_water_kg: float
    total_kg: float
    others_diluted_to_percent: float


@dataclass(frozen=True, slots=True)
class MendedFormula:
    """What to add of each ingredient (a formula's field names), and which one of the batch forces the new size."""

    add_kg: Mapping[str, float]
    total_kg: float
    in_excess: str
    keep_percent: float


def design_brine(
    pickle_kg: float,
    pump_percent: float,
    *,
    salt_percent: float,
    nitrite_ppm: float = 0.0,
    ascorbate_ppm: float = 0.0,
    phosphate_percent: float = 0.0,
    sugar_percent: float = 0.0,
    mix: cure.CureMix | None = None,
    ice_percent_of_water: float = 0.0,
    saturated: float = 26.3,
    published: Mapping[str, float] | None = None,
) -> BrineDesign:
    """Weights for a pickle that gives the wanted amounts, on green weight, at the wanted pump.

    Each share of the pickle is target / pump; nitrite comes from `mix` (or pure where None), the mix's own salt counts
    as salt, water is the rest. Range: pump 1 to 100 per cent, targets such as meat products have (salt to 20 per cent).
    `saturated` is the salt that the water can hold, per cent of salt and water (26.3 near 0 C). `published` gives maxima
    by field of `Ingoing` to compare with. Nothing is changed to fit a published figure: the design says where it is over.

    Raises:
        ValueError: an argument lies outside its range, the mix holds no nitrite, or a maximum has no such field.
    """
    require_positive("weight of the pickle", pickle_kg, "kg")
    require("pump", pump_percent, 1, 100, "per cent")
    require("wanted salt", salt_percent, 0, 20, "per cent of green weight")
    require("wanted phosphate", phosphate_percent, 0, 5, "per cent of green weight")
    require("wanted sugar", sugar_percent, 0, 20, "per cent of green weight")
    require("wanted nitrite", nitrite_ppm, 0, 5000, "ppm of green weight")
    require("wanted ascorbate", ascorbate_ppm, 0, 5000, "ppm of green weight")
    require("ice", ice_percent_of_water, 0, 100, "per cent of the water")
    require("salt that the water can hold", saturated, 20, brine.STRONGEST, "per cent")
    if mix is not None and not mix.nitrite_percent:
        raise ValueError("the curing mix holds no nitrite; leave it out or declare its nitrite")

    nitrite = nitrite_ppm / cure.PPM_PER_PERCENT
    mix_percent = 0.0 if mix is None else 100 * nitrite / mix.nitrite_percent
    mix_salt = 0.0 if mix is None else mix_percent * mix.salt_percent / 100
    nitrate = 0.0 if mix is None else mix_percent * mix.nitrate_percent / 100
    mix_rest = 0.0 if mix is None else mix_percent - nitrite - nitrate - mix_salt
    ascorbate = ascorbate_ppm / cure.PPM_PER_PERCENT
    solids = max(salt_percent, mix_salt) + sugar_percent + phosphate_percent + ascorbate
    solids += nitrite + nitrate + mix_rest

    obstacles = []
    if mix_salt > salt_percent + 1e-12:
        obstacles.append(
            Obstacle(
                "salt",
                salt_percent,
                mix_salt,
                "per cent of green weight",
                "the curing mix for this much nitrite already brings more salt than wanted; use a stronger mix",
            )
        )
    water = pump_percent - solids  # all per 100 of green weight
    needed = salt_percent * (100 - saturated) / saturated
    if water < needed - 1e-12:
        held = 100 * max(water, 0.0) * saturated / (100 - saturated) / pump_percent
        obstacles.append(
            Obstacle(
                "water",
                100 * salt_percent / pump_percent,
                held,
                "per cent salt in the pickle",
                "the water left in the pickle cannot dissolve the salt; raise the pump or lower the targets",
            )
        )
    least = solids + needed
    if obstacles:
        return BrineDesign(None, 0.0, 0.0, None, tuple(obstacles), least, {})

    scale = pickle_kg / pump_percent
    formula = BrineFormula(
        water_kg=water * scale * (1 - ice_percent_of_water / 100),
        ice_kg=water * scale * ice_percent_of_water / 100,
        salt_kg=salt_percent * scale,
        sugar_kg=sugar_percent * scale,
        phosphate_kg=phosphate_percent * scale,
        nitrite_kg=nitrite * scale,
        nitrate_kg=nitrate * scale,
        ascorbate_kg=ascorbate * scale,
        other_kg=max(0.0, mix_rest) * scale,
    )
    ingoing = ingoing_from_formula(formula, pump_percent)
    return BrineDesign(
        formula=formula,
        mix_kg=mix_percent * scale if mix is not None else nitrite * scale,
        salt_to_weigh_kg=max(0.0, salt_percent - mix_salt) * scale,
        ingoing=ingoing,
        obstacles=(),
        least_pump_percent=least,
        compared=_compared(ingoing, published or {}),
    )


def pump_ceiling(formula: BrineFormula, published: Mapping[str, float]) -> tuple[float, str]:
    """The highest pump (per cent) at which a brine stays within every published maximum, and which one sets it.

    `published` maps fields of `Ingoing` to maxima on green weight. Ingredients that the brine does not hold set nothing.

    Raises:
        ValueError: a name is not a field of `Ingoing`, or none of them sets a ceiling.
    """
    per_percent = ingoing_from_formula(formula, 1.0)
    ceilings = []
    for name, most in published.items():
        each = _field(per_percent, name)
        if each > 0:
            ceilings.append((require_not_negative(f"published figure of {name}", most) / each, name))
    if not ceilings:
        raise ValueError("the brine holds nothing that a published figure was given for")
    return min(ceilings)


def mend_strength(brine_kg: float, salt_percent_now: float, salt_percent_wanted: float) -> Mended:
    """Salt (brine too weak) or water (too strong) to add to a brine, both strengths in per cent by weight, 0 to 26.5.

    Weak: salt to add = water x (wanted salt per water - salt per water now). Strong: water to add = salt / wanted salt
    per water - water. `others_diluted_to_percent` is what is left of the share of every other ingredient: restore those
    with `mend_to_formula`. For a brine with sugar and phosphate take the strengths from the formula, not from the float.

    Raises:
        ValueError: a number lies outside its range; a wanted 0 per cent cannot be reached by adding water.
    """
    require_positive("weight of the brine", brine_kg, "kg")
    require("salt in the brine now", salt_percent_now, 0, brine.STRONGEST, "per cent")
    require_positive("wanted salt", salt_percent_wanted, "per cent")
    wanted = brine.salt_per_water(salt_percent_wanted)
    salt = brine_kg * salt_percent_now / 100
    water = brine_kg - salt
    add_salt = max(0.0, water * wanted - salt)
    add_water = max(0.0, salt / wanted - water)
    total = brine_kg + add_salt + add_water
    return Mended(add_salt, add_water, total, 100 * brine_kg / total)


def mend_to_formula(made: BrineFormula, wanted: BrineFormula, tank_kg: float | None = None) -> MendedFormula:
    """The least additions that turn a brine as made into the wanted formula, whatever was weighed wrong.

    The ingredient most in excess sets the new size: total = largest of made / wanted share; each addition is share x
    total - made. Water and ice count as water. If that outgrows the tank, `keep_percent` of the batch is kept (and
    mended with as many per cent of the additions stated, which are for the whole batch). What was put in that the
    wanted formula does not hold cannot be mended.

    Raises:
        ValueError: the batch holds something the wanted formula does not, or the tank is not above 0.
    """
    have, want = _amounts(made), _amounts(wanted)
    strange = [name for name, kg in have.items() if kg > 0 and want[name] == 0]
    if strange:
        raise ValueError(
            f"the batch holds {', '.join(strange)}, which the wanted formula does not; it cannot be mended"
        )
    total_wanted = wanted.total_kg
    sizes = {name: have[name] * total_wanted / kg for name, kg in want.items() if kg > 0}
    in_excess = max(sizes, key=lambda name: sizes[name])
    total = max(sizes[in_excess], made.total_kg)
    additions = {name: max(0.0, kg * total / total_wanted - have[name]) for name, kg in want.items()}
    keep = 100.0
    if tank_kg is not None:
        keep = min(100.0, 100 * require_positive("what the tank holds", tank_kg, "kg") / total)
    return MendedFormula(additions, total, in_excess, keep)


def _amounts(formula: BrineFormula) -> dict[str, float]:
    amounts = {field.name: float(getattr(formula, field.name)) for field in fields(formula)}
    amounts["water_kg"] += amounts.pop("ice_kg")
    return amounts


def _compared(ingoing: Ingoing, published: Mapping[str, float]) -> dict[str, Comparison]:
    return {name: against_most(_field(ingoing, name), most) for name, most in published.items()}


def _field(ingoing: Ingoing, name: str) -> float:
    known = [field.name for field in fields(ingoing)]
    if name not in known:
        raise ValueError(f"{name} is not an ingoing amount; known are {', '.join(known)}")
    return float(getattr(ingoing, name))
