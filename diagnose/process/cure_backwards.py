"""Ingoing cure turned round: the agent or curing mix for a wanted amount, the pump or the meat at which a figure is reached.

Inverses of the sums in `cure`, with the same sources and units: weights in kg, or any one unit, amounts in ppm (mg/kg).
Published figures come in as arguments; what comes out is a weight to compare, never a clearance.
"""

from __future__ import annotations

from diagnose.process.cure import PPM, agent_share
from diagnose.process.ranges import require, require_not_negative, require_positive


def agent_kg_for_pump(target_ppm: float, pickle_kg: float, pump_percent: float) -> float:
    """Pure agent for a pickle that puts a wanted amount into the meat: ppm x pickle / (pump x 1 000 000).

    Inverse of `cure.ingoing_pumped` (and, with pick-up for pump, of the first immersion method). Pump above 0 to 200 per cent.

    Raises:
        ValueError: a number is out of order, or the pickle would have to be nothing but agent.
    """
    require_positive("pump", pump_percent, "per cent")
    require("pump", pump_percent, 0, 200, "per cent")
    require_positive("weight of the pickle", pickle_kg, "kg")
    agent = require_not_negative("wanted amount", target_ppm, "ppm") * pickle_kg / (pump_percent / 100 * PPM)
    return require("agent needed", agent, 0, pickle_kg, "kg (no more than the pickle itself)")


def agent_kg_at_equilibrium(target_ppm: float, pickle_kg: float, green_kg: float) -> float:
    """Pure agent for an immersion that levels out: ppm x (green + pickle) / 1 000 000.

    Raises:
        ValueError: a number is out of order, or more agent than pickle would be needed.
    """
    require_positive("weight of the pickle", pickle_kg, "kg")
    require_positive("green weight", green_kg, "kg")
    agent = require_not_negative("wanted amount", target_ppm, "ppm") * (green_kg + pickle_kg) / PPM
    return require("agent needed", agent, 0, pickle_kg, "kg (no more than the pickle itself)")


def agent_kg_on_meat(target_ppm: float, green_kg: float) -> float:
    """Pure agent to rub on or chop in: ppm x green / 1 000 000. Target 0 to 1 000 000 ppm.

    Raises:
        ValueError: a number is out of order.
    """
    require_positive("green weight", green_kg, "kg")
    return require("wanted amount", target_ppm, 0, PPM, "ppm") * green_kg / PPM


def mix_kg_for(agent_kg: float, agent_percent: float) -> float:
    """Curing mix that holds a weight of pure agent: agent x 100 / share. Share above 0 to 100 per cent.

    Raises:
        ValueError: the weight is negative or the share outside its range.
    """
    require_not_negative("weight of the agent", agent_kg, "kg")
    require_positive("share of the agent in the mix", agent_percent, "per cent")
    return agent_kg * 100 / require("share of the agent in the mix", agent_percent, 0, 100, "per cent")


def highest_pump_percent(agent_kg: float, pickle_kg: float, published_ppm: float) -> float:
    """The pump at which a pickle reaches a published ingoing figure: ppm x pickle / (agent x 1 000 000), in per cent.

    May lie above what meat can hold; then the figure is out of reach with this pickle.

    Raises:
        ValueError: a number is not above 0, or the agent outweighs the pickle.
    """
    require_positive("weight of the agent", agent_kg, "kg")
    require_positive("published figure", published_ppm, "ppm")
    return 100 * published_ppm / (agent_share(agent_kg, pickle_kg) * PPM)


def least_green_kg_immersed(agent_kg: float, pickle_kg: float, published_ppm: float) -> float:
    """The least meat that may lie in a cover pickle for a published figure, second method; 0 if any weight will do.

    agent x 1 000 000 / ppm - pickle. The handbook (p. 22, seen as quoted) names this use of its formula.

    Raises:
        ValueError: a weight is out of order or the published figure is not above 0.
    """
    agent_share(agent_kg, pickle_kg)
    require_positive("published figure", published_ppm, "ppm")
    return max(0.0, agent_kg * PPM / published_ppm - pickle_kg)
