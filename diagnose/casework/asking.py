"""Which questions are still open for this person, and which tells the most a minute."""

from __future__ import annotations

from collections.abc import Mapping

from diagnose.corpus.records import Cause, Sign
from diagnose.inference.evidence import Observed
from diagnose.inference.posterior import Posterior
from diagnose.inference.questions import Gain, Question, gains

from .case import Case
from .diagnosis import NextQuestion
from .model import Model

IN_PLAY = 0.01
"""A cause this likely to be responsible, or likelier, is worth a question."""

MOST_IN_PLAY = 25

LEAST_BITS = 0.02
LEAST_BITS_A_MINUTE = 0.004
"""Below these the best open question is no longer worth its time (our own judgement, from playing whole cases)."""


def open_questions(
    model: Model, case: Case, observed: Observed, found: Posterior, defects: tuple[str, ...], *, danger: bool
) -> tuple[NextQuestion, ...]:
    """Every question that is open, relevant and answerable by this person, best bits per minute first.

    Left out: what was answered or skipped, what needs something the person does not have, what has nothing to do with a
    cause in play and, where there is danger, whatever has somebody taste.
    """
    ranked = sorted(found.responsible, key=lambda name: -found.responsible[name])
    in_play = [name for name in ranked[:MOST_IN_PLAY] if found.responsible[name] >= IN_PLAY]
    if not in_play:
        return ()
    able = model.network.ancestors(defects)
    candidates: list[Cause | Sign] = [
        *(cause for name, cause in model.causes.items() if name in able),
        *(sign for name, sign in model.signs.items() if not model.network.ancestors([name]).isdisjoint(in_play)),
    ]
    answerable = [
        one
        for one in candidates
        if one.check.needs in case.have
        and one.id not in case.answers
        and one.id not in observed.evidence  # a batch record has told it
        and one.id not in case.skipped
        and _makes_sense(one, case)
        if not (danger and one.check.by_tasting)
    ]
    reliability = model.knowledge.scales["reliability"]
    asked = [Question(one.id, reliability.value(one.check.reliability)) for one in answerable]
    worth = gains(observed, asked, in_play)
    questions = [
        _question(model, one, gain, found.responsible)
        for one, gain in zip(answerable, worth, strict=True)
        if gain.bits > 0
    ]
    return tuple(sorted(questions, key=lambda one: -one.bits / max(one.minutes, 1)))


def _makes_sense(one: Cause | Sign, case: Case) -> bool:
    """Whether what the question takes for granted has been seen: nobody asks which way streaks run where none are."""
    if not isinstance(one, Sign) or not one.only_if:
        return True
    return any(name in case.answers and case.answers[name].verdict == "yes" for name in one.only_if)


def worth_asking(questions: tuple[NextQuestion, ...]) -> bool:
    """Whether the best question still earns its time."""
    if not questions:
        return False
    best = questions[0]
    return best.bits >= LEAST_BITS and best.bits / max(best.minutes, 1) >= LEAST_BITS_A_MINUTE


def question_on(
    one: Cause | Sign, *, bits: float, yes: float, speaks_for: str | None, speaks_against: str | None
) -> NextQuestion:
    """The check of a sign or cause as a question; the last four as in `NextQuestion`."""
    check = one.check
    return NextQuestion(
        about=one.id,
        kind=one.kind if isinstance(one, Sign) else "cause",
        title=one.title,
        ask=check.ask,
        how=check.how,
        what=one.what,
        needs=check.needs,
        minutes=check.minutes,
        reliability=check.reliability,
        graded=isinstance(one, Sign) and one.graded,
        bits=bits,
        yes=yes,
        speaks_for=speaks_for,
        speaks_against=speaks_against,
    )


def _question(model: Model, one: Cause | Sign, gain: Gain, responsible: Mapping[str, float]) -> NextQuestion:
    up, down = _separated(gain.moves, responsible)
    return question_on(
        one,
        bits=gain.bits,
        yes=gain.yes,
        speaks_for=model.causes[up].title if up else None,
        speaks_against=model.causes[down].title if down else None,
    )


def _separated(moves: Mapping[str, float], responsible: Mapping[str, float]) -> tuple[str | None, str | None]:
    """The cause a yes raises most, and the one it lowers most or else the strongest one that it hardly moves."""
    if not moves:
        return None, None
    up = max(moves, key=moves.__getitem__)
    down = min(moves, key=moves.__getitem__)
    if moves[down] > -0.01:
        still = [name for name in moves if name != up and moves[name] < 0.25 * moves[up]]
        down = max(still, key=responsible.__getitem__, default=up)
    return (up if moves[up] > 0 else None), (down if down != up else None)
