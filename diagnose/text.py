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


def clean(text: str, longest: int = LONGEST) -> str:
    """The text without control characters, in Unicode form NFC, cut to `longest` characters.

    Line ends of the form CR LF become LF; tabs and newlines stay.
    """
    if "\r" in text:
        text = text.replace("\r\n", "\n")
    return unicodedata.normalize("NFC", UNSAFE.sub("", text))[:longest]
