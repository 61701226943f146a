"""When to hold back: which warnings what was seen calls for, and where there might be tasting."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from diagnose.casework.case import Case
    from diagnose.corpus.records import Cause, Caution, Knowledge, Sign

HOLD = "Hold the lot, do not taste, call the inspector, follow your HACCP plan."
"""Said below every warning of danger, whatever its own words are."""

MOUTH_REGIONS = ("aroma-flavor", "texture")


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
