"""All computations by their names, in the order of the chain."""

from __future__ import annotations

from collections.abc import Mapping

from diagnose.corpus.scalars import guess
from diagnose.errors import UsageError

from . import brining, chilling, curing, housing, weighing
from .work import Work

GROUPS: Mapping[str, tuple[Work, ...]] = {
    "Weights and names": weighing.WORKS,
    "Brine": brining.WORKS,
    "Cure and salt": curing.WORKS,
    "House and cook": housing.WORKS,
    "Chill and trichinae": chilling.WORKS,
}
ALL: Mapping[str, Work] = {work.name: work for works in GROUPS.values() for work in works}


def work_named(name: str) -> Work:
    """The computation of this name. Raises UsageError naming the nearest."""
    if name in ALL:
        return ALL[name]
    raise UsageError(f'no computation goes by the name "{name}"{guess(name, ALL)}; list them with: diagnose work')
