"""From a record to results, verdicts and cautions."""

from pathlib import Path

import pytest

from diagnose.casework.batch_record import load_record
from diagnose.casework.batch_results import results_of

EXAMPLES = Path(__file__).parents[3] / "docs" / "examples"
TANK = """
green-weight: 100 kg
injected-weight: 118 kg
brine-water: 80 kg
brine-salt: 12 kg
cure-mix-weight: {mix} g
cure-mix-nitrite: 6.25 %
"""


def result(outcome, name: str):
    return next(one for one in outcome.results if one.name == name)


def test_the_good_batch_calls_for_no_caution(shipped, figures) -> None:
    """Every verdict of the good example is within its figure."""
    record = load_record(shipped, EXAMPLES / "good-batch.yaml")
    found = results_of(shipped, figures, record)
    assert found.cautions == ()
    assert {one.verdict for one in found.results} == {"", "within the published figure"}


@pytest.mark.parametrize(
    ("name", "cautions"),
    [("scaling-error", ["nitrite-over-limit"]), ("slow-chill", ["slow-chill-hold"])],
)
def test_each_bad_example_calls_for_its_caution(shipped, figures, name: str, cautions: list[str]) -> None:
    """An over-limit nitrite and an over-time chill are both told, and nothing else is."""
    found = results_of(shipped, figures, load_record(shipped, EXAMPLES / f"{name}.yaml"))
    assert [one.id for one in found.cautions] == cautions


@pytest.mark.parametrize(("mix", "verdict"), [(1000, "within"), (1700, "over"), (500, "under")])
def test_ingoing_nitrite_is_computed_and_compared(outcome, mix: int, verdict: str) -> None:
    """mix x 6.25 % x pump / pickle, on green weight, beside the greatest and the least published figure."""
    found = outcome(TANK.format(mix=mix))
    nitrite = result(found, "ingoing-nitrite")
    assert nitrite.value == pytest.approx(mix / 1000 * 0.0625 * 18 / (92 + mix / 1000) * 1e4)
    assert nitrite.verdict.startswith(verdict)
    wanted = {"over": ["nitrite-over-limit"], "under": ["nitrite-short-hold"], "within": []}[verdict]
    assert [one.id for one in found.cautions] == wanted


def test_without_the_share_of_the_mix_no_nitrite_is_claimed(outcome) -> None:
    """A mix of unknown strength gives no ingoing figure, and the page says so."""
    found = outcome(TANK.format(mix=1000).replace("cure-mix-nitrite: 6.25 %\n", ""))
    assert found.value("ingoing-nitrite") is None
    assert any("cure-mix-nitrite" in text for text in found.missing)


def test_eu_rules_count_the_ion_on_meat_and_brine(outcome) -> None:
    """The same tank under the EU figures: as nitrite ion, on the whole mass."""
    found = outcome(TANK.format(mix=1000), rules="eu")
    salt = result(found, "ingoing-nitrite").value / 1.18
    added = result(found, "added-nitrite")
    assert added.value == pytest.approx(salt * 46.005 / 68.995)
    assert added.bound.date == "2025-10-09"
    assert not result(found, "ingoing-nitrite").verdict


def test_other_rules_are_refused(outcome) -> None:
    """There is no third set of rules."""
    with pytest.raises(ValueError, match="us or eu"):
        outcome(TANK.format(mix=1000), rules="uk")


def test_dry_rub_is_charged_to_green_weight(outcome) -> None:
    """An ounce to a hundredweight is 625 ppm, the published figure for dry-cured product."""
    found = outcome(
        "cure-method: dry-rubbed\ngreen-weight: 100 lb\nrub-nitrite: 1 oz\nrub-salt: 4 lb", product="dry-cured-ham"
    )
    assert result(found, "ingoing-nitrite").value == pytest.approx(625)
    assert result(found, "ingoing-nitrite").verdict == "within the published figure"


def test_a_scaling_error_shows_in_the_float(outcome) -> None:
    """A reading above the formula is explained by salt too much or water too little."""
    found = outcome(TANK.format(mix=1000) + "brine-temperature: 40 F\nbrine-reading: 75")
    off = result(found, "brine-reading-off")
    assert off.value > 5
    assert "salt too much" in off.note


