"""Text from outside."""

import pytest

from diagnose.text import MOST_MARKS, clean, composed


@pytest.mark.parametrize(
    ("given", "left"),
    [
        ("\x1b]0;x\x07", "]0;x"),
        ("\x9b31mred", "31mred"),
        ("a\rb", "ab"),
        ("a\r\nb", "a\nb"),
        ("a\u202eb\u2066c", "abc"),
        ("a\ud800b", "ab"),
        ("a\tb\nc", "a\tb\nc"),
        ("e\u0301", "\u00e9"),
        ("\x7f\x00", ""),
    ],
)
def test_clean_drops_what_a_terminal_would_obey(given: str, left: str) -> None:
    """No escape, direction mark or lone surrogate gets past the boundary; ordinary text does."""
    assert clean(given) == left


def test_clean_cuts_to_length() -> None:
    """A text of any length comes out bounded."""
    assert len(clean("x" * 1000, longest=10)) == 10


def test_a_heap_of_accents_is_cut_down() -> None:
    """A text of nothing but combining marks, whose sorting would take minutes, passes at once; real accents stay."""
    assert len(composed("a" + "\u0301\u0323" * 500_000)) <= 1 + MOST_MARKS
    assert composed("u\u0308" * 100) == "\u00fc" * 100
    assert composed("\u0e01\u0e35\u0e49" * 100) == "\u0e01\u0e35\u0e49" * 100
