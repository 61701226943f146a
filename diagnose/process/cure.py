"""Ingoing cure: how much nitrite, nitrate, ascorbate, phosphate, salt or sugar goes into the meat, by way of curing.

The US way charges everything to the green weight (raw meat without anything added) and is the method of the Processing
Inspectors' Calculations Handbook: USDA FSIS, Directive 7620.3, revised 1995, chapters 3 to 5 (introduction and, as quoted
elsewhere, the formulas of pp. 15, 19, 22 and 24 were seen; the rest is read from memory). The EU way charges it to the
whole mass at the time it is added, brine included. The sums are the same for each agent; results are in parts per
million by weight (ppm = mg/kg), and 10 000 ppm are 1 per cent. Weights in kg, or any one unit. Limits are arguments of
`comparing`, never numbers in here. The same sums turned round are in `cure_backwards`.
"""

from __future__ import annotations

from dataclasses import dataclass

from diagnose.process.ranges import require, require_not_negative, require_positive

PPM = 1_000_000.0
PPM_PER_PERCENT = 10_000.0


@dataclass(frozen=True, slots=True)
class CureMix:
    """A curing mix as its bag declares it, in per cent by weight; what is left over is anti-caking agent, dye or sugar.

    Raises:
        ValueError: a share lies outside 0 to 100 per cent, or they sum to more than 100.
    """

    nitrite_percent: float
    nitrate_percent: float
    salt_percent: float

    def __post_init__(self) -> None:
        require("nitrite in the mix", self.nitrite_percent, 0, 100, "per cent")
        require("nitrate in the mix", self.nitrate_percent, 0, 100, "per cent")
        require("salt in the mix", self.salt_percent, 0, 100, "per cent")
        declared = self.nitrite_percent + self.nitrate_percent + self.salt_percent
        require("all shares of the mix together", declared, 0, 100 + 1e-9, "per cent")


@dataclass(frozen=True, slots=True)
class PumpAndDrain:
    """Ingoing amount at the needles, what stays after draining, and what the drip carried off; all ppm of green weight."""

    at_pump_ppm: float
    retained_ppm: float
    drained_off_ppm: float


def in_mix_kg(mix_kg: float, agent_percent: float) -> float:
    """Pure agent in a weight of curing mix: mix x share / 100. Share as declared on the bag, 0 to 100 per cent.

    Raises:
        ValueError: the weight is negative or the share outside its range.
    """
    require_not_negative("weight of the mix", mix_kg, "kg")
    return mix_kg * require("share of the agent in the mix", agent_percent, 0, 100, "per cent") / 100


def ingoing_pumped(agent_kg: float, pickle_kg: float, pump_percent: float) -> float:
    """Pumped product, ppm of green weight: agent x pump x 1 000 000 / pickle (handbook p. 19, seen as quoted).

    The pickle is the whole batch: water, ice, salt, sugar and the agent itself. Pump in per cent of green weight,
    0 to 200; US practice takes the pump that the lot really got.

    Raises:
        ValueError: a weight is out of order, the agent outweighs the pickle, or the pump lies outside its range.
    """
    return agent_share(agent_kg, pickle_kg) * require("pump", pump_percent, 0, 200, "per cent") / 100 * PPM


def ingoing_pump_and_drain(
    agent_kg: float, pickle_kg: float, pump_percent: float, retained_percent: float
) -> PumpAndDrain:
    """Pumped and drained product: the pump sum at the needles and once more with what is retained.

    Takes the drip to have the pickle's composition; real drip is diluted by meat juice, so the retained figure is a
    little low and the true one lies between the two. A plant that counts on the drain must show it by weights;
    until it does, the figure at the needles is the one to compare. Both shares in per cent of green weight.
    Source: the pump formula above; the two-sided reading is this project's.

    Raises:
        ValueError: as for `ingoing_pumped`, or retained is below 0 or above the pump.
    """
    at_pump = ingoing_pumped(agent_kg, pickle_kg, pump_percent)
    require("retained pump", retained_percent, 0, pump_percent, "per cent")
    retained = ingoing_pumped(agent_kg, pickle_kg, retained_percent)
    return PumpAndDrain(at_pump, retained, at_pump - retained)


