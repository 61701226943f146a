"""What the knowledge holds, for programs."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence

from diagnose.casework.telling_apart import NotToldApart, Pair
from diagnose.corpus.coverage import Coverage, Place

from .machine import Json


def coverage_json(found: Coverage, pairs: NotToldApart) -> Json:
    """The counts of every place and in all, and the pairs that cannot be told apart. Shares are left to the reader."""
    return {
        "knowledge": found.version,
        "stages": [_place(one) for one in found.stages],
        "families": [_place(one) for one in found.families],
        "products": [_place(one) for one in found.products],
        "totals": {
            "causes": found.causes,
            "causes_with_rates": found.rated,
            "mechanisms": found.mechanisms,
            "defects": found.defects,
            "details": found.details,
            "links": dataclasses.asdict(found.links),
            "corrections": found.corrections,
            "sourced_corrections": found.sourced_corrections,
            "sources": [
                {"kind": kind, "read": read, "count": count} for (kind, read), count in sorted(found.sources.items())
            ],
            "cases": dataclasses.asdict(found.cases),
            "without_case": found.without_case,
            "orphans": found.orphans,
            "unreached": found.unreached,
        },
        "not_told_apart": {
            product: {"all_records": _pairs(everybody), "judge": _pairs(pairs.judge[product])}
            for product, everybody in pairs.everybody.items()
        },
    }


def _place(place: Place) -> Json:
    return {**dataclasses.asdict(place), "standing": place.standing}


def _pairs(pairs: Sequence[Pair]) -> list[Json]:
    return [{"causes": (one.first, one.second), "families": one.families} for one in pairs]
