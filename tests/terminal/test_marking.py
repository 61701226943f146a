"""The first questions and the marking of signs, held by a script."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from scripted import held, small

from diagnose.casework.case import state_of
from diagnose.casework.events import Answer, Opened, Retract
from diagnose.corpus.records import Check, Knowledge

JUDGE = ("1", "1")
PLANT = ("2", "1")


def answers(events: list[object]) -> list[tuple[str, str, str, str | None]]:
    """The answers among the events, as plain tuples."""
    return [(e.about, e.verdict, e.sure, e.how_much) for e in events if isinstance(e, Answer)]


def test_what_can_be_looked_at_and_the_product(tmp_path: Path) -> None:
    """The case begins with the product and the reach, and with the knowledge that it began with."""
    end = held(tmp_path, "2", "2")
    assert end.events == [Opened("boneless-ham", ("product", "process"), small().version)]


def test_enter_takes_the_first_choice(tmp_path: Path) -> None:
    """The usual answers need one key each: a judge with a bone-in ham."""
    assert held(tmp_path, "", "").events == [Opened("bone-in-ham", ("product",), small().version)]


def test_an_own_choice_of_what_can_be_looked_at(tmp_path: Path) -> None:
    """Records without the ham are possible too; a wrong number is asked again."""
    end = held(tmp_path, "5", "9", "2, 4", "1")
    assert isinstance(end.events[0], Opened)
    assert end.events[0].have == ("process", "lab")


def test_back_from_the_product(tmp_path: Path) -> None:
    """The first answer can be changed from the second question."""
    end = held(tmp_path, "1", "back", "4", "1")
    assert isinstance(end.events[0], Opened)
    assert end.events[0].have == ("product", "process", "raw-material", "lab")


def test_nothing_begun_nothing_kept(tmp_path: Path) -> None:
    """Leaving at the first question leaves no empty case behind."""
    end = held(tmp_path, "q")
    assert (end.end, end.events) == ("Leave", [])
    assert end.sitting.case_id == ""


def test_a_judge_is_not_shown_what_only_a_plant_can_know(tmp_path: Path) -> None:
    """With only the product, no list, search, completion or question offers a check of the process."""
    end = held(tmp_path, *JUDGE, "", "", "1", "", "", "add foam", "add injector", "foam", "", "", "", "")
    needs_process = [e.title for e in (*small().signs.values(), *small().causes.values()) if e.check.needs == "process"]
    offered = [
        line
        for line in end.said.split("In short")[0].splitlines()
        if line.lstrip()[:1].isdigit() or line.startswith("Question")
    ]
    assert needs_process
    for title in needs_process:
        assert not [line for line in offered if f"  {title}" in line and "[" not in line]
    assert 'Out of your reach: "Foam stands on the brine"' in end.said
    assert not any(set(titles) & set(needs_process) for titles in end.script.offered)


def test_a_plant_is_shown_it(tmp_path: Path) -> None:
    """The same search offers the sign of the process where it can be looked at."""
    assert "1  Foam stands on the brine" in held(tmp_path, *PLANT, "add foam").said


def test_marks_with_how_much_and_how_sure(tmp_path: Path) -> None:
    """Numbers mark signs; the suffix says how sure and how much; several go in one line."""
    end = held(tmp_path, *JUDGE, "1? slight 2m", "")
    assert answers(end.events) == [
        ("pale-outside", "yes", "fairly", "slight"),
        ("streaked-outside", "yes", "from-memory", None),
    ]
    assert "Marked: Pale outside (yes, slight, fairly sure)." in end.said


@pytest.mark.parametrize(("typed", "kept"), [("s", "slight"), ("m", "marked"), ("marked", "marked"), ("", None)])
def test_how_much_is_asked_of_a_graded_sign(tmp_path: Path, typed: str, kept: str | None) -> None:
    """A single mark on a graded sign asks for the amount once, and Enter leaves it open."""
    end = held(tmp_path, *JUDGE, "1", typed)
    assert answers(end.events)[-1] == ("pale-outside", "yes", "sure", kept)


def test_what_is_said_instead_of_the_amount_is_not_lost(tmp_path: Path) -> None:
    """Another number, other letters or back in place of how much do what they do in the list."""
    assert [about for about, *_ in answers(held(tmp_path / "a", *JUDGE, "1", "2").events)] == [
        "pale-outside",
        "streaked-outside",
    ]
    assert 'Found for "pinholes"' in held(tmp_path / "b", *JUDGE, "1", "pinholes").said
    assert held(tmp_path / "c", *JUDGE, "1", "b").events[-1] == Retract("pale-outside")


def test_a_mark_is_kept_before_the_amount_is_asked(tmp_path: Path) -> None:
    """Ctrl-C at the second prompt does not lose the mark."""
    end = held(tmp_path, *JUDGE, "1", KeyboardInterrupt())
    assert end.end == "KeyboardInterrupt"
    assert answers(end.events) == [("pale-outside", "yes", "sure", None)]


def test_a_sign_can_be_marked_as_absent(tmp_path: Path) -> None:
    """What is plainly not there can be said in the lists too."""
    assert answers(held(tmp_path, *JUDGE, "no 1 2").events) == [
        ("pale-outside", "no", "sure", None),
        ("streaked-outside", "no", "sure", None),
    ]


def test_a_number_outside_the_list(tmp_path: Path) -> None:
    """A wrong number marks nothing, not even the right ones beside it."""
    end = held(tmp_path, *JUDGE, "1 9")
    assert answers(end.events) == []
    assert "There is no 9 in this list." in end.said


def test_letters_search_everywhere(tmp_path: Path) -> None:
    """In the list of the outside, a few misspelt letters find a sign of the cut face, which is marked by its number."""
    end = held(tmp_path, *JUDGE, "pinhols", "1 slight")
    assert answers(end.events) == [("small-round-holes", "yes", "sure", "slight")]


def test_a_whole_title_is_taken_at_once(tmp_path: Path) -> None:
    """What completion puts in needs no second choice."""
    assert answers(held(tmp_path, *JUDGE, "Torn openings in the lean").events) == [
        ("torn-openings", "yes", "sure", None)
    ]


@pytest.mark.parametrize("typed", ["y", "c", "n?", "z"])
def test_an_answer_is_no_search(tmp_path: Path, typed: str) -> None:
    """An answer or a single letter typed at a list is not searched for; the words say what to type."""
    said = held(tmp_path, *JUDGE, typed).said
    assert "Please type numbers of the list" in said
    assert "Found" not in said


def test_a_search_that_finds_nothing_goes_on(tmp_path: Path) -> None:
    """Nothing found is said, and Enter at a list of finds marks nothing."""
    end = held(tmp_path, *JUDGE, "zzzzqqq", "holes", "")
    assert 'Nothing found for "zzzzqqq".' in end.said
    assert answers(end.events) == []


def test_back_takes_marks_back_then_goes_to_the_region_before(tmp_path: Path) -> None:
    """Back in a list first undoes what was marked in it, then leads to the list before."""
    end = held(tmp_path, *JUDGE, "", "3", "b", "b")
    assert [type(event) for event in end.events[1:]] == [Answer, Retract]
    assert end.said.count("\nOutside\n") == 2


def test_details_come_on_wish(tmp_path: Path) -> None:
    """Details are listed after the word more, with numbers that go on."""
    end = held(tmp_path, *JUDGE, "", "more", "4")
    assert "Holes stand in rows" not in end.said.split("more\n")[0].split("Cut face")[0]
    assert answers(end.events) == [("holes-in-rows", "yes", "sure", None)]


def test_how_in_a_list_explains_an_entry(tmp_path: Path) -> None:
    """how 1 shows how to look and what it may be mistaken for."""
    said = held(tmp_path, *JUDGE, "", "how 1").said
    assert "How to look: Cut a fresh slice" in said
    assert "Not to be taken for: Larger round holes blown up by gas." in said


def test_danger_is_shown_before_anything_else(tmp_path: Path) -> None:
    """A dangerous sign brings its warning at once, and the next prompt is only to read it."""
    end = held(tmp_path, *JUDGE, "", "2", "", "")
    after = end.after("Marked: Larger round holes blown up by gas (yes).")
    assert after.lstrip().startswith("!!! DANGER: Hold the lot and do not taste it")
    assert end.script.prompts[4].startswith("Press Enter")
    for words in ("Hold the lot", "do not taste", "inspector", "HACCP plan"):
        assert words in " ".join(after.replace("!!!", "").split())
    assert end.said.count("DANGER") == 1
    assert "There is a warning: do not taste." in end.after("Smell and flavour")


def test_danger_comes_before_the_amount(tmp_path: Path) -> None:
    """For a dangerous sign that is graded the warning is shown first, and how much is asked after it."""
    knowledge = small()
    signs = {name: replace(sign, graded=True) for name, sign in knowledge.signs.items()}
    end = held(tmp_path, *JUDGE, "", "2", "", "s", knowledge=lambda: replace(knowledge, signs=signs))
    assert [prompt.split()[0] for prompt in end.script.prompts[4:6]] == ["Press", "How"]
    assert answers(end.events)[-1] == ("gas-holes", "yes", "sure", "slight")


def with_tasting_sign() -> Knowledge:
    """The small knowledge with one more flavour sign, whose check is to taste."""
    knowledge = small()
    sour = knowledge.signs["sour-smell"]
    salty = replace(
        sour,
        id="over-salty",
        title="Too salty",
        caution=(),
        also_called=(),
        check=Check(
            "Does it taste too salty?", "Taste a slice from the middle.", "product", 1, "good", by_tasting=True
        ),
    )
    return replace(knowledge, signs={**knowledge.signs, "over-salty": salty})


def test_nobody_is_asked_to_taste_once_there_is_danger(tmp_path: Path) -> None:
    """A sign found by tasting is listed for a sound ham and withheld from lists and search after a warning."""
    sound = held(tmp_path / "a", *JUDGE, "", "", "add salty", knowledge=with_tasting_sign)
    assert sound.said.count("Too salty") == 2
    danger = held(tmp_path / "b", *JUDGE, "", "2", "", "", "add salty", knowledge=with_tasting_sign)
    assert "Too salty" not in danger.said


def test_a_long_list_comes_a_screen_at_a_time(tmp_path: Path) -> None:
    """Enter shows the rest, a last line or two with it, before it leaves a list that does not fit the screen."""
    knowledge = small()
    pale = knowledge.signs["pale-outside"]
    many = {f"pale-{n}": replace(pale, id=f"pale-{n}", title=f"Pale place number {n}") for n in range(1, 31)}

    def long_list() -> Knowledge:
        return replace(knowledge, signs=many)

    assert "number 30" not in held(tmp_path / "a", *JUDGE, knowledge=long_list).said
    end = held(tmp_path / "b", *JUDGE, "", "30 slight", knowledge=long_list)
    assert "number 30" in end.said
    assert answers(end.events) == [("pale-30", "yes", "sure", "slight")]


def test_lists_of_details_only_are_passed_over(tmp_path: Path) -> None:
    """A region without defects does not stop anybody; it is named, and one key lists it, now or later."""
    end = held(tmp_path / "a", *PLANT, "", "1 marked", "", "", "d", "", "1")
    said = " ".join(end.said.split())
    assert "Passed over, since they hold details only: pattern in the batch (1)." in said
    assert "Holes stand in rows" not in end.said.split("Details, region by region")[0]
    assert "1  Holes stand in rows" in end.after("Details, region by region")
    assert answers(end.events)[-1] == ("foam-on-brine", "yes", "sure", None)


def test_defects_stand_under_their_family(tmp_path: Path) -> None:
    """A long list is grouped: each family's title once, its signs below it, numbers going on."""
    knowledge = small()
    names = list(knowledge.families)
    pale = knowledge.signs["pale-outside"]
    mixed = {
        f"pale-{n}": replace(pale, id=f"pale-{n}", title=f"Pale place {n}", family=(names[n % 2],)) for n in range(10)
    }
    said = held(tmp_path, *JUDGE, knowledge=lambda: replace(knowledge, signs=mixed)).after("Outside\n")
    shown = [line.split(":")[0].strip() for line in said.splitlines() if line.strip()]
    titles = [knowledge.families[name].title for name in names[:2]]
    assert shown[:3] == [titles[0], "1  Pale place 0", "2  Pale place 2"]
    assert shown[6:9] == [titles[1], "6  Pale place 1", "7  Pale place 3"]


