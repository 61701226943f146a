"""What computed values weigh, and what they do to a ranking."""

from itertools import pairwise
from pathlib import Path

import pytest

from diagnose.casework.assess import assess
from diagnose.casework.batch_outcome import BatchOutcome, RecordCaution, Result
from diagnose.casework.batch_record import load_record
from diagnose.casework.batch_results import results_of
from diagnose.casework.case import Case
from diagnose.casework.events import Answer
from diagnose.casework.measuring import Measurements, measurements, right_at
from diagnose.corpus.figures_file import load_figures
from diagnose.corpus.load import default_folder, load

EXAMPLES = Path(__file__).parents[3] / "docs" / "examples"
KNOWN = load(remember=False)
FIGURES = load_figures(KNOWN, [default_folder()])
SIDES = [
    pytest.param(measure, band, side, meaning, id=f"{measure.id}-{side}-{meaning.about}")
    for measure in FIGURES.measures
    for band in measure.bands
    for side, meanings in (("below", band.below), ("above", band.above))
    for meaning in meanings
]


def said(measure, band, value: float) -> Measurements:
    """What one value of a measure says."""
    product = band.products[0] if band.products else "bone-in-ham"
    rules = band.rules if band.rules != "any" else "us"
    result = Result(measure.result, "", value, measure.unit, "")
    return measurements(KNOWN, FIGURES, BatchOutcome(product, "", "", (), rules, (result,), (), (), ()))


@pytest.mark.parametrize(("measure", "band", "side", "meaning"), SIDES)
def test_each_measure_says_yes_beyond_its_edge_no_within_and_nothing_at_it(measure, band, side, meaning) -> None:
    """Far beyond the edge the full reliability speaks for it, as far on the other side against it, at the edge neither."""
    edge, out = (band.at_least, -1) if side == "below" else (band.at_most, 1)
    reliability = KNOWN.scales["reliability"].value(meaning.reliability)
    beyond = said(measure, band, edge + out * meaning.full_at).evidence[meaning.about]
    assert (beyond.verdict, beyond.right) == ("yes", pytest.approx(reliability))
    assert said(measure, band, edge + out * 50 * meaning.full_at).evidence[meaning.about].right == pytest.approx(
        reliability
    )
    assert meaning.about not in said(measure, band, edge).evidence
    if meaning.within == "speaks-against":
        inside = said(measure, band, edge - out * meaning.full_at).evidence[meaning.about]
        assert (inside.verdict, inside.right) == ("no", pytest.approx(reliability))


def test_the_weight_grows_smoothly_from_the_edge() -> None:
    """One half at the edge, the full word at the distance, no jump and no step back between."""
    found = [right_at(step / 100, 1.0, 0.9) for step in range(201)]
    assert found[0] == 0.5
    assert found[50] == pytest.approx(0.7)
    assert found[100] == found[200] == pytest.approx(0.9)
    steps = [after - before for before, after in pairwise(found)]
    assert min(steps) >= 0
    assert max(steps) < 0.0061


def measured(name: str) -> Measurements:
    return measurements(KNOWN, FIGURES, results_of(KNOWN, FIGURES, load_record(KNOWN, EXAMPLES / f"{name}.yaml")))


def case(**answers: str) -> Case:
    given = {name.replace("_", "-"): Answer(name.replace("_", "-"), verdict) for name, verdict in answers.items()}
    return Case("bone-in-ham", answers=given)


def chance(diagnosis, cause: str) -> float:
    return next(one.responsible for one in diagnosis.ranking if one.id == cause)


@pytest.mark.parametrize(
    ("record", "sign", "cause"),
    [
        ("scaling-error", "over_salty", "brine-weighing-error-salt-high"),
        ("slow-chill", "gas_holes", "finished-chill-too-slow"),
    ],
)
def test_a_record_moves_the_ranking(record: str, sign: str, cause: str) -> None:
    """The bad record raises its cause, the good record lowers it."""
    without = chance(assess(KNOWN, case(**{sign: "yes"})), cause)
    with_bad = chance(assess(KNOWN, case(**{sign: "yes"}), measured=measured(record)), cause)
    with_good = chance(assess(KNOWN, case(**{sign: "yes"}), measured=measured("good-batch")), cause)
    assert with_bad > 2 * without
    assert with_good < without


def test_a_persons_own_answer_counts_in_its_place_and_both_are_told() -> None:
    """Evidence on an answered id is the answer's; the computed value stays visible beside it."""
    own = case(over_salty="yes", brine_strength_above_formula="no")
    found = assess(KNOWN, own, measured=measured("scaling-error"))
    one = next(one for one in found.measured if one.measured.about == "brine-strength-above-formula")
    assert (one.measured.verdict, one.own) == ("yes", "no")
    reasons = [reason for cause in found.ranking for reason in cause.reasons if reason.about == one.measured.about]
    assert reasons
    assert {reason.verdict for reason in reasons} == {"no"}
    assert all(reason.computed is not None for reason in reasons)
    alone = Measurements({k: v for k, v in measured("scaling-error").evidence.items() if k != one.measured.about})
    assert [r.responsible for r in assess(KNOWN, own, measured=alone).ranking] == pytest.approx(
        [r.responsible for r in found.ranking]
    )


def test_cant_tell_leaves_the_computed_value_in_force() -> None:
    """Who cannot tell has not contradicted the chart."""
    unsure = case(over_salty="yes", brine_strength_above_formula="cant-tell")
    plain = case(over_salty="yes")
    numbers = measured("scaling-error")
    assert [one.responsible for one in assess(KNOWN, unsure, measured=numbers).ranking] == pytest.approx(
        [one.responsible for one in assess(KNOWN, plain, measured=numbers).ranking]
    )


def test_a_records_caution_stands_whatever_was_answered() -> None:
    """An over-limit nitrite comes first even where the person says that the nitrite was right."""
    found = assess(KNOWN, case(over_salty="yes", nitrite_too_high="no"), measured=measured("scaling-error"))
    assert found.cautions[0].id == "nitrite-over-limit"


def test_a_record_alone_gives_a_ranking() -> None:
    """Where nobody has seen anything, what the record shows is what is to be explained."""
    found = assess(KNOWN, case(), full=True, measured=measured("slow-chill"))
    assert found.ranking[0].id == "finished-chill-too-slow"
    assert found.robustness is not None


def test_what_the_record_has_told_is_not_asked_again() -> None:
    """A computed sign is no open question."""
    numbers = measured("scaling-error")
    found = assess(KNOWN, case(over_salty="yes"), measured=numbers)
    assert not {one.about for one in found.next} & set(numbers.evidence)


def test_of_several_measures_on_one_sign_the_one_for_it_counts() -> None:
    """A chill fast in its first range and slow in its second was slow."""
    results = (
        Result("cooling-54-27", "", 60.0, "min", ""),
        Result("cooling-27-7", "", 900.0, "min", ""),
    )
    outcome = BatchOutcome("bone-in-ham", "", "", (), "us", results, (RecordCaution("slow-chill-hold", "x"),), (), ())
    found = measurements(KNOWN, FIGURES, outcome)
    assert found.evidence["chill-chart-slow"].verdict == "yes"
    assert found.cautions == outcome.cautions


def test_every_band_rests_on_a_source() -> None:
    """A value that moves a ranking is read against a published figure, and the page names it."""
    bare = [measure.id for measure in FIGURES.measures for band in measure.bands if not band.basis]
    assert bare == []
