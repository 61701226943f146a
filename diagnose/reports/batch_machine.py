"""The page of a batch record as one JSON object. Its keys are a promise; texts are not."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.casework.batch_outcome import BatchOutcome, RecordCaution, Result
from diagnose.casework.measuring import Measurements
from diagnose.corpus.records import Basis, Knowledge

from .citations import reference
from .machine import Json, basis_json, computed_json, sources_json
from .words import NO_SOURCE, SAFETY


def batch_json(outcome: BatchOutcome, measured: Measurements, knowledge: Knowledge) -> Json:
    """The object of a batch record."""
    cited = [
        one.source
        for result in outcome.results
        for one in (*(result.bound.basis if result.bound else ()), *result.basis)
    ]
    cited += [one.source for evidence in measured.evidence.values() for one in evidence.basis]
    cited += [one.source for caution in outcome.cautions for one in knowledge.cautions[caution.id].basis]
    return {
        "batch": outcome.batch,
        "title": outcome.title,
        "product": outcome.product,
        "notes": outcome.notes,
        "rules": outcome.rules,
        "cautions": cautions_json(outcome.cautions, knowledge),
        "results": [result_json(one, knowledge) for one in outcome.results],
        "evidence": [{"id": name, **computed_json(one)} for name, one in measured.evidence.items()],
        "charts": [
            {
                "title": plot.title,
                "lines": [
                    {"name": line.name, "limit": line.limit, "minutes": line.minutes, "celsius": line.celsius}
                    for line in plot.lines
                ],
            }
            for plot in outcome.plots
        ],
        "not_computed": outcome.missing,
        "sources": sources_json(cited, knowledge),
        "knowledge": knowledge.version,
        "safety": SAFETY,
    }


def cautions_json(cautions: Sequence[RecordCaution], knowledge: Knowledge) -> list[Json]:
    """The cautions, danger first, each with all that called for it."""
    called: dict[str, list[str]] = {}
    for one in cautions:
        called.setdefault(one.id, []).append(one.because)
    return [
        {
            "id": name,
            "title": knowledge.cautions[name].title,
            "weight": knowledge.cautions[name].weight,
            "say": knowledge.cautions[name].say,
            "because": because,
            "basis": basis_json(knowledge.cautions[name].basis),
        }
        for name, because in sorted(called.items(), key=lambda each: knowledge.cautions[each[0]].weight != "danger")
    ]


def result_json(one: Result, knowledge: Knowledge) -> Json:
    """One result; `limit` is the published number, or the option's name where the result is no number."""
    bound = one.bound
    basis = bound.basis if bound else one.basis
    words = isinstance(one.value, str) or (bound is not None and not bound.unit)
    return {
        "name": one.name,
        "value": one.value,
        "more_than": one.more_than,
        "unit": one.unit,
        "limit": (bound.title if words else bound.value) if bound else None,
        "verdict": one.verdict or None,
        "source": _source(basis, knowledge) if bound or basis else None,
        "title": one.title,
        "computed_from": one.how,
        "note": one.note,
        "limit_detail": {
            "id": bound.id,
            "title": bound.title,
            "side": "at-most" if bound.at_most else "at-least",
            "unit": bound.unit,
            "rules": bound.rules,
            "date": bound.date,
            "read": bound.read,
            "condition": bound.condition,
            "basis": basis_json(bound.basis),
        }
        if bound
        else None,
        "basis": basis_json(one.basis),
    }


def _source(basis: tuple[Basis, ...], knowledge: Knowledge) -> str:
    """The first source in words, with the place in it."""
    for one in basis:
        record = knowledge.sources.get(one.source)
        if record is not None:
            return f"{reference(record)} {one.at}".strip()
    return NO_SOURCE
