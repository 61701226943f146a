"""Checks of the scales and of the words that are written on them."""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.corpus.checks import walk
from diagnose.corpus.draft import Draft, Entry
from diagnose.corpus.priors import prior
from diagnose.corpus.scalars import guess
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
        for shape, value, path in walk.fields(entry.record):
            if shape.scale is None or shape.scale not in scales or value in scales[shape.scale]:
                continue
            listed = ", ".join(scales[shape.scale])
            near = guess(value, scales[shape.scale])
            yield walk.place(entry, path).problem(f'"{value}" is not on the scale {shape.scale} ({listed}){near}')


def rates(draft: Draft) -> Iterator[Problem]:
    """A rate is a share with a source, each of its parts is one thing, and the word is the one nearest to the prior."""
    for entry in draft.live("cause"):
        found = [problem for number in range(len(entry.record.rates)) for problem in _rate(entry, number)]
        yield from found
        if found or not entry.record.rates or draft.unread.intersection(("scale",)):
            continue
        scales = {one.id: one.record for one in draft.live("scale")}
        try:
            value = prior(entry.record, scales)
            word = scales["frequency"].nearest(value).word
        except (KeyError, ValueError, ZeroDivisionError):  # told by another check
            continue
        if word != entry.record.frequency:
            message = f'the rates come to {100 * value:.2g} %, and the word nearest to that is "{word}"'
            yield entry.place("frequency").problem(message)


def _rate(entry: Entry, number: int) -> Iterator[Problem]:
    rate = entry.record.rates[number]
    if not rate.basis:
        yield entry.place("rates", number, "basis").problem(
            "a rate is a published figure and needs its source; a frequency that is common practice is a word alone"
        )
    yield from _share(entry, rate.share, "rates", number, "share")
    if rate.to is not None:
        yield from _share(entry, rate.to, "rates", number, "to")
        if rate.to <= rate.share:
            yield entry.place("rates", number, "to").problem('"to" is the upper end of a range, so it is above "share"')
    for at, part in enumerate(rate.parts):
        path: tuple[str | int, ...] = ("rates", number, "parts", at)
        if (part.share is None) == (part.how_often is None):
            yield entry.place(*path).problem('a part has either "share" (published) or "how-often" (judged)')
        if part.share is not None:
            yield from _share(entry, part.share, *path, "share")
        if (part.share is None) != (not part.basis):
            yield entry.place(*path).problem("a published part needs a basis, and a judged one has none")


def _share(entry: Entry, share: float, *path: str | int) -> Iterator[Problem]:
    if not 0 < share < 100:
        yield entry.place(*path).problem(f"a share lies above 0 and below 100 per cent; {share:g} is not allowed")