def test_a_find_shows_what_is_marked_already(tmp_path: Path) -> None:
    """Who searches for a sign twice sees that it has its mark."""
    assert "1  [yes, slight] Pale outside (outside)" in held(tmp_path, *JUDGE, "1 slight", "pale").said


def test_finds_keep_their_numbers_until_enter(tmp_path: Path) -> None:
    """After a find is taken, more numbers still mean the finds, never the list that has scrolled away."""
    end = held(tmp_path, *JUDGE, "holes", "1", "", "2 marked, 3", "", "1 slight")
    found = end.after('Found for "holes":').splitlines()[1:4]
    titles = [small().signs[about].title for about, *_ in answers(end.events)]
    assert [any(title in line for line in found) for title in titles] == [True, True, True, False]
    assert answers(end.events)[3][0] == "pale-outside"
    assert "Pale outside" in end.after("holes").split("Marked: Pale outside")[0]


def test_back_among_finds_takes_back_what_was_taken_there(tmp_path: Path) -> None:
    """The first back undoes the mark, the next leaves the finds."""
    end = held(tmp_path, *JUDGE, "holes", "1", "", "b", "b", "1 slight")
    assert [type(event) for event in end.events[1:]] == [Answer, Retract, Answer]
    assert answers(end.events)[-1][0] == "pale-outside"


