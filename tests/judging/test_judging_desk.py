"""Judging at the keyboard: marks, suggested points, moving about, saving, blindness, and what must not be tasted."""

from __future__ import annotations

import io
import json
from dataclasses import replace
from pathlib import Path

import pytest
from desk import Script, sat

from diagnose.commands.judge.editing import go_through
from diagnose.commands.judge.entry import EntryDesk
from diagnose.commands.judge.hold import judge_named, which_judge
from diagnose.commands.session.talk import Talk
from diagnose.corpus.load import default_folder
from diagnose.corpus.records import Knowledge
from diagnose.errors import CaseError, UsageError
from diagnose.judging.class_file import load_class
from diagnose.judging.comment import Comment
from diagnose.judging.final import final_comments
from diagnose.judging.record import Record, record_path, running_order, set_aside, still_open, with_records
from diagnose.judging.sheet import JudgedClass
from diagnose.judging.standing import standings

TEXT = """\
class: small
title: Two hams
scorecard: bone-in-ham
judges: [ann, bea]
entries: [4, 7]
"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A class file with two entries and two judges."""
    path = tmp_path / "small.yaml"
    path.write_text(TEXT, encoding="utf-8")
    return path


@pytest.fixture
def judged(knowledge: Knowledge, file: Path) -> JudgedClass:
    """The class, with nothing judged yet."""
    return load_class(knowledge, file, [default_folder()])


FULL = ("90", "100", "60", "160", "70", "80", "40", "400")
CLEAN = tuple(line for points in FULL for line in ("", points))
"""Enter at every list of faults, and all points of every criterion: a piece without a fault."""


def test_points_are_suggested_and_kept(knowledge: Knowledge, judged: JudgedClass, file: Path) -> None:
    """What is typed for each criterion makes the total."""
    end = sat(knowledge, judged, file, "ann", *CLEAN, "q")
    first = running_order(judged, "ann")[0]
    assert end.bench.sheets[first].total == 1000
    assert f"Entry {first}: 1000 of 1000 points." in end.said


def test_enter_gives_no_points_where_nothing_is_marked(knowledge: Knowledge, judged: JudgedClass, file: Path) -> None:
    """A tired judge does not award full points with Enter; the levels stand above the question."""
    end = sat(knowledge, judged, file, "ann", "", "", "75", "", "q")
    assert end.bench.sheet.points["workmanship"].points == 75
    assert "no points are suggested" in end.said
    assert "One small flaw of trim" in end.said
    assert not any("Enter = 90" in prompt for prompt in end.prompts)


def test_a_mark_lowers_the_suggestion(knowledge: Knowledge, judged: JudgedClass, file: Path) -> None:
    """Dark outside, marked, at the shank end (list number 4, place 4) takes 40 of the 100 points away."""
    end = sat(knowledge, judged, file, "ann", "", "90", "4 marked", "4", "", "")
    sheet = end.bench.sheet
    mark = sheet.marked("dark-outside")
    assert mark is not None
    assert (mark.how_much, mark.place) == ("marked", "shank end")
    assert sheet.points["outside-colour"].points == 60
    assert sheet.points["outside-colour"].suggested == 60


def test_the_reason_is_asked_and_kept(knowledge: Knowledge, judged: JudgedClass, file: Path) -> None:
    """Points far from the suggestion stand at once, then the reason is asked; near ones need none."""
    end = sat(knowledge, judged, file, "ann", "", "60", "shape only just")
    points = end.bench.sheet.points["workmanship"]
    assert (points.points, points.suggested, points.reason) == (60, 90, "shape only just")
    near = sat(knowledge, judged, file, "bea", "", "88", "")
    assert near.bench.sheet.points["workmanship"].points == 88
    assert not any("Why" in prompt for prompt in near.prompts)


def test_every_answer_is_on_the_disk_at_once(knowledge: Knowledge, judged: JudgedClass, file: Path) -> None:
    """When the terminal is closed after the points and before the reason, the points are there."""
    sat(knowledge, judged, file, "ann", "", "60")
    path = record_path(file, judged, "ann")
    events = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]
    assert [(one["do"], one.get("points")) for one in events] == [("points", 60)]


