"""Text from outside."""

import pytest

from diagnose.text import clean


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
