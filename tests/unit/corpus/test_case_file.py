"""Reading case files against the knowledge."""

from dataclasses import replace
from pathlib import Path

import pytest

from diagnose.corpus.case_file import CaseAnswer, load_all_cases, load_case, load_cases
from diagnose.corpus.records import ALL_NEEDS, Knowledge, Retired
from diagnose.errors import CaseError

SMALL = Path(__file__).parents[2] / "small"


def write(folder: Path, text: str) -> Path:
    path = folder / "case.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def said(knowledge: Knowledge, path: Path) -> list[str]:
    with pytest.raises(CaseError) as caught:
        load_case(knowledge, path)
    assert caught.value.exit_code == 3
    return [f"{problem.line}:{problem.column}: {problem.message}" for problem in caught.value.problems]


def test_answers_keep_their_order_and_both_forms_are_read(small: Knowledge, tmp_path: Path) -> None:
    """A short answer is sure; the long form says how sure and how much; numbers stay as they were written."""
    case = load_case(
        small,
        write(
            tmp_path,
            "product: bone-in-ham\nanswers:\n  sour-smell: no\n  small-round-holes: {is: yes, sure: fairly, how-much: slight}\n"
            "  injector-draws-air: cant-tell\nnumbers:\n  cook-time: 12:30\n  salt-kg: 010\nnotes: [seen on Monday]\n",
        ),
    )
    assert case.answers == (
        CaseAnswer("sour-smell", "no"),
        CaseAnswer("small-round-holes", "yes", "fairly", "slight"),
        CaseAnswer("injector-draws-air", "cant-tell"),
    )
    assert case.numbers == {"cook-time": "12:30", "salt-kg": "010"}
    assert case.have == ALL_NEEDS
    assert case.notes == ("seen on Monday",)
    assert case.case is None
    assert case.expect is None


def test_a_retired_id_is_taken_for_its_successor(small: Knowledge, tmp_path: Path) -> None:
    """Cases written before an id was retired can still be read."""
    retired = {"smell-of-vinegar": Retired("2026.1", "sour-smell"), "gone": Retired("2026.1")}
    knowledge = replace(small, retired=retired)
    case = load_case(knowledge, write(tmp_path, "product: bone-in-ham\nanswers: {smell-of-vinegar: yes}\n"))
    assert case.answers == (CaseAnswer("sour-smell", "yes"),)
    text = "product: bone-in-ham\nanswers:\n  sour-smell: no\n  smell-of-vinegar: yes\n  gone: yes\n"
    assert said(knowledge, write(tmp_path, text)) == [
        '4:3: "smell-of-vinegar" now goes by "sour-smell", which is answered as well',
        '5:3: "gone" is retired and has no successor; leave it out',
    ]


def test_slips_are_named_with_their_place_and_the_nearest_word(small: Knowledge, tmp_path: Path) -> None:
    """Every kind of slip in a case is found in one reading."""
    text = """product: bone-in-hams
have: []
answer: {x: yes}
answers:
  gas-hole: yes
  sour-smell: {is: yes, how-much: marked}
  small-round-holes: {is: no, how-much: marked}
  pale-outside: {sure: very}
  streaked-outside: perhaps
numbers:
  salt: [1, 2]
  water:
notes: just one
"""
    assert said(small, write(tmp_path, text)) == [
        '1:10: no product has the id "bone-in-hams"; did you mean "bone-in-ham"?',
        '2:7: "have" is empty; leave it out or list some of product, process, raw-material, lab',
        '3:1: unknown field "answer"; did you mean "answers"?',
        '5:3: no sign or cause has the id "gas-hole"; did you mean "gas-holes"?',
        '6:35: "sour-smell" is not graded, so it takes no "how-much"',
        '7:41: "how-much" goes with is: yes, not with no',
        '8:17: the field "is" is missing',
        '8:24: "sure" is "very"; it must be one of sure, fairly, from-memory',
        '9:21: "streaked-outside" is "perhaps"; it must be one of yes, no, cant-tell',
        '11:9: "salt" takes a number, not a list',
        '12:9: "water" is empty',
        '13:8: "notes" takes a list, not a text',
    ]


def test_a_case_that_is_no_mapping_or_not_there(small: Knowledge, tmp_path: Path) -> None:
    """The whole file being wrong is an ordinary problem."""
    assert said(small, write(tmp_path, "- a\n")) == [
        "1:1: a case is a mapping (product: ..., answers: ...), not a list"
    ]
    assert "cannot be read" in said(small, tmp_path / "nowhere.yaml")[0]


def test_worked_cases_are_found_by_their_names(small: Knowledge) -> None:
    """The cases of the folder come with what they expect."""
    cases = load_cases(small, SMALL / "cases")
    assert list(cases) == ["air-at-the-pump"]
    expect = cases["air-at-the-pump"].expect
    assert expect is not None
    assert expect.first == ("injector-draws-air",)
    assert load_cases(small, SMALL / "nowhere") == {}


def test_a_case_may_say_why_its_cause_is_missed(small: Knowledge, tmp_path: Path) -> None:
    """The reason is kept as it is written; without a cause that is expected there is nothing to miss."""
    text = "product: bone-in-ham\nanswers: {gas-holes: yes}\nexpect:\n  first: [injector-draws-air]\n  missed: No foam seen.\n"
    expect = load_case(small, write(tmp_path, text)).expect
    assert expect is not None
    assert (expect.first, expect.missed) == (("injector-draws-air",), "No foam seen.")
    text = "product: bone-in-ham\nexpect:\n  not-first: [injector-draws-air]\n  missed: No foam seen.\n"
    assert said(small, write(tmp_path, text)) == [
        '4:11: "missed" goes with a cause that is expected; name it in first or within-three'
    ]


def test_cases_of_a_later_folder_take_the_place_of_earlier_ones(small: Knowledge, tmp_path: Path) -> None:
    """A plant's folder adds cases of its own and may replace one by its id; a folder without cases adds none."""
    own = tmp_path / "plant" / "cases"
    own.mkdir(parents=True)
    (own / "air-at-the-pump.yaml").write_text(
        "case: air-at-the-pump\ntitle: Ours\nproduct: bone-in-ham\nexpect: {first: [held-too-warm]}\n", encoding="utf-8"
    )
    assert load_all_cases(small, [SMALL, tmp_path / "plant", tmp_path])["air-at-the-pump"].title == "Ours"


def test_notes_are_taken_as_they_come(small: Knowledge, tmp_path: Path) -> None:
    """A blank at the end of a remark, an empty last line or a long story is no reason to refuse a case."""
    long = "word " * 1000
    case = load_case(small, write(tmp_path, f"product: bone-in-ham\nnotes:\n- |\n  {long}\n- 'ends in a blank '\n"))
    assert case.notes == (long.strip(), "ends in a blank")


def test_a_wrong_id_is_taken_by_its_sense(small: Knowledge, tmp_path: Path) -> None:
    """Who writes what they see instead of the id is told the id, though another one is spelt more alike."""
    assert said(small, write(tmp_path, "product: bone-in-ham\nanswers:\n  runs-outside: yes\n  pinholes: yes\n")) == [
        '3:3: no sign or cause has the id "runs-outside"; did you mean "streaked-outside"?',
        '4:3: no sign or cause has the id "pinholes"; did you mean "small-round-holes"?',
    ]
