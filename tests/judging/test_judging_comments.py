"""The comments of the class of 24, and what the trade says that certain signs point to."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace

import pytest
from making import class_of, marks, sheet

from diagnose.corpus.glossary import Glossary
from diagnose.corpus.records import Knowledge
from diagnose.corpus.scorecards import Scorecard
from diagnose.judging import phrases
from diagnose.judging.causes import Reasoner
from diagnose.judging.comment import FEWEST, MOST, Comment, comments_of
from diagnose.judging.sheet import JudgedClass, Mark


def comment(card: Scorecard, knowledge: Knowledge, *faults: str) -> Comment:
    """The comment on a ham that three judges marked alike."""
    judged = class_of(card, {j: (sheet(card, j, 1, marks(*faults)),) for j in "abc"})
    return comments_of(judged, knowledge)[0]


def first_cause(card: Scorecard, knowledge: Knowledge, *faults: str) -> str:
    """The cause that ranks first for what the comment explains."""
    causes = comment(card, knowledge, *faults).plan.causes
    assert causes is not None
    return causes.ranked[0].cause.id


def test_every_entry_has_a_comment_of_the_right_length(class_of_24: JudgedClass, comments: dict[int, Comment]) -> None:
    """Between 40 and 110 words, for each of the 24."""
    assert list(comments) == list(class_of_24.entries)
    assert [one.entry for one in comments.values() if not FEWEST <= one.words <= MOST] == []


def test_no_sentence_twice_in_a_class(comments: dict[int, Comment]) -> None:
    """No whole sentence stands on two sheets."""
    sentences = Counter(
        sentence for one in comments.values() for sentence in set(re.split(r"(?<=[.?!])\s+(?=[A-Z])", one.text))
    )
    assert [sentence for sentence, count in sentences.items() if count > 1] == []


def test_the_same_class_gives_the_same_comments(
    class_of_24: JudgedClass, knowledge: Knowledge, glossary: Glossary, comments: dict[int, Comment]
) -> None:
    """Nothing is left to chance."""
    again = comments_of(class_of_24, knowledge, glossary)
    assert [one.text for one in again] == [one.text for one in comments.values()]


def test_the_good_comes_first(comments: dict[int, Comment]) -> None:
    """Every comment on a placed entry opens with something that scored at least nine tenths and has no fault marked."""
    for one in comments.values():
        if one.plan.kind != "ordinary":
            continue
        hurt = {told.found.criterion for told in one.plan.faults}
        good = one.plan.good
        assert good
        assert not hurt & {criterion.id for criterion in good}
        opening = one.text.split(".")[0].lower()
        assert any(phrase.lower() in opening for criterion in good for phrase in criterion.good)


def test_a_cause_is_never_surer_than_its_chance(comments: dict[int, Comment]) -> None:
    """Words for likely stand only where the first cause has at least 66 %, those for an even chance from 33 %."""
    for one in comments.values():
        named = one.plan.named
        chance = named[0].chance if named else 0.0
        if re.search(r"(?<!un)(?<!as )\blikely\b(?! as not| by itself| alone)", one.text):
            assert chance >= 0.66, one.text
        if "as likely as not" in one.text:
            assert 0.33 <= chance < 0.66, one.text
        if not named:
            assert "unlikely" not in one.text


def test_two_candidates_are_named_as_two(comments: dict[int, Comment], glossary: Glossary) -> None:
    """Where two causes are near each other, both stand in the text."""
    pairs = [one for one in comments.values() if len(one.plan.named) == 2]
    assert pairs
    for one in pairs:
        for candidate in one.plan.named:
            words = glossary.causes.get(candidate.cause.id, (candidate.cause.title,))
            bare = re.sub(r" \([^)]*\)", "", one.text)
            assert any(each.lower() in (one.text + bare).lower() for each in words), one.text


def test_suspect_pieces_are_held_and_not_praised_for_taste(comments: dict[int, Comment]) -> None:
    """The sour and the undercooked entry: not tasted, hold the lot, the inspector, and no word of flavour."""
    for entry in (10, 18):
        text = comments[entry].text
        assert re.search(r"did not taste|nobody tasted|untasted", text)
        assert "inspector" in text
        assert re.search(r"\b[Hh]old\b|Keep the rest of the lot back", text)
        tasted = [phrase for one in comments[entry].plan.good if one.tasted for phrase in one.good]
        assert not any(phrase in text for phrase in tasted)
        assert "safe" not in text


def test_a_warning_is_not_weakened(comments: dict[int, Comment]) -> None:
    """Beside a warning no cause is called unlikely, and what one judge alone saw is not taken for less."""
    for entry in (10, 18):
        assert "unlikely" not in comments[entry].text
    assert comments[18].plan.causes is not None
    assert comments[18].plan.causes.ranked[0].cause.id == "undercooked-core"


def test_out_of_class_is_said_without_blame(comments: dict[int, Comment]) -> None:
    """The entry of another class is told the reason and whom to ask."""
    assert "another class" in comments[21].text
    assert "superintendent" in comments[21].text


def test_what_the_maker_could_not_know_is_said(comments: dict[int, Comment]) -> None:
    """The split thigh bone began before slaughter, and the comment says that nobody in the plant could have known."""
    assert all(comments[5].plan.unknowable)
    assert re.search(r"could (not )?have (known|seen)|could not", comments[5].text)
    assert re.search(r"outside|before the cut|was cut", comments[5].text)


def test_no_blame_no_promise(comments: dict[int, Comment]) -> None:
    """Words that blame or that call something safe are not in any comment."""
    bad = re.compile(
        r"\b(careless|sloppy|lazy|bad work|your fault|should have|failed|ignorant|safe|guarantee\w*|certainly)\b", re.I
    )
    assert [one.entry for one in comments.values() if bad.search(one.text)] == []


def test_words_of_the_trade_are_explained(comments: dict[int, Comment], glossary: Glossary) -> None:
    """Each word of the glossary that a comment uses is followed, at its first use, by its meaning in brackets."""
    for one in comments.values():
        for gloss in glossary.words:
            forms = "|".join(re.escape(form) for form in (gloss.word, *gloss.also))
            found = re.search(rf"(?<![\w-])(?:{forms})(?![\w-])(.{{0,3}})", one.text)
            if found:
                before = one.text[: found.start()]
                assert "(" in found.group(1) or before.count("(") > before.count(")"), (one.entry, gloss.word)


def test_one_judges_view_is_told_as_such(comments: dict[int, Comment]) -> None:
    """What a single judge of three marked strongly is not told as the view of all."""
    assert comments[24].plan.faults == ()
    assert re.search(r"[Oo]ne of the three judges|single judge|one judge of three", comments[24].text)


def test_thin_cover_and_a_little_dry_are_no_fault(card: Scorecard) -> None:
    """A thin, even fat cover is wanted; a surface slightly dry or moist costs nothing."""
    outside = card.criterion("outside-colour")
    costs = {fault.id: fault.slight for fault in outside.faults}
    assert (costs["dry-hard-surface"], costs["wet-or-sticky-surface"]) == (0, 0)
    fat = card.criterion("fat")
    assert fat.anchors[0].says.startswith("Thin, even cover")
    assert "fat-thin-all-over" not in {fault.id for fault in fat.faults}


def test_a_little_dry_is_not_mentioned(card: Scorecard, knowledge: Knowledge) -> None:
    """What costs nothing is not held against a ham."""
    assert comment(card, knowledge, "dry-hard-surface:slight").plan.faults == ()


def test_a_paler_ham_may_sell(card: Scorecard, knowledge: Knowledge) -> None:
    """Golden brown to mahogany is the standard, but a slight paleness is said with that."""
    assert "may still sell" in comment(card, knowledge, "pale-outside:slight").text


@pytest.mark.parametrize(
    ("faults", "cause"),
    [
        (("small-round-holes:marked",), "injector-draws-air"),
        (("small-round-holes:marked", "holes-evenly-scattered"), "injector-draws-air"),
        (("pale-outside:marked", "dry-hard-surface:marked"), "house-humidity-too-low"),
        (("pale-outside:slight", "dry-hard-surface:marked"), "house-humidity-too-low"),
        (("split-or-broken-femur", "blood-round-joint:marked", "outside-gave-no-sign"), "fall-or-slip-in-handling"),
    ],
)
def test_what_the_trade_reads_from_signs(
    card: Scorecard, knowledge: Knowledge, faults: tuple[str, ...], cause: str
) -> None:
    """Many small holes: air from the injector first. Pale and dry: humidity. Blood at a split bone: before slaughter."""
    assert first_cause(card, knowledge, *faults) == cause


def test_a_large_gap_is_another_fault(card: Scorecard, knowledge: Knowledge) -> None:
    """A gap between inside and outside muscle has other causes than small holes have."""
    gap = comment(card, knowledge, "gap-inside-outside-muscle:marked").plan.causes
    holes = comment(card, knowledge, "small-round-holes:marked").plan.causes
    assert gap is not None
    assert holes is not None
    assert not {one.cause.id for one in gap.ranked[:3]} & {one.cause.id for one in holes.ranked[:3]}


def test_shank_dents_and_butt_cost_points(card: Scorecard) -> None:
    """A shank that is long, dents and a rough butt end are on the card; two shank bones are wanted."""
    faults = {fault.id: fault.marked for fault in card.criterion("workmanship").faults}
    assert min(faults["shank-too-long"], faults["dented-surface"], faults["rough-butt-end"]) > 0
    assert "two bones" in card.criterion("workmanship").what


def test_flavour_weighs_most_and_aroma_is_apart(card: Scorecard, comments: dict[int, Comment]) -> None:
    """Flavour has about 400 of 1000; a ham with an off note in the nose can still have its flavour praised."""
    assert card.total == 1000
    assert card.criterion("flavour").points == 400
    assert "flavour" in {one.id for one in comments[23].plan.good}


def test_without_a_product_no_cause_is_named(card: Scorecard, knowledge: Knowledge) -> None:
    """A scorecard that names no product of the knowledge gives comments without causes."""
    import dataclasses

    other = dataclasses.replace(card, product=None)
    found = comment(other, knowledge, "small-round-holes:marked")
    assert found.plan.causes is None
    assert found.plan.named == ()


def test_no_step_for_another_product_is_advised(card: Scorecard, knowledge: Knowledge) -> None:
    """A correction that makes no sense for the product of the class is neither a step of a comment nor of the clinic."""
    reasoner = Reasoner(knowledge, card.product)
    cause = next(one for one in knowledge.causes.values() if reasoner.remedies(one))
    best = reasoner.remedies(cause)[0]
    elsewhere = replace(best, products=("another-product",))
    changed = replace(cause, corrections=tuple(elsewhere if one is best else one for one in cause.corrections))
    assert best.id not in [one.id for one in reasoner.remedies(changed)]
    assert len(reasoner.remedies(changed)) == len(reasoner.remedies(cause)) - 1


def of_marks(card: Scorecard, knowledge: Knowledge, **by_judge: tuple[Mark, ...]) -> Comment:
    """The comment on a ham that each judge marked in a way of their own."""
    judged = class_of(card, {judge: (sheet(card, judge, 1, given),) for judge, given in by_judge.items()})
    return comments_of(judged, knowledge)[0]


def test_degrees_and_places_are_those_of_the_judges(card: Scorecard, knowledge: Knowledge) -> None:
    """Slight from one and marked from the other is told as both, and a place that one named as one judge's; never harder."""
    found = of_marks(
        card,
        knowledge,
        a=(Mark("dark-outside", "yes", "slight", "skin side"),),
        b=(Mark("dark-outside", "yes", "marked"),),
    )
    assert "(slight to clear, on the skin side, as one judge noted)" in found.text
    assert found.plan.faults[0].found.how_much == "slight"


