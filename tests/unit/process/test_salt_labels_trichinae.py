"""Finished salt, water activity, product names and trichinae records: round trips, refusals and edges."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.process import labels, salt, trichinae

HEATING: list[trichinae.HeatingRow] = [{"internal-f": 130, "minutes": 30}, {"internal-f": 140, "minutes": 1}]
FREEZING: list[trichinae.FreezingRow] = [
    {"room-f": 5, "thickest-inches": 6, "days": 20},
    {"room-f": -10, "thickest-inches": 6, "days": 10},
    {"room-f": 5, "thickest-inches": 27, "days": 30},
]
NAMES: list[labels.NameRow] = [
    {"product": "ham", "name": "plain name", "at-least": 20.5},
    {"product": "ham", "name": "water added", "at-least": 17.0},
]


@given(st.floats(0.1, 6), st.floats(60, 130), st.floats(0, 30))
def test_finished_salt_round_trip(ingoing: float, percent: float, lost: float) -> None:
    """The ingoing salt computed for a finished salt gives that finished salt."""
    finished = salt.finished_salt_percent(ingoing, percent, lost)
    assert salt.ingoing_salt_for_finished(finished, percent, lost) == pytest.approx(ingoing)


@given(st.floats(1, 3), st.floats(1, 30))
def test_shrink_makes_saltier(ingoing: float, shrink: float) -> None:
    """Losing weight as water alone raises the salt of the piece."""
    assert salt.finished_salt_percent(ingoing, 100 - shrink) > salt.finished_salt_percent(ingoing, 100)


@given(st.floats(0.1, 8), st.floats(40, 80))
def test_water_phase_salt_round_trip(salt_percent: float, moisture: float) -> None:
    """The salt computed for a water-phase salt gives that water-phase salt, which is above the salt of the piece."""
    share = salt.water_phase_salt_percent(salt_percent, moisture)
    assert salt.salt_for_water_phase(share, moisture) == pytest.approx(salt_percent)
    assert share > salt_percent


@given(st.floats(0, 26), st.floats(0.05, 0.5))
def test_more_salt_less_water_activity(share: float, more: float) -> None:
    """Water activity falls with every bit of salt."""
    assert salt.water_activity_of_brine(share + more) < salt.water_activity_of_brine(share)


@given(st.floats(0.76, 0.999))
def test_water_activity_round_trip(wanted: float) -> None:
    """The water-phase salt found for a water activity has it."""
    assert salt.water_activity_of_brine(salt.water_phase_salt_for_activity(wanted)) == pytest.approx(wanted, abs=1e-9)


def test_saturated_brine_two_ways() -> None:
    """The activity formula at saturation and the fit for saturated salt agree, though they are unrelated."""
    assert salt.water_activity_of_brine(26.5) == pytest.approx(salt.water_activity_of_saturated_brine(25), abs=0.003)


def test_sugar_lowers_water_activity_a_little() -> None:
    """Sugar takes off water activity on top of salt, far less than its weight of salt would."""
    with_sugar = salt.water_activity_estimate(2.2, 72, 2)
    assert salt.water_activity_estimate(4.2, 72).estimate < with_sugar.estimate < with_sugar.from_salt


@given(st.floats(10, 22), st.floats(1, 30), st.floats(16, 22))
def test_highest_yield_reaches_the_wanted_pff(protein: float, fat: float, wanted: float) -> None:
    """At the computed weight, with protein and fat kept whole, the PFF is the wanted one."""
    kg = labels.highest_yield_percent(protein, fat, wanted)
    if kg > max(60.0, 1.5 * fat):
        assert labels.protein_fat_free(100 * protein / kg, 100 * fat / kg) == pytest.approx(wanted)


@given(st.floats(10, 25), st.floats(0, 40))
def test_protein_for_a_pff_round_trip(wanted: float, fat: float) -> None:
    """The protein computed for a PFF gives it."""
    assert labels.protein_fat_free(labels.protein_for(wanted, fat), fat) == pytest.approx(wanted)


def test_supported_name_says_how_far_the_next_is() -> None:
    """Between two minima the lower name is supported, with its room and the way to the better one."""
    found = labels.supported_name(20.0, "ham", NAMES)
    assert (found.name, found.next_name) == ("water added", "plain name")
    assert found.room == pytest.approx(3.0)
    assert found.short_by == pytest.approx(0.5)
    assert labels.supported_name(21, "ham", NAMES).short_by is None


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: salt.finished_salt_percent(2, 10), "yield must lie between 20 and 200"),
        (lambda: salt.water_phase_salt_percent(5, 0), "moisture must be above 0"),
        (lambda: salt.water_phase_salt_percent(20, 90), "salt and moisture together"),
        (lambda: salt.water_phase_salt_for_activity(0.7), "wanted water activity must lie between"),
        (lambda: salt.osmotic_coefficient(7), "molality of salt must lie between 0 and 6.2"),
        (lambda: salt.moisture_after_loss(70, 75), "loss must lie between 0 and 70"),
        (lambda: labels.protein_fat_free(40, 65), "meat protein and fat together"),
        (lambda: labels.supported_name(20, "beef", NAMES), "no names for beef; known are ham"),
        (lambda: labels.supported_name(10, "ham", NAMES), "supports no name of ham; the least is 17"),
        (lambda: trichinae.heating_minutes(50, HEATING), "the table starts at 130 F"),
        (lambda: trichinae.heating_minutes(60, []), "the table is empty"),
        (lambda: trichinae.freezing_days(-10, 10, FREEZING), "the table starts at 5 F"),
        (lambda: trichinae.freezing_days(-20, 80, FREEZING), "the table ends at 68.6 cm"),
        (lambda: trichinae.heating_from_chart([0, 5], [50], HEATING), "one temperature for each time"),
        (lambda: trichinae.heating_from_chart([0, 5, 5], [50, 60, 60], HEATING), "must rise"),
    ],
)
def test_refused(call: object, says: str) -> None:
    """Numbers that make no sense are refused with a message that names the quantity."""
    with pytest.raises(ValueError, match=says):
        call()  # type: ignore[operator]


def test_heating_takes_the_row_below() -> None:
    """Between two rows the cooler, longer one counts, and a hair under a row does not reach it."""
    assert trichinae.heating_minutes(59.9, HEATING) == 30
    assert trichinae.heating_minutes(60.0, HEATING) == 1


def test_freezing_group_and_colder_room() -> None:
    """A colder room asks for fewer days in the group of the piece; a thicker piece moves to the next group."""
    assert trichinae.freezing_days(-25, 10, FREEZING) == 10
    assert trichinae.freezing_days(-16, 10, FREEZING) == 20
    assert trichinae.freezing_days(-25, 20, FREEZING) == 30


def test_chart_counts_only_the_longest_unbroken_time() -> None:
    """Two stays of twenty minutes above a row with a dip between do not make its thirty."""
    minutes = [0, 1, 21, 22, 23, 24, 44]
    core = [20, 56, 56, 50, 50, 56, 56]
    hot, cool = trichinae.heating_from_chart(minutes, core, HEATING)
    assert not hot.met
    assert not cool.met
    assert 20 < cool.reached < 22
    assert cool.still_needed == pytest.approx(30 - cool.reached)


def test_chart_interpolates_the_crossings() -> None:
    """Time above a level runs from crossing to crossing along the straight lines between readings."""
    level_c = (130 - 32) / 1.8
    rows: list[trichinae.HeatingRow] = [{"internal-f": 130, "minutes": 5}]
    (found,) = trichinae.heating_from_chart([0, 10, 20], [level_c - 5, level_c + 5, level_c - 5], rows)
    assert found.reached == pytest.approx(10, abs=0.02)
    assert found.met


@given(st.lists(st.floats(30, 75), min_size=2, max_size=12))
def test_longer_at_the_end_never_unmeets_a_row(core: list[float]) -> None:
    """Holding the last temperature longer can only add to what a record reaches."""
    minutes = [float(at * 10) for at in range(len(core))]
    before = trichinae.heating_from_chart(minutes, core, HEATING)
    after = trichinae.heating_from_chart([*minutes, minutes[-1] + 60], [*core, core[-1]], HEATING)
    assert all(late.reached >= early.reached for early, late in zip(before, after, strict=True))


@pytest.mark.parametrize(
    ("pork", "cooked_later", "free", "cooked_here", "needed"),
    [
        (True, False, False, False, True),
        (True, True, False, False, False),
        (True, False, True, False, False),
        (True, False, False, True, False),
        (False, False, False, False, False),
    ],
)
def test_which_product_needs_it(pork: bool, cooked_later: bool, free: bool, cooked_here: bool, needed: bool) -> None:
    """Only pork muscle eaten uncooked, not from a free source and not cooked in the plant, is of the kind to treat."""
    assert trichinae.treatment_needed(pork, cooked_later, free, cooked_here) is needed