def test_a_line_cut_short_by_a_crash_is_let_go(tmp_path: Path) -> None:
    """Half a line at the end is no event, and the next event takes its place."""
    path = tmp_path / "x.jsonl"
    Record(path).append("note", entry=1, text="one")
    with path.open("a", encoding="utf-8") as stream:
        stream.write('{"do": "note", "entry": 1, "te')
    again = Record(path)
    assert [one["text"] for one in again.events] == ["one"]
    again.append("note", entry=1, text="two")
    assert [one["text"] for one in Record(path).events] == ["one", "two"]


def test_two_windows_do_not_mix(tmp_path: Path) -> None:
    """A second window that has not seen the last event is refused, and nothing is lost."""
    path = tmp_path / "x.jsonl"
    one, two = Record(path), Record(path)
    one.append("note", entry=1, text="first")
    with pytest.raises(CaseError, match="another window"):
        two.append("note", entry=1, text="second")
    assert len(Record(path).events) == 1


def test_a_damaged_line_is_named(tmp_path: Path) -> None:
    """A line in the middle that is no event is told with its number."""
    path = tmp_path / "x.jsonl"
    path.write_text('{"do": "closed"}\nnonsense\n{"do": "closed"}\n', encoding="utf-8")
    with pytest.raises(CaseError) as caught:
        Record(path)
    assert caught.value.problems[0].line == 2


def test_back_next_previous_go(knowledge: Knowledge, judged: JudgedClass, file: Path) -> None:
    """The judge moves about; back comes to the criterion before, with the points given offered again."""
    order = running_order(judged, "ann")
    end = sat(knowledge, judged, file, "ann", "", "80", "fine", "back", "", "85", "n", "p", f"go {order[1]}", "q")
    assert end.bench.sheets[order[0]].points["workmanship"].points == 85
    assert end.said.count(f"Entry {order[1]} (2 of 2") == 2
    assert any("Enter = 80 (as you gave)" in prompt for prompt in end.prompts)


def test_a_mark_can_be_taken_back(knowledge: Knowledge, judged: JudgedClass, file: Path) -> None:
    """off and the number takes a mark away, and with it what it cost."""
    end = sat(knowledge, judged, file, "ann", "1 slight", "", "off 1", "", "", "q")
    assert end.bench.sheet.marks == () or end.bench.sheets[running_order(judged, "ann")[0]].marks == ()
    assert "Taken back" in end.said


def test_looked_for_and_not_there(knowledge: Knowledge, judged: JudgedClass, file: Path) -> None:
    """no and a number is kept as evidence against, and costs nothing."""
    end = sat(knowledge, judged, file, "ann", "no 1", "", "90")
    mark = end.bench.sheet.marks[0]
    assert mark.verdict == "no"
    assert end.bench.sheet.points["workmanship"].points == 90


def test_gas_means_nobody_tastes(knowledge: Knowledge, judged: JudgedClass, file: Path) -> None:
    """Gas holes set the piece aside at once: the judge is told, bite and flavour are never asked for, it gets no place."""
    lines = (*CLEAN[:6], "2 slight", "", "6", "", "", "", "70", "", "80", "q")
    end = sat(knowledge, judged, file, "ann", *lines)
    first = running_order(judged, "ann")[0]
    sheet = end.bench.sheets[first]
    assert sheet.suspect
    assert "Nobody tastes it." in end.said
    assert set(sheet.points) == {"workmanship", "outside-colour", "fat", "cut-face", "cure-colour", "aroma"}
    assert sheet.complete(judged.card)
    result = next(one for one in standings(with_records(judged, file)) if one.entry == first)
    assert (result.status, result.place) == ("suspect", None)


def test_the_other_judge_is_warned_and_told_nothing_else(knowledge: Knowledge, judged: JudgedClass, file: Path) -> None:
    """Another judge learns that a piece was set aside, not why, and no points."""
    sat(knowledge, judged, file, "ann", "x blown like a ball", "", "q")
    entry = running_order(judged, "ann")[0]
    end = sat(knowledge, judged, file, "bea", f"go {entry}", *CLEAN[:12], "q")
    assert "Another judge has set this piece aside." in end.said
    assert "blown like a ball" not in end.said
    assert end.bench.sheets[entry].suspect


