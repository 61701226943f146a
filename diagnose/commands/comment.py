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


class EntryNumber(click.IntRange):
    """The number of an entry, as it stands on its tag."""

    name = "number"

    def convert(self, value: object, param: click.Parameter | None, ctx: click.Context | None) -> int:
        """The number; fails with a plain message for anything else."""
        text = str(value)
        if not (text.isascii() and text.isdecimal() and 0 < len(text) < 7 and int(text)):
            self.fail(f"an entry goes by its number, such as 3, and not by {text[:40]!r}", param, ctx)
        return int(text)


@click.command("comment", epilog=EXIT_CODES)
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--entry", type=EntryNumber(min=1), help="Number of the entry; left out, all entries.")
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

        edit_comments(settings, chosen, record, judged, knowledge)
        return
    deliver(_told(chosen, final_comments(record), settings), settings)


def _told(chosen: Sequence[Comment], final: Mapping[int, str], settings: Settings) -> str:
    from diagnose.reports import comments, laid_out, machine

    if settings.format == "json":
        return machine.as_json(comments.comments_json(chosen, final))
    document = comments.comments_document(chosen, final)
    return laid_out(document, settings.format, width=settings.width, colour=settings.colour)


def _keep(chosen: Sequence[Comment], text_file: str, record: Record, entry: int | None) -> None:
    from diagnose.commands.output import talk
    from diagnose.judging.final import LEAST_WORDS, LONGEST, SUSPECT_WORDS, final_words, make_final

    if entry is None or not chosen:
        raise UsageError("--final goes with --entry, for an entry that has sheets")
    with click.open_file(text_file, encoding="utf-8", errors="replace") as stream:
        text = final_words(stream.read(LONGEST))
    if len(text.split()) < LEAST_WORDS:
        raise UsageError(f"final words need at least {LEAST_WORDS} words; here is: {text[:60] or 'nothing'}")
    make_final(record, entry, text)
    talk(f"Final: entry {entry}, {len(text.split())} words")
    if chosen[0].plan.kind == "suspect":
        talk(SUSPECT_WORDS)