def test_a_danger_is_never_the_milder(card: Scorecard, knowledge: Knowledge) -> None:
    """Of two judges the one who saw more of a danger counts."""
    found = of_marks(card, knowledge, a=marks("gas-holes:slight"), b=marks("gas-holes:marked"))
    assert found.plan.faults[0].found.how_much == "marked"


def test_no_comment_calls_a_fault_marked(comments: dict[int, Comment]) -> None:
    """As a degree the word reads as marked down, so it is said otherwise."""
    assert [one.entry for one in comments.values() if re.search(r"\((slight to )?marked\b", one.text)] == []


def test_a_place_is_not_said_twice(comments: dict[int, Comment]) -> None:
    """A split thigh bone is not said to be round the bone."""
    assert "a split thigh bone and blood round the joint" in comments[5].text


def test_the_word_of_one_judge_is_not_almost_certain(comments: dict[int, Comment]) -> None:
    """What one judge of three saw holds the lot, is said as that, and its cause has no word of certainty."""
    text = comments[18].text
    assert re.search(r"[Oo]ne of the three judges", text)
    assert not re.search(r"almost certain|likely", text)
    assert re.search(r"If that is so|If it was seen rightly|Should they be right", text)


def test_unlike_counts_are_said_for_each_fault(comments: dict[int, Comment]) -> None:
    """Gas holes seen by one judge and a smell found by two are not both told as two."""
    assert "seen by one of three judges" in comments[10].text
    assert "seen by two of three judges" in comments[10].text


