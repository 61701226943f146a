"""What a line typed at the judge's desk means. Nothing here prints or reads."""

from __future__ import annotations

import re

from diagnose.commands.session.vocabulary import Command, Word, by_name, command_of

WORDS = (
    Word("back", "b", "nothing", "to the criterion before"),
    Word("next", "n", "nothing", "to the next entry of the running order"),
    Word("previous", "p", "nothing", "to the entry before"),
    Word("go", "g", "number", "to an entry: go 7"),
    Word("levels", "v", "nothing", "what the points of this criterion mean"),
    Word("jot", "j", "text", "free words about this entry: jot tastes of spring"),
    Word("suspect", "x", "text", "do not taste, set it aside: suspect sour at the bone"),
    Word("lift", "u", "text", "take your own setting-aside back, with the reason: lift wrong number typed"),
    Word("out", "o", "nothing", "it does not belong in this class"),
    Word("list", "l", "nothing", "the running order, and what is done"),
    Word("close", "z", "nothing", "all is done; close my sheets"),
    Word("help", "?", "nothing", "this list"),
    Word("quit", "q", "nothing", "save and leave"),
)

_BY_NAME = by_name(WORDS)


def order_in(line: str) -> Command | None:
    """The command of a line; None for numbers, points and anything else."""
    return command_of(line, _BY_NAME)


def looks_like_an_order(line: str) -> bool:
    """Whether a line belongs to a list of faults or is a command, so that it is no place and no reason."""
    return order_in(line) is not None or numbers_off(line) is not None or bool(_FOR_A_LIST.fullmatch(line.casefold()))


_FOR_A_LIST = re.compile(r"(off|no|none|yes|[\d\s,;]+([sm]|slight|marked|clear)?|(no|off)[\d\s,;]*)")


def points_in(line: str, most: int) -> int | None:
    """Points as typed, between 0 and `most`; None for anything else."""
    return int(line) if line.isascii() and line.isdecimal() and len(line) < 7 and int(line) <= most else None


def numbers_off(line: str) -> list[int] | None:
    """The numbers of a line such as `off 3 5`, whose marks are to be taken back."""
    first, *rest = line.replace(",", " ").split() or [""]
    if first.casefold() != "off" or not rest or not all(part.isdecimal() and len(part) < 7 for part in rest):
        return None
    return [int(part) for part in rest]
