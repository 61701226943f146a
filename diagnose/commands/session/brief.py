"""The outcome in short, for one screen: warnings, the first causes, the first steps, and the best check still open."""

from __future__ import annotations

from diagnose.casework.diagnosis import Diagnosis, PlanStep
from diagnose.reports.words import WHEN, WHO, likelihood_word, minutes, percent

from .safety import HOLD
from .show import UNLISTED, UNLISTED_WORTH_A_LINE, nothing_stands_out
from .sitting import Sitting
from .talk import ALARM, STRONG, Talk
from .warning import suspicion

MOST = 3


def in_short(sitting: Sitting, diagnosis: Diagnosis) -> None:
    """What matters most, before the whole report."""
    talk = sitting.talk
    talk.heading("In short" + (f": {diagnosis.title}" if diagnosis.title else ""))
    _cautions(talk, diagnosis)
    _causes(talk, diagnosis)
    _steps(talk, diagnosis)
    _best_check(sitting, diagnosis)
    talk.say()


def _cautions(talk: Talk, diagnosis: Diagnosis) -> None:
    for caution in diagnosis.cautions:
        if caution.weight == "danger":
            talk.say(f"DANGER: {caution.title}.", style=ALARM, lead="!!! ")
        else:
            talk.say(f"Take care: {caution.title}.", lead="!   ")
    if any(caution.weight == "danger" for caution in diagnosis.cautions):
        talk.say(HOLD, style=STRONG, lead="!!! ")
    for one in diagnosis.rule_out:
        talk.say(f"Rule out first: {suspicion(one)}", lead="!   ")


def _causes(talk: Talk, diagnosis: Diagnosis) -> None:
    first = [ranked for ranked in diagnosis.ranking[:MOST] if ranked.responsible > 0.0]
    if not first:
        talk.say("No cause stands out.")
        return
    flat = nothing_stands_out(diagnosis)
    talk.say("First causes, though none stands out:" if flat else "First causes:", style=STRONG)
    for number, ranked in enumerate(first, 1):
        chance = f"{percent(ranked.responsible)}, {likelihood_word(ranked.responsible)}"
        talk.say(f"{ranked.title} ({chance})", lead=f"{number:>3}  ")
    if diagnosis.unlisted >= min(UNLISTED_WORTH_A_LINE, first[-1].responsible):
        chance = f"{percent(diagnosis.unlisted)}, {likelihood_word(diagnosis.unlisted)}"
        talk.say(f"{UNLISTED} ({chance})", lead="  *  ")


def _steps(talk: Talk, diagnosis: Diagnosis) -> None:
    if diagnosis.plan is None:
        return
    lot, others = diagnosis.plan.this_lot, diagnosis.plan.steps
    first: tuple[PlanStep, ...] = (*lot[: max(1, MOST - len(others))], *others)[:MOST]
    if first:
        talk.say("First steps:", style=STRONG)
    for number, step in enumerate(first, 1):
        talk.say(f"{WHEN[step.when]}: {step.do}", lead=f"{number:>3}  ")


def _best_check(sitting: Sitting, diagnosis: Diagnosis) -> None:
    """The check to make next, unless the questions have just said that none is worth its time."""
    for question in diagnosis.next if diagnosis.worth_asking else ():
        entry = sitting.entry(question.about)
        if entry is not None and sitting.may_ask(entry):
            sitting.talk.say("Best next check:", style=STRONG)
            sitting.talk.say(f"{question.ask} ({minutes(question.minutes)}; {WHO[question.needs]})", indent=5)
            return