def test_the_list_comes_again_after_help_and_finds(tmp_path: Path) -> None:
    """Numbers are never asked for while what they stand for is out of sight."""
    assert "1  Pale outside" in held(tmp_path / "a", *JUDGE, "?").after("q  quit")
    assert "1  Pale outside" in held(tmp_path / "b", *JUDGE, "holes", "").after('Found for "holes"')


def test_each_of_several_marks_is_asked_how_much(tmp_path: Path) -> None:
    """All are kept first; then the amount of each is asked by its name."""
    knowledge = small()
    streaked = replace(knowledge.signs["streaked-outside"], graded=True)
    graded = replace(knowledge, signs={**knowledge.signs, "streaked-outside": streaked})
    end = held(tmp_path, *JUDGE, "1 2", "s", "m", knowledge=lambda: graded)
    assert answers(end.events) == [
        ("pale-outside", "yes", "sure", None),
        ("streaked-outside", "yes", "sure", None),
        ("pale-outside", "yes", "sure", "slight"),
        ("streaked-outside", "yes", "sure", "marked"),
    ]
    assert [prompt.split(":")[0] for prompt in end.script.prompts if "How" in prompt or "how much" in prompt] == [
        "Pale outside",
        streaked.title,
    ]


def test_none_of_the_others_is_a_no_to_each(tmp_path: Path) -> None:
    """0 asks once, then says a sure no to every unmarked defect of the list; nothing else is touched."""
    end = held(tmp_path, *JUDGE, "", "1 marked", "0", "y")
    cut = [sign.id for sign in small().signs.values() if sign.region == "cut-face" and sign.kind == "defect"]
    assert answers(end.events)[0] == ("small-round-holes", "yes", "sure", "marked")
    assert {about for about, *_ in answers(end.events)[1:]} == set(cut) - {"small-round-holes"}
    assert {tuple(said) for _, *said in answers(end.events)[1:]} == {("no", "sure", None)}