def test_out_of_class(knowledge: Knowledge, judged: JudgedClass, file: Path) -> None:
    """A piece that belongs elsewhere is taken out with its rule, and nothing more is asked of it."""
    end = sat(knowledge, judged, file, "ann", "out", "1", "q")
    assert end.bench.sheets[running_order(judged, "ann")[0]].disqualified == "another-class"


def test_nobody_sees_results_before_all_are_done(knowledge: Knowledge, judged: JudgedClass, file: Path) -> None:
    """The class stays closed until each judge has scored everything and said so."""
    sat(knowledge, judged, file, "ann", *CLEAN, *CLEAN, "close")
    assert still_open(with_records(judged, file)) == ["judge bea: 2 of 2 entries are not complete"]
    sat(knowledge, judged, file, "bea", *CLEAN, *CLEAN, "q")
    assert still_open(with_records(judged, file)) == [
        "judge bea: all is scored, but the judge has not closed the sheets yet"
    ]
    sat(knowledge, judged, file, "bea", "close")
    assert still_open(with_records(judged, file)) == []


def test_each_judge_has_an_order_of_their_own(class_of_24: JudgedClass) -> None:
    """The running orders differ, hold every entry once, and are the same whenever they are asked for."""
    orders = [running_order(class_of_24, judge) for judge in class_of_24.judges]
    assert len(set(orders)) == 3
    assert all(sorted(order) == sorted(class_of_24.entries) for order in orders)
    assert orders == [running_order(class_of_24, judge) for judge in class_of_24.judges]


def test_a_stranger_is_refused(judged: JudgedClass, knowledge: Knowledge, file: Path) -> None:
    """Only the judges that the class names can score it."""
    with pytest.raises(UsageError, match="not among the judges"):
        sat(knowledge, judged, file, "carl")


def test_notes_are_kept(knowledge: Knowledge, judged: JudgedClass, file: Path) -> None:
    """Free words go on the sheet."""
    end = sat(knowledge, judged, file, "ann", "j a fine shank", "q")
    assert end.bench.sheets[running_order(judged, "ann")[0]].notes == ("a fine shank",)


def test_a_suspicion_is_heard_at_any_prompt(knowledge: Knowledge, judged: JudgedClass, file: Path) -> None:
    """x typed where a place is asked sets the piece aside; it is not taken for a place."""
    end = sat(knowledge, judged, file, "ann", "1m", "x sour at the bone", "", "", "q")
    sheet = end.bench.sheet
    assert sheet.suspect == "sour at the bone"
    assert (sheet.marks[0].how_much, sheet.marks[0].place) == ("marked", "")


def test_short_degrees(knowledge: Knowledge, judged: JudgedClass, file: Path) -> None:
    """2s and 3m are slight and marked."""
    end = sat(knowledge, judged, file, "ann", "2s 3 m", "", "", "q")
    assert [mark.how_much for mark in end.bench.sheet.marks] == ["slight", "marked"]


def test_a_judge_edits_and_makes_final(
    tmp_path: Path, comments: dict[int, Comment], class_of_24: JudgedClass, knowledge: Knowledge
) -> None:
    """y takes the draft as it is, t other words, Enter leaves a draft; q leaves off and keeps what was done."""
    stream = io.StringIO()
    script = Script(["y", "t", "Other words for this ham.", "", "q"])
    talk = Talk(stream, lambda: script, colour=False, plain=True)
    record = Record(tmp_path / "comments.jsonl")
    go_through(talk, [comments[entry] for entry in (1, 2, 3, 4)], record, class_of_24, knowledge)
    again = final_comments(Record(tmp_path / "comments.jsonl"))
    assert again == {1: comments[1].text, 2: "Other words for this ham."}


@pytest.mark.parametrize(
    "line",
    ['{"do": "points", "entry": 4}', '{"do": "mark", "entry": "4", "fault": "x", "is": "yes"}', '{"do": "note"}'],
)
def test_an_event_that_lacks_something_is_named(tmp_path: Path, line: str) -> None:
    """A line that is JSON but not a whole event is told with its number, before anything is worked out from it."""
    path = tmp_path / "x.jsonl"
    path.write_text(f'{{"do": "closed"}}\n{line}\n', encoding="utf-8")
    with pytest.raises(CaseError) as caught:
        Record(path)
    assert caught.value.problems[0].line == 2