def ingoing_immersed_by_pick_up(agent_kg: float, pickle_kg: float, pick_up_percent: float) -> float:
    """Immersed product, first method: the pump formula with pick-up for pump; ppm of green weight.

    For large pieces that lie in cover pickle for days and take up no more than they gain (handbook, immersion curing,
    method one, seen as quoted). Pick-up in per cent of green weight, 0 to 200.

    Raises:
        ValueError: as for `ingoing_pumped`.
    """
    return agent_share(agent_kg, pickle_kg) * require("pick-up", pick_up_percent, 0, 200, "per cent") / 100 * PPM


def ingoing_immersed_at_equilibrium(agent_kg: float, pickle_kg: float, green_kg: float) -> float:
    """Immersed product, second method: agent x 1 000 000 / (green + pickle) in ppm (handbook p. 22, seen as quoted).

    Meat and cover pickle taken as one system that has levelled out: small pieces, long times. For a short cure it
    overstates what the meat took up.

    Raises:
        ValueError: a weight is out of order or the agent outweighs the pickle.
    """
    agent_share(agent_kg, pickle_kg)
    require_positive("green weight", green_kg, "kg")
    return agent_kg * PPM / (green_kg + pickle_kg)


def ingoing_pumped_and_covered(
    pumped_agent_kg: float, pumped_pickle_kg: float, cover_agent_kg: float, cover_pickle_kg: float, green_kg: float
) -> float:
    """Pumped and then laid in cover pickle until level: all agent x 1 000 000 / (green + both pickles), in ppm.

    `pumped_pickle_kg` is the brine that went into the meat. Second method of the handbook applied to the sum of both
    pickles; for large pieces add `ingoing_pumped` and `ingoing_immersed_by_pick_up` with `ingoing_together` instead.

    Raises:
        ValueError: a weight is out of order or an agent outweighs its pickle.
    """
    agent_share(pumped_agent_kg, pumped_pickle_kg)
    agent_share(cover_agent_kg, cover_pickle_kg)
    require_positive("green weight", green_kg, "kg")
    return (pumped_agent_kg + cover_agent_kg) * PPM / (green_kg + pumped_pickle_kg + cover_pickle_kg)


def ingoing_dry_rubbed(agent_kg: float, green_kg: float) -> float:
    """Dry-rubbed product: everything rubbed on is charged to the green weight; ppm (handbook p. 24, seen as quoted).

    Raises:
        ValueError: the green weight is not above 0, or the agent is negative or outweighs the meat.
    """
    require_positive("green weight", green_kg, "kg")
    return require("weight of the agent", agent_kg, 0, green_kg, "kg") * PPM / green_kg


def ingoing_comminuted(agent_kg: float, meat_block_kg: float) -> float:
    """Chopped product: agent x 1 000 000 / green weight of meat and fat; ppm (handbook p. 15, seen as quoted).

    Water, ice, binders and spice do not count into the meat block.

    Raises:
        ValueError: the meat block is not above 0, or the agent is negative or outweighs it.
    """
    require_positive("meat block", meat_block_kg, "kg")
    return require("weight of the agent", agent_kg, 0, meat_block_kg, "kg") * PPM / meat_block_kg


def ingoing_together(*parts_ppm: float) -> float:
    """Ingoing amount of one agent that goes in by several ways (pumped, then rubbed): the sum, in ppm of green weight.

    Handbook pp. 32-33 treat more than one curing method; the pages were read from memory.

    Raises:
        ValueError: no part is given or one is negative.
    """
    if not parts_ppm:
        raise ValueError("an ingoing amount by several ways needs at least one of them")
    return sum(require_not_negative("ingoing amount", part, "ppm") for part in parts_ppm)


