"""A case is an append-only list of events; everything else about it is worked out from that list.

Going back is a `Retract` event and a fresh calculation, resuming is reading the list, and a bug report, a test and an
unattended run are the same list from a file.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, field
from typing import Any, Literal, get_args

from diagnose.corpus.records import ALL_NEEDS, Amount, Needs, Sureness, Verdict
from diagnose.errors import CaseError, Problem

Came = Literal["", "question", "rest"]


@dataclass(frozen=True, slots=True)
class Opened:
    """The first event of a case: the product, what the person can look at, and the knowledge it began with."""

    product: str
    have: tuple[Needs, ...]
    knowledge: str
    title: str = ""


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer about a sign or a cause; a later answer about the same id replaces it.

    `came` tells how it was given and is no part of what it says: to a question of the program, with one word for all
    that was left of a list, or otherwise (empty).
    """

    about: str
    verdict: Verdict
    sure: Sureness = "sure"
    how_much: Amount | None = None
    came: Came = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class Retract:
    """Takes the answer about `about` back; the question may be asked again."""

    about: str


@dataclass(frozen=True, slots=True)
class Skip:
    """The question about `about` was put aside, not answered; it is not offered again unless the person asks for it."""

    about: str


@dataclass(frozen=True, slots=True)
class Note:
    """Free words of the person."""

    text: str


@dataclass(frozen=True, slots=True)
class Number:
    """A figure of the batch as the person wrote it, with its unit.

    A later one of the same name replaces it, an empty one takes it away.
    """

    name: str
    value: str


@dataclass(frozen=True, slots=True)
class Attachment:
    """A file the person wants to keep with the case, by its path."""

    path: str


Event = Opened | Answer | Retract | Skip | Note | Number | Attachment

_KINDS: dict[str, type[Event]] = {
    "opened": Opened,
    "answer": Answer,
    "retract": Retract,
    "skip": Skip,
    "note": Note,
    "number": Number,
    "attachment": Attachment,
}
_NAMES = {kind: name for name, kind in _KINDS.items()}


_ALLOWED: dict[str, tuple[str | None, ...]] = {
    "have": ALL_NEEDS,
    "verdict": get_args(Verdict),
    "sure": get_args(Sureness),
    "how_much": (*get_args(Amount), None),
    "came": get_args(Came),
}
"""The words that a stored value may be; every other value is a text."""


def to_json(event: Event) -> str:
    """One event as one line of JSON."""
    return json.dumps({"event": _NAMES[type(event)], **asdict(event)}, ensure_ascii=False)


def from_json(line: str) -> Event:
    """The event of one line of JSON. Raises CaseError for a line that is none, or that holds a word that is not allowed."""
    try:
        fields: dict[str, Any] = json.loads(line)
        kind = _KINDS[fields.pop("event")]
        if "have" in fields:
            fields["have"] = tuple(fields["have"])
        event = kind(**fields)
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError) as error:
        raise CaseError([Problem("casebook", 0, 0, f"a stored event cannot be read: {line[:80]}")]) from error
    for name, value in fields.items():
        for one in value if name == "have" else (value,):
            _see_to_it_that_it_is_allowed(name, one)
    return event


def _see_to_it_that_it_is_allowed(name: str, value: object) -> None:
    """Raises CaseError for a value that this program never writes."""
    words = _ALLOWED.get(name)
    if isinstance(value, str) if words is None else value in words:
        return
    meant = "a text" if words is None else f"one of {', '.join(word for word in words if word)}"
    message = f'a stored event has {str(value)[:40]!r} for "{name.replace("_", "-")}"; it must be {meant}'
    raise CaseError([Problem("casebook", 0, 0, message)])
