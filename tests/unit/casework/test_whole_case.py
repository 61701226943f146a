"""From a case to its outcome, on small knowledge whose right answers can be worked out by hand."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from oracles.enumeration import Worlds
from oracles.small_knowledge import cause, check, correction, knowledge, links, mechanism, sign

from diagnose.casework import robustness
from diagnose.casework.assess import assess
from diagnose.casework.case import Case
from diagnose.casework.diagnosis import Diagnosis
from diagnose.casework.events import Answer
from diagnose.casework.model import Model, model_of
from diagnose.corpus.records import Caution, Knowledge
from diagnose.inference.evidence import Observed
from diagnose.inference.network import YES, Network
from diagnose.inference.posterior import gone_chances
from diagnose.inference.sensitivity import Variation, responsible_if

CAUTIONS = (
    Caution("wash-hands", "Wash", "care", "Wash your hands.", ()),
    Caution("hold-the-lot", "Hold", "danger", "Hold the lot.", ()),
)

HOLES = knowledge(
    version="holes",
    causes=(
        cause(
            "air",
            "common",
            links(bubbles="usually"),
            corrections=(
                correction("close-the-joint", effort="minutes"),
                correction("new-pump", effort="investment", also_removes=("foam",)),
                correction("sort-the-lot", removes="none", when="this-lot", caution=("wash-hands",)),
            ),
        ),
        cause("foam", "uncommon", links(bubbles="often", froth="nearly-always")),
        cause("gas", "rare", links(holes="often", smell="usually"), caution=("hold-the-lot",)),
        cause("warm", "occasional", links(gas_made="often"), check=check("raw-material", 10)),
        cause("aside", "common", links(spots="often")),
    ),
    mechanisms=(
        mechanism("bubbles", links(holes="usually")),
        mechanism("gas-made", links(holes="often", smell="often")),
    ),
    signs=(
        sign("holes", graded=True, caution=("wash-hands",)),
        sign("smell", caution=("hold-the-lot",)),
        sign("froth", kind="detail", check=check("process", 5)),
        sign("spots"),
    ),
    cautions=CAUTIONS,
)


def case(*answers: Answer, **more: object) -> Case:
    return Case("ham", answers={one.about: one for one in answers}, **more)  # type: ignore[arg-type]


def outcome(*answers: Answer, full: bool = False, hours: float | None = None, **more: object) -> Diagnosis:
    return assess(HOLES, case(*answers, **more), full=full, hours=hours)


def offered(found: Diagnosis) -> list[str]:
    return [one.about for one in found.next]


def test_ranked_by_responsibility() -> None:
    """Causes come by how likely they are responsible, as world-by-world enumeration of the same network has it."""
    model = Model(HOLES, "ham")
    inside = model.network.ancestors(["holes"])
    part = Network(node for name, node in model.network.nodes.items() if name in inside)
    expected = Worlds(part, {"holes": YES}).responsible(["holes"])
    found = outcome(Answer("holes", "yes")).ranking
    assert {one.id: one.responsible for one in found} == pytest.approx(expected, abs=1e-9)
    assert [one.responsible for one in found] == sorted((one.responsible for one in found), reverse=True)


def test_who_can_look() -> None:
    """A judge with only the product never gets a question that needs more, and everybody's questions are all possible."""
    found = outcome(Answer("holes", "yes"), have=("product",))
    assert found.next
    assert {one.needs for one in found.next} == {"product"}
    assert {one.needs for one in outcome(Answer("holes", "yes")).next} == {"product", "process", "raw-material"}


def test_cant_tell_changes_nothing_and_is_not_asked_again() -> None:
    """Can't tell leaves every probability and is never offered again."""
    before, after = outcome(Answer("holes", "yes")), outcome(Answer("holes", "yes"), Answer("smell", "cant-tell"))
    assert "smell" in offered(before)
    assert "smell" not in offered(after)
    assert [(one.id, one.present, one.responsible) for one in before.ranking] == [
        (one.id, one.present, one.responsible) for one in after.ranking
    ]
    assert after.fit == before.fit
    assert {one.about: one.bits for one in after.next}.items() <= {one.about: one.bits for one in before.next}.items()


