"""`diagnose find`: search the knowledge with the words of the trade."""

from __future__ import annotations

import click

from diagnose.commands.ids import LONGEST, completer, current, unknown
from diagnose.commands.options import EXIT_CODES, Settings, with_settings
from diagnose.errors import UsageError


@click.command("find", epilog=EXIT_CODES)
@click.argument("words", nargs=-1, required=True)
@click.option("--limit", type=click.IntRange(1, 500), default=15, show_default=True, help="Most entries to list.")
@click.option(
    "--product",
    shell_complete=completer(("products",)),
    help="Only what belongs to this product. Left out: what a word such as ham or sausage says, else every product.",
)
@with_settings
def command(settings: Settings, words: tuple[str, ...], limit: int, product: str | None) -> None:
    """Search all the knowledge; slips of the typist and half words are forgiven.

    That is signs, causes, mechanisms, corrections, cautions, stages, families and products. What is called just that comes
    first; of the rest, what holds the most of the words, a defect before a detail and a detail before a correction.
    """
    from diagnose.commands.output import check_target, deliver
    from diagnose.corpus.find import EVERYTHING, find
    from diagnose.reports import render_found
    from diagnose.text import clean

    check_target(settings)
    asked = clean(" ".join(words), LONGEST).strip()
    if not asked:
        raise UsageError("there are no words to search for")
    knowledge = settings.knowledge()
    if product is not None:
        product = current(knowledge, product)
        if product not in knowledge.products:
            raise unknown(knowledge, product, "product", knowledge.products)
    hits = find(knowledge, asked, limit, kinds=EVERYTHING, product=product)
    deliver(
        render_found(asked, hits, knowledge, settings.format, width=settings.width, colour=settings.colour), settings
    )
