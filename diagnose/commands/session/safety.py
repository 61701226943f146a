"""When to hold back: which warnings what was seen calls for, and which questions may not be asked while one stands."""

from __future__ import annotations

import re
from collections.abc import Iterable

from diagnose.casework.case import Case
from diagnose.corpus.records import Cause, Caution, Check, Knowledge, Sign

HOLD = "Hold the lot, do not taste, call the inspector, follow your HACCP plan."
"""Said below every warning of danger, whatever its own words are."""

MOUTH_REGIONS = ("aroma-flavor", "texture")

_WARNS_OFF = re.compile(
    r"\b(?:do not|don't|never|nobody|no one|nothing|without|not to|rather than|instead of)\b[^.;:]*", re.IGNORECASE
)
_MOUTH = re.compile(r"\b(?:tast\w*|chew\w*|eat\w*|mouth\w*|tongue\w*|swallow\w*|bit(?:e|es|ing) into)\b", re.IGNORECASE)


def asks_to_taste(check: Check) -> bool:
    """Whether following the check puts meat into a mouth; a warning against tasting does not count."""
    return _MOUTH.search(_WARNS_OFF.sub(" ", f"{check.ask} {check.how}")) is not None


def cautions_of(knowledge: Knowledge, entries: Iterable[Sign | Cause]) -> list[Caution]:
    """The cautions that these entries call for, each once, danger first."""
    ids = dict.fromkeys(name for entry in entries for name in entry.caution)
    found = [knowledge.cautions[name] for name in ids if name in knowledge.cautions]
    return sorted(found, key=lambda caution: caution.weight != "danger")


def danger_seen(knowledge: Knowledge, case: Case) -> bool:
    """Whether something answered yes calls for a warning of danger."""
    entries = [
        entry
        for answer in case.answers.values()
        if answer.verdict == "yes"
        and (entry := knowledge.signs.get(answer.about) or knowledge.causes.get(answer.about)) is not None
    ]
    return any(caution.weight == "danger" for caution in cautions_of(knowledge, entries))
