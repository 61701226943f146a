"""Weights along the line and ingoing cure: round trips, refusals and what must hold for any numbers."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.process import comparing, cure, cure_backwards, species, yields

green = st.floats(0.5, 5000)
pump = st.floats(1, 100)
agent = st.floats(1e-6, 0.5)


@given(green, pump)
def test_pump_round_trip(kg: float, percent: float) -> None:
    """The pump read off the scale is the pump that the injected weight was computed for."""
    assert yields.pump_percent(kg, yields.injected_kg(kg, percent)) == pytest.approx(percent, rel=1e-9)


@given(pump, st.lists(st.floats(0, 30), max_size=4))
def test_steps_multiply_to_the_overall_yield(percent: float, losses: list[float]) -> None:
    """Yield by step, from the weights that a row of losses leaves, ends at the overall yield on green."""
    weights = [("green", 100.0), ("pumped", 100 + percent)]
    for loss in losses:
        weights.append(("step", weights[-1][1] * (1 - loss / 100)))
    last = yields.yield_by_step(weights)[-1]
    assert last.of_first_percent == pytest.approx(yields.overall_yield_percent(percent, losses))


@given(pump)
def test_loss_back_to_green(percent: float) -> None:
    """A pumped piece that loses the computed share weighs its green weight again."""
    loss = yields.loss_back_to_green_percent(percent)
    assert yields.overall_yield_percent(percent, [loss]) == pytest.approx(100)


def test_drained_below_green_is_told() -> None:
    """A piece that drips more than was pumped in shows as a retained pump below zero, not as an error."""
    assert yields.retained_after_drain(10, 11, 9.9).retained_percent == pytest.approx(-1)


def test_drained_of_nothing() -> None:
    """With nothing injected there is no brine to lose a share of."""
    assert yields.retained_after_drain(10, 10, 10).brine_lost_percent == 0


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: yields.pump_percent(0, 10), "green weight must be above 0"),
        (lambda: yields.pump_percent(10, 9), "pump must lie between 0 and 200"),
        (lambda: yields.retained_after_drain(10, 11, 12), "drained weight must lie between"),
        (lambda: yields.yield_by_step([("green", 10)]), "two weighings"),
        (lambda: yields.yield_by_step([("green", 10), ("smoked", -1)]), "smoked: end weight must be above 0"),
        (lambda: yields.cook_loss_allowed_percent(10, [], 120), "wanted yield must lie between 1 and 110"),
        (lambda: cure.ingoing_pumped(2, 1, 10), "no more than the pickle itself"),
        (lambda: cure.ingoing_pumped(0.1, 1, float("nan")), "pump must lie between"),
        (lambda: cure.ingoing_pump_and_drain(0.1, 1, 10, 11), "retained pump must lie between 0 and 10"),
        (cure.ingoing_together, "at least one"),
        (lambda: cure_backwards.agent_kg_for_pump(200, 1, 0), "pump must be above 0"),
        (lambda: cure.CureMix(60, 30, 20), "all shares of the mix together"),
        (lambda: cure.ppm_from_lb_per_100_gal(2, 12, 10), "weight of the pickle must lie between 8 and 11"),
        (lambda: species.expressed_as(1, "NaNO2", "NaNO3"), "not forms of one agent"),
        (lambda: species.phosphate_as_pentoxide(1, "chalk"), "unknown phosphate chalk"),
        (lambda: comparing.against_most(float("inf"), 1), "the figure must lie between"),
    ],
)
def test_refused(call: object, says: str) -> None:
    """Numbers that make no sense are refused with a message that names the quantity."""
    with pytest.raises(ValueError, match=says):
        call()  # type: ignore[operator]


@given(agent, st.floats(1, 1000), pump)
def test_pump_sum_and_its_inverse(share: float, pickle: float, percent: float) -> None:
    """The agent computed for a wanted ppm gives that ppm, and the pump ceiling at that ppm is the pump itself."""
    ppm = cure.ingoing_pumped(share * pickle, pickle, percent)
    assert cure_backwards.agent_kg_for_pump(ppm, pickle, percent) == pytest.approx(share * pickle)
    assert cure_backwards.highest_pump_percent(share * pickle, pickle, ppm) == pytest.approx(percent)


@given(agent, st.floats(1, 1000), st.floats(1, 1000))
def test_equilibrium_and_its_inverses(share: float, pickle: float, meat: float) -> None:
    """Agent for an equilibrium cure, and the least meat for a figure, both lead back to where they came from."""
    ppm = cure.ingoing_immersed_at_equilibrium(share * pickle, pickle, meat)
    assert cure_backwards.agent_kg_at_equilibrium(ppm, pickle, meat) == pytest.approx(share * pickle)
    assert cure_backwards.least_green_kg_immersed(share * pickle, pickle, ppm) == pytest.approx(meat, rel=1e-6)


@given(agent, st.floats(0.01, 1000), st.floats(0.01, 1000))
def test_equilibrium_never_exceeds_the_cover_pickle(share: float, pickle: float, meat: float) -> None:
    """Meat that levels out with its pickle cannot end stronger than the pickle began."""
    assert cure.ingoing_immersed_at_equilibrium(share * pickle, pickle, meat) <= share * cure.PPM * (1 + 1e-9)


@given(agent, pump)
def test_eu_figure_is_below_the_us_figure(share: float, percent: float) -> None:
    """Charging a pickle to meat and brine together gives less per kg than charging it to the meat alone."""
    assert cure.added_pumped_eu(share, 1, percent) < cure.ingoing_pumped(share, 1, percent)


@given(agent, pump, st.floats(0.1, 50))
def test_units_do_not_matter_as_long_as_they_agree(share: float, percent: float, factor: float) -> None:
    """Pounds or kilograms: the same ratio of weights gives the same ppm."""
    assert cure.ingoing_pumped(share, 1, percent) == pytest.approx(cure.ingoing_pumped(share * factor, factor, percent))


@given(st.floats(0, 1000), st.sampled_from(["NaNO2", "KNO2", "NO2"]), st.sampled_from(["NaNO2", "KNO2", "NO2"]))
def test_forms_of_nitrite_round_trip(amount: float, one: str, other: str) -> None:
    """From one form of nitrite to another and back nothing is gained or lost."""
    there = species.expressed_as(amount, one, other)
    assert species.expressed_as(there, other, one) == pytest.approx(amount)


def test_comparison_speaks_of_the_published_figure_only() -> None:
    """Figures at, under and over a published one are named so, and no wording says that a product is safe."""
    assert comparing.against_most(200, 200).side is comparing.Side.WITHIN
    assert comparing.against_most(201, 200).side is comparing.Side.OVER
    assert comparing.against_least(119, 120).side is comparing.Side.UNDER
    assert comparing.against_least(119, 120).room == pytest.approx(-1)
    assert all("safe" not in side.value and "published figure" in side.value for side in comparing.Side)