def test_a_suspect_sheet_begins_with_the_hold(comments: dict[int, Comment]) -> None:
    """No praise stands before it."""
    for entry in (10, 18):
        assert any(comments[entry].text.startswith(one[:20]) for one in phrases.HOLD), comments[entry].text


def test_a_check_comes_before_a_change_where_no_cause_is_likely(comments: dict[int, Comment]) -> None:
    """Where every cause is unlikely and the maker can look, the maker is first told what to look at."""
    seen = 0
    for one in comments.values():
        spoken = one.plan.named or one.plan.begin
        if one.plan.kind != "ordinary" or not spoken or spoken[0].chance >= 0.33 or not one.steps:
            continue
        checks = {step.cause for step in one.plan.steps if step.kind == "check"}
        if spoken[0].cause.id in checks:
            seen += 1
            assert one.steps[0].kind == "check", one.text
    assert seen >= 5


def test_every_fault_told_has_something_to_do(card: Scorecard, knowledge: Knowledge) -> None:
    """A second fault of another criterion gets where to look, or that the maker may ask."""
    found = comment(card, knowledge, "small-round-holes:marked", "thick-fat-cover:marked")
    assert [told.found.fault for told in found.plan.faults] == ["small-round-holes", "thick-fat-cover"]
    assert [(one.place, one.cause is not None) for one in found.plan.others] == [(1, True)]
    assert re.search(r"second|ask|more of what else", found.text)


