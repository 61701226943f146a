"""Small matters of wording: first letters, places, numbers, the names of causes."""

from __future__ import annotations

from .causes import Candidate
from .findings import Found


def at_place(place: str) -> str:
    """A place as a person would say it: in the cushion, at the butt end, on the skin side; other words stay as they are."""
    last = place.rsplit(maxsplit=1)[-1] if place else ""
    if last in _SIDES and not place.startswith("one "):
        return f"on the {place}"
    if last in _ENDS:
        return f"at the {place}"
    return f"in the {place}" if last in _PARTS else place


_SIDES = ("side", "face")
_ENDS = ("end", "edge", "joint")
_PARTS = ("cushion", "forecushion", "muscle", "seam", "middle")


DEGREES = {"slight": "slight", "marked": "clear"}
"""The degrees of a sheet in words for paper, where "marked" would read as marked down."""


def degree(found: Found) -> str:
    """How much of a fault the judges saw, in words for a maker: slight, clear, or from slight to clear; empty if not graded."""
    if found.mixed:
        return "slight to clear"
    return DEGREES.get(found.how_much or "", "")


def place_words(found: Found) -> str:
    """Where the judges saw it, and that only some named the place, where that is so."""
    where = " and ".join(at_place(one) for one in found.places)
    if not where or found.placed >= found.judges or found.judges < 2:
        return where
    return f"{where}, as {'one judge' if found.placed == 1 else f'{number_word(found.placed)} judges'} noted"


def title(candidate: Candidate) -> str:
    """The title of a cause in the middle of a sentence; what follows a colon in it goes into brackets."""
    head, colon, tail = candidate.cause.title.partition(": ")
    return small(f"{head} ({tail})" if colon else head)


def small(text: str) -> str:
    """The text with a small first letter, unless it begins with a word in capitals."""
    first = text.split(" ", 1)[0]
    return text if len(first) > 1 and first[:2].isupper() else text[:1].lower() + text[1:]


def capital(text: str) -> str:
    """The text with a capital first letter."""
    return text[:1].upper() + text[1:]


def number_word(count: int) -> str:
    """A small number as a word."""
    return {1: "one", 2: "two", 3: "three", 4: "four", 5: "five", 6: "six", 7: "seven"}.get(count, str(count))


def ordinal(place: int) -> str:
    """A small place in a list as a word."""
    return {1: "first", 2: "second", 3: "third", 4: "fourth"}.get(place, f"fault no. {place}")


def count_words(text: str) -> int:
    """Words of a text."""
    return len(text.split())
