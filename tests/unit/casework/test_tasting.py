"""Nobody is sent to taste where there is danger, not by an unattended run either."""

from __future__ import annotations

import pytest

from diagnose.casework.assess import assess
from diagnose.casework.case import Case
from diagnose.casework.diagnosis import Diagnosis
from diagnose.casework.events import Answer
from diagnose.corpus.load import load
from diagnose.corpus.records import Cause, Knowledge, Sign


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    """The knowledge that comes with the program."""
    return load()


def tasted(knowledge: Knowledge, diagnosis: Diagnosis) -> list[str]:
    """The open questions, and the checks of the plan, that have somebody taste."""
    plan = diagnosis.plan.confirm_first if diagnosis.plan else ()
    entries: list[Sign | Cause] = [
        knowledge.signs.get(question.about) or knowledge.causes[question.about] for question in (*diagnosis.next, *plan)
    ]
    return [entry.id for entry in entries if entry.check.by_tasting]


def seen(knowledge: Knowledge, *signs: str) -> Diagnosis:
    """What comes of these signs, seen by somebody who can look at everything."""
    answers = {sign: Answer(sign, "yes") for sign in signs}
    return assess(knowledge, Case("bone-in-ham", answers=answers), full=True)


def test_tasting_helps_where_there_is_no_danger(knowledge: Knowledge) -> None:
    """A sound ham that is too salty may be tasted on."""
    assert tasted(knowledge, seen(knowledge, "over-salty"))


def test_no_tasting_once_danger_is_seen(knowledge: Knowledge) -> None:
    """With a sour smell beside it, no question and no check of the plan has anybody taste."""
    diagnosis = seen(knowledge, "over-salty", "sour-or-putrid-smell")
    assert diagnosis.next
    assert not tasted(knowledge, diagnosis)
