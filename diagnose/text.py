"""Text from outside is made harmless here, once, where it enters the program.

Whatever comes from a file, a prompt or an argument may hold characters that a terminal obeys instead of showing: escape
sequences, bells, marks that turn the direction of writing around. `clean` takes them out, so that no later code has to
think of them.
"""

from __future__ import annotations

import re
import unicodedata

LONGEST = 20_000
"""Characters kept of one text unless the caller asks for less."""

UNSAFE = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ud800-\udfff]")
"""Characters that `clean` drops: C0 except tab and newline, DEL, C1, bidirectional controls, lone surrogates."""


MOST_MARKS = 30
"""Accents that may follow one letter; no script needs so many (Unicode UAX #15, stream-safe text)."""

_PERHAPS_MARKS = re.compile(f"[^\x00-\u02ff]{{{MOST_MARKS + 1},}}")


def clean(text: str, longest: int = LONGEST) -> str:
    """The text without control characters, in Unicode form NFC, cut to `longest` characters.

    Line ends of the form CR LF become LF; tabs and newlines stay.
    """
    return composed(UNSAFE.sub("", text.replace("\r\n", "\n"))[:longest])[:longest]


def composed(text: str) -> str:
    """The text in Unicode form NFC, with at most `MOST_MARKS` combining marks in a row.

    Putting a run of marks in order takes time that grows with the square of its length, so a file of nothing but marks
    would hold up the program for minutes.
    """
    return unicodedata.normalize("NFC", _PERHAPS_MARKS.sub(_few_marks, text))


def _few_marks(run: re.Match[str]) -> str:
    kept: list[str] = []
    marks = 0
    for each in run.group():
        marks = marks + 1 if unicodedata.combining(each) else 0
        if marks <= MOST_MARKS:
            kept.append(each)
    return "".join(kept)
