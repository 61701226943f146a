"""Commands as they are typed: a word or its letter, with what may stand behind it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

Takes = Literal["nothing", "number", "perhaps a number", "text", "figure"]


@dataclass(frozen=True, slots=True)
class Word:
    """A command. `letter` is its short form, `others` are words that people may type instead."""

    word: str
    letter: str
    takes: Takes
    says: str
    others: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Command:
    """A command as typed, with what stood behind it."""

    word: str
    rest: str = ""


def by_name(words: Iterable[Word]) -> dict[str, Word]:
    """The commands by everything that may be typed for them."""
    return {name: word for word in words for name in (word.word, word.letter, *word.others)}


def command_of(line: str, names: Mapping[str, Word]) -> Command | None:
    """The command of a line; None where no command begins it, or what stands behind it is not what it takes."""
    first, _, rest = line.strip().partition(" ")
    rest = rest.strip()
    word = names.get(first.casefold())
    return Command(word.word, rest) if word is not None and _fits(rest, word.takes) else None


def _fits(rest: str, takes: Takes) -> bool:
    match takes:
        case "nothing":
            return not rest
        case "number":
            return rest.isdecimal()
        case "perhaps a number":
            return not rest or rest.isdecimal()
        case "text":
            return True
        case "figure":
            return not rest or rest.startswith("-") or any(character.isdigit() for character in rest)