def test_skipped_and_answered_are_not_offered() -> None:
    """What was put aside or answered is not offered, nor what has nothing to do with a cause in play."""
    found = outcome(Answer("holes", "yes"), Answer("froth", "no"), skipped=frozenset({"smell"}))
    assert not {"holes", "froth", "smell", "spots", "aside"} & set(offered(found))
    assert set(offered(found)) == {"air", "foam", "gas", "warm"}


def test_best_bits_a_minute_first() -> None:
    """Questions come by bits per minute, and say which cause they speak for."""
    found = outcome(Answer("holes", "yes")).next
    rate = [one.bits / one.minutes for one in found]
    assert rate == sorted(rate, reverse=True)
    smell = next(one for one in found if one.about == "smell")
    assert smell.speaks_for in {"Gas", "Warm"}
    assert smell.speaks_against == "Air"


def test_nothing_to_ask_before_anything_is_seen() -> None:
    """Without a yes no cause is in play, so nothing is worth asking."""
    found = outcome()
    assert found.next == ()
    assert not found.worth_asking
    assert found.ranking == ()


def test_cautions_danger_first() -> None:
    """Danger comes before care whatever came first, and each caution names what called for it."""
    found = outcome(Answer("holes", "yes"), Answer("smell", "yes")).cautions
    assert [one.id for one in found] == ["hold-the-lot", "wash-hands"]
    assert "Smell" in found[0].because


@pytest.mark.parametrize("sure", ["fairly", "from-memory"])
def test_an_unsure_yes_calls_its_caution(sure: str) -> None:
    """A warning does not wait for a person to be sure."""
    found = outcome(Answer("smell", "yes", sure)).cautions  # type: ignore[arg-type]
    assert "hold-the-lot" in [one.id for one in found]
    assert outcome(Answer("smell", "no", sure)).cautions == ()  # type: ignore[arg-type]


def test_a_suspected_cause_calls_its_caution() -> None:
    """A dangerous cause that is likely calls its caution though no sign of it was named dangerous; one that is merely
    possible is to be ruled out first, with its check."""
    quiet = replace(HOLES, version="quiet", signs={**HOLES.signs, "smell": sign("smell")})
    often = {**quiet.causes, "gas": replace(quiet.causes["gas"], frequency="frequent")}
    smell = case(Answer("smell", "yes"))
    likely, possible = assess(replace(quiet, version="often", causes=often), smell), assess(quiet, smell)
    chance = {
        name: next(one.responsible for one in found.ranking if one.id == "gas")
        for name, found in (("likely", likely), ("possible", possible))
    }
    assert 0.1 <= chance["possible"] < 1 / 3 <= chance["likely"]
    assert [(one.id, one.because) for one in likely.cautions] == [
        ("hold-the-lot", (f"Gas (suspected, {100 * chance['likely']:.0f} %)",))
    ]
    assert likely.rule_out == possible.cautions == ()
    assert [(one.caution, one.cause, one.chance) for one in possible.rule_out] == [
        ("hold-the-lot", "Gas", chance["possible"])
    ]


@pytest.mark.parametrize("verdict", ["cant-tell", "no"])
def test_no_doubt_silences_a_likely_danger(verdict: str) -> None:
    """Who cannot tell, or is not sure of a no, is still warned of a dangerous cause that stays likely."""
    causes = {**HOLES.causes, "gas": replace(HOLES.causes["gas"], frequency="frequent")}
    often = replace(HOLES, version="often gas", causes=causes, signs={**HOLES.signs, "smell": sign("smell")})
    answers = (Answer("smell", "yes"), Answer("gas", verdict, "from-memory"))  # type: ignore[arg-type]
    found = assess(often, case(*answers))
    assert next(one for one in found.ranking if one.id == "gas").responsible > 1 / 3
    assert [one.id for one in found.cautions] == ["hold-the-lot"]


def test_the_weights_add_up() -> None:
    """The reasons shown for a cause add up to the change of its log odds, up to those too faint to show."""
    found = outcome(Answer("holes", "yes"), Answer("smell", "no"), Answer("froth", "yes"))
    for one in found.ranking:
        prior = Model(HOLES, "ham").network.nodes[one.id].chance
        change = 10.0 * math.log10(one.present / (1.0 - one.present) * (1.0 - prior) / prior)
        assert sum(reason.decibans for reason in one.reasons) == pytest.approx(change, abs=0.3)