@pytest.mark.parametrize("line", ["go 0000000004", "go 99", "go 00000000000000000000007"])
def test_an_entry_that_is_not_there(knowledge: Knowledge, judged: JudgedClass, file: Path, line: str) -> None:
    """A number that is no entry moves nobody, however many digits it has."""
    end = sat(knowledge, judged, file, "ann", line, "q")
    assert "There is no entry" in end.said


def test_what_is_looked_at_after_the_bite_is_scored_for_a_suspect_piece_too(
    knowledge: Knowledge, judged: JudgedClass, file: Path
) -> None:
    """Only what is tasted is passed over; a criterion that a scorecard puts behind it is still asked for."""
    *before, tasted_first = (one for one in judged.card.order if one.criteria)
    card = replace(judged.card, order=(tasted_first, *before))
    assert card.in_order()[0].tasted
    end = sat(knowledge, replace(judged, card=card), file, "ann", "x blown", "", *CLEAN[:12], "q")
    sheet = end.bench.sheets[running_order(judged, "ann")[0]]
    assert set(sheet.points) == {one.id for one in card.criteria if not one.tasted}


def test_a_slip_that_sets_aside_is_taken_back_at_once(knowledge: Knowledge, judged: JudgedClass, file: Path) -> None:
    """A wrong number that calls for setting aside is asked back; n takes mark and suspicion away, and the record keeps both."""
    end = sat(knowledge, judged, file, "ann", "", "90", "14m", "n", "q")
    sheet = end.bench.sheet
    assert (sheet.suspect, sheet.marks) == ("", ())
    assert [one["do"] for one in end.bench.record.events][-4:] == ["mark", "suspect", "lifted", "no-mark"]


def test_a_suspicion_stands_before_it_is_confirmed(knowledge: Knowledge, judged: JudgedClass, file: Path) -> None:
    """When the terminal closes at the question, the piece is set aside: nobody tastes it meanwhile."""
    end = sat(knowledge, judged, file, "ann", "", "90", "14m")
    assert end.bench.sheet.suspect
    assert set_aside(judged, file) == {end.bench.entry: "ann"}


def test_a_setting_aside_can_be_lifted_with_a_reason(knowledge: Knowledge, judged: JudgedClass, file: Path) -> None:
    """The same judge lifts it, the marks that called for it go, and bite and flavour are asked for again; it needs a reason."""
    kept = sat(knowledge, judged, file, "ann", "", "90", "14m", "", "", "lift", "", "q")
    assert kept.bench.sheet.suspect
    end = sat(knowledge, judged, file, "ann", "x off", "superintendent looked, it is dye of the net", "q")
    sheet = end.bench.sheet
    assert (sheet.suspect, sheet.marks) == ("", ())
    assert any(one.tasted for one in sheet.open_criteria(judged.card))
    assert "the record keeps" in end.said


def test_taking_a_mark_back_does_not_lift_in_silence(knowledge: Knowledge, judged: JudgedClass, file: Path) -> None:
    """off says that the piece stays set aside, and what lifts it."""
    end = sat(knowledge, judged, file, "ann", "", "90", "14m", "", "", "off 14", "q")
    assert end.bench.sheet.suspect
    assert "stays set aside" in end.said


def test_only_the_judge_who_set_aside_can_lift(knowledge: Knowledge, judged: JudgedClass, file: Path) -> None:
    """Another judge cannot; once it is lifted, the sheets of the others wait for bite and flavour again."""
    entry = running_order(judged, "ann")[0]
    sat(knowledge, judged, file, "ann", "x blown", "", "q")
    bea = sat(knowledge, judged, file, "bea", f"go {entry}", "lift I say so", *CLEAN[:12], "q")
    assert "only that judge can take it back" in bea.said
    assert bea.bench.sheets[entry].complete(judged.card)
    sat(knowledge, judged, file, "ann", "lift wrong ham", "q")
    found = with_records(judged, file).sheet("bea", entry)
    assert found is not None
    assert not found.complete(judged.card)
    again = sat(knowledge, judged, file, "bea", f"go {entry}", *CLEAN[12:], "q")
    assert f"Entry {entry} is no longer set aside" in again.said
    assert again.bench.sheets[entry].total == 1000


