"""The questions, the commands that are good at any moment, and going on with a case, held by a script."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from scripted import Held, held, small

from diagnose.casework.assess import assess
from diagnose.casework.case import Case, state_of
from diagnose.casework.diagnosis import Diagnosis, Fit, Suspicion
from diagnose.casework.events import Answer, Note, Opened, Retract, Skip
from diagnose.corpus.records import Knowledge, Retired
from diagnose.inference.elimination import TooEntangledError

HOLES = ("2", "1", "", "1 marked", "", "")
"""A plant person with a bone-in ham marks small round holes and goes on to the questions."""


def asked(end: Held) -> list[str]:
    """The questions put, in order."""
    return [line.split(": ", 1)[1] for line in end.said.splitlines() if line.startswith("Question ")]


def test_a_question_comes_with_why_how_and_who(tmp_path: Path) -> None:
    """The question says what it separates, its minutes, who can look, and how."""
    end = held(tmp_path, *HOLES)
    said = " ".join(end.after("Question 1: Does the injector pump draw air?").split())
    assert 'Why: Tells for or against "Injector takes in air with the brine". 5 minutes; the plant\'s people' in said
    assert "How: Look at the level over the suction" in said


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("y", ("yes", "sure", None)),
        ("n?", ("no", "fairly", None)),
        ("ym", ("yes", "from-memory", None)),
        ("c", ("cant-tell", "sure", None)),
        ("y slight", ("yes", "sure", None)),
    ],
)
def test_one_line_answers_a_question(tmp_path: Path, typed: str, kept: tuple[str, str, str | None]) -> None:
    """The answer is kept as typed, and the next question follows without a second prompt."""
    end = held(tmp_path, *HOLES, typed)
    last = end.events[-1]
    assert isinstance(last, Answer)
    assert (last.about, last.verdict, last.sure, last.how_much) == ("injector-draws-air", *kept)


def test_what_is_no_answer_is_asked_again(tmp_path: Path) -> None:
    """A slip keeps nothing and says what can be typed."""
    end = held(tmp_path, *HOLES, "hm", "yy")
    assert not isinstance(end.events[-1], Answer) or end.events[-1].about == "small-round-holes"
    assert end.said.count("Please answer y, n or c") == 2


def test_the_ranking_follows_each_answer_with_what_it_changed(tmp_path: Path) -> None:
    """Figure, then word, then points up or down; no bar in plain mode."""
    end = held(tmp_path, *HOLES, "y")
    first, second = end.said.split("Most likely at work")[1:3]
    assert "78 % (likely)" in first
    assert "up" not in first.split("Question")[0]
    assert "98 % (extremely likely), up 20 points" in second
    assert "█" not in end.said
    assert "#" not in end.said


def test_down_is_said_too(tmp_path: Path) -> None:
    """A no that leaves room for doubt takes points away from its cause."""
    assert ", down " in held(tmp_path, *HOLES, "n?").after("Question 1")


def test_when_every_listed_cause_is_ruled_out(tmp_path: Path) -> None:
    """A sure no to the last cause leaves what the knowledge does not hold, and says so."""
    said = " ".join(held(tmp_path, *HOLES, "n").after("Question 1").split())
    assert "No listed cause is left" in said
    assert "Injector takes in air with the brine (78 % to under 1 %)" in said


def test_back_takes_back_and_asks_again(tmp_path: Path) -> None:
    """Back retracts the last answer and puts that very question again."""
    end = held(tmp_path, *HOLES, "n", "b", "y")
    assert [type(event) for event in end.events[-3:]] == [Answer, Retract, Answer]
    assert state_of(end.events).answers["injector-draws-air"].verdict == "yes"
    assert asked(end).count("Does the injector pump draw air?") == 2


def test_back_beyond_the_first_answer(tmp_path: Path) -> None:
    """Back goes on through the marks and then says that there is nothing left."""
    end = held(tmp_path, *HOLES, "b", "b", "b")
    assert state_of(end.events).answers == {}
    assert "Taken back: Small round holes" in end.said


def test_skip_puts_aside_and_asks_another(tmp_path: Path) -> None:
    """A skipped question is kept as skipped and does not come back by itself."""
    end = held(tmp_path, *HOLES, "s", "y", "go")
    assert Skip("injector-draws-air") in end.events
    assert asked(end)[:2] == ["Does the injector pump draw air?", "Does foam stand on the brine?"]
    assert asked(end).count("Does the injector pump draw air?") == 1


def test_enter_puts_aside_as_the_prompt_says(tmp_path: Path) -> None:
    """Enter at a question is a skip, at a question that the person chose it changes nothing; both prompts say so."""
    end = held(tmp_path / "a", *HOLES, "")
    assert end.events[-1] == Skip("injector-draws-air")
    assert end.script.prompts[-2].startswith("y, n, c (can't tell), Enter = skip")
    chosen = held(tmp_path / "b", *HOLES, "add foam", "1", "")
    assert not [event for event in chosen.events if isinstance(event, Skip)]
    assert "Enter = leave it > " in chosen.script.prompts[-2]


def test_back_counts_back(tmp_path: Path) -> None:
    """A question that comes again keeps its number, and the next one goes on from there."""
    end = held(tmp_path, *HOLES, "s", "b", "s")
    numbers = [line.split(":")[0] for line in end.said.splitlines() if line.startswith("Question ")]
    assert numbers == ["Question 1", "Question 2", "Question 1", "Question 2"]


def test_a_flat_ranking_says_so(tmp_path: Path) -> None:
    """While even the first cause is unlikely, words say that nothing stands out; a likely one takes them away."""

    def flat(knowledge: Knowledge, case: Case, *, full: bool = False) -> Diagnosis:
        found = assess(knowledge, case, full=full)
        return replace(found, ranking=tuple(replace(ranked, responsible=0.2) for ranked in found.ranking))

    assert "Nothing stands out yet" in held(tmp_path / "a", *HOLES, assess=flat).said
    slight = ("2", "1", "", "1 slight", "", "")
    assert "may be no fault at all" in held(tmp_path / "c", *slight, assess=flat).said
    assert "may be no fault at all" not in held(tmp_path / "d", *HOLES, assess=flat).said
    assert "Nothing stands out yet" not in held(tmp_path / "b", *HOLES).said


@pytest.mark.parametrize(("chance", "place"), [(0.95, 0), (0.05, 1), (0.004, None)])
def test_what_is_not_listed_has_its_row(tmp_path: Path, chance: float, place: int | None) -> None:
    """Something that is not listed stands at its place among the first causes, unless it is hardly possible."""

    def other(knowledge: Knowledge, case: Case, *, full: bool = False) -> Diagnosis:
        return replace(assess(knowledge, case, full=full), unlisted=chance)

    said = held(tmp_path, *HOLES, assess=other).after("Most likely at work").split("Question")[0]
    rows = [line.strip() for line in said.splitlines() if line.strip() and "%" not in line]
    assert rows.index("* Something that is not listed here") == place if place is not None else "*" not in said


def test_a_title_and_figures(tmp_path: Path) -> None:
    """A case gets a title and figures at any prompt; a figure given again is replaced, one with a dash taken away."""
    typed = (
        "title lot 412",
        "figure 412 kg green weight",
        "f 400 kg green weight",
        "f 11 % pump",
        "f - pump",
        "f 7",
        "g",
    )
    end = held(tmp_path, *HOLES, *typed, "", "e")
    case = state_of(end.events)
    assert (case.title, dict(case.numbers)) == ("lot 412", {"green weight": "400 kg"})
    assert "This case is now called: lot 412" in end.said
    assert "Figure: green weight, 400 kg" in end.after("Answers so far")
    assert "Please give the figure, its unit and what it is" in end.said
    assert "In short: lot 412" in end.said
    assert case.answers.keys() == {"small-round-holes"}


def test_why_and_how_say_more_and_ask_again(tmp_path: Path) -> None:
    """Neither is an answer; both lead back to the question."""
    end = held(tmp_path, *HOLES, "why", "how", "y")
    assert "a yes is expected with 74 %" in end.said
    assert "The pump takes in air where the level is low" in " ".join(end.said.split())
    assert isinstance(end.events[-1], Answer)


def test_a_note_is_kept(tmp_path: Path) -> None:
    """A note goes into the case as it was typed, without what a terminal would obey."""
    end = held(tmp_path, *HOLES, "j second lot\x1b[31m, Müller’s [b]shift[/b]", "jot", "later")
    assert end.events[-2:] == [Note("second lot[31m, Müller’s [b]shift[/b]"), Note("later")]


def test_add_tells_something_unasked(tmp_path: Path) -> None:
    """A volunteered sign is searched, asked for, kept, and moves the ranking."""
    end = held(tmp_path, *HOLES, "add foam", "1", "y")
    assert end.events[-1] == Answer("foam-on-brine", "yes")
    assert "Tell me more: Does foam stand on the brine?" in end.said
    assert end.said.count("Most likely at work") == 2


def test_a_cause_can_be_added(tmp_path: Path) -> None:
    """A cause that this person can look at is found and answered like a sign; its danger is shown at once."""
    end = held(tmp_path, *HOLES, "a held too warm", "1", "y", "")
    assert end.events[-1] == Answer("held-too-warm", "yes")
    assert "DANGER" in end.after("Tell me more")


def test_rank_and_links_show_and_change_nothing(tmp_path: Path) -> None:
    """The full ranking names stages; the links name the way to the defect and its basis."""
    end = held(tmp_path, *HOLES, "rank", "links", "links 99")
    assert "Injector takes in air with the brine [Injection]" in end.said
    assert "-> Small round holes scattered through the lean: " in " ".join(end.said.split())
    assert "The ranking has no place 99." in end.said
    assert end.said.count("Does the injector pump draw air?") == 4
    assert isinstance(end.events[-1], Answer)


def test_given_lists_the_answers_and_changes_one(tmp_path: Path) -> None:
    """An earlier answer can be given anew, without going back through the later ones."""
    end = held(tmp_path, *HOLES, "n", "given", "2", "y")
    assert "2  Injector takes in air with the brine: no" in end.said
    assert state_of(end.events).answers["injector-draws-air"].verdict == "yes"
    assert state_of(end.events).answers["small-round-holes"].how_much == "marked"


def test_given_takes_one_back_or_leaves_it(tmp_path: Path) -> None:
    """Back takes the chosen answer away, skip leaves it."""
    left = held(tmp_path / "a", *HOLES, "n", "g 2", "skip")
    assert state_of(left.events).answers["injector-draws-air"].verdict == "no"
    taken = held(tmp_path / "b", *HOLES, "n", "g 2", "back")
    assert "injector-draws-air" not in state_of(taken.events).answers


def test_mark_leads_to_the_lists_again(tmp_path: Path) -> None:
    """From a question back into the lists, where marked signs are shown as marked."""
    end = held(tmp_path, *HOLES, "mark", "", "")
    assert "1  [yes, marked] Small round holes scattered through the lean" in end.said


def test_reach_can_be_changed(tmp_path: Path) -> None:
    """A judge who gets at the records is asked about the process from then on."""
    end = held(tmp_path, "1", "1", "", "1 marked", "", "reach", "2", "")
    assert [event for event in end.events if isinstance(event, Opened)][-1].have == ("product", "process")
    assert asked(end) == ["Does the injector pump draw air?"]


def test_reach_stays_on_enter(tmp_path: Path) -> None:
    """Whoever only looks at the choices of what they can look at changes nothing, and the question keeps its number."""
    end = held(tmp_path / "a", *HOLES, "reach", "")
    assert len([event for event in end.events if isinstance(event, Opened)]) == 1
    changed = held(tmp_path / "b", *HOLES, "reach", "4")
    assert changed.said.count("Question 1: ") == 2


def test_help_lists_every_command(tmp_path: Path) -> None:
    """Help names the words, their letters and the answers, and is there from the first question."""
    said = held(tmp_path, "?").said
    for line in ("b  back", "?  help", "t  title", "x  reach"):
        assert line in said


def test_commands_that_need_a_case_say_so(tmp_path: Path) -> None:
    """Before the case begins there is nothing to rank or report."""
    end = held(tmp_path, "rank", "end", "1")
    assert end.said.count("has no use here") == 2


def test_nothing_worth_asking_leaves_the_choice(tmp_path: Path) -> None:
    """When no question is worth its time the person may ask it anyway, or go to the report."""

    def tired(knowledge: Knowledge, case: Case, *, full: bool = False) -> Diagnosis:
        return replace(assess(knowledge, case, full=full), worth_asking=False)

    on = held(tmp_path / "a", *HOLES, "go", "y", assess=tired)
    assert "No open question is worth its time any more." in on.said
    assert on.events[-1] == Answer("injector-draws-air", "yes")
    off = held(tmp_path / "b", *HOLES, "", "", assess=tired)
    assert off.end == "report"


def test_nothing_left_to_ask(tmp_path: Path) -> None:
    """A judge whom no question helps any more is told so and gets the report on Enter."""
    end = held(tmp_path, "1", "1", "", "3", "", "", "n", "", "")
    assert "There is nothing more to ask that you can look at" in end.said
    assert end.end == "report"


def test_nothing_marked(tmp_path: Path) -> None:
    """Without a mark there is nothing to reason from, and letters still lead to a sign."""
    end = held(tmp_path, "1", "1", "", "", "", "torn", "1", "y")
    assert "Nothing is marked yet" in end.said
    assert end.events[-1] == Answer("torn-openings", "yes")


def test_answers_that_fit_badly_are_named(tmp_path: Path) -> None:
    """A misfit is said with the answers at odds."""

    def misfit(knowledge: Knowledge, case: Case, *, full: bool = False) -> Diagnosis:
        return replace(assess(knowledge, case), fit=Fit(False, 2.0, 0.6, None, ("small-round-holes",)))

    said = " ".join(held(tmp_path, *HOLES, assess=misfit).said.split())
    assert "These answers fit no listed cause well. At odds: Small round holes scattered through the lean." in said


def test_a_case_too_tangled_loses_its_last_answer_only(tmp_path: Path) -> None:
    """When the answers cannot be weighed, the last is taken back with words, and the session lives."""

    def tangled(knowledge: Knowledge, case: Case, *, full: bool = False) -> Diagnosis:
        if "injector-draws-air" in case.answers:
            raise TooEntangledError("too much at once")
        return assess(knowledge, case, full=full)

    end = held(tmp_path, *HOLES, "y", assess=tangled)
    assert end.events[-1] == Retract("injector-draws-air")
    assert "too much at once. The last answer is taken back" in end.said


def test_a_tangled_case_still_gets_its_report_from_the_lists(tmp_path: Path) -> None:
    """Who goes to the report straight from the lists loses the last mark with words, not the session."""

    def tangled(knowledge: Knowledge, case: Case, *, full: bool = False) -> Diagnosis:
        if "small-round-holes" in case.answers:
            raise TooEntangledError("too much at once")
        return assess(knowledge, case, full=full)

    end = held(tmp_path, "1", "1", "", "1 marked", "end", "", assess=tangled)
    assert end.end == "report"
    assert end.events[-1] == Retract("small-round-holes")
    assert "The last answer is taken back: Small round holes" in end.said


@pytest.mark.parametrize(("raised", "end"), [(KeyboardInterrupt(), "KeyboardInterrupt"), (EOFError(), "EOFError")])
def test_leaving_in_the_middle_loses_nothing(tmp_path: Path, raised: BaseException, end: str) -> None:
    """Ctrl-C and Ctrl-D pass through at once, and what was answered is in the casebook."""
    left = held(tmp_path, *HOLES, "y", raised)
    assert left.end == end
    assert left.events[-1] == Answer("injector-draws-air", "yes")


def test_resuming_goes_on_where_it_was_left(tmp_path: Path) -> None:
    """The answers are shown, nothing is marked anew, and the next open question is put."""
    first = held(tmp_path, *HOLES, "y", "q")
    again = held(tmp_path, "c", resume=first.sitting.case_id)
    assert "Small round holes scattered through the lean: yes, marked" in again.said
    assert "Injector takes in air with the brine: yes" in again.said
    assert "Mark what is wrong" not in again.said
    assert again.events[: len(first.events)] == first.events


def test_resuming_a_case_of_danger_warns_first(tmp_path: Path) -> None:
    """The warning is said again at every sitting, above the ranking."""
    first = held(tmp_path, "1", "1", "", "2", "", "q")
    again = held(tmp_path, resume=first.sitting.case_id)
    assert again.said.index("DANGER") < again.said.index("Most likely at work")
    assert "Because of: Larger round holes blown up by gas" in again.said


def test_resuming_without_an_id(tmp_path: Path) -> None:
    """Without an id the only case is taken, or one is chosen from the latest; with no case at all that is said."""
    assert "There is no case to go on with" in held(tmp_path, resume="").said
    first = held(tmp_path, *HOLES, "q").sitting.case_id
    assert held(tmp_path, resume="").sitting.case_id == first
    second = held(tmp_path, *HOLES, "q").sitting.case_id
    assert held(tmp_path, "", resume="").sitting.case_id == second
    assert held(tmp_path, "2", resume="").sitting.case_id == first


def test_resuming_with_other_knowledge(tmp_path: Path) -> None:
    """A retired id goes by its successor, a lost one is named, and the change of knowledge is said."""
    first = held(tmp_path, *HOLES, "y", "q")
    knowledge = small()
    signs = {name: sign for name, sign in knowledge.signs.items() if name != "small-round-holes"}
    causes = {name: cause for name, cause in knowledge.causes.items() if name != "injector-draws-air"}
    changed: dict[str, Any] = {
        "version": "later",
        "signs": signs,
        "causes": causes,
        "retired": {"small-round-holes": Retired("2", "torn-openings")},
    }
    again = held(tmp_path, resume=first.sitting.case_id, knowledge=lambda: replace(knowledge, **changed), assess=still)
    assert "Torn openings in the lean: yes, marked" in again.said
    assert "injector-draws-air: no longer in this knowledge" in again.said
    assert "The knowledge has changed" in again.said


def still(knowledge: Knowledge, case: Case, *, full: bool = False) -> Diagnosis:
    """An outcome in which nothing follows."""
    fit = Fit(True, 0.0, 0.0, None, ())
    return Diagnosis(
        case.product, "", "", case.have, (), (), (), (), (), 0.0, fit, (), False, None, None, knowledge.version
    )


def test_back_where_nothing_can_be_taken_back(tmp_path: Path) -> None:
    """Back at the end of the questions, before any answer, is said to find nothing; it is no search for the letter b."""
    end = held(tmp_path, "1", "1", "", "", "", "b", "b")
    assert end.said.count("There is no answer to take back.") == 2
    assert "Found" not in end.said


def test_a_lone_m_is_not_guessed_at(tmp_path: Path) -> None:
    """At a graded question m could be marked or from memory: it is asked again, and leads nowhere else."""
    end = held(tmp_path, *HOLES, "add pale outside", "m", "y marked")
    assert "m alone can mean two things" in end.said
    assert end.events[-1] == Answer("pale-outside", "yes", "sure", "marked")


def test_what_was_understood_is_said_back(tmp_path: Path) -> None:
    """More than a plain yes or no is repeated in words, so that a slip is seen."""
    assert "Kept: yes, from memory." in held(tmp_path / "a", *HOLES, "y m").said
    assert "Kept:" not in held(tmp_path / "b", *HOLES, "y").said


@pytest.mark.parametrize("instead", ["", "skip", "o", "k", "e"])
def test_what_was_named_and_not_answered_is_said_to_be_lost(tmp_path: Path, instead: str) -> None:
    """Naming a sign with add is no answer yet, and whoever leaves its question hears so."""
    end = held(tmp_path, *HOLES, "add pale outside", instead)
    assert "Nothing is kept of: Pale outside." in end.said
    assert "pale-outside" not in state_of(end.events).answers


def test_another_command_does_not_lose_the_own_question(tmp_path: Path) -> None:
    """A change made while the question of add stands leads back to that question."""
    end = held(tmp_path, *HOLES, "add pale outside", "reach 4", "y slight")
    assert end.events[-1] == Answer("pale-outside", "yes", "sure", "slight")


def test_straight_to_the_questions_and_back_to_the_question(tmp_path: Path) -> None:
    """k passes over the rest of the lists, and from the lists gone over again it leads back to the question."""
    end = held(tmp_path, "2", "1", "", "1 marked", "k", "o", "k")
    assert asked(end) == ["Does the injector pump draw air?"] * 2
    assert end.said.count("Question 1: ") == 2


def test_questions_count_on_in_a_later_sitting(tmp_path: Path) -> None:
    """The number of a question counts what was asked before, over lists and sittings, and not what was marked."""
    first = held(tmp_path, *HOLES, "s", "o", "k", "q")
    again = held(tmp_path, "b", resume=first.sitting.case_id)
    assert "Question 2: " in first.said
    assert again.said.index("Question 2: ") < again.said.index("Question 1: ")


def test_reach_takes_its_number_at_once(tmp_path: Path) -> None:
    """reach 2 at a question is the second choice, with no second prompt."""
    end = held(tmp_path, "1", "1", "", "1 marked", "k", "reach 2")
    assert state_of(end.events).have == ("product", "process")
    assert "You can look at: the product, the plant's people" in end.said


def test_a_figure_says_what_it_does(tmp_path: Path) -> None:
    """Nobody may think that a figure moves the ranking; what would, and under which name, is said."""
    said = " ".join(held(tmp_path, *HOLES, "figure 412 kg green weight").after("Kept: green weight").split())
    assert "shown in the report; the ranking is not moved" in said
    assert "count as evidence in a batch record" in said
    assert "Its name there is green-weight." in said
    assert "Its name there" not in held(tmp_path, *HOLES, "figure 3 men on the line").said


def test_what_could_be_dangerous_is_named_and_not_shouted(tmp_path: Path) -> None:
    """A dangerous cause that nobody found stands as one line, once, also in short; nothing is asked of tasting then."""

    def suspected(knowledge: Knowledge, case: Case, *, full: bool = False) -> Diagnosis:
        one = Suspicion("hold", "Hold it", "Hams were held too warm", 0.2, "Was it warm?", "Read the chart.")
        return replace(assess(knowledge, case, full=full), rule_out=(one,))

    end = held(tmp_path, *HOLES, "y", "e", assess=suspected)
    said = " ".join(end.said.replace("!  ", " ").split())
    assert said.count("Hams were held too warm (20 %, unlikely). If so: Hold it.") == 2
    assert "Rule out first: Hams were held too warm" in said
    assert "DANGER" not in said
    assert end.sitting.in_danger()


def test_no_promise_that_the_questions_cannot_keep(tmp_path: Path) -> None:
    """Where no question is worth its time, none is said to tell more, nor named in short as the best next check."""

    def tired(knowledge: Knowledge, case: Case, *, full: bool = False) -> Diagnosis:
        found = assess(knowledge, case, full=full)
        flat = tuple(replace(ranked, responsible=0.2) for ranked in found.ranking)
        return replace(found, ranking=flat, worth_asking=False)

    end = held(tmp_path, *HOLES, "e", assess=tired)
    assert "Nothing stands out, and no open question would change that much." in end.said
    assert "Best next check" not in end.said


@pytest.mark.parametrize("width", [40, 60, 80])
def test_the_status_line_is_shortened_by_whole_parts(tmp_path: Path, width: int) -> None:
    """A narrow terminal gets fewer hints, none of them cut in two, and always the case."""
    end = held(tmp_path, *HOLES, "q", width=width)
    status = end.script.status
    assert len(status) <= width
    assert status.startswith(f"case {end.sitting.case_id}")
    assert end.sitting.talk.status.startswith(status)
    assert all(part in end.sitting.talk.status.split(" | ") for part in status.split(" | "))
