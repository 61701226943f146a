"""A single sum that gives nitrite, a cook or a chill shows the published figure and the danger, as the page of a batch does."""

import json
from pathlib import Path

import pytest

EXAMPLES = Path(__file__).parents[3] / "docs" / "examples"
GOOD_COOK, GOOD_CHILL = EXAMPLES / "good-cook.csv", EXAMPLES / "good-chill.csv"
SLOW_CHILL = EXAMPLES / "slow-chill-chill.csv"


def done(run, text: str) -> dict:
    found = run("work", *text.split(), "--format", "json", small=False)
    assert found.code == 0, found.err
    return json.loads(found.out)


def test_a_brine_over_the_nitrite_figure_is_a_danger_before_its_weights(run) -> None:
    """Whoever weighs from this page has read the danger and the published figure with its source first."""
    out = run("work", *["design-brine", "pickle=200kg", "pump=18%", "salt=2.2%", "nitrite=500ppm"], small=False).out
    page = " ".join(out.split())
    assert page.index("!! DANGER !!") < page.index("at most 200 ppm NaNO2") < page.index("Curing mix: 8.89 kg")
    assert "text of 1999-12-23, seen" in page
    assert "9 CFR 424.21(c)" in page


@pytest.mark.parametrize(
    ("text", "cautions"),
    [
        ("design-brine pickle=200kg pump=18% salt=2.2% nitrite=156ppm", []),
        ("design-brine pickle=200kg pump=18% salt=2.2%", []),
        ("design-brine pickle=200kg pump=18% salt=2.2% nitrite=500ppm", ["nitrite-over-limit"]),
        ("design-brine pickle=200kg pump=18% salt=2.2% nitrite=90ppm", ["nitrite-short-hold"]),
        ("design-brine pickle=200kg pump=18% salt=2.2% nitrite=156ppm product=bacon", ["nitrite-over-limit"]),
        ("design-brine pickle=200kg pump=18% salt=2.2% nitrite=156ppm rules=eu", ["nitrite-over-limit"]),
        ("design-brine pickle=200kg pump=18% salt=2.2% nitrite=130ppm rules=eu", []),
        ("agent-for-pump target=500ppm pickle=200kg pump=18%", ["nitrite-over-limit"]),
        ("agent-for-pump target=500ppm pickle=200kg pump=18% of=nitrate", []),
        ("agent-for-pump target=800ppm pickle=200kg pump=18% of=nitrate", ["nitrite-over-limit"]),
        ("agent-for-pump target=5000ppm pickle=200kg pump=18% of=other", []),
        ("ingoing-pumped agent=2774g pickle=200kg pump=18%", ["nitrite-over-limit"]),
        ("ingoing-immersed agent=1kg pickle=100kg green=120kg", ["nitrite-over-limit"]),
        ("ingoing-on-meat agent=1oz green=100lb product=dry-cured-ham", []),
        ("ingoing-on-meat agent=1oz green=100lb product=smoked-sausage", ["nitrite-over-limit"]),
        ("added-eu agent=400g pickle=200kg pump=18%", ["nitrite-over-limit"]),
        ("convert amount=80ppm of=NO2 as=NaNO2", []),
        ("convert amount=160ppm of=NO2 as=NaNO2", ["nitrite-over-limit"]),
        ("highest-pump pickle=200kg mix=2774g", []),
        ("highest-pump pickle=200kg mix=2774g limit=300ppm", ["nitrite-over-limit"]),
        ("mend-brine brine=200kg now=14% wanted=10% nitrite=150ppm", ["nitrite-short-hold"]),
        ("brine-check water=134kg ice=30kg salt=22kg mix=2774g temperature=38F reading=72", ["nitrite-in-doubt"]),
        ("hold-for core=62C", []),
        ("hold-for core=62C logs=1", ["undercook-hold"]),
        ("trichinae-heating core=58C", ["undercook-hold"]),
        (f"time-still-needed chart={GOOD_COOK} hold=65C", []),
        (f"lethality chart={GOOD_COOK}", []),
        (f"cooling chart={GOOD_CHILL} nitrite=156ppm", []),
        (f"cooling chart={SLOW_CHILL} nitrite=156ppm", ["slow-chill-hold"]),
        (f"cooling chart={SLOW_CHILL} nitrite=156ppm rules=eu", ["slow-chill-hold"]),
    ],
)
def test_each_sum_calls_for_the_caution_of_the_batch_page(run, text: str, cautions: list[str]) -> None:
    """Over, under, too short or too slow calls for its caution; within the figure calls for none."""
    assert [one["id"] for one in done(run, text)["cautions"]] == cautions


