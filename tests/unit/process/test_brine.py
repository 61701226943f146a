"""Brine strength, brines as formulas, designing and mending: round trips, refusals, and what a wrong tank looks like."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.process import brine, brine_design
from diagnose.process.brine_formula import (
    BrineFormula,
    check_reading,
    expected_reading,
    ingoing_from_formula,
    with_cure_mix,
)
from diagnose.process.comparing import Side
from diagnose.process.cure import CureMix

CURE = CureMix(6.25, 0, 93.75)
CURING_SALT = CureMix(0.5, 0, 99.5)
HAM = BrineFormula(
    water_kg=77, salt_kg=15, sugar_kg=5, phosphate_kg=2.5, nitrite_kg=0.15, ascorbate_kg=0.35
)  # fmt: skip


@given(st.floats(0.5, 25.5), st.floats(2, 40), st.sampled_from(list(brine.Scale)))
def test_reading_round_trip(salt: float, celsius: float, scale: brine.Scale) -> None:
    """On every scale and at every temperature a reading leads back to the strength that gave it."""
    try:
        value = brine.reading(salt, scale, celsius)
        back = brine.salt_percent_from_reading(value, scale, celsius)
    except ValueError as error:  # weak warm brine or strong cold brine: off the float's scale, and said so
        assert "off its scale" in str(error) or "must lie between" in str(error)
        assert salt < 3 or salt > 24
    else:
        assert back == pytest.approx(salt, abs=1e-6)


@given(st.floats(0, 26.4), st.floats(0.1, 60))
def test_more_salt_is_denser_and_warmth_is_lighter(salt: float, celsius: float) -> None:
    """Density rises with salt and, above the water's own maximum, falls with temperature."""
    assert brine.density(salt + 0.1, celsius) > brine.density(salt, celsius)
    if celsius > 5:
        assert brine.density(salt, celsius) < brine.density(salt, celsius - 1)


def test_float_graduated_for_cold_brine() -> None:
    """A 38 F salometer reads right in 38 F brine, where a 60 F one reads high."""
    cold = (38 - 32) / 1.8
    true = brine.salometer_from_salt_percent(15)
    assert brine.reading(15, "salometer", cold, graduated_at_c=cold) == pytest.approx(true)
    assert brine.reading(15, "salometer", cold) > true + 1


def test_rule_of_thumb_is_near_the_physics() -> None:
    """The trade's temperature rule and the density model agree within half a degree at mid strength."""
    by_rule = brine.salometer_at_sixty_by_rule(60, 4)
    assert by_rule == pytest.approx(brine.salometer_at_sixty(60, 4), abs=0.6)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: brine.density(30, 20), "salt in the brine must lie between 0 and 26.5"),
        (lambda: brine.density(10, 80), "brine temperature must lie between 0 and 60"),
        (lambda: brine.salt_percent_from_salometer(101), "salometer reading must lie between"),
        (lambda: brine.reading(10, "brix", 20), "unknown scale brix; known are salometer"),
        (lambda: brine.reading(0, "salometer", 40), "falls off its scale"),
        (lambda: brine.salt_percent_from_density(1300, 20), "density of brine at 20 C must lie between"),
        (lambda: BrineFormula(water_kg=-1), "water in the formula must be 0 kg or more"),
        (lambda: BrineFormula(water_kg=0, salt_kg=1), "water and ice in the formula must be above 0"),
        (lambda: brine_design.mend_strength(100, 10, 0), "wanted salt must be above 0"),
        (lambda: brine_design.mend_to_formula(HAM, BrineFormula(10, 2)), "cannot be mended"),
        (lambda: brine_design.pump_ceiling(BrineFormula(10, 2), {"nitrite_ppm": 200}), "holds nothing"),
        (lambda: brine_design.pump_ceiling(HAM, {"nitrit": 200}), "nitrit is not an ingoing amount"),
        (
            lambda: brine_design.design_brine(100, 10, salt_percent=2, nitrite_ppm=100, mix=CureMix(0, 4, 96)),
            "holds no nitrite",
        ),
    ],
)
def test_refused(call: object, says: str) -> None:
    """Numbers that make no sense are refused with a message that names the quantity."""
    with pytest.raises(ValueError, match=says):
        call()  # type: ignore[operator]


