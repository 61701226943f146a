"""Salt in the finished piece: after losses, in its water phase, and the water activity that this leaves.

Per cent by weight of the piece unless said otherwise, temperatures in C. Water activity here is an estimate from salt and
sugar alone: the other solutes of meat (lactate, creatine, peptides) lower it further, so a measured value is at or
below it, and no rule figure may be claimed on an estimate.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, sqrt

from diagnose.process.ranges import require, require_positive

NACL = 58.443
WATER = 18.015
SUCROSE = 342.30

MOST_MOLAL = 6.2
"""Saturation of salt at 25 C, mol per kg of water; the activity formula is good up to there."""

_PITZER_A = 0.3915
_BETA0, _BETA1, _C_PHI = 0.0765, 0.2664, 0.00127
_NORRISH_SUCROSE = 6.47


@dataclass(frozen=True, slots=True)
class WaterActivity:
    """Estimated water activity, the parts that make it, and the water-phase shares behind it (per cent)."""

    estimate: float
    from_salt: float
    from_sugar: float
    water_phase_salt_percent: float
    water_phase_sugar_percent: float


def finished_salt_percent(ingoing_percent: float, yield_percent: float, lost_percent: float = 0.0) -> float:
    """Salt in the finished piece: ingoing x (1 - lost/100) x 100 / yield, all on green weight.

    Ingoing salt 0 to 20 per cent of green weight (meat's own 0.1 to 0.2 may be counted in); yield 20 to 200 per cent of
    green; `lost_percent` is the share of the salt that went with drip, cook juice or soaking, 0 to 100. Dry loss of
    weight takes no salt with it, which is why shrink makes a ham saltier. Source: mass balance.

    Raises:
        ValueError: a number lies outside its range, or the result is above 26.5 per cent.
    """
    require("ingoing salt", ingoing_percent, 0, 20, "per cent of green weight")
    require("yield", yield_percent, 20, 200, "per cent of green weight")
    kept = 1 - require("salt lost with juice", lost_percent, 0, 100, "per cent of the salt") / 100
    return require("salt in the finished piece", ingoing_percent * kept * 100 / yield_percent, 0, 26.5, "per cent")


def finished_salt_from_brine(
    brine_salt_percent: float, retained_pump_percent: float, yield_percent: float, own_salt_percent: float = 0.0
) -> float:
    """Salt in the finished piece from brine strength, pump left after draining, and yield on green weight.

    ingoing = brine salt x retained pump / 100 + the meat's own salt; then as `finished_salt_percent` without loss. Brine
    salt 0 to 26.5 per cent, pump 0 to 100, own salt 0 to 1.

    Raises:
        ValueError: a number lies outside its range.
    """
    require("salt in the brine", brine_salt_percent, 0, 26.5, "per cent")
    require("retained pump", retained_pump_percent, 0, 100, "per cent of green weight")
    require("the meat's own salt", own_salt_percent, 0, 1, "per cent")
    return finished_salt_percent(brine_salt_percent * retained_pump_percent / 100 + own_salt_percent, yield_percent)


def ingoing_salt_for_finished(wanted_percent: float, yield_percent: float, lost_percent: float = 0.0) -> float:
    """Ingoing salt, per cent of green weight, for a wanted salt in the finished piece; inverse of the first function.

    Raises:
        ValueError: a number lies outside its range, all the salt is lost, or more than 20 per cent would have to go in.
    """
    require("wanted salt", wanted_percent, 0, 26.5, "per cent")
    require("yield", yield_percent, 20, 200, "per cent of green weight")
    kept = 1 - require("salt lost with juice", lost_percent, 0, 99, "per cent of the salt") / 100
    return require("ingoing salt", wanted_percent * yield_percent / (100 * kept), 0, 20, "per cent of green weight")


def moisture_after_loss(moisture_percent: float, loss_percent: float) -> float:
    """Moisture when a piece loses weight as water alone: 100 x (moisture - loss) / (100 - loss), shares of the start.

    Moisture 0 to 90 per cent, loss 0 to below the moisture. Drip carries a little protein and salt, drying does not.

    Raises:
        ValueError: a number lies outside its range.
    """
    require("moisture", moisture_percent, 0, 90, "per cent")
    require("loss", loss_percent, 0, moisture_percent, "per cent of the weight")
    return 100 * (moisture_percent - loss_percent) / (100 - loss_percent)


def water_phase_salt_percent(salt_percent: float, moisture_percent: float) -> float:
    """Water-phase salt, also called brine concentration: 100 x salt / (salt + moisture), both as analysed.

    Salt 0 to 26.5 per cent, moisture above 0 to 95. Source: formula as restated from extension guidance (seen).

    Raises:
        ValueError: a number lies outside its range.
    """
    require("salt", salt_percent, 0, 26.5, "per cent")
    require_positive("moisture", moisture_percent, "per cent")
    require("moisture", moisture_percent, 0, 95, "per cent")
    require("salt and moisture together", salt_percent + moisture_percent, 0, 100, "per cent")
    return 100 * salt_percent / (salt_percent + moisture_percent)


def salt_for_water_phase(wanted_percent: float, moisture_percent: float) -> float:
    """Salt in the piece for a wanted water-phase salt: moisture x wanted / (100 - wanted).

    Wanted 0 to 26.5 per cent, moisture above 0 to 95.

    Raises:
        ValueError: a number lies outside its range.
    """
    require("wanted water-phase salt", wanted_percent, 0, 26.5, "per cent")
    require_positive("moisture", moisture_percent, "per cent")
    require("moisture", moisture_percent, 0, 95, "per cent")
    return moisture_percent * wanted_percent / (100 - wanted_percent)


def molality(water_phase_salt: float) -> float:
    """Moles of salt per kg of water: 1000 x share / (58.443 x (100 - share)). Water-phase salt 0 to 26.6 per cent.

    Raises:
        ValueError: the share lies outside its range.
    """
    share = require("water-phase salt", water_phase_salt, 0, 26.6, "per cent")
    return 1000 * share / (NACL * (100 - share))


def osmotic_coefficient(molal: float) -> float:
    """Osmotic coefficient of salt water at 25 C, 0 to 6.2 mol per kg of water.

    phi = 1 - A sqrt(m) / (1 + 1.2 sqrt(m)) + m (b0 + b1 exp(-2 sqrt(m))) + m^2 C. Pitzer and Mayorga (1973, J. Phys.
    Chem. 77:2300), parameters read from memory; within 0.003 of the tables of Robinson and Stokes.

    Raises:
        ValueError: the molality lies outside its range.
    """
    m = require("molality of salt", molal, 0, MOST_MOLAL, "mol per kg of water")
    root = sqrt(m)
    second = _BETA0 + _BETA1 * exp(-2 * root)
    return 1 - _PITZER_A * root / (1 + 1.2 * root) + m * second + m * m * _C_PHI


def water_activity_of_brine(water_phase_salt: float) -> float:
    """Water activity of plain salt water at 25 C: exp(-2 x phi x m x 0.018015). Water-phase salt 0 to 26.6 per cent.

    Form of the formula: water activity meter manual, appendix on salt standards (seen); it puts the change of the
    osmotic coefficient from 0 to 50 C at under 2 per cent, which is 0.005 of water activity at the salty end.

    Raises:
        ValueError: the share lies outside its range.
    """
    m = molality(water_phase_salt)
    return exp(-2 * osmotic_coefficient(m) * m * WATER / 1000)


def water_activity_of_saturated_brine(temperature_c: float) -> float:
    """Water activity over salt water that can dissolve no more: ln aw = 23.1092 / T - 0.3607, T in kelvin; 5 to 50 C.

    Fit to published data by Labuza, as printed on a page of constants for saturated salts (seen).

    Raises:
        ValueError: the temperature lies outside its range.
    """
    kelvin = require("temperature", temperature_c, 5, 50, "C") + 273.15
    return exp(23.1092 / kelvin - 0.3607)


def water_activity_estimate(salt_percent: float, moisture_percent: float, sugar_percent: float = 0.0) -> WaterActivity:
    """Water activity of a piece from its analysis: brine of its water phase, times the part of the sugar.

    Product rule of Ross (1975, Food Technol. 29(3):26), sugar reckoned as sucrose after Norrish (1966, J. Food Technol.
    1:25) with K = 6.47; both read from memory. Salt to 26.5 per cent of the water phase, sugar to half of it. An upper
    estimate: the meat's own solutes take off another 0.005 to 0.01, read from memory.

    Raises:
        ValueError: a number lies outside its range.
    """
    share = water_phase_salt_percent(salt_percent, moisture_percent)
    from_salt = water_activity_of_brine(share)
    require("sugar", sugar_percent, 0, moisture_percent, "per cent (no more than the moisture)")
    require("salt, sugar and moisture together", salt_percent + sugar_percent + moisture_percent, 0, 100, "per cent")
    sugar_moles, water_moles = sugar_percent / SUCROSE, moisture_percent / WATER
    sugar_part = sugar_moles / (sugar_moles + water_moles)
    from_sugar = (1 - sugar_part) * exp(-_NORRISH_SUCROSE * sugar_part**2)
    sugar_share = 100 * sugar_percent / (sugar_percent + moisture_percent)
    return WaterActivity(from_salt * from_sugar, from_salt, from_sugar, share, sugar_share)


def water_phase_salt_for_activity(wanted: float) -> float:
    """Water-phase salt whose brine has a wanted water activity at 25 C, by bisection; 0.755 to 1.

    Raises:
        ValueError: salt alone does not reach the wanted activity.
    """
    require("wanted water activity", wanted, 0.755, 1)
    low, high = 0.0, 26.5
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if water_activity_of_brine(middle) > wanted else (low, middle)
    return (low + high) / 2


def moisture_protein_ratio(moisture_percent: float, protein_percent: float) -> float:
    """Moisture over protein, the US yardstick for naming dry products. Moisture 0 to 95, protein above 0 to 60 per cent.

    Raises:
        ValueError: a number lies outside its range.
    """
    require("moisture", moisture_percent, 0, 95, "per cent")
    require_positive("protein", protein_percent, "per cent")
    return moisture_percent / require("protein", protein_percent, 0, 60, "per cent")
