"""Nobody is sent to taste where there is danger, not by an unattended run either."""

from __future__ import annotations

from dataclasses import replace

import pytest
from oracles.small_knowledge import cause, check, knowledge, links, sign

from diagnose.casework.assess import assess
from diagnose.casework.case import Case
from diagnose.casework.diagnosis import Diagnosis
from diagnose.casework.events import Answer
from diagnose.corpus.records import Caution

TASTING = replace(check(), by_tasting=True)

SALTY = knowledge(
    version="salty",
    causes=(
        cause("strong-brine", "common", links(salty="often", sharp="often"), check=TASTING),
        cause("long-cure", "common", links(salty="often", dry="usually")),
        cause("gas", "rare", links(smell="usually", salty="seldom"), caution=("hold-the-lot",)),
    ),
    signs=(
        sign("salty", check=TASTING),
        sign("sharp", kind="detail", check=TASTING),
        sign("dry", kind="detail"),
        sign("smell", caution=("hold-the-lot",)),
    ),
    cautions=(Caution("hold-the-lot", "Hold", "danger", "Hold the lot.", ()),),
)


def tasted(found: Diagnosis) -> set[str]:
    """The open questions, and the checks of the plan, that have somebody taste."""
    assert found.plan is not None
    asked = {question.about for question in (*found.next, *found.plan.confirm_first)}
    return {one.id for one in (*SALTY.signs.values(), *SALTY.causes.values()) if one.check.by_tasting} & asked


def seen(*answers: Answer) -> Diagnosis:
    """What comes of these answers by somebody who can look at everything."""
    return assess(SALTY, Case("ham", answers={one.about: one for one in answers}), full=True)


def test_tasting_helps_where_there_is_no_danger() -> None:
    """A sound ham that is too salty may be tasted on, and the plan may have its brine checked so."""
    found = seen(Answer("salty", "yes"))
    assert found.cautions == ()
    assert tasted(found) == {"sharp", "strong-brine"}


@pytest.mark.parametrize("sure", ["sure", "from-memory"])
def test_no_tasting_once_danger_is_seen(sure: str) -> None:
    """With a smell of danger beside it, no question and no check of the plan has anybody taste."""
    found = seen(Answer("salty", "yes"), Answer("smell", "yes", sure))  # type: ignore[arg-type]
    assert found.next
    assert tasted(found) == set()
