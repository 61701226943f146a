"""What a typed line means."""

from __future__ import annotations

import pytest

from diagnose.casework.events import Number
from diagnose.commands.session.vocabulary import Command
from diagnose.commands.session.words import (
    COMMANDS,
    Reply,
    command_in,
    figure_in,
    in_words,
    marks_in,
    number_in,
    reply_in,
)


@pytest.mark.parametrize(
    ("line", "reply"),
    [
        ("y", Reply("yes")),
        (" Yes ", Reply("yes")),
        ("y?", Reply("yes", "fairly")),
        ("y ?", Reply("yes", "fairly")),
        ("ym", Reply("yes", "from-memory")),
        ("yes, from memory", None),
        ("yes from memory", Reply("yes", "from-memory")),
        ("y slight", Reply("yes", "sure", "slight")),
        ("y? marked", Reply("yes", "fairly", "marked")),
        ("ym slight", Reply("yes", "from-memory", "slight")),
        ("y slight m", Reply("yes", "from-memory", "slight")),
        ("n", Reply("no")),
        ("nm", Reply("no", "from-memory")),
        ("n slight", None),
        ("c", Reply("cant-tell")),
        ("can\u2019t tell", Reply("cant-tell")),
        ("don't know", Reply("cant-tell")),
        ("c?", None),
        ("yesterday", None),
        ("maybe", None),
        ("", None),
    ],
)
def test_answers(line: str, reply: Reply | None) -> None:
    """An answer is read with how sure and how much; anything doubtful is no answer."""
    assert reply_in(line) == reply


@pytest.mark.parametrize(
    ("line", "marks"),
    [
        ("3", [(3, Reply("yes"))]),
        ("2, 5m", [(2, Reply("yes")), (5, Reply("yes", "from-memory"))]),
        ("4 slight 7?", [(4, Reply("yes", "sure", "slight")), (7, Reply("yes", "fairly"))]),
        ("no 3 4", [(3, Reply("no")), (4, Reply("no"))]),
        ("no 3 slight", None),
        ("3 holes", None),
        ("holes", None),
        ("", None),
    ],
)
def test_marks(line: str, marks: list[tuple[int, Reply]] | None) -> None:
    """Several numbers can be marked in one line, each with its own how sure and how much."""
    assert marks_in(line) == marks


@pytest.mark.parametrize(
    ("line", "command"),
    [
        ("b", Command("back")),
        ("undo", Command("back")),
        ("back fat too thick", None),
        ("how 3", Command("how", "3")),
        ("how many", None),
        ("j second lot, Tuesday", Command("jot", "second lot, Tuesday")),
        ("note second lot", Command("jot", "second lot")),
        ("?", Command("help")),
        ("stop", Command("end")),
        ("small holes", None),
        ("more", Command("details")),
        ("title lot 412, Monday", Command("title", "lot 412, Monday")),
        ("number 412 kg green weight", Command("figure", "412 kg green weight")),
        ("number of holes", None),
        ("f - green weight", Command("figure", "- green weight")),
    ],
)
def test_commands(line: str, command: Command | None) -> None:
    """A command word with a tail that it does not take is text to search for."""
    assert command_in(line) == command


def test_no_word_means_two_things() -> None:
    """No letter or word stands for two commands, nor for a command and an answer."""
    names = [name for word in COMMANDS for name in (word.word, word.letter, *word.others)]
    assert len(names) == len(set(names))
    assert not [name for name in names if reply_in(name)]


def test_an_answer_is_said_back_in_words() -> None:
    """What was kept can be checked by the person."""
    assert in_words("yes", "from-memory", "slight") == "yes, slight, from memory"
    assert in_words("cant-tell", "sure", None) == "can't tell"


@pytest.mark.parametrize(
    ("text", "figure"),
    [
        ("412 kg green weight", Number("green weight", "412 kg")),
        ("412kg  green weight", Number("green weight", "412kg")),
        ("green weight 412 kg", Number("green weight", "412 kg")),
        ("1,85 % salt in lean", Number("salt in lean", "1,85 %")),
        ("-2 °C room", Number("room", "-2 °C")),
        ("12 needles blocked", Number("needles blocked", "12")),
        ("pH: 5.6", Number("pH", "5.6")),
        ("412 kg", None),
        ("412", None),
        ("green weight", None),
    ],
)
def test_figures(text: str, figure: Number | None) -> None:
    """A figure is kept with its unit and with what it is, in either order; without one of the two it is none."""
    assert figure_in(text) == figure


@pytest.mark.parametrize(
    ("line", "number"),
    [("1", 1), ("3", 3), ("03", 3), ("0", None), ("4", None), ("-1", None), ("3 ", None), ("", None), ("x", None)],
)
def test_numbers_of_choices(line: str, number: int | None) -> None:
    """Only a number of the list is one."""
    assert number_in(line, 3) == number


def test_no_length_of_digits_is_taken_for_a_shorter_number() -> None:
    """A choice is read whole: neither 0000000012 nor 9999 digits end up as a 1."""
    assert number_in("0000000012", 3) is None
    assert number_in("1" * 500, 3) is None
