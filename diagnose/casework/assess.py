"""From a case to its outcome: the one call that every command and every report goes through."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from diagnose.corpus.records import ALL_NEEDS, Cause, Knowledge, Sign
from diagnose.inference.evidence import Observed
from diagnose.inference.posterior import Posterior, posterior
from diagnose.inference.weighing import Weighing, weigh

from .asking import open_questions, worth_asking
from .case import Case
from .cautioning import cautions_for
from .chains import chains_to
from .diagnosis import Diagnosis, Fit, NextQuestion, Ranked, Reason, Seen, SeenByNumbers
from .measuring import Measured, Measurements
from .model import Model, model_of
from .planning import plan_for
from .robustness import robustness_of

CONFLICT_WORTH_SAYING = 1.0
"""Natural-log units; below it a conflict is what a few ordinary answers can give by chance (our own judgement)."""

UNLISTED_WORTH_SAYING = 0.5
"""From here on it is more likely than not that some defect came from something that is not in the knowledge."""

MUCH = 0.2
"""Bits from which a question that this person cannot answer is worth naming to somebody who can."""

MOST_ELSEWHERE = 2

FAINT = 0.1
"""Decibans below which an answer's weight for a cause is not worth a line."""


def assess(
    knowledge: Knowledge,
    case: Case,
    *,
    full: bool = False,
    hours: float | None = None,
    measured: Measurements | None = None,
) -> Diagnosis:
    """The outcome of a case.

    Without `full` it stops at what a person waits for between two questions. `hours` is the effort that the plan may
    take; `measured` what a batch record says, which a person's own answer on the same id overrides. Raises KeyError if the
    product is unknown, TooEntangledError if the answers cannot be weighed exactly.
    """
    model = model_of(knowledge, case.product)
    numbers = measured or Measurements()
    counted = _counted(model, case, numbers)
    evidence = model.evidence(case.answers) | {name: one.likelihood for name, one in counted.items()}
    observed = Observed(model.network, evidence)
    defects = model.defects_seen(case.answers) or _signs_by_numbers(model, counted)
    found = posterior(observed, defects)
    weighing = weigh(observed) if observed.evidence else None
    ranking = _ranking(model, case, found, weighing, defects, full, numbers)
    cautions, rule_out = cautions_for(model, case, found.responsible, numbers)
    danger = bool(rule_out) or any(caution.weight == "danger" for caution in cautions)
    questions = open_questions(model, case, observed, found, defects, danger=danger)
    return Diagnosis(
        product=case.product,
        product_title=knowledge.products[case.product].title,
        title=case.title,
        have=case.have,
        seen=_seen(model, case),
        notes=case.notes,
        numbers=tuple(case.numbers.items()),
        cautions=cautions,
        rule_out=rule_out,
        ranking=ranking,
        unlisted=found.unlisted,
        fit=_fit(found, weighing),
        next=questions,
        worth_asking=worth_asking(questions),
        elsewhere=_elsewhere(model, case, observed, found, defects, danger) if full else (),
        plan=plan_for(model, case, observed, found, defects, hours, danger=danger) if full and defects else None,
        robustness=robustness_of(model, case, observed, defects, ranking) if full and defects else None,
        knowledge=knowledge.version,
        measured=_measured(model, case, numbers),
        off=numbers.off,
    )


def _elsewhere(
    model: Model, case: Case, observed: Observed, found: Posterior, defects: tuple[str, ...], danger: bool
) -> tuple[NextQuestion, ...]:
    """What others could look at that would tell much."""
    out_of_reach = tuple(needs for needs in ALL_NEEDS if needs not in case.have)
    if not out_of_reach:
        return ()
    theirs = open_questions(model, replace(case, have=out_of_reach), observed, found, defects, danger=danger)
    return tuple(one for one in theirs if one.bits >= MUCH)[:MOST_ELSEWHERE]


def known(model: Model, name: str) -> Cause | Sign:
    """The cause or sign of an id. Raises KeyError if the product has neither."""
    return model.causes[name] if name in model.causes else model.signs[name]


def _counted(model: Model, case: Case, numbers: Measurements) -> dict[str, Measured]:
    """The computed values that count as evidence: those about the product on which nobody has given an answer."""
    return {
        name: one
        for name, one in numbers.evidence.items()
        if (name in model.causes or name in model.signs) and _own(case, name) is None
    }


