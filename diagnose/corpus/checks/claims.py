"""Checks of what is claimed: sources, disputes, cautions, titles."""

from __future__ import annotations

import re
from collections.abc import Iterator

from diagnose.corpus.checks import walk
from diagnose.corpus.draft import Draft, Entry
from diagnose.corpus.records import Basis
from diagnose.corpus.shape import fields
from diagnose.corpus.yamltree import Place
from diagnose.errors import Problem

NO_PLACE = 'a source that was seen needs "at": say where in it this stands'

_DANGER = re.compile(
    r"\b(gas|gassy|gas-forming|sour|soured|souring|putrid|swollen|abscess|abscesses|mould|mouldy|undercooked)\b",
    re.IGNORECASE,
)
_HARMLESS = re.compile(
    r"\b(gas[- ](stun\w*|flush\w*|oven|fired|burner\w*|flame|chamber|lift|pit)|(natural|protective|stunning|inert) gas"
    r"|ham moulds?|gas level|stunned with gas)\b",
    re.IGNORECASE,
)
_TASTING = re.compile(
    r"\b(tast(e|es|ed|ing|er|ers)|after-?taste|chew(s|ed|ing)?|eat(s|en|ing)?|mouth(s|ful)?|tongue|swallow(s|ed|ing)?"
    r"|bit(e|es|ing) into)\b",
    re.IGNORECASE,
)
_NO_TASTING = re.compile(
    r"\b(do not|don't|never|nobody|no one|nothing|without|not to|rather than|instead of)\b[^.;:]*"
    r"|\btast(e|ing)( (or|and) \w+)? (sheet|record|score)s?\b",
    re.IGNORECASE,
)


def sources_read(draft: Draft) -> Iterator[Problem]:
    """A source that was seen says which part; one recalled from memory cannot."""
    for entry in draft.live("source"):
        if entry.record.read == "seen" and entry.record.seen_part is None:
            yield entry.place("read").problem('a source that was seen needs "seen-part": say which part of it')
        if entry.record.read == "memory" and entry.record.seen_part is not None:
            yield entry.place("seen-part").problem('a source recalled from memory has no "seen-part"')


def places_in_sources(draft: Draft) -> Iterator[Problem]:
    """Whoever has seen a source can say where in it the claim stands."""
    seen = {entry.id for entry in draft.live("source") if entry.record.read == "seen"}
    for entry in draft.live("cause", "mechanism", "sign", "caution"):
        for _, value, path in fields(entry.record):
            if isinstance(value, Basis) and value.source in seen and not value.at:
                yield walk.place(entry, path).problem(NO_PLACE)


def disputes(draft: Draft) -> Iterator[Problem]:
    """A dispute has two sides, so two sources."""
    for entry, link, number in walk.links(draft):
        if link.disputed is not None and len({basis.source for basis in link.basis}) < 2:
            place = entry.place("leads-to", number, "disputed")
            yield place.problem("a disputed link needs at least two sources in its basis, one for each side")


def dangers_without_caution(draft: Draft) -> Iterator[Problem]:
    """What may hurt somebody must come with a caution."""
    for entry in draft.live("cause", "sign"):
        if entry.record.caution:
            continue
        record = entry.record
        said = (("title", record.title), ("also-called", " / ".join(record.also_called)), ("check", record.check.ask))
        for key, text in said:
            if found := _DANGER.search(_HARMLESS.sub("", text)):
                word = found.group()
                yield entry.place(key).problem(f'this speaks of "{word}", so the entry needs a caution')
                break


def tasting_not_marked(draft: Draft) -> Iterator[Problem]:
    """A check by tasting says so in a field, since nobody may be asked to taste once there is danger."""
    for entry in draft.live("cause", "sign"):
        check = entry.record.check
        for key, text in (("ask", check.ask), ("how", check.how)):
            found = _TASTING.search(_NO_TASTING.sub(" ", text))
            if found and not check.by_tasting:
                message = f'this speaks of "{found.group()}", so the check needs "by-tasting: true"'
                yield entry.place("check", key).problem(message)
                break


def same_title(draft: Draft) -> Iterator[Problem]:
    """Two entries of one title cannot be told apart in a list."""
    seen: dict[str, Place] = {}
    for entry in draft.live("cause", "mechanism", "sign"):
        if not entry.record.title:
            continue
        title = _plain(entry)
        place = entry.place("title")
        first = seen.setdefault(title, place)
        if first is not place:
            yield place.problem(f"the same title stands at {first.file}:{first.line}")


def _plain(entry: Entry) -> str:
    return " ".join(entry.record.title.casefold().split())