def test_chains() -> None:
    """The chain to each defect is the one whose strengths multiply to the most, link by link."""
    found = outcome(Answer("holes", "yes"), Answer("smell", "yes"), full=True)
    chains = {one.id: [[link.to_id for link in chain] for chain in one.chains] for one in found.ranking}
    assert chains["air"] == [["bubbles", "holes"]]
    assert chains["gas"] == [["holes"], ["smell"]]
    assert chains["warm"] == [["gas-made", "holes"], ["gas-made", "smell"]]
    first = next(one for one in found.ranking if one.id == "air").chains[0][0]
    assert (first.from_title, first.to_title, first.strength) == ("Air", "Bubbles", "usually")


def test_the_longer_chain_may_be_stronger() -> None:
    """A detour over strong links beats a weak direct link."""
    detour = knowledge(
        version="detour",
        causes=(cause("c", "common", links(s="seldom", m="nearly-always")),),
        mechanisms=(mechanism("m", links(s="nearly-always")),),
        signs=(sign("s"),),
    )
    found = assess(detour, case(Answer("s", "yes")), full=True)
    assert [link.to_id for link in found.ranking[0].chains[0]] == ["m", "s"]


def test_a_step_on_the_plan() -> None:
    """The plan's chances are those of the engine for the same removals, and the gains of the steps add up to them."""
    found = outcome(Answer("holes", "yes"), full=True).plan
    assert found is not None
    model = model_of(HOLES, "ham")
    observed = Observed(model.network, model.evidence({"holes": Answer("holes", "yes")}))
    left: dict[str, float] = {}
    for step in found.steps:
        name = next(c.id for c in HOLES.causes.values() if step.correction in [one.id for one in c.corrections])
        targets = [name, "foam"] if step.correction == "new-pump" else [name]
        for target in targets:
            left[target] = left.get(target, 1.0) * (1.0 - 0.93)
    expected = gone_chances(observed, ["holes"], [{name: 1.0 - share for name, share in left.items()}])[0]
    assert found.free_after_all == pytest.approx(expected, abs=1e-12)
    # With one defect the expected share of defects gone is the chance that all are.
    assert found.gone_after_all == pytest.approx(expected, abs=1e-12)
    assert sum(step.gain for step in found.steps) == pytest.approx(expected, abs=1e-12)
    assert [(one.correction, one.cautions) for one in found.this_lot] == [("sort-the-lot", ("wash-hands",))]


def test_the_set_against_every_set() -> None:
    """No single correction within the effort does better than the plan, and on this knowledge no other set does."""
    model = model_of(HOLES, "ham")
    observed = Observed(model.network, model.evidence({"holes": Answer("holes", "yes")}))
    effort = {word: HOLES.scales["effort"].value(word) for word in ("minutes", "hours", "days", "investment")}
    fixes = [(c.id, one) for c in HOLES.causes.values() for one in c.corrections if one.when != "this-lot"]
    for hours in (0.5, 4.0, 5.0, 8.5, 90.0, None):
        plan = outcome(Answer("holes", "yes"), full=True, hours=hours).plan
        assert plan is not None
        assert hours is None or sum(effort[step.effort] for step in plan.steps) <= hours
        best = 0.0
        for count in range(1, 4):
            for some in combinations(fixes, count):
                if hours is not None and sum(effort[one.effort] for _, one in some) > hours:
                    continue
                left: dict[str, float] = {}
                for name, one in some:
                    for target in (name, *one.also_removes):
                        left[target] = left.get(target, 1.0) * (1.0 - 0.93)
                removal = {name: 1.0 - share for name, share in left.items()}
                best = max(best, gone_chances(observed, ["holes"], [removal])[0])
        # Steps that add less than a hundredth are left out.
        assert plan.free_after_all >= best - 0.02


def test_cheap_checks_before_work() -> None:
    """The plan names the open checks of the causes it works on, quickest first, and none that was answered."""
    plan = outcome(Answer("holes", "yes"), Answer("foam", "no", "fairly"), full=True).plan
    assert plan is not None
    named = [one.about for one in plan.confirm_first]
    assert "air" in named
    assert "foam" not in named
    assert [one.minutes for one in plan.confirm_first] == sorted(one.minutes for one in plan.confirm_first)