def test_reading_of_the_formula_alone_agrees_with_the_brine() -> None:
    """A formula of nothing but salt and water reads as the brine of that strength."""
    assert expected_reading(BrineFormula(85, 15), "salometer", 8) == pytest.approx(brine.reading(15, "salometer", 8))


def test_sugar_and_phosphate_read_as_salt() -> None:
    """What is dissolved besides salt lifts the float, so the reading is no measure of salt in a finished pickle."""
    bare = BrineFormula(water_kg=HAM.water_kg, salt_kg=HAM.salt_kg)
    assert expected_reading(HAM, "salometer", 4) > expected_reading(bare, "salometer", 4) + 8


def test_unmelted_ice_reads_high() -> None:
    """Ice that has not melted leaves the liquid stronger than the formula."""
    iced = BrineFormula(water_kg=57, ice_kg=20, salt_kg=12)
    assert expected_reading(iced, "salometer", 1, melted=0.5) > expected_reading(iced, "salometer", 1) + 3


@pytest.mark.parametrize("error_kg", [-4.0, 1.5, 3.0])
def test_a_scaling_error_in_salt_shows(error_kg: float) -> None:
    """The reading of a tank with salt weighed wrong names that error, to a hundredth of a kilogram."""
    wrong = BrineFormula(77, 15 + error_kg, sugar_kg=5, phosphate_kg=2.5, nitrite_kg=0.15, ascorbate_kg=0.35)
    found = expected_reading(wrong, "salometer", 15)
    checked = check_reading(HAM, found, "salometer", 15)
    assert checked.salt_off_kg == pytest.approx(error_kg, abs=0.01)


def test_a_scaling_error_in_water_shows() -> None:
    """Ten kilograms of water too many are named as one of the two possible errors."""
    wrong = BrineFormula(87, 15, sugar_kg=5, phosphate_kg=2.5, nitrite_kg=0.15, ascorbate_kg=0.35)
    checked = check_reading(HAM, expected_reading(wrong, "salometer", 15), "salometer", 15)
    assert checked.difference < -5
    assert checked.water_off_kg == pytest.approx(10, abs=0.01)


def test_a_reading_that_no_weighing_error_explains() -> None:
    """A reading far below what no salt at all would give is not blamed on salt."""
    sweet = BrineFormula(60, 1, sugar_kg=39)
    assert check_reading(sweet, 5, "salometer", 15).salt_off_kg is None


def test_cure_mix_is_split() -> None:
    """The salt of a curing mix counts as salt and its nitrite as nitrite; nothing of its weight is lost."""
    formula = with_cure_mix(BrineFormula(80, 10), 2, CureMix(6.25, 4, 89.0))
    assert formula.salt_kg == pytest.approx(11.78)
    assert formula.nitrite_kg == pytest.approx(0.125)
    assert formula.nitrate_kg == pytest.approx(0.08)
    assert formula.total_kg == pytest.approx(92)


@given(
    st.floats(10, 60),
    st.fixed_dictionaries(
        {
            "salt_percent": st.floats(0.5, 2.5),
            "nitrite_ppm": st.floats(20, 200),
            "ascorbate_ppm": st.floats(0, 550),
            "phosphate_percent": st.floats(0, 0.5),
            "sugar_percent": st.floats(0, 1),
        }
    ),
)
def test_design_meets_its_targets(pump: float, targets: dict[str, float]) -> None:
    """A designed brine puts exactly the wanted amounts into the meat, or says what stands in the way."""
    design = brine_design.design_brine(200, pump, **targets, mix=CURE)
    if design.formula is None:
        assert design.obstacles
        assert design.ingoing is None
        return
    assert design.formula.total_kg == pytest.approx(200)
    again = ingoing_from_formula(design.formula, pump)
    assert again == design.ingoing
    for name, wanted in targets.items():
        assert getattr(again, name) == pytest.approx(wanted, abs=1e-9)
    assert design.salt_to_weigh_kg + design.mix_kg * 0.9375 == pytest.approx(design.formula.salt_kg)
    assert pump >= design.least_pump_percent - 1e-9


