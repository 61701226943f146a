"""Totals, places, ties, and the look at the judges."""

from __future__ import annotations

from fractions import Fraction

import pytest
from making import class_of, marks, sheet

from diagnose.corpus.records import Knowledge
from diagnose.corpus.scorecards import Scorecard
from diagnose.judging.clinic import common_faults
from diagnose.judging.panel import panel_of
from diagnose.judging.sheet import JudgedClass, Sheet
from diagnose.judging.standing import mean_of, standings
from diagnose.reports import Format, laid_out
from diagnose.reports.class_report import clinic_document, results_document


def test_a_tie_is_settled_by_the_scorecards_rule(card: Scorecard) -> None:
    """Equal totals are ordered by flavour first, and both entries say so."""
    judged = class_of(card, {"a": (sheet(card, "a", 1, flavour=10), sheet(card, "a", 2, cut_face=10))})
    found = standings(judged)
    assert [(one.entry, one.place) for one in found] == [(2, 1), (1, 2)]
    assert [one.why for one in found] == [
        "same total as entry 1; settled by flavour",
        "same total as entry 2; settled by flavour",
    ]


def test_a_tie_that_nothing_settles_is_shared(card: Scorecard) -> None:
    """Two entries level everywhere share the place, and the next is third."""
    judged = class_of(card, {"a": (sheet(card, "a", 1), sheet(card, "a", 2), sheet(card, "a", 3, bite=3))})
    found = standings(judged)
    assert [one.place for one in found] == [1, 1, 3]
    assert "shared" in found[0].why


def test_totals_are_exact(card: Scorecard) -> None:
    """Three judges whose totals differ by a point make a third of a point, not a rounded one."""
    judged = class_of(card, {j: (sheet(card, j, 1, bite=n),) for n, j in enumerate("abc")})
    assert standings(judged)[0].total == Fraction(999)
    judged = class_of(card, {j: (sheet(card, j, 1, bite=n * n),) for n, j in enumerate("abc")})
    assert standings(judged)[0].total == Fraction(3000 - 5, 3)


def test_the_trimmed_mean_leaves_out_one_at_each_end() -> None:
    """With three judges it is the middle one; with two nothing can be left out."""
    assert mean_of([1, 5, 100], True) == 5
    assert mean_of([1, 100], True) == Fraction(101, 2)
    assert mean_of([1, 5, 6, 100], True) == Fraction(11, 2)


def test_one_judges_suspicion_is_enough(card: Scorecard) -> None:
    """A piece that one of three judges suspects has no place, whatever the points of the others."""
    bad = sheet(card, "a", 1, marks("gas-holes:slight"))
    judged = class_of(card, {"a": (bad,), "b": (sheet(card, "b", 1),), "c": (sheet(card, "c", 1),)})
    found = standings(judged)[0]
    assert (found.status, found.place, found.why) == ("suspect", None, "not tasted: suspected by a")


def test_out_of_class_takes_half_of_the_judges(card: Scorecard) -> None:
    """One judge of three cannot put an entry out of the class; two can."""
    out = [Sheet(j, 1, disqualified="another-class") for j in "ab"]
    one = class_of(card, {"a": (out[0],), "b": (sheet(card, "b", 1),), "c": (sheet(card, "c", 1),)})
    two = class_of(card, {"a": (out[0],), "b": (out[1],), "c": (sheet(card, "c", 1),)})
    assert [standings(each)[0].status for each in (one, two)] == ["placed", "disqualified"]


def test_the_score_that_stands_far_out_is_marked(class_of_24: JudgedClass) -> None:
    """In the class of 24 judge c alone found entry 24 salty; that one score is named, with its criterion, and kept."""
    found = panel_of(class_of_24, standings(class_of_24)).outlying
    assert [(one.entry, one.judge, one.criterion) for one in found] == [(24, "c", "flavour")]
    assert next(one for one in standings(class_of_24) if one.entry == 24).by_judge["c"] == found[0].total


