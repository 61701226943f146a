"""Which cautions apply to a case: they come before any diagnosis."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from .case import Case
from .diagnosis import Warned
from .measuring import Measurements
from .model import Model

SUSPECTED = 0.10
"""A dangerous cause this likely to be responsible calls for its caution, though nobody has seen it."""


def cautions_for(
    model: Model, case: Case, responsible: Mapping[str, float], measured: Measurements
) -> tuple[Warned, ...]:
    """The cautions of a batch record, of every sign and cause answered or computed yes, and of every cause suspected.

    Danger first. An unsure yes counts as a yes: a warning too many costs little. What a record calls for is shown
    whatever else was answered.
    """
    called: dict[str, list[str]] = {}
    for title, ids in _callers(model, case, responsible, measured):
        for caution in ids:
            because = called.setdefault(caution, [])
            if title not in because:
                because.append(title)
    cautions = [model.knowledge.cautions[name] for name in called]
    cautions.sort(key=lambda one: (one.weight != "danger", list(called).index(one.id)))
    return tuple(Warned(c.id, c.title, c.weight, c.say, tuple(called[c.id]), c.basis) for c in cautions)


def _callers(
    model: Model, case: Case, responsible: Mapping[str, float], measured: Measurements
) -> Iterable[tuple[str, tuple[str, ...]]]:
    for record in measured.cautions:
        if record.id in model.knowledge.cautions:
            yield record.because, (record.id,)
    for value in measured.evidence.values():
        if value.verdict == "yes":
            about = model.signs.get(value.about) or model.causes.get(value.about)
            if about is not None:
                yield about.title, about.caution
    for answer in case.answers.values():
        if answer.verdict == "yes":
            one = model.signs.get(answer.about) or model.causes.get(answer.about)
            if one is not None:
                yield one.title, one.caution
    for name in sorted(responsible, key=lambda name: -responsible[name]):
        if responsible[name] >= SUSPECTED:
            yield model.causes[name].title, model.causes[name].caution