def close_race(frequency: str) -> Knowledge:
    return knowledge(
        version=f"race {frequency}",
        causes=(cause("first", frequency, links(s="often")), cause("second", "common", links(s="often"))),
        signs=(sign("s"),),
    )


def test_a_hinge_is_found() -> None:
    """Where one step on the frequency of the first cause puts the second before it, robustness says so, with the word."""
    found = assess(close_race("frequent"), case(Answer("s", "yes")), full=True)
    assert found.ranking[0].id == "first"
    assert found.robustness is not None
    assert not found.robustness.holds or found.robustness.hinges == ()
    near = assess(close_race("common"), case(Answer("s", "yes")), full=True).robustness
    assert near is not None
    assert not near.holds
    hinges = {(hinge.where, hinge.word, hinge.instead, hinge.first) for hinge in near.hinges}
    assert ("how often: First", "common", "occasional", "Second") in hinges
    assert ("how often Second gives: S", "often", "usually", "Second") in hinges


def test_every_kind_of_word_is_moved_by_one_step(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each number that the answers touch is moved to that of the next word, an answer from memory from where it stands."""
    moved: dict[str, list[float]] = {}

    def note(observed: Observed, defects: object, contenders: list[str], variations: list[Variation]) -> np.ndarray:
        for one in variations:
            name = f"{one.parent}-{one.node}" if one.parent else f"{one.node} {'answer' if one.answer else ''}".strip()
            number = one.answer.present if one.answer else one.chance or one.strength
            moved.setdefault(name, []).append(number or 0.0)
        return responsible_if(observed, defects, contenders, variations)  # type: ignore[arg-type]

    monkeypatch.setattr(robustness, "responsible_if", note)
    chain = knowledge(
        version="every word",
        causes=(cause("a", "common", links(m="often")), cause("b", "common", links(s="often"))),
        mechanisms=(mechanism("m", links(s="often"), background="low"),),
        signs=(sign("s", background="low", check=check(reliability="good")),),
    )
    assess(chain, case(Answer("s", "yes", "from-memory")), full=True)
    scale = {name: [step.value for step in one.steps] for name, one in chain.scales.items()}
    place = {name: [step.word for step in one.steps].index for name, one in chain.scales.items()}

    def beside(name: str, word: str, less: int = 0) -> list[float]:
        at = place[name](word) - less
        return [scale[name][each] for each in (at - 1, at + 1)]

    assert moved == {
        "a": beside("frequency", "common"),
        "b": beside("frequency", "common"),
        "a-m": beside("strength", "often"),
        "m-s": beside("strength", "often"),
        "b-s": beside("strength", "often"),
        "m": beside("background", "low"),
        "s": beside("background", "low"),
        "s answer": beside("reliability", "good", less=1),
    }


def test_no_hinge_where_nothing_is_near() -> None:
    """With one cause that could have done it, no single word changes the first place."""
    alone = knowledge(version="alone", causes=(cause("only", "rare", links(s="often")),), signs=(sign("s"),))
    found = assess(alone, case(Answer("s", "yes")), full=True).robustness
    assert found is not None
    assert found.holds
    assert found.hinges == ()


def test_quick_and_full_agree() -> None:
    """The quick step of a session shows the same probabilities and questions as the full outcome."""
    answers = (Answer("holes", "yes"), Answer("smell", "no", "fairly"))
    quick, full = outcome(*answers), outcome(*answers, full=True)
    assert (quick.plan, quick.robustness) == (None, None)
    assert [(one.id, one.responsible) for one in quick.ranking] == [(one.id, one.responsible) for one in full.ranking]
    assert quick.next == full.next


def test_answers_that_do_not_go_together() -> None:
    """A sign that only its background can explain does not fit, and the unlisted share says so."""
    found = outcome(
        Answer("spots", "yes"),
        Answer("aside", "no"),
        Answer("holes", "no"),
        Answer("smell", "no"),
        Answer("froth", "no"),
    )
    assert found.unlisted == pytest.approx(1.0)
    assert not found.fit.fits