def test_drift_is_the_slope_that_scipy_gives(class_of_24: JudgedClass) -> None:
    """Slope, standard error and chance agree with scipy's linregress on the same differences."""
    stats = pytest.importorskip("scipy.stats")
    order = standings(class_of_24)
    by_entry = {one.entry: one.by_judge for one in order if one.status == "placed"}
    for drift in panel_of(class_of_24, order).drift:
        xs, ys = [], []
        for place, one in enumerate(class_of_24.sheets[drift.judge]):
            if one.entry in by_entry:
                totals = by_entry[one.entry]
                others = [value for name, value in totals.items() if name != drift.judge]
                xs.append(place)
                ys.append(totals[drift.judge] - sum(others) / len(others))
        reference = stats.linregress(xs, ys)
        assert drift.slope == pytest.approx(reference.slope, rel=1e-9)
        assert drift.error == pytest.approx(reference.stderr, rel=1e-9)
        assert drift.chance == pytest.approx(reference.pvalue, rel=1e-9)


def test_the_judge_who_grew_milder_is_noticed(class_of_24: JudgedClass) -> None:
    """Judge c was made to score higher towards noon, and is the only one named for it."""
    drift = panel_of(class_of_24, standings(class_of_24)).drift
    assert [one.judge for one in drift if one.notable] == ["c"]


def test_one_judge_has_nobody_to_agree_with(card: Scorecard) -> None:
    """A class with one judge has an order and no statistics."""
    judged = class_of(card, {"a": tuple(sheet(card, "a", n, bite=n) for n in range(1, 10))})
    panel = panel_of(judged, standings(judged))
    assert (panel.concordance, panel.agreement, panel.outlying, panel.drift) == (None, None, (), ())


@pytest.mark.parametrize("form", ["text", "markdown", "html"])
def test_a_class_of_which_every_piece_was_set_aside(card: Scorecard, knowledge: Knowledge, form: Format) -> None:
    """Results without a single placed entry are a page that says so, in every form."""
    gas = marks("gas-holes:marked")
    judged = class_of(card, {judge: (sheet(card, judge, 1, gas), sheet(card, judge, 2, gas)) for judge in "ab"})
    order = standings(judged)
    document = results_document(judged, order, panel_of(judged, order), (), knowledge)
    text = " ".join(laid_out(document, form).split())
    assert "No entry has been placed." in text
    assert "No entry was scored in full by every judge" in text


def test_few_entries_have_no_figures_of_agreement(
    card: Scorecard, class_of_24: JudgedClass, knowledge: Knowledge
) -> None:
    """On four entries W and ICC are chance, so the page leaves them out and says why; on 24 they are there."""
    small = class_of(card, {j: tuple(sheet(card, j, n, bite=n) for n in range(1, 5)) for j in "ab"})
    pages = []
    for judged in (small, class_of_24):
        order = standings(judged)
        document = results_document(judged, order, panel_of(judged, order), (), knowledge)
        pages.append(" ".join(laid_out(document, "text").split()))
    assert "fewer than 8 entries" in pages[0]
    assert "Kendall's W =" not in pages[0]
    assert "Kendall's W =" in pages[1]


def test_the_clinic_does_not_point_where_nothing_shows(class_of_24: JudgedClass, knowledge: Knowledge) -> None:
    """No chance under 10 % leads a fault; the room gets questions instead, and a first question for every other fault."""
    faults = common_faults(class_of_24, knowledge)
    document = clinic_document(class_of_24, standings(class_of_24), faults, knowledge)
    text = " ".join(laid_out(document, "text", width=400).split())
    weak = [one for one in faults if one.causes and one.causes[0][1] < 0.1]
    assert weak
    assert text.count("The pieces do not show why") == len(weak)
    assert text.count("First question to the room") == sum(bool(one.causes) for one in faults) - len(weak)