def _own(case: Case, name: str) -> str | None:
    """The person's own yes or no about an id; None where there is none."""
    answer = case.answers.get(name)
    return answer.verdict if answer is not None and answer.verdict != "cant-tell" else None


def _signs_by_numbers(model: Model, counted: Mapping[str, Measured]) -> tuple[str, ...]:
    """What counts as seen where nobody has seen anything: the signs that the record shows."""
    return tuple(name for name, one in counted.items() if name in model.signs and one.verdict == "yes")


def _measured(model: Model, case: Case, numbers: Measurements) -> tuple[SeenByNumbers, ...]:
    found = []
    for name, one in numbers.evidence.items():
        if name in model.signs:
            found.append(SeenByNumbers(one, model.signs[name].title, model.signs[name].region, _own(case, name)))
        elif name in model.causes:
            found.append(SeenByNumbers(one, model.causes[name].title, model.causes[name].stage, _own(case, name)))
    return tuple(found)


def _seen(model: Model, case: Case) -> tuple[Seen, ...]:
    found = []
    for answer in case.answers.values():
        if answer.about in model.signs:
            sign = model.signs[answer.about]
            found.append(Seen(answer, sign.title, sign.kind, sign.region))
        elif answer.about in model.causes:
            cause = model.causes[answer.about]
            found.append(Seen(answer, cause.title, "cause", cause.stage))
    return tuple(found)


def _ranking(
    model: Model,
    case: Case,
    found: Posterior,
    weighing: Weighing | None,
    defects: tuple[str, ...],
    full: bool,
    numbers: Measurements,
) -> tuple[Ranked, ...]:
    stages = {stage.stage: stage.title for stage in model.knowledge.stages}
    order = {name: at for at, name in enumerate(model.causes)}
    computed = {name for name, one in _counted(model, case, numbers).items() if one.verdict == "yes"}
    told = {*case.answers, *computed}
    shown = [name for name in order if found.responsible[name] > 0.0 or name in told]
    # What is equal but for the last digits stands in the order of the chain, on every machine.
    shown.sort(key=lambda name: (-round(found.responsible[name], 12), -round(found.present[name], 12), order[name]))
    ranked = []
    for name in shown:
        cause = model.causes[name]
        ranked.append(
            Ranked(
                id=name,
                title=cause.title,
                what=cause.what,
                stage=cause.stage,
                stage_title=stages[cause.stage],
                present=found.present[name],
                responsible=found.responsible[name],
                maker_could_know=cause.maker_could_know,
                reasons=_reasons(model, case, weighing, name, numbers),
                chains=chains_to(model, name, defects) if full else (),
            )
        )
    return tuple(ranked)


def _reasons(
    model: Model, case: Case, weighing: Weighing | None, cause: str, numbers: Measurements
) -> tuple[Reason, ...]:
    if weighing is None:
        return ()
    reasons = [
        Reason(
            about,
            known(model, about).title,
            _own(case, about) or numbers.evidence[about].verdict,
            by_root[cause],
            numbers.evidence.get(about),
        )
        for about, by_root in weighing.decibans.items()
        if abs(by_root.get(cause, 0.0)) >= FAINT
    ]
    return tuple(sorted(reasons, key=lambda reason: -abs(reason.decibans)))


def _fit(found: Posterior, weighing: Weighing | None) -> Fit:
    if weighing is None:
        return Fit(True, 0.0, found.unlisted, None, ())
    telling = weighing.conflict > CONFLICT_WORTH_SAYING
    explained_by = weighing.explained_by if telling else None
    return Fit(
        fits=not (telling and explained_by is None) and found.unlisted < UNLISTED_WORTH_SAYING,
        conflict=weighing.conflict,
        unlisted=found.unlisted,
        explained_by=explained_by,
        at_odds=_at_odds(weighing.against_rest) if telling else (),
    )


def _at_odds(against_rest: Mapping[str, float]) -> tuple[str, ...]:
    worst = sorted((name for name, value in against_rest.items() if value > 0.0), key=lambda name: -against_rest[name])
    return tuple(worst[:3])
