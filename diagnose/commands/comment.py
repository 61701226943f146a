"""`diagnose comment`: the words that the maker of an entry gets, drafted from the sheets for a judge to edit."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from diagnose.commands.options import EXIT_CODES, Settings, with_settings
from diagnose.errors import UsageError

if TYPE_CHECKING:
    from diagnose.judging.comment import Comment
    from diagnose.judging.record import Record


@click.command("comment", epilog=EXIT_CODES)
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--entry", type=click.IntRange(min=1), help="Number of the entry; left out, all entries.")
@click.option("--edit", is_flag=True, help="Go through the drafts and make each final, as it is or in other words.")
@click.option(
    "--final", "text_file", type=click.Path(allow_dash=True), help="With --entry: make the words of this file final."
)
@with_settings
def command(settings: Settings, file: Path, entry: int | None, edit: bool, text_file: str | None) -> None:
    """Print the comment of one entry or of all, drafted from the sheets of the judges.

    A draft says what is good, the faults that cost most, their cause as surely as the piece alone allows, and what to try.
    It is a draft until a judge has read it; nothing is sent anywhere.
    """
    from diagnose.commands.judge import finished_class
    from diagnose.commands.output import check_target, deliver
    from diagnose.corpus.glossary import load_glossary
    from diagnose.judging.comment import comments_of
    from diagnose.judging.final import comments_record, final_comments

    check_target(settings)
    knowledge = settings.knowledge()
    judged = finished_class(settings, knowledge, file)
    if entry is not None and entry not in judged.entries:
        raise UsageError(f"there is no entry {entry} in this class")
    # All are drafted, since each avoids the wordings of those before it.
    drafts = comments_of(judged, knowledge, load_glossary(knowledge, settings.folders))
    chosen = [one for one in drafts if entry is None or one.entry == entry]
    record = comments_record(file)
    if text_file is not None:
        _keep(chosen, text_file, record, entry)
    if edit:
        from diagnose.commands.judge.editing import edit_comments

        edit_comments(settings, chosen, record)
        return
    deliver(_told(chosen, final_comments(record), settings), settings)


def _told(chosen: Sequence[Comment], final: Mapping[int, str], settings: Settings) -> str:
    if settings.format == "json":
        from diagnose.reports.machine import as_json

        return as_json({"comments": [_as_json(one, final.get(one.entry)) for one in chosen]})
    from diagnose.reports import laid_out
    from diagnose.reports.document import Block, Document, Heading, Paragraph
    from diagnose.reports.sheets import DRAFT

    blocks: list[Block] = []
    for one in chosen:
        blocks += [Heading(2, f"Entry {one.entry}"), Paragraph(final.get(one.entry, one.text))]
        if one.entry not in final:
            blocks.append(Paragraph(DRAFT, tone="quiet"))
    return laid_out(Document(blocks, (), ()), settings.format, width=settings.width, colour=settings.colour)


def _as_json(one: Comment, final: str | None) -> dict[str, object]:
    plan = one.plan
    text = one.text if final is None else final
    return {
        "entry": one.entry,
        "comment": text,
        "final": final is not None,
        "words": len(text.split()),
        "kind": plan.kind,
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


def _keep(chosen: Sequence[Comment], text_file: str, record: Record, entry: int | None) -> None:
    from diagnose.commands.output import talk
    from diagnose.judging.final import make_final
    from diagnose.text import clean

    if entry is None or not chosen:
        raise UsageError("--final goes with --entry, for an entry that has sheets")
    with click.open_file(text_file, encoding="utf-8", errors="replace") as stream:
        text = " ".join(clean(stream.read(20_000)).split())
    if not text:
        raise UsageError("there are no words to make final")
    make_final(record, entry, text)
    talk(f"Final: entry {entry}, {len(text.split())} words")
