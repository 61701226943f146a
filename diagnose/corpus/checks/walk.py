"""Walking over the fields of entries, nested ones included, with the place of each value."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from diagnose.corpus.draft import Draft, Entry
from diagnose.corpus.records import Link
from diagnose.corpus.shape import FieldShape, shape_of
from diagnose.corpus.yamltree import Place, Step, place_of

Found = tuple[FieldShape, Any, tuple[Step, ...]]


def fields(record: Any, path: tuple[Step, ...] = ()) -> Iterator[Found]:
    """Every single value inside a record with its field and its path; lists are taken apart, empty values left out."""
    for shape in shape_of(type(record)):
        value = getattr(record, shape.name)
        if value is None or value in ("", ()):
            continue
        at = (*path, shape.key)
        for item, item_at in ((v, (*at, i)) for i, v in enumerate(value)) if shape.wanted.many else ((value, at),):
            if shape.wanted.kind == "record":
                yield shape, item, item_at
                yield from fields(item, item_at)
            elif item != "":
                yield shape, item, item_at


def place(entry: Entry, path: tuple[Step, ...]) -> Place:
    """Where a value found by `fields` stands."""
    return place_of(entry.node, *path)


def links(draft: Draft) -> Iterator[tuple[Entry, Link, int]]:
    """Every link of the causes and mechanisms in use, with its parent and its position in `leads-to`."""
    for entry in draft.live("cause", "mechanism"):
        for number, link in enumerate(entry.record.leads_to):
            if link.to:
                yield entry, link, number


def parents(draft: Draft) -> dict[str, list[tuple[Entry, Link, int]]]:
    """For each id that a link leads to, the links into it."""
    found: dict[str, list[tuple[Entry, Link, int]]] = {}
    for entry, link, number in links(draft):
        found.setdefault(link.to, []).append((entry, link, number))
    return found