UNDERCOOKED = "time (min),core (C)\n0,5\n120,40\n240,54\n260,30\n"
COOKED = "time (min),core (C)\n0,5\n120,40\n240,63\n300,63\n320,30\n"


def test_under_lethality_holds_the_lot(outcome) -> None:
    """A core that meets no row of the table calls for its caution, whatever else is right."""
    found = outcome("cook-chart: c.csv", c=UNDERCOOKED)
    assert result(found, "lethality-hold").verdict == "under the published figure"
    assert {one.id for one in found.cautions} == {"undercook-hold"}
    assert not outcome("cook-chart: c.csv", c=COOKED).cautions


@pytest.mark.parametrize(
    ("chart", "verdict"),
    [
        ("time (min),core (C)\n0,70\n60,20\n300,4\n", "within the published figure"),
        ("time (min),core (C)\n0,70\n900,20\n1500,5\n", "over the published figure"),
        ("time (min),core (C)\n0,70\n60,40\n", "not shown by the record"),
    ],
)
def test_cooling_over_time_or_not_shown_holds_the_lot(outcome, chart: str, verdict: str) -> None:
    """No trace counts as not shown; only a whole chart in time is within."""
    found = outcome("chill-chart: c.csv", c=chart)
    lines = [one.verdict for one in found.results if one.name.startswith("chill-") and "-to-" in one.name]
    assert verdict in lines
    assert [one.id for one in found.cautions] == ([] if verdict.startswith("within") else ["slow-chill-hold"])


def test_a_slow_chill_is_no_cured_chill_without_its_nitrite(outcome) -> None:
    """The slow schedule is for product with 100 ppm nitrite; under that, it is not within."""
    slow = "time (min),core (C)\n0,70\n280,20\n700,5\n"
    enough = outcome(TANK.format(mix=1000) + "chill-chart: c.csv", c=slow)
    short = outcome(TANK.format(mix=300) + "chill-chart: c.csv", c=slow)
    assert "slow-chill-hold" not in {one.id for one in enough.cautions}
    assert "slow-chill-hold" in {one.id for one in short.cautions}


def test_what_is_missing_for_a_slower_schedule_is_named(outcome) -> None:
    """A cured chill whose nitrite nobody wrote down is judged as uncured, and the page says what would change that."""
    found = outcome("chill-chart: c.csv", c="time (min),core (C)\n0,70\n280,20\n700,5\n")
    assert "would be met if ingoing nitrite were shown" in found.cautions[0].because


def test_a_sum_that_refuses_a_figure_says_so_and_stops_nothing_else(outcome) -> None:
    """A yield beyond belief is told as not computed, and the ingoing nitrite is still judged."""
    found = outcome(TANK.format(mix=1000) + "cooked-weight: 1 kg\nfinished-weight: 0.5 kg")
    assert any("refused" in text for text in found.missing)
    assert found.value("ingoing-nitrite") is not None


def test_a_recalled_figure_says_so(shipped, figures) -> None:
    """Whoever reads a limit that nobody has seen is told."""
    found = results_of(shipped, figures, load_record(shipped, EXAMPLES / "good-batch.yaml"))
    assert result(found, "come-up-10-54").bound.read == "memory"
    assert result(found, "ingoing-ascorbate").bound.read == "memory"
    assert result(found, "finished-phosphate").bound.read == "seen"


def test_no_word_ever_calls_a_product_safe(shipped, figures) -> None:
    """Titles, verdicts and notes state comparisons only."""
    for name in ("good-batch", "scaling-error", "slow-chill"):
        found = results_of(shipped, figures, load_record(shipped, EXAMPLES / f"{name}.yaml"))
        for one in found.results:
            assert "safe" not in f"{one.title} {one.verdict} {one.note} {one.how}".lower()


def test_an_empty_record_gives_reasons_and_no_error(outcome) -> None:
    """Nothing recorded, nothing claimed."""
    found = outcome("fat: not recorded")
    assert found.results == ()
    assert len(found.missing) == 4


def test_every_limit_and_measure_is_of_a_value_that_can_be_computed(shipped, figures) -> None:
    """A figure whose quantity has no value of that name would silently never be compared."""
    page = (EXAMPLES.parent / "numbers.md").read_text(encoding="utf-8")
    named = {one.quantity for one in figures.limits} | {one.result for one in figures.measures}
    assert sorted(name for name in named if f"`{name}`" not in page) == []