def test_none_of_the_others_wants_a_yes(tmp_path: Path) -> None:
    """Enter or anything but a plain yes leaves them open."""
    for number, typed in enumerate(("", "n", "b", "maybe")):
        assert answers(held(tmp_path / str(number), *JUDGE, "", "0", typed).events) == []


def test_one_back_takes_all_the_others_back(tmp_path: Path) -> None:
    """In the list, at the questions, and in a later sitting, one back undoes what one word said."""
    said = ("1", "1", "", "1 marked", "0", "y")
    in_list = held(tmp_path / "a", *said, "b")
    assert state_of(in_list.events).answers.keys() == {"small-round-holes"}
    at_question = held(tmp_path / "b", *said, "k", "b")
    assert state_of(at_question.events).answers.keys() == {"small-round-holes"}
    left = held(tmp_path / "c", *said, "q")
    later = held(tmp_path / "c", "b", resume=left.sitting.case_id)
    assert state_of(later.events).answers.keys() == {"small-round-holes"}
    assert "Looked for in the lists and not there: 2 signs" in later.said


def test_none_of_the_others_says_nothing_of_tasting(tmp_path: Path) -> None:
    """What only tasting tells is not denied by it, so that nobody tastes in order to be able to say so."""
    end = held(tmp_path, *JUDGE, "", "", "0", "y", knowledge=with_tasting_sign)
    assert answers(end.events)
    assert "over-salty" not in {about for about, *_ in answers(end.events)}


