"""Checks of the scales and of the words that are written on them."""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.corpus.checks import walk
from diagnose.corpus.draft import Draft
from diagnose.corpus.scalars import guess
from diagnose.corpus.shape import fields
from diagnose.errors import Problem

NEEDED = ("frequency", "strength", "background", "reliability", "removal", "effort", "sureness", "amount")
"""Scales that the program reads."""

CHANCES = ("frequency", "strength", "background", "reliability", "amount")
"""Scales whose numbers are probabilities; none of them is ever certain."""


def values(draft: Draft) -> Iterator[Problem]:
    """Numbers must rise from word to word, and a probability is never 0 or 1."""
    known = {entry.id for entry in draft.live("scale")}
    if "scale" not in draft.unread:
        for needed in NEEDED:
            if needed not in known:
                place = next((entry.place() for entry in draft.of("scale")), None)
                if place is not None:
                    yield Problem(place.file, 1, 1, f"the scale {needed} is missing")
    for entry in draft.live("scale"):
        before = None
        words: set[str] = set()
        for number, step in enumerate(entry.record.steps):
            at = entry.place("steps", number, "value")
            if step.word in words:
                yield entry.place("steps", number, "word").problem(f'the word "{step.word}" stands twice on this scale')
            words.add(step.word)
            if entry.id in CHANCES and not 0 < step.value < 1:
                yield at.problem(
                    f"a {entry.id} lies between 0 and 1 and is never certain; {step.value:g} is not allowed"
                )
            elif entry.id == "removal" and not 0 <= step.value < 1:
                yield at.problem(f"a removal is at least 0 and below 1; {step.value:g} is not allowed")
            elif step.value < 0:
                yield at.problem("a number on a scale is not negative")
            if before is not None and step.value <= before:
                yield at.problem("the numbers must rise from word to word")
            before = step.value


def words(draft: Draft) -> Iterator[Problem]:
    """A word must be on the scale of its field."""
    if "scale" in draft.unread:
        return
    scales = {entry.id: [step.word for step in entry.record.steps] for entry in draft.live("scale")}
    for entry in draft.of("cause", "mechanism", "sign"):
        for shape, value, path in fields(entry.record):
            if shape.scale is None or shape.scale not in scales or value in scales[shape.scale]:
                continue
            listed = ", ".join(scales[shape.scale])
            near = guess(value, scales[shape.scale])
            yield walk.place(entry, path).problem(f'"{value}" is not on the scale {shape.scale} ({listed}){near}')
