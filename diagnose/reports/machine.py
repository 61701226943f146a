"""A report as one JSON object for programs. Its keys are a promise; texts and order of keys within it are not.

Numbers are full floats. What has no number (an infinite weight) is null, so the output is always valid JSON.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Mapping
from typing import Any

from diagnose.casework.batch_outcome import Result
from diagnose.casework.diagnosis import ChainLink, Diagnosis, Fit, NextQuestion, Plan, PlanStep, Ranked, Robustness
from diagnose.casework.measuring import Measured
from diagnose.corpus.records import Basis, Knowledge
from diagnose.text import clean

from .words import SAFETY, likelihood_word

Json = dict[str, Any]


def as_json(value: Mapping[str, Any]) -> str:
    """The value as UTF-8 JSON with a line end at its end."""
    return json.dumps(_plain(value), ensure_ascii=False, allow_nan=False, indent=2) + "\n"


def _plain(value: Any) -> Any:
    """The value with texts made harmless and numbers that JSON does not know put to null."""
    if isinstance(value, str):
        return clean(value)
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    if isinstance(value, Mapping):
        return {clean(str(key)): _plain(below) for key, below in value.items()}
    if isinstance(value, Iterable):
        return [_plain(below) for below in value]
    return value


def case_json(diagnosis: Diagnosis, knowledge: Knowledge) -> Json:
    """The object of a case."""
    body = {
        "product": diagnosis.product,
        "product_title": diagnosis.product_title,
        "title": diagnosis.title,
        "have": diagnosis.have,
        "cautions": [
            {
                "id": one.id,
                "title": one.title,
                "weight": one.weight,
                "say": one.say,
                "because": one.because,
                "basis": basis_json(one.basis),
            }
            for one in diagnosis.cautions
        ],
        "elsewhere": [
            {"id": one.about, "ask": one.ask, "needs": one.needs, "bits": one.bits} for one in diagnosis.elsewhere
        ],
        "rule_out": [
            {
                "caution": one.caution,
                "title": one.title,
                "cause": one.cause,
                "chance": one.chance,
                "ask": one.ask,
                "how": one.how,
            }
            for one in diagnosis.rule_out
        ],
        "answers": [
            {
                "id": one.answer.about,
                "title": one.title,
                "kind": one.kind,
                "where": one.where,
                "is": one.answer.verdict,
                "sure": one.answer.sure,
                "how_much": one.answer.how_much,
            }
            for one in diagnosis.seen
        ],
        "numbers": dict(diagnosis.numbers),
        "computed": [
            {"id": one.measured.about, "title": one.title, "own_answer": one.own, **computed_json(one.measured)}
            for one in diagnosis.measured
        ],
        "out_of_bounds": [_off(one) for one in diagnosis.off],
        "notes": diagnosis.notes,
        "ranking": [_ranked(one) for one in diagnosis.ranking],
        "unlisted": diagnosis.unlisted,
        "conflict": diagnosis.fit.conflict,
        "fit": _fit(diagnosis.fit),
        "robustness": _robustness(diagnosis.robustness) if diagnosis.robustness else None,
        "plan": _plan(diagnosis.plan) if diagnosis.plan else None,
        "next": [_question(one) for one in diagnosis.next],
        "worth_asking": diagnosis.worth_asking,
    }
    return {
        **body,
        "sources": sources_json(cited_in(body), knowledge),
        "knowledge": diagnosis.knowledge,
        "safety": SAFETY,
    }


def _off(one: Result) -> Json:
    """A computed result that is not within its published figure."""
    bound = one.bound
    return {
        "name": one.name,
        "title": one.title,
        "value": one.value,
        "unit": one.unit,
        "verdict": one.verdict,
        "limit": bound.value if bound and bound.unit else None,
        "limit_title": bound.title if bound else None,
        "date": bound.date if bound else None,
        "read": bound.read if bound else None,
        "basis": basis_json(bound.basis if bound else ()),
    }


def _ranked(one: Ranked) -> Json:
    return {
        "id": one.id,
        "title": one.title,
        "stage": one.stage,
        "present": one.present,
        "responsible": one.responsible,
        "responsible_in_words": likelihood_word(one.responsible),
        "stage_title": one.stage_title,
        "what": one.what,
        "maker_could_know": one.maker_could_know,
        "reasons": [
            {
                "id": reason.about,
                "title": reason.title,
                "is": reason.verdict,
                "decibans": reason.decibans,
                "computed": computed_json(reason.computed) if reason.computed else None,
            }
            for reason in one.reasons
        ],
        "chains": [[_link(link) for link in chain] for chain in one.chains],
    }


def computed_json(one: Measured) -> Json:
    """A computed value as evidence."""
    return {
        "measure": one.measure,
        "what": one.title,
        "value": one.value,
        "unit": one.unit,
        "band": {"at_least": one.at_least, "at_most": one.at_most},
        "is": one.verdict,
        "right": one.right,
        "basis": basis_json(one.basis),
        "standing": one.standing,
    }


def _link(link: ChainLink) -> Json:
    return {
        "from": link.from_id,
        "from_title": link.from_title,
        "to": link.to_id,
        "to_title": link.to_title,
        "strength": link.strength,
        "basis": basis_json(link.basis),
        "disputed": link.disputed,
    }


def _fit(fit: Fit) -> Json:
    return {"fits": fit.fits, "explained_by": fit.explained_by, "at_odds": fit.at_odds}


def _robustness(found: Robustness) -> Json:
    return {
        "holds": found.holds,
        "words_moved": found.words_moved,
        "hinges": [
            {"where": one.where, "word": one.word, "instead": one.instead, "first": one.first} for one in found.hinges
        ],
    }


def _plan(plan: Plan) -> Json:
    return {
        "this_lot": [_step(one) for one in plan.this_lot],
        "confirm_first": [_question(one) for one in plan.confirm_first],
        "steps": [_step(one) for one in plan.steps],
        "gone_after_all": plan.gone_after_all,
        "free_after_all": plan.free_after_all,
        "assumptions": plan.assumptions,
    }


def _step(step: PlanStep) -> Json:
    return {
        "id": step.correction,
        "do": step.do,
        "when": step.when,
        "effort": step.effort,
        "verify": step.verify,
        "causes": step.causes,
        "gain": step.gain,
        "cautions": step.cautions,
        "basis": basis_json(step.basis),
    }


def _question(one: NextQuestion) -> Json:
    return {
        "id": one.about,
        "ask": one.ask,
        "bits": one.bits,
        "minutes": one.minutes,
        "kind": one.kind,
        "title": one.title,
        "how": one.how,
        "needs": one.needs,
        "reliability": one.reliability,
        "yes": one.yes,
        "speaks_for": one.speaks_for,
        "speaks_against": one.speaks_against,
    }


def basis_json(basis: Iterable[Basis]) -> list[Json]:
    """The sources behind a claim; an empty list is common practice without a source."""
    return [{"source": one.source, "at": one.at, "says": one.says, "bears": one.bears} for one in basis]


def sources_json(ids: Iterable[str], knowledge: Knowledge) -> list[Json]:
    """The sources of these ids in full."""
    return [
        {
            "id": source.id,
            "title": source.title,
            "authors": source.authors,
            "year": source.year,
            "in": source.published,
            "kind": source.kind,
            "read": source.read,
            "seen_part": source.seen_part,
            "url": source.url,
            "doi": source.doi,
        }
        for name in dict.fromkeys(ids)
        if (source := knowledge.sources.get(name)) is not None
    ]


def cited_in(body: object) -> list[str]:
    """The ids of all sources that `basis_json` has put anywhere into an object, in order, perhaps several times."""
    if isinstance(body, dict):
        own = [body["source"]] if isinstance(body.get("source"), str) else []
        return [*own, *(name for below in body.values() for name in cited_in(below))]
    return [name for below in body for name in cited_in(below)] if isinstance(body, list) else []
