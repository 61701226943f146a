"""The state of a case: a pure function of its events."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from diagnose.corpus.records import ALL_NEEDS, Needs

from .events import Answer, Attachment, Event, Note, Number, Opened, Retract, Skip


@dataclass(frozen=True, slots=True)
class Case:
    """What is known of a case now. `answers` are in the order in which they were given."""

    product: str
    have: tuple[Needs, ...] = ALL_NEEDS
    title: str = ""
    answers: Mapping[str, Answer] = field(default_factory=dict)
    skipped: frozenset[str] = frozenset()
    notes: tuple[str, ...] = ()
    numbers: Mapping[str, str] = field(default_factory=dict)
    attachments: tuple[str, ...] = ()


def state_of(events: Iterable[Event]) -> Case:
    """The state after these events. The last `Opened` counts, so that product and reach can be corrected.

    Raises ValueError if there is no `Opened` event.
    """
    opened: Opened | None = None
    answers: dict[str, Answer] = {}
    skipped: set[str] = set()
    notes: list[str] = []
    numbers: dict[str, str] = {}
    attachments: list[str] = []
    for event in events:
        match event:
            case Opened():
                opened = event
            case Answer():
                answers.pop(event.about, None)
                answers[event.about] = event
                skipped.discard(event.about)
            case Retract():
                answers.pop(event.about, None)
                skipped.discard(event.about)
            case Skip():
                skipped.add(event.about)
            case Note():
                notes.append(event.text)
            case Number():
                numbers.pop(event.name, None)
                if event.value:
                    numbers[event.name] = event.value
            case Attachment():
                attachments.append(event.path)
    if opened is None:
        raise ValueError("a case must begin with what is looked at")
    return Case(
        product=opened.product,
        have=opened.have,
        title=opened.title,
        answers=answers,
        skipped=frozenset(skipped),
        notes=tuple(notes),
        numbers=numbers,
        attachments=tuple(attachments),
    )


def last_undoable(events: Iterable[Event]) -> str | None:
    """The id of the latest answer or skip that still stands: what "back" takes away. None if there is none."""
    standing: list[str] = []
    for event in events:
        if isinstance(event, Answer | Skip):
            if event.about in standing:
                standing.remove(event.about)
            standing.append(event.about)
        elif isinstance(event, Retract) and event.about in standing:
            standing.remove(event.about)
    return standing[-1] if standing else None