def test_design_says_when_the_water_cannot_hold_the_salt() -> None:
    """Two and a half per cent salt cannot go in at a 5 per cent pump; from the named pump on it can."""
    hard = brine_design.design_brine(100, 5, salt_percent=2.5)
    assert hard.formula is None
    assert hard.obstacles[0].quantity == "water"
    assert brine_design.design_brine(100, hard.least_pump_percent + 0.01, salt_percent=2.5).formula is not None
    assert brine_design.design_brine(100, hard.least_pump_percent - 0.01, salt_percent=2.5).formula is None


def test_design_says_when_curing_salt_brings_too_much_salt() -> None:
    """150 ppm from half-per-cent curing salt brings 3 per cent salt: a ham of 2 per cent cannot be made with it."""
    design = brine_design.design_brine(100, 20, salt_percent=2.0, nitrite_ppm=150, mix=CURING_SALT)
    assert design.obstacles[0].quantity == "salt"
    assert design.obstacles[0].bound == pytest.approx(2.985)


def test_design_is_compared_and_not_bent() -> None:
    """A target over a published figure is designed as asked and named as over."""
    design = brine_design.design_brine(
        100, 20, salt_percent=2, nitrite_ppm=230, mix=CURE, published={"nitrite_ppm": 200, "salt_percent": 3}
    )
    assert design.compared["nitrite_ppm"].side is Side.OVER
    assert design.compared["salt_percent"].side is Side.WITHIN


def test_pump_ceiling_names_what_sets_it() -> None:
    """At the ceiling one figure is reached and the others are not passed."""
    published = {"nitrite_ppm": 200.0, "phosphate_percent": 0.5, "ascorbate_ppm": 547.0}
    ceiling, name = brine_design.pump_ceiling(HAM, published)
    ingoing = ingoing_from_formula(HAM, ceiling)
    assert getattr(ingoing, name) == pytest.approx(published[name])
    assert all(getattr(ingoing, other) <= most * (1 + 1e-9) for other, most in published.items())


@given(st.floats(1, 26), st.floats(1, 26), st.floats(1, 5000))
def test_mending_reaches_the_wanted_strength(now: float, wanted: float, kg: float) -> None:
    """Adding what is said gives the wanted strength, by salt or by water and never by both."""
    mended = brine_design.mend_strength(kg, now, wanted)
    salt = kg * now / 100 + mended.add_salt_kg
    assert 100 * salt / mended.total_kg == pytest.approx(wanted)
    assert mended.add_salt_kg == 0 or mended.add_water_kg == 0


@given(st.floats(0.3, 3), st.floats(0.3, 3), st.floats(0.3, 3))
def test_mending_to_the_formula(salt: float, water: float, nitrite: float) -> None:
    """Whatever was weighed wrong, the additions bring every share to the wanted formula, and none is negative."""
    made = BrineFormula(
        77 * water, 15 * salt, sugar_kg=5, phosphate_kg=2.5, nitrite_kg=0.15 * nitrite, ascorbate_kg=0.35
    )
    mended = brine_design.mend_to_formula(made, HAM, tank_kg=150)
    assert min(mended.add_kg.values()) >= 0
    for name, added in mended.add_kg.items():
        assert 100 * (getattr(made, name) + added) / mended.total_kg == pytest.approx(HAM.percent(name), abs=1e-9)
    assert mended.keep_percent == pytest.approx(min(100, 15000 / mended.total_kg))
