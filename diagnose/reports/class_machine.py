"""The results of a class for programs: one JSON object, and a table as CSV."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import asdict

from diagnose.corpus.records import Knowledge
from diagnose.judging.clinic import CommonFault
from diagnose.judging.panel import Panel
from diagnose.judging.sheet import JudgedClass
from diagnose.judging.standing import Standing

from .machine import Json

_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n")


def results_json(
    judged: JudgedClass,
    standings: Sequence[Standing],
    panel: Panel,
    faults: Sequence[CommonFault],
    knowledge: Knowledge,
) -> Json:
    """The object of a class. Points are floats; a place is null for an entry that is not placed."""
    return {
        "class": judged.id,
        "title": judged.title,
        "date": judged.date,
        "scorecard": judged.card.scorecard,
        "total": judged.card.total,
        "trimmed": judged.trimmed,
        "judges": judged.judges,
        "results": [
            {
                "entry": one.entry,
                "status": one.status,
                "place": one.place,
                "total": None if one.total is None else float(one.total),
                "by_criterion": {name: float(value) for name, value in one.by_criterion.items()},
                "by_judge": one.by_judge,
                "why": one.why,
            }
            for one in standings
        ],
        "panel": {
            "entries": panel.entries,
            "judges": [asdict(one) for one in panel.judges],
            "kendall_w": asdict(panel.concordance) if panel.concordance else None,
            "icc": asdict(panel.agreement) if panel.agreement else None,
            "by_criterion": {name: one.w if one else None for name, one in panel.by_criterion.items()},
            "outlying": [asdict(one) for one in panel.outlying],
            "drift": [{**asdict(one), "notable": one.notable} for one in panel.drift],
        },
        "common_faults": [_common(one) for one in faults],
        "knowledge": knowledge.version,
    }


def clinic_json(judged: JudgedClass, faults: Sequence[CommonFault], knowledge: Knowledge) -> Json:
    """The object of the clinic."""
    common = [{key: value for key, value in _common(one).items() if key != "entries"} for one in faults]
    return {"class": judged.id, "title": judged.title, "common_faults": common, "knowledge": knowledge.version}


def _common(one: CommonFault) -> Json:
    return {
        "fault": one.fault,
        "title": one.title,
        "criterion": one.criterion,
        "entries": one.entries,
        "count": len(one.entries),
        "share": one.share,
        "marked": one.marked,
        "lost": one.lost,
        "causes": [{"id": cause.id, "title": cause.title, "chance": chance} for cause, chance in one.causes],
        "corrections": [each.id for each in one.corrections],
    }


def results_csv(judged: JudgedClass, standings: Sequence[Standing]) -> str:
    """A row for each entry: place, total, criteria and judges. Cells that a spreadsheet would run are made text."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    names = [one.id for one in judged.card.criteria]
    header = ["place", "entry", "status", "total", *names, *(f"judge {judge}" for judge in judged.judges), "remark"]
    writer.writerow(map(guarded, header))
    for one in standings:
        total = "" if one.total is None else f"{float(one.total):.2f}"
        criteria = [f"{float(one.by_criterion[name]):.2f}" if name in one.by_criterion else "" for name in names]
        judges = [str(one.by_judge.get(judge, "")) for judge in judged.judges]
        place = "" if one.place is None else str(one.place)
        writer.writerow(map(guarded, [place, str(one.entry), one.status, total, *criteria, *judges, one.why]))
    return out.getvalue()


def guarded(cell: str) -> str:
    """A cell that no spreadsheet takes for a formula: one that begins like it gets an apostrophe in front."""
    return f"'{cell}" if cell.startswith(_FORMULA) else cell
