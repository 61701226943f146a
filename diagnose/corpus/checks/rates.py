"""Checks of the published rates behind the frequency of a cause."""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.corpus.draft import Draft, Entry
from diagnose.corpus.priors import prior
from diagnose.errors import Problem


def whole_and_in_step(draft: Draft) -> Iterator[Problem]:
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
