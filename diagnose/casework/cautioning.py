"""Which cautions apply to a case: they come before any diagnosis."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from .case import Case
from .diagnosis import Warned
from .model import Model

SUSPECTED = 0.10
"""A dangerous cause this likely to be responsible calls for its caution, though nobody has seen it."""


def cautions_for(model: Model, case: Case, responsible: Mapping[str, float]) -> tuple[Warned, ...]:
    """The cautions of every sign and cause answered yes, and of every cause suspected; danger first.

    An unsure yes counts as a yes: a warning too many costs little.
    """
    called: dict[str, list[str]] = {}
    for title, ids in _callers(model, case, responsible):
        for caution in ids:
            because = called.setdefault(caution, [])
            if title not in because:
                because.append(title)
    cautions = [model.knowledge.cautions[name] for name in called]
    cautions.sort(key=lambda one: (one.weight != "danger", list(called).index(one.id)))
    return tuple(Warned(c.id, c.title, c.weight, c.say, tuple(called[c.id]), c.basis) for c in cautions)


def _callers(model: Model, case: Case, responsible: Mapping[str, float]) -> Iterable[tuple[str, tuple[str, ...]]]:
    for answer in case.answers.values():
        if answer.verdict == "yes":
            one = model.signs.get(answer.about) or model.causes.get(answer.about)
            if one is not None:
                yield one.title, one.caution
    for name in sorted(responsible, key=lambda name: -responsible[name]):
        if responsible[name] >= SUSPECTED:
            yield model.causes[name].title, model.causes[name].caution
