"""What a line typed at the judge's desk means. Nothing here prints or reads."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Takes = Literal["nothing", "number", "text"]


@dataclass(frozen=True, slots=True)
class Word:
    """A command with its letter and what may stand behind it."""

    word: str
    letter: str
    takes: Takes
    says: str


@dataclass(frozen=True, slots=True)
class Order:
    """A command as typed."""

    word: str
    rest: str = ""


WORDS = (
    Word("back", "b", "nothing", "to the criterion before"),
    Word("next", "n", "nothing", "to the next entry of the running order"),
    Word("previous", "p", "nothing", "to the entry before"),
    Word("go", "g", "number", "to an entry: go 7"),
    Word("levels", "v", "nothing", "what the points of this criterion mean"),
    Word("jot", "j", "text", "free words about this entry: jot tastes of spring"),
    Word("suspect", "x", "text", "do not taste, set it aside: suspect sour at the bone"),
    Word("out", "o", "nothing", "it does not belong in this class"),
    Word("list", "l", "nothing", "the running order, and what is done"),
    Word("close", "z", "nothing", "all is done; close my sheets"),
    Word("help", "?", "nothing", "this list"),
    Word("quit", "q", "nothing", "save and leave"),
)

_BY_NAME = {name: word for word in WORDS for name in (word.word, word.letter)}


def order_in(line: str) -> Order | None:
    """The command of a line; None for numbers, points and anything else."""
    first, _, rest = line.strip().partition(" ")
    rest = rest.strip()
    word = _BY_NAME.get(first.casefold())
    if word is None:
        return None
    fits = {"nothing": not rest, "number": rest.isdecimal(), "text": True}[word.takes]
    return Order(word.word, rest) if fits else None


def points_in(line: str, most: int) -> int | None:
    """Points as typed, between 0 and `most`; None for anything else."""
    return int(line) if line.isascii() and line.isdecimal() and len(line) < 7 and int(line) <= most else None


def numbers_off(line: str) -> list[int] | None:
    """The numbers of a line such as `off 3 5`, whose marks are to be taken back."""
    first, *rest = line.replace(",", " ").split() or [""]
    if first.casefold() != "off" or not rest or not all(part.isdecimal() and len(part) < 7 for part in rest):
        return None
    return [int(part) for part in rest]