def test_a_cause_does_not_stand_for_a_fault_it_does_not_lead_to(comments: dict[int, Comment]) -> None:
    """A rough butt end beside contact marks is not laid to hams that touched."""
    plan = comments[17].plan
    assert [one.found.fault for one in plan.faults[: plan.explained]] == ["touch-marks"]
    assert [one.cause.cause.id for one in plan.others if one.cause] == ["butt-not-squared-before-cure"]


def test_points_lost_without_a_mark_are_named(card: Scorecard, knowledge: Knowledge) -> None:
    """Fat at 30 of 60 without a fault marked: the maker is told, and to ask."""
    given = marks("dark-outside:marked")
    judged = class_of(card, {j: (sheet(card, j, 1, given, fat=30),) for j in "ab"})
    found = comments_of(judged, knowledge)[0]
    assert found.plan.unmarked is not None
    assert found.plan.unmarked[0].id == "fat"
    assert "fat cover and seam fat" in found.text.lower()


def test_what_could_not_be_known_is_not_said_too_surely(comments: dict[int, Comment]) -> None:
    """Where the causes before the maker hold less than two thirds, the sentence says if, and that others are possible."""
    for one in comments.values():
        if one.plan.unknowable and all(one.plan.unknowable):
            assert re.search(r"\b(If|Should|would)\b", one.text), one.text
            if sum(each.chance for each in one.plan.named) < 0.66:
                assert any(each in one.text for each in phrases.OR_ELSE), one.text


@pytest.mark.parametrize(
    ("fault", "cause"),
    [
        ("shank-too-long:marked", "shank-sawn-without-mark"),
        ("dented-surface:marked", "warm-hams-laid-or-stacked"),
        ("rough-butt-end:marked", "butt-not-squared-before-cure"),
        ("animal-or-stale-smell-in-lean:marked", "stale-or-tainted-raw-hams-accepted"),
    ],
)
def test_faults_of_trim_and_of_raw_meat_have_causes(
    card: Scorecard, knowledge: Knowledge, fault: str, cause: str
) -> None:
    """A long shank, dents, a rough butt end and a smell of the raw meat point somewhere, and none sets a piece aside."""
    found = comment(card, knowledge, fault)
    assert found.plan.causes is not None
    assert found.plan.causes.ranked[0].cause.id == cause
    assert found.plan.kind == "ordinary"