def test_a_dangerous_mark_of_ones_own_outlasts_the_other_judges_lifting(
    knowledge: Knowledge, judged: JudgedClass, file: Path
) -> None:
    """A judge who saw the danger too is asked as well, and the piece stays set aside on that word."""
    entry = running_order(judged, "ann")[0]
    sat(knowledge, judged, file, "ann", "x blown", "", "q")
    sat(knowledge, judged, file, "bea", f"go {entry}", "", "90", "14m", "", "", "q")
    sat(knowledge, judged, file, "ann", "lift wrong ham", "q")
    assert set_aside(judged, file) == {entry: "bea"}


def test_the_judge_who_set_it_aside_is_reminded(knowledge: Knowledge, judged: JudgedClass, file: Path) -> None:
    """On coming back, in the list and at the foot of the screen it is said that nobody tastes it."""
    sat(knowledge, judged, file, "ann", "x sour at the bone", "", "q")
    end = sat(knowledge, judged, file, "ann", "l", "q")
    assert "You have set this piece aside: sour at the bone. Do not taste it." in end.said
    assert "SET ASIDE, do not taste; begun" in end.said
    assert "SET ASIDE" in end.bench.talk.status


def test_setting_aside_says_each_thing_once(knowledge: Knowledge, judged: JudgedClass, file: Path) -> None:
    """The instruction is not printed twice."""
    end = sat(knowledge, judged, file, "ann", "", "90", "14m", "", "", "q")
    assert " ".join(end.said.split()).lower().count("superintendent") == 1


def test_a_place_and_a_reason_are_not_commands_of_the_list(
    knowledge: Knowledge, judged: JudgedClass, file: Path
) -> None:
    """What belongs to the list is refused as a place, as a degree and as a reason; the question names its fault."""
    end = sat(knowledge, judged, file, "ann", "1", "very", "s", "off 14", "99", "butt end", "", "70", "off 1", "", "q")
    mark = end.bench.sheet.marks[0]
    assert (mark.how_much, mark.place) == ("slight", "butt end")
    assert end.bench.sheet.points["workmanship"].reason == ""
    assert sum("ragged" in prompt.lower() and "where?" in prompt for prompt in end.prompts) == 3


def test_a_wrong_number_does_not_keep_a_piece_in_by_itself(
    knowledge: Knowledge, judged: JudgedClass, file: Path
) -> None:
    """Why is it out: a number that is not in the list is asked again."""
    end = sat(knowledge, judged, file, "ann", "out", "9", "1", "q")
    assert end.bench.sheets[running_order(judged, "ann")[0]].disqualified == "another-class"


def test_a_judge_may_type_the_name(judged: JudgedClass) -> None:
    """The name or its number, in capitals or not."""
    talk = Talk(io.StringIO(), lambda: script, colour=False, plain=True)
    script = Script(["?", "BEA"])
    assert which_judge(talk, judged) == "bea"
    assert judge_named("Ann", judged.judges) == "ann"
    assert judge_named("nobody", judged.judges) is None


@pytest.mark.parametrize("width", [40, 60, 80, 100])
def test_the_status_line_fits(knowledge: Knowledge, judged: JudgedClass, file: Path, width: int) -> None:
    """Commands are left out rather than cut."""
    bench = sat(knowledge, judged, file, "ann", "q").bench
    bench.talk.console.width = width
    EntryDesk(bench).show_status()
    assert len(bench.talk.status) < width


def test_who_approves_sees_what_the_judges_put_down(
    tmp_path: Path, comments: dict[int, Comment], class_of_24: JudgedClass, knowledge: Knowledge
) -> None:
    """Points and marks of each judge stand above the words, ? explains the keys, and a suspect piece comes with a warning."""
    stream = io.StringIO()
    script = Script(["?", "t", "x", "q"])
    talk = Talk(stream, lambda: script, colour=False, plain=True)
    record = Record(tmp_path / "comments.jsonl")
    go_through(talk, [comments[10]], record, class_of_24, knowledge)
    said = " ".join(stream.getvalue().split())
    assert "judge a:" in said
    assert "SET ASIDE" in said
    assert "the sheet begins with the box" in said
    assert said.count("y = these words are final") == 2
    assert "too short to be a comment" in said
    assert final_comments(record) == {}
