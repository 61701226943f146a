"""Which cautions apply to a case: they come before any diagnosis.

What was seen, computed or found calls for its caution, and so does a dangerous cause that is likely. One that is merely
possible is named as something to rule out first: a page of alarms for what nobody has seen would hide the one that counts.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from .case import Case
from .diagnosis import Suspicion, Warned
from .measuring import Measurements
from .model import Model

LIKELY = 1 / 3
"""A dangerous cause this likely to be responsible calls for its caution, though nobody has found it."""

POSSIBLE = 0.10
"""One this likely is to be ruled out first."""


def cautions_for(
    model: Model, case: Case, responsible: Mapping[str, float], measured: Measurements
) -> tuple[tuple[Warned, ...], tuple[Suspicion, ...]]:
    """The cautions that apply, danger first, and what to rule out first, the likeliest first.

    An unsure yes counts as a yes: a warning too many costs little there. What a record calls for is shown whatever else
    was answered.
    """
    called: dict[str, list[str]] = {}
    for title, ids in _callers(model, case, responsible, measured):
        for caution in ids:
            because = called.setdefault(caution, [])
            if title not in because:
                because.append(title)
    cautions = [model.knowledge.cautions[name] for name in called]
    cautions.sort(key=lambda one: one.weight != "danger")
    warned = tuple(Warned(c.id, c.title, c.weight, c.say, tuple(called[c.id]), c.basis) for c in cautions)
    return warned, tuple(_suspicions(model, responsible, called))


def _suspicions(model: Model, responsible: Mapping[str, float], called: Mapping[str, object]) -> Iterable[Suspicion]:
    for name in sorted(responsible, key=lambda name: -responsible[name]):
        if not POSSIBLE <= responsible[name] < LIKELY:
            continue
        cause = model.causes[name]
        for caution in cause.caution:
            if caution not in called and model.knowledge.cautions[caution].weight == "danger":
                title = model.knowledge.cautions[caution].title
                yield Suspicion(caution, title, cause.title, responsible[name], cause.check.ask, cause.check.how)


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
        own = case.answers.get(name)
        if responsible[name] >= LIKELY and (own is None or own.verdict != "yes"):
            cause = model.causes[name]
            yield f"{cause.title} (suspected, {100 * responsible[name]:.0f} %)", cause.caution
