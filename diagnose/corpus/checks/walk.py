"""The place of a value that `shape.fields` found in an entry, and the links of a draft with theirs."""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.corpus.draft import Draft, Entry
from diagnose.corpus.records import Link
from diagnose.corpus.yamltree import Place, Step, place_of


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
