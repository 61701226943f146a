"""`diagnose find`: search the knowledge with the words of the trade."""

from __future__ import annotations

import click

from diagnose.commands.ids import LONGEST
from diagnose.commands.options import EXIT_CODES, Settings, with_settings
from diagnose.errors import UsageError


@click.command("find", epilog=EXIT_CODES)
@click.argument("words", nargs=-1, required=True)
@click.option("--limit", type=click.IntRange(1, 500), default=15, show_default=True, help="Most entries to list.")
@with_settings
def command(settings: Settings, words: tuple[str, ...], limit: int) -> None:
    """Search causes, mechanisms, signs, corrections and cautions; slips of the typist and half words are forgiven."""
    from diagnose.commands.output import check_target, deliver
    from diagnose.corpus.find import find
    from diagnose.reports import render_found
    from diagnose.text import clean

    check_target(settings)
    asked = clean(" ".join(words), LONGEST).strip()
    if not asked:
        raise UsageError("there are no words to search for")
    knowledge = settings.knowledge()
    hits = find(knowledge, asked, limit, kinds=("cause", "mechanism", "sign", "correction", "caution"))
    deliver(
        render_found(asked, hits, knowledge, settings.format, width=settings.width, colour=settings.colour), settings
    )
