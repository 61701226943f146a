"""Entries, chains and search results as JSON objects."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from diagnose.corpus.find import Hit
from diagnose.corpus.graph import chance_of
from diagnose.corpus.priors import chance, part_of, prior
from diagnose.corpus.records import (
    Cause,
    Caution,
    Check,
    Correction,
    Family,
    Knowledge,
    Link,
    Mechanism,
    Product,
    Rate,
    Sign,
    Source,
    Stage,
)

from .citations import address, reference, standing
from .entry import Around, Entry, Linked, owners, parents, title_of
from .entry_beside import KINDS, Beside, groups
from .machine import Json, basis_json, cited_in, sources_json
from .trail import Chains
from .words import SAFETY


def entry_json(entry: Entry, knowledge: Knowledge, product: str | None = None) -> Json:
    """The object of one entry; with `product`, an id, only what belongs to that product around it."""
    if isinstance(entry, KINDS):
        return _beside(entry, knowledge, product)
    return _with_links(entry, knowledge, Around(knowledge, entry.id, product))


def _with_links(entry: Linked, knowledge: Knowledge, around: Around) -> Json:
    match entry:
        case Cause():
            body = _cause(entry, knowledge, around)
        case Mechanism():
            body = _mechanism(entry, knowledge, around)
        case Sign():
            body = _sign(entry, knowledge, around)
        case Correction():
            body = {
                "kind": "correction",
                **_correction(entry),
                "causes": [{"id": one.id, "title": one.title} for one in owners(knowledge, entry.id)],
            }
    cautions = [] if isinstance(entry, Mechanism) else [knowledge.cautions[name] for name in entry.caution]
    told = {
        "id": entry.id,
        **body,
        "cautions": [
            {"id": one.id, "title": one.title, "weight": one.weight, "say": one.say, "basis": basis_json(one.basis)}
            for one in cautions
        ],
    }
    return {
        **told,
        "sources": sources_json(cited_in(told), knowledge),
        "knowledge": knowledge.version,
        "safety": SAFETY,
    }


def _beside(entry: Beside, knowledge: Knowledge, product: str | None) -> Json:
    told: Json = {
        "id": entry.stage if isinstance(entry, Stage) else entry.id,
        "kind": type(entry).__name__.lower(),
        "title": entry.title,
    }
    match entry:
        case Stage() | Family() | Product():
            told["what"] = entry.what
        case Caution():
            told |= {"weight": entry.weight, "say": entry.say, "basis": basis_json(entry.basis)}
        case Source():
            told |= {"reference": reference(entry), "address": address(entry), "standing": standing(entry)}
    told["holds"] = [
        {
            "title": group.title,
            "entries": [{"id": name, "title": title, "note": note} for name, title, note in group.entries],
        }
        for group in groups(entry, knowledge, product)
    ]
    return {
        **told,
        "sources": sources_json(cited_in(told), knowledge),
        "knowledge": knowledge.version,
        "safety": SAFETY,
    }


def trail_json(cause: Cause, sign: Sign, chains: Chains, knowledge: Knowledge) -> Json:
    """The object of the chains from a cause to a sign."""
    body = [
        {
            "chance": chance_of(knowledge, chain),
            "links": [{"from": start, **_link(link, knowledge)} for start, link in _with_starts(cause.id, chain)],
        }
        for chain in chains
    ]
    return {
        "cause": {"id": cause.id, "title": cause.title},
        "sign": {"id": sign.id, "title": sign.title},
        "chains": body,
        "sources": sources_json(cited_in(body), knowledge),
        "knowledge": knowledge.version,
        "safety": SAFETY,
    }


def found_json(asked: str, hits: Sequence[Hit], knowledge: Knowledge) -> Json:
    """The object of a search."""
    return {
        "asked": asked,
        "found": [
            {"id": hit.id, "kind": hit.kind, "title": hit.title, "score": hit.score, "why": hit.why} for hit in hits
        ],
        "knowledge": knowledge.version,
    }


def _with_starts(first: str, chain: Iterable[Link]) -> Iterable[tuple[str, Link]]:
    start = first
    for link in chain:
        yield start, link
        start = link.to


def _cause(cause: Cause, knowledge: Knowledge, around: Around) -> Json:
    return {
        "kind": "cause",
        "title": cause.title,
        "what": cause.what,
        "stage": cause.stage,
        "also_called": cause.also_called,
        "products": cause.products,
        "frequency": {"word": cause.frequency, "value": prior(cause, knowledge.scales)},
        "frequency_basis": basis_json(cause.frequency_basis),
        "rates": [_rate(rate, knowledge) for rate in cause.rates],
        "maker_could_know": cause.maker_could_know,
        "leads_to": [_link(link, knowledge) for link in around.links(cause.leads_to)],
        "check": _check(cause.check, knowledge),
        "corrections": [_correction(one) for one in cause.corrections],
    }


def _rate(rate: Rate, knowledge: Knowledge) -> Json:
    """Shares as fractions; `chance` is what the rate says of the prior."""
    strength = knowledge.scales["strength"]
    return {
        "share": rate.share / 100,
        "to": None if rate.to is None else rate.to / 100,
        "of": rate.of,
        "basis": basis_json(rate.basis),
        "parts": [
            {
                "share": part_of(part, strength),
                "how_often": part.how_often,
                "why": part.why,
                "basis": basis_json(part.basis),
            }
            for part in rate.parts
        ],
        "chance": chance(rate, strength),
    }


def _mechanism(mechanism: Mechanism, knowledge: Knowledge, around: Around) -> Json:
    return {
        "kind": "mechanism",
        "title": mechanism.title,
        "what": mechanism.what,
        "also_called": mechanism.also_called,
        "background": _scaled(knowledge, "background", mechanism.background),
        "combine": mechanism.combine,
        "from": _parents(mechanism.id, knowledge, around),
        "leads_to": [_link(link, knowledge) for link in around.links(mechanism.leads_to)],
    }


def _sign(sign: Sign, knowledge: Knowledge, around: Around) -> Json:
    return {
        "kind": sign.kind,
        "title": sign.title,
        "what": sign.what,
        "region": sign.region,
        "family": sign.family,
        "also_called": sign.also_called,
        "products": sign.products,
        "background": _scaled(knowledge, "background", sign.background),
        "graded": sign.graded,
        "tell_apart": [{"from": one.source, "by": one.by} for one in sign.tell_apart],
        "basis": basis_json(sign.basis),
        "from": _parents(sign.id, knowledge, around),
        "check": _check(sign.check, knowledge),
    }


def _parents(name: str, knowledge: Knowledge, around: Around) -> list[Json]:
    return [
        {**_link(link, knowledge), "from": parent.id, "from_title": parent.title}
        for parent, link in parents(knowledge, name, around)
    ]


def _link(link: Link, knowledge: Knowledge) -> Json:
    return {
        "to": link.to,
        "to_title": title_of(knowledge, link.to),
        "strength": _scaled(knowledge, "strength", link.strength),
        "basis": basis_json(link.basis),
        "disputed": link.disputed,
    }


def _check(check: Check, knowledge: Knowledge) -> Json:
    return {
        "ask": check.ask,
        "how": check.how,
        "needs": check.needs,
        "minutes": check.minutes,
        "reliability": _scaled(knowledge, "reliability", check.reliability),
    }


def _correction(one: Correction) -> Json:
    return {
        "id": one.id,
        "do": one.do,
        "when": one.when,
        "effort": one.effort,
        "removes": one.removes,
        "verify": one.verify,
        "also_removes": one.also_removes,
        "caution": one.caution,
        "basis": basis_json(one.basis),
    }


def _scaled(knowledge: Knowledge, scale: str, word: str) -> Json:
    return {"word": word, "value": knowledge.scales[scale].value(word)}
