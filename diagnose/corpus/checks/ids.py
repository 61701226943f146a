"""Checks of ids: how they look, that each stands for one thing, and that what they point to is there."""

from __future__ import annotations

import re
from collections.abc import Iterator

from diagnose.corpus.checks import walk
from diagnose.corpus.draft import Draft, Entry
from diagnose.corpus.find import Index, Kind, Searched, as_question, nearest
from diagnose.corpus.scalars import guess
from diagnose.corpus.shape import fields
from diagnose.corpus.yamltree import Place
from diagnose.errors import Problem

STYLE = r"[a-z][a-z0-9]*(-[a-z0-9]+)*"
"""How an id looks: words of small letters and digits, joined by single hyphens, beginning with a letter."""

SOURCE_STYLE = r"(?=[0-9-]*[a-z])[a-z0-9]+(-[a-z0-9]+)*"
"""Ids of sources may begin with a digit, since titles do."""

LONGEST_ID = 60
"""Characters; an id is also a file name, and stands in the middle of a line."""

SHARED = ("cause", "mechanism", "sign")
"""Kinds whose ids are used side by side in links and answers, so no two of them may be the same."""

ALONE = ("correction", "product", "family", "scale", "caution", "source")
_REFERRED = (*SHARED, *ALONE)
_SEARCHED: tuple[Kind, ...] = ("sign", "cause", "mechanism", "caution", "family", "product")


def is_id(text: str) -> bool:
    """Whether a text may be an id (of anything but a source)."""
    return len(text) <= LONGEST_ID and re.fullmatch(STYLE, text) is not None


def corrections(draft: Draft) -> Iterator[tuple[Entry, str, Place]]:
    """The cause, id and place of every correction of the causes in use."""
    for entry in draft.live("cause"):
        for number, correction in enumerate(entry.record.corrections):
            if correction.id:
                yield entry, correction.id, entry.place("corrections", number, "id")


def _all_ids(draft: Draft) -> Iterator[tuple[str, str, Place]]:
    for kind in _REFERRED:
        for entry in draft.of(kind):
            if entry.id:
                yield kind, entry.id, entry.place("id")
    for _, found, place in corrections(draft):
        yield "correction", found, place


def style(draft: Draft) -> Iterator[Problem]:
    """Ids are kebab-case ASCII, so that they can be typed, linked and used as file names."""
    for kind, found, place in _all_ids(draft):
        pattern = SOURCE_STYLE if kind == "source" else STYLE
        if not re.fullmatch(pattern, found) or found in ("yes", "no", "null", "true", "false", "on", "off"):
            yield place.problem(
                f'the id "{found}" must be small letters, digits and single hyphens, such as dry-surface'
            )
        elif len(found) > LONGEST_ID:
            yield place.problem(f"the id has {len(found)} characters; at most {LONGEST_ID} are allowed")


def used_twice(draft: Draft) -> Iterator[Problem]:
    """One id stands for one thing, over all files."""
    seen: dict[tuple[str, str], tuple[str, Place]] = {}
    for kind, found, place in _all_ids(draft):
        group = "shared" if kind in SHARED else kind
        first_kind, first = seen.setdefault((group, found), (kind, place))
        if first is not place:
            where = f"{first.file}:{first.line}"
            yield place.problem(f'the id "{found}" is already that of a {first_kind} at {where}')


def references(draft: Draft) -> Iterator[Problem]:
    """Whatever an id points to must be there and in use."""
    live = {kind: {entry.id for entry in draft.live(kind)} for kind in _REFERRED}
    live["correction"] = {found for _, found, _ in corrections(draft)}
    old = {entry.id: entry for entry in draft.of(*SHARED) if not entry.live}
    index: Index | None = None
    for entry in draft.of(*_REFERRED):
        if not entry.live:
            continue
        for shape, value, path in fields(entry.record):
            if not shape.refers or any(value in live[kind] for kind in shape.refers):
                continue
            at = walk.place(entry, path)
            if value in old:
                instead = old[value].record.retired.instead
                yield at.problem(f'"{value}" is retired{f"; use {instead}" if instead else ""}')
            elif not draft.unread.intersection(shape.refers):
                index = index or _index(draft)
                near = as_question(nearest(index, value, sorted(set().union(*(live[kind] for kind in shape.refers)))))
                yield at.problem(f'no {" or ".join(shape.refers)} has the id "{value}"{near}')


def _index(draft: Draft) -> Index:
    """What a search knows of the entries in use, so that an id that is not there can be taken by its sense."""
    return Index(
        Searched(entry.id, kind, "defect" if kind == "sign" else kind, (entry.record.title, *_also(entry)))
        for kind in _SEARCHED
        for entry in draft.live(kind)
        if entry.id and entry.record.title
    )


def _also(entry: Entry) -> tuple[str, ...]:
    return tuple(getattr(entry.record, "also_called", ()))


def retired(draft: Draft) -> Iterator[Problem]:
    """A retired id must name a successor that is in use, or none."""
    live = {entry.id for entry in draft.live(*SHARED)}
    for entry in draft.of(*SHARED):
        if entry.live or draft.unread.intersection(SHARED):
            continue
        instead = entry.record.retired.instead
        if instead and instead not in live:
            near = guess(instead, sorted(live))
            yield entry.place("retired", "instead").problem(f'"{instead}" is not an id in use{near}')
