"""Weights along the line: per cent pump, pick-up, what is left after draining, and yield and shrink by step.

All weights are in kilograms (any one unit does, as only ratios matter) and all shares in per cent. The trade reckons
pump and pick-up on the green weight, that is on the raw meat before anything was added. "Yield" alone says little: each
function here names the weight it is a share of. Source throughout: arithmetic in common use in the trade, read from
memory, checked against worked examples; where a rule is the source the function says so.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import prod

from diagnose.process.ranges import require, require_positive

MOST_PUMP = 200.0
"""Per cent of green weight; above it a slip of the scale or a wrong unit is more likely than a product."""


@dataclass(frozen=True, slots=True)
class Drained:
    """What stays of the brine when a pumped piece has dripped; shares in per cent."""

    pump_percent: float
    retained_percent: float
    drip_kg: float
    brine_lost_percent: float


@dataclass(frozen=True, slots=True)
class Step:
    """One weighing: its share of the first and of the previous weight, and the loss since the previous one, per cent."""

    name: str
    kg: float
    of_first_percent: float
    of_previous_percent: float
    shrink_percent: float


def pump_percent(green_kg: float, injected_kg: float) -> float:
    """Per cent pump: 100 x (injected - green) / green, weighed straight after injection.

    Range: result from 0 to 200 per cent.

    Raises:
        ValueError: a weight is not above 0, or the gain lies outside the range.
    """
    require_positive("green weight", green_kg, "kg")
    require_positive("injected weight", injected_kg, "kg")
    return require("pump", 100 * (injected_kg - green_kg) / green_kg, 0, MOST_PUMP, "per cent of green weight")


def pick_up_percent(green_kg: float, cured_kg: float) -> float:
    """Pick-up: 100 x (cured - green) / green, for meat that lay or tumbled in brine without needles.

    Range: -60 to 200 per cent; below 0 the piece gave more juice than it took (the usual case in dry cure).

    Raises:
        ValueError: a weight is not above 0, or the change lies outside the range.
    """
    require_positive("green weight", green_kg, "kg")
    require_positive("cured weight", cured_kg, "kg")
    return require("pick-up", 100 * (cured_kg - green_kg) / green_kg, -60, MOST_PUMP, "per cent of green weight")


def injected_kg(green_kg: float, pump: float) -> float:
    """The weight to reach at the scale after injection: green x (1 + pump / 100). Pump in per cent, 0 to 200.

    Raises:
        ValueError: the weight is not above 0, or the pump lies outside its range.
    """
    require_positive("green weight", green_kg, "kg")
    return green_kg * (1 + require("pump", pump, 0, MOST_PUMP, "per cent") / 100)


def retained_after_drain(green_kg: float, injected: float, drained_kg: float) -> Drained:
    """Pump at the injector, pump that is left after draining, and the brine lost; weights in kg.

    retained = 100 x (drained - green) / green; brine lost = 100 x (injected - drained) / (injected - green).
    Range: drained between 40 per cent of green and the injected weight; a piece may fall below its green weight
    (retained below 0) when it drips juice of its own. Nothing injected gives a loss of 0 per cent.

    Raises:
        ValueError: a weight is not above 0 or outside the range.
    """
    at_injector = pump_percent(green_kg, injected)
    require("drained weight", drained_kg, 0.4 * green_kg, injected, "kg")
    brine = injected - green_kg
    drip = injected - drained_kg
    return Drained(
        pump_percent=at_injector,
        retained_percent=100 * (drained_kg - green_kg) / green_kg,
        drip_kg=drip,
        brine_lost_percent=100 * drip / brine if brine else 0.0,
    )


def yield_percent(start_kg: float, end_kg: float) -> float:
    """End weight as a share of a stated start weight: 100 x end / start. Range of result: 1 to 300 per cent.

    Raises:
        ValueError: a weight is not above 0, or the yield lies outside the range.
    """
    require_positive("start weight", start_kg, "kg")
    require_positive("end weight", end_kg, "kg")
    return require("yield", 100 * end_kg / start_kg, 1, 300, "per cent of the start weight")


def shrink_percent(before_kg: float, after_kg: float) -> float:
    """Loss of a step: 100 x (before - after) / before; below 0 is a gain. Range of result: -200 to 99 per cent.

    Raises:
        ValueError: a weight is not above 0, or the loss lies outside the range.
    """
    return 100 - yield_percent(before_kg, after_kg)


def overall_yield_percent(pump: float, losses_percent: Sequence[float]) -> float:
    """Yield on green weight through pump and a row of losses, each a share of the weight that enters its step.

    yield = 100 x (1 + pump/100) x product of (1 - loss/100). Pump 0 to 200 per cent, each loss -20 to 95 per cent
    (below 0 for a gain, such as water taken up in a shower).

    Raises:
        ValueError: a share lies outside its range.
    """
    require("pump", pump, 0, MOST_PUMP, "per cent")
    kept = [1 - require("loss", loss, -20, 95, "per cent") / 100 for loss in losses_percent]
    return 100 * (1 + pump / 100) * prod(kept)


def yield_by_step(weighings: Sequence[tuple[str, float]]) -> tuple[Step, ...]:
    """Yield and shrink of each step of a lot, from named weights in the order of the chain, the first one green.

    Raises:
        ValueError: fewer than two weighings, a weight not above 0, or a step that changes the weight beyond belief.
    """
    if len(weighings) < 2:
        raise ValueError("yield by step needs two weighings or more, in the order of the chain")
    first = weighings[0][1]
    previous = first
    steps = []
    for name, kg in weighings:
        try:
            of_previous = yield_percent(previous, kg)
            steps.append(Step(name, kg, yield_percent(first, kg), of_previous, 100 - of_previous))
        except ValueError as error:
            raise ValueError(f"{name}: {error}") from error
        previous = kg
    return tuple(steps)


def loss_back_to_green_percent(pump: float) -> float:
    """Loss, of the pumped weight, that brings a piece back to its green weight: 100 x pump / (100 + pump).

    US bacon must be ready for slicing at no more than its green weight (9 CFR 319.107). Pump 0 to 200 per cent.

    Raises:
        ValueError: the pump lies outside its range.
    """
    return 100 * require("pump", pump, 0, MOST_PUMP, "per cent") / (100 + pump)


def green_kg_for(finished_kg: float, overall_yield: float) -> float:
    """Green weight to start with for a finished weight: finished x 100 / yield on green (per cent, 1 to 300).

    Raises:
        ValueError: the weight is not above 0, or the yield lies outside its range.
    """
    require_positive("finished weight", finished_kg, "kg")
    return finished_kg * 100 / require("yield on green weight", overall_yield, 1, 300, "per cent")


def cook_loss_allowed_percent(pump: float, other_losses_percent: Sequence[float], wanted_yield: float) -> float:
    """Cook loss, of the weight into the house, that gives a wanted yield on green after pump and the other losses.

    Inverse of `overall_yield_percent` in one loss. Wanted yield in per cent of green, 1 to 300.

    Raises:
        ValueError: a share is out of range, or the wanted yield is above what stands before the cook.
    """
    before = overall_yield_percent(pump, other_losses_percent)
    require("wanted yield", wanted_yield, 1, before, "per cent of green weight")
    return 100 * (1 - wanted_yield / before)
