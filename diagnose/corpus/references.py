"""Files beside the knowledge (figures, scorecards, glossaries, cases) point into it: what they point to must be there.

Inside the knowledge the same rules are kept by `checks.ids` and `checks.claims`, which work on a draft; here the knowledge
is already checked and whole.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from diagnose.corpus.checks.claims import NO_PLACE
from diagnose.corpus.find import did_you_mean
from diagnose.corpus.records import Basis, Knowledge, Retired
from diagnose.corpus.shape import fields
from diagnose.corpus.yamltree import Node, place_of
from diagnose.errors import Problem


def broken_references(knowledge: Knowledge, record: Any, root: Node) -> Iterator[Problem]:
    """Each id in the record that the knowledge does not hold or has retired, at its place in the tree of the record."""
    known = _by_kind(knowledge)
    for shape, value, path in fields(record):
        if not shape.refers or any(value in known[kind] for kind in shape.refers):
            continue
        place = place_of(root, *path)
        old = _retired(knowledge, value, shape.refers)
        if old is not None:
            yield place.problem(f'"{value}" is retired{f"; use {old.instead}" if old.instead else ""}')
        else:
            near = did_you_mean(knowledge, value, sorted({name for kind in shape.refers for name in known[kind]}))
            yield place.problem(f'no {" or ".join(shape.refers)} has the id "{value}"{near}')


def sources_without_place(knowledge: Knowledge, record: Any, root: Node) -> Iterator[Problem]:
    """Each claim on a source that was seen that does not say where in it the claim stands."""
    for _, value, path in fields(record):
        if isinstance(value, Basis) and not value.at:
            source = knowledge.sources.get(value.source)
            if source is not None and source.read == "seen":
                yield place_of(root, *path).problem(NO_PLACE)


def _by_kind(knowledge: Knowledge) -> Mapping[str, Mapping[str, object]]:
    return {
        "cause": knowledge.causes,
        "mechanism": knowledge.mechanisms,
        "sign": knowledge.signs,
        "source": knowledge.sources,
        "product": knowledge.products,
        "family": knowledge.families,
        "caution": knowledge.cautions,
    }


def _retired(knowledge: Knowledge, value: str, kinds: tuple[str, ...]) -> Retired | None:
    """What became of an id; only causes, mechanisms and signs are ever retired."""
    return None if {"cause", "mechanism", "sign"}.isdisjoint(kinds) else knowledge.retired.get(value)