def test_an_unfinished_cook_is_a_danger_in_both_sums_over_its_chart(run, tmp_path: Path) -> None:
    """A chart that meets no row of the table and lacks time says so first."""
    chart = tmp_path / "c.csv"
    chart.write_text("time (min),core (C)\n0,5\n120,40\n240,56\n260,50\n", encoding="utf-8")
    for text in (f"lethality chart={chart}", f"time-still-needed chart={chart} hold=62C"):
        page = done(run, text)
        assert [one["id"] for one in page["cautions"]] == ["undercook-hold"], text
        assert any(one["name"] == "lethality-hold" and one["limit"] for one in page["results"])


def test_every_compared_result_names_its_source_and_date(run) -> None:
    """The figure stands with the text it was read in, for people and for programs."""
    page = done(run, "hold-for core=62C")
    minutes = next(one for one in page["results"] if one["name"] == "minutes")
    assert minutes["limit"] == 6
    assert minutes["limit_detail"]["date"] == "1999-06"
    assert minutes["limit_detail"]["basis"]
    assert "6.5 log" in minutes["title"]


def test_the_product_must_be_named_where_the_figures_differ_most(run) -> None:
    """What is much for a sausage is little for a dry-cured ham, so no product is guessed."""
    found = run("work", "ingoing-on-meat", "agent=1oz", "green=100lb", small=False)
    assert found.code == 2
    assert "still needed: product" in found.err


def test_no_absurd_figures_are_printed(run) -> None:
    """A drop beyond what can be counted is told as more than ten, and a row without a time asks no "0 min"."""
    for page in (
        run("batch", EXAMPLES / "good-batch.yaml", small=False).out,
        run("work", "lethality", f"chart={GOOD_COOK}", small=False).out,
    ):
        assert "more than 10 log" in page
    for page in (
        run("batch", EXAMPLES / "good-batch.yaml", small=False).out,
        run("work", "table-hold", "core=158F", small=False).out,
    ):
        assert "at least 0" not in page
        assert " 0 min" not in " ".join(page.split())


def test_the_batch_page_begins_with_what_is_out_of_bounds(run) -> None:
    """A count, then the findings, before any part of the page; one slow chill is one finding."""
    page = run("batch", EXAMPLES / "slow-chill.yaml", small=False).out
    head = page[: page.index("Weights and yield")]
    assert "Out of bounds: 1 of " in head
    assert "130 to 80 °F" in head
    assert page.count("\n! ") == 1
    good = run("batch", EXAMPLES / "good-batch.yaml", small=False).out
    assert "Out of bounds: none of " in good


def test_a_value_beside_two_figures_stands_once(run) -> None:
    """Ingoing nitrite has a greatest and a least figure, and one entry."""
    page = run("batch", EXAMPLES / "scaling-error.yaml", small=False).out
    part = page[page.index("Brine and cure") :]
    assert part.count("Ingoing sodium nitrite: ") == 1
    assert "Also within the published figure (at least 120 ppm" in " ".join(part.split())


def test_a_chill_told_with_its_verdict_is_not_told_again(run) -> None:
    """The times in the two ranges of the schedule are no results of their own beside those of the option."""
    names = [
        one["name"]
        for one in json.loads(run("batch", EXAMPLES / "slow-chill.yaml", "--format", "json", small=False).out)[
            "results"
        ]
    ]
    assert "chill-54-to-27" in names
    assert "cooling-54-27" not in names


def test_a_value_over_its_limit_is_always_told_in_the_ranking(run) -> None:
    """Too much nitrite does not make a ham salty, and must still be named as found, with figure and source."""
    page = json.loads(run("rank", EXAMPLES / "salty-hams.yaml", "--format", "json", small=False).out)
    assert [one["name"] for one in page["out_of_bounds"]] == ["ingoing-nitrite"]
    assert page["out_of_bounds"][0]["limit"] == 200
    assert page["out_of_bounds"][0]["basis"]
    assert "nitrite-too-high" in [one["id"] for one in page["ranking"]]
    text = " ".join(run("rank", EXAMPLES / "salty-hams.yaml", small=False).out.split())
    assert "! Ingoing sodium nitrite: 232.6 ppm of green weight; over the published figure, at most 200 ppm" in text


def test_values_that_moved_nothing_are_counted_not_listed(run) -> None:
    """Nobody reads nineteen titles that say nothing of the fault."""
    text = " ".join(run("rank", EXAMPLES / "salty-hams.yaml", small=False).out.split())
    assert "more computed values spoke against what they bear on" in text
    assert "Raw meat pH low" not in text[: text.index("What is behind it")]
