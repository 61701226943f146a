"""Fitting words into lines: how wide a text is on a terminal, and where its lines break."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence

from diagnose.text import clean

from .words import FIXED

Word = tuple[str, str]
"""A word without blanks, and the name of its style; an empty name is plain."""

_ADDRESS = re.compile(r"https?://[^\s<>\"\\]+\Z")
_BLANKS = re.compile(r"[ \t\n\u2028\u2029]+")


def one_line(text: str) -> str:
    """The text made harmless and put on one line. Blanks at which no line may break stay what they are."""
    return _BLANKS.sub(" ", clean(text)).strip(" ")


def is_web_address(text: str) -> bool:
    """Whether the whole text is an address that a page may link to: http or https, nothing that ends a link early."""
    return _ADDRESS.match(text) is not None


def cells(text: str) -> int:
    """Columns that a text takes on a terminal: two for a wide East Asian character, none for a combining one."""
    if text.isascii():
        return len(text)
    return sum(map(_cell, text))


def _cell(character: str) -> int:
    if unicodedata.category(character) in ("Mn", "Me", "Cf"):
        return 0
    return 2 if unicodedata.east_asian_width(character) in "WF" else 1


def words_of(text: str, style: str = "") -> list[Word]:
    """The words of a text, all in one style."""
    return [(word, style) for word in one_line(text).split(" ") if word]


def broken(words: Sequence[Word], width: int) -> list[list[Word]]:
    """The words in lines of at most `width` columns; a word that is wider is cut, after a slash where there is one."""
    lines: list[list[Word]] = []
    line: list[Word] = []
    used = 0
    for text, style in words:
        pieces = [text] if cells(text) <= width else _cut(text, width)
        for at, piece in enumerate(pieces):
            size = cells(piece)
            if line and (used + 1 + size > width or at > 0):
                lines.append(line)
                line, used = [], 0
            used += size + (1 if line else 0)
            line.append((piece.replace(FIXED, " "), style))
    if line:
        lines.append(line)
    return lines


def _cut(word: str, width: int) -> list[str]:
    pieces = []
    piece, used = "", 0
    for character in word:
        size = _cell(character)
        if piece and used + size > width:
            head, slash, tail = piece.rpartition("/")
            if slash and cells(head) > width // 2:
                pieces.append(head + slash)
                piece, used = tail, cells(tail)
            else:
                pieces.append(piece)
                piece, used = "", 0
        piece += character
        used += size
    return [*pieces, piece] if piece else pieces
