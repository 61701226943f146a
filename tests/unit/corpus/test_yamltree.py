"""The tree of a YAML file and what is refused on the way."""

import io
import time
from pathlib import Path

import pytest
import yaml

from diagnose.corpus import yamltree
from diagnose.corpus.yamltree import ListNode, MapNode, TextNode, place_of, read_bytes
from diagnose.errors import Problem


def read(text: str | bytes) -> tuple[yamltree.Node | None, list[str]]:
    problems: list[Problem] = []
    node = read_bytes(text if isinstance(text, bytes) else text.encode(), "f", problems)
    return node, [str(problem) for problem in problems]


def test_every_value_knows_its_place_and_keeps_its_text() -> None:
    """Places count from 1, and nothing is turned into a number, a truth or a time."""
    node, problems = read("a: no\nb:\n- 12:30\n- '010'\nc: >-\n  two\n  lines\n")
    assert problems == []
    assert isinstance(node, MapNode)
    assert node.items["a"] == TextNode(yamltree.Place("f", 1, 4), "no", plain=True)
    below = node.items["b"]
    assert isinstance(below, ListNode)
    assert [item.text for item in below.items if isinstance(item, TextNode)] == ["12:30", "010"]
    assert place_of(node, "b", 1) == ("f", 4, 3)
    assert node.items["c"] == TextNode(yamltree.Place("f", 5, 4), "two lines", plain=False)


def test_the_place_of_what_is_missing_is_that_of_what_holds_it() -> None:
    """A problem about something that is not written still points into the file."""
    node, _ = read("a:\n  b: 1\n")
    assert node is not None
    assert place_of(node, "a", "x", 3) == ("f", 2, 3)


def test_an_alias_bomb_is_refused_at_once() -> None:
    """Aliases are never expanded, so a few hundred bytes cannot fill the memory."""
    bomb = "a: &a [x, x]\n" + "".join(
        f"{b}: &{b} [{', '.join([f'*{a}'] * 9)}]\n" for a, b in zip("abcdefgh", "bcdefghi", strict=True)
    )
    start = time.perf_counter()
    _, problems = read(bomb)
    assert time.perf_counter() - start < 0.5
    assert problems[0] == "f:1:4: anchors (&a) are not allowed; write the value out"
    assert "f:2:8: aliases (*a) are not allowed; write the value out" in problems


def test_ten_thousand_brackets_are_an_ordinary_problem() -> None:
    """Deep nesting neither overflows the stack nor takes long."""
    assert read("a: " + "[" * 20)[1] == ["f:1:15: nested more than 12 levels deep"]
    start = time.perf_counter()
    _, problems = read("a: " + "[" * 10_000)
    assert time.perf_counter() - start < 0.5
    assert len(problems) == 1
    assert "nest" in problems[0]


@pytest.mark.parametrize("character", ["\x1b", "\x07", "\x9b", "\u202e", "\u2028", "\x0c"])
def test_control_characters_are_named_with_their_place(character: str) -> None:
    """What a terminal would obey is refused in the file itself."""
    assert read(f"a: 1\nb: x{character}y\n")[1] == [f"f:2:5: control character U+{ord(character):04X} is not allowed"]


def test_line_ends_of_windows_and_a_byte_order_mark_are_fine() -> None:
    """Files saved by common editors read the same."""
    node, problems = read(b"\xef\xbb\xbfa: 1\r\nb: 2\r\n")
    assert problems == []
    assert node is not None
    assert place_of(node, "b") == ("f", 2, 4)


def test_letters_are_composed() -> None:
    """The two ways to write an accented letter come out as one."""
    node, _ = read("a: cafe\u0301\n")
    assert isinstance(node, MapNode)
    assert node.items["a"] == TextNode(yamltree.Place("f", 1, 4), "caf\u00e9", plain=True)


def test_the_parser_in_python_builds_the_same_tree(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where libyaml is missing the reader still works, with the same places."""
    text = "a: no\nb:\n- 'x'\n- >-\n  y\n  z\nc: {d: [1, 2]}\n"
    fast, _ = read(text)
    monkeypatch.setattr(yamltree, "_LOADER", yaml.BaseLoader)
    assert read(text)[0] == fast
    assert "f:1:1" not in read("a: [1\nb: 2\n")[1][0]


def test_a_flood_of_problems_in_one_file_is_cut_off() -> None:
    """One hostile file cannot bury the report."""
    assert len(read("a: [" + "*x, " * 5000 + "]")[1]) == yamltree.MOST_PROBLEMS


@pytest.mark.parametrize(
    ("data", "most"),
    [(b"\x01" * 1_500_000, yamltree.MOST_PROBLEMS), (("a: x" + "\u0301\u0323" * 400_000).encode(), 0)],
    ids=["control characters", "accents"],
)
def test_a_file_full_of_rubbish_is_told_at_once(data: bytes, most: int) -> None:
    """No file within the size limit keeps anybody waiting, whatever it is filled with."""
    start = time.perf_counter()
    _, problems = read(data)
    assert time.perf_counter() - start < 3
    assert len(problems) == most


def test_a_message_does_not_quote_a_whole_file() -> None:
    """A field name of a megabyte makes one problem of a few lines."""
    assert len(yamltree.Place("f", 1, 1).problem("x" * 1_000_000).message) == yamltree.LONGEST_MESSAGE


class Endless(io.RawIOBase):
    """What never ends, as a pipe or a device may."""

    def read(self, size: int = -1) -> bytes:
        assert size >= 0, "asked for all of it"
        return bytes(size)


def test_what_never_ends_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """The limit holds for what has no size of its own."""
    monkeypatch.setattr(Path, "open", lambda self, mode: Endless())
    problems: list[Problem] = []
    assert yamltree.read_file(Path("pipe"), "f", problems) is None
    assert [str(problem) for problem in problems] == ["f:1:1: the file is larger than 2 MB"]