def green_kg_under_rind(rind_on_kg: float, rind_percent: float) -> float:
    """Weight that counts as green where the rind is on: rind-on x (1 - allowance / 100).

    The US allowance for bellies is 10 per cent (handbook pp. 24-31, seen as quoted); it comes in as an argument, 0 to 30.

    Raises:
        ValueError: the weight is not above 0 or the allowance lies outside its range.
    """
    require_positive("weight with rind", rind_on_kg, "kg")
    return rind_on_kg * (1 - require("rind allowance", rind_percent, 0, 30, "per cent") / 100)


def in_finished_ppm(ingoing_ppm: float, yield_percent: float) -> float:
    """An amount on green weight carried to the finished weight if none is lost: ingoing x 100 / yield on green.

    Right for phosphate, salt and sugar, whose US limits or labels look at the finished product; an upper bound for
    nitrite and ascorbate, which react away. Yield 1 to 300 per cent of green.

    Raises:
        ValueError: a number is out of order.
    """
    require_not_negative("ingoing amount", ingoing_ppm, "ppm")
    return ingoing_ppm * 100 / require("yield on green weight", yield_percent, 1, 300, "per cent")


def added_pumped_eu(agent_kg: float, pickle_kg: float, pump_percent: float) -> float:
    """The EU way for pumped product: mg per kg of meat and brine together, as the salt that was weighed.

    share x pump / (100 + pump) x 1 000 000. Bring it to the basis of the limit with `species.expressed_as` (nitrite
    ion under Regulation (EU) 2023/2108, sodium nitrite before). "Amount that may be added during manufacturing" is
    read here as a share of the whole mass before cooking; ask the authority where it reads it on the meat alone, and
    then use `ingoing_pumped`. Pump 0 to 200 per cent.

    Raises:
        ValueError: as for `ingoing_pumped`.
    """
    return ingoing_pumped(agent_kg, pickle_kg, pump_percent) / (1 + pump_percent / 100)


def added_to_batch_eu(agent_kg: float, batch_kg: float) -> float:
    """The EU way for rubbed or chopped product: mg per kg of the whole batch, water and all ingredients included.

    Raises:
        ValueError: the batch is not above 0, or the agent is negative or outweighs it.
    """
    require_positive("weight of the batch", batch_kg, "kg")
    return require("weight of the agent", agent_kg, 0, batch_kg, "kg") * PPM / batch_kg


def ppm_from_oz_per_100_lb(ounces: float) -> float:
    """US rule amounts as ppm: ounces per 100 pounds of meat x 1 000 000 / 1600 (16 ounces to the pound). 0 to 1600.

    Raises:
        ValueError: the amount lies outside its range.
    """
    return require("ounces per 100 pounds", ounces, 0, 1600, "oz") * PPM / 1600


def ppm_from_lb_per_100_gal(pounds: float, pickle_lb_per_gal: float, pump_percent: float) -> float:
    """US rule amounts for pickle as ppm: pounds in 100 US gallons, the pickle's weight per gallon, and the pump.

    The rules write 100 gallons at 10 per cent pump, and their usual reading takes 10 pounds to the gallon; water alone
    weighs 8.33 and a pickle 8.8 to 9.9, so the real figure is higher. Weight per gallon 8 to 11 lb.

    Raises:
        ValueError: a number lies outside its range.
    """
    require("weight of the pickle", pickle_lb_per_gal, 8, 11, "lb per US gallon")
    return ingoing_pumped(pounds, 100 * pickle_lb_per_gal, pump_percent)


def agent_share(agent_kg: float, pickle_kg: float) -> float:
    """Share of an agent in its pickle, 0 to 1.

    Raises:
        ValueError: the pickle is not above 0, or the agent is negative or outweighs it.
    """
    require_positive("weight of the pickle", pickle_kg, "kg")
    return require("weight of the agent", agent_kg, 0, pickle_kg, "kg (no more than the pickle itself)") / pickle_kg