def test_none_of_the_others_waits_for_the_whole_list(tmp_path: Path) -> None:
    """What was not shown yet is not denied."""
    knowledge = small()
    pale = knowledge.signs["pale-outside"]
    many = {f"pale-{n}": replace(pale, id=f"pale-{n}", title=f"Pale place number {n}") for n in range(1, 31)}
    end = held(tmp_path, *JUDGE, "0", "y", knowledge=lambda: replace(knowledge, signs=many))
    assert "more of this list are still to come" in end.said
    assert answers(end.events) == []


def test_a_warning_takes_nothing_but_enter(tmp_path: Path) -> None:
    """What is typed ahead at a warning is said to be lost, and no command jumps over it."""
    end = held(tmp_path, *JUDGE, "", "2", "8", "e", "")
    assert '"8" is not taken here.' in end.said
    assert '"e" is not taken here.' in end.said
    assert "In short" not in end.said


def test_what_is_out_of_reach_is_named_only_where_it_helps(tmp_path: Path) -> None:
    """What belongs to another product is not called out of reach; tasting held back by a warning is said."""
    knowledge = small()
    foam = replace(knowledge.signs["foam-on-brine"], products=("boneless-ham",))
    other = replace(knowledge, signs={**knowledge.signs, "foam-on-brine": foam})
    end = held(tmp_path / "a", *JUDGE, "foam", knowledge=lambda: other)
    assert "Foam stands on the brine" not in end.said
    danger = held(tmp_path / "b", *JUDGE, "", "2", "", "salty", knowledge=with_tasting_sign)
    assert "1 more can be told by tasting only" in danger.said


def test_finds_cut_short_say_so(tmp_path: Path) -> None:
    """Nine are listed; that there are more is said."""
    knowledge = small()
    pale = knowledge.signs["pale-outside"]
    many = {f"pale-{n}": replace(pale, id=f"pale-{n}", title=f"Pale place number {n}") for n in range(1, 13)}
    assert (
        "3 more fit less well"
        in held(tmp_path, *JUDGE, "pale place", knowledge=lambda: replace(knowledge, signs=many)).said
    )


def test_a_number_after_a_whole_title_means_the_list(tmp_path: Path) -> None:
    """A title that completion put in shows no finds, so a number in place of how much is one of the list in sight."""
    end = held(tmp_path, *JUDGE, "Small round holes scattered through the lean", "2")
    assert [about for about, *_ in answers(end.events)] == ["small-round-holes", "streaked-outside"]


def test_a_number_in_place_of_how_much_of_a_find_means_the_finds(tmp_path: Path) -> None:
    """While finds are in sight their numbers hold at every prompt."""
    end = held(tmp_path, *JUDGE, "outside", "1", "2")
    assert [about for about, *_ in answers(end.events)] == ["pale-outside", "streaked-outside"]
    end = held(tmp_path / "b", *JUDGE, "lean", "2", "1")
    assert [about for about, *_ in answers(end.events)] == ["small-round-holes", "torn-openings"]
