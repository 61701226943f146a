"""The comments of a class by themselves, as a document and as JSON."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from diagnose.judging.comment import Comment

from .document import Block, Document, Heading, Paragraph
from .machine import Json
from .sheets import DRAFT, HOLD


def comments_document(comments: Sequence[Comment], final: Mapping[int, str]) -> Document:
    """Each comment under the number of its entry: the final words where there are any, else the draft, marked as one."""
    blocks: list[Block] = []
    for one in comments:
        blocks.append(Heading(2, f"Entry {one.entry}"))
        if one.plan.kind == "suspect":
            blocks.append(Paragraph(HOLD, "On its sheet above all else:"))
        blocks.append(Paragraph(final.get(one.entry, one.text)))
        if one.entry not in final:
            blocks.append(Paragraph(DRAFT, tone="quiet"))
    return Document(blocks, (), ())


def comments_json(comments: Sequence[Comment], final: Mapping[int, str]) -> Json:
    """The same for programs, with the faults, causes and steps that each comment speaks of."""
    return {"comments": [_comment(one, final.get(one.entry)) for one in comments]}


def _comment(one: Comment, final: str | None) -> Json:
    plan = one.plan
    text = one.text if final is None else final
    return {
        "entry": one.entry,
        "comment": text,
        "final": final is not None,
        "words": len(text.split()),
        "kind": plan.kind,
        "hold": HOLD if plan.kind == "suspect" else "",
        "good": [criterion.id for criterion in plan.good],
        "faults": [
            {
                "fault": told.found.fault,
                "how_much": told.found.how_much,
                "places": told.found.places,
                "judges": told.found.judges,
                "looked": told.found.looked,
                "lost": told.found.lost,
            }
            for told in plan.faults
        ],
        "causes": [{"id": each.cause.id, "chance": each.chance} for each in (*plan.named, *plan.begin)],
        "cause_named": bool(plan.named),
        "steps": [step.id for step in one.steps],
    }
