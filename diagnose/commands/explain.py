"""`diagnose explain`: everything about one entry of the knowledge."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from diagnose.commands.ids import LONGEST, completer, current, unknown
from diagnose.commands.options import EXIT_CODES, Settings, with_settings

if TYPE_CHECKING:
    from diagnose.corpus.records import Knowledge


_FIELDS = ("causes", "signs", "mechanisms", "corrections", "stages", "families", "cautions", "products", "sources")


@click.command("explain", epilog=EXIT_CODES)
@click.argument("id", nargs=-1, required=True, shell_complete=completer(_FIELDS))
@click.option(
    "--product",
    shell_complete=completer(("products",)),
    help="Of what is around the entry, only what belongs to this product. Left out: to the products of the entry.",
)
@with_settings
def command(settings: Settings, id: tuple[str, ...], product: str | None) -> None:
    """Print everything about one entry of the knowledge.

    A cause, mechanism or sign is told with what leads to it and where it leads, the strength and the basis of each link, how
    to find out whether it is there, and what to do about it. A stage, family, caution, product or source is told with what
    belongs to it. Words that are no ID are searched for, as with: diagnose find WORDS
    """
    from diagnose.commands.output import check_target, deliver
    from diagnose.reports import render_entry
    from diagnose.reports.entry import entry_of

    check_target(settings)
    knowledge = settings.knowledge()
    name = current(knowledge, " ".join(id))
    if product is not None:
        product = current(knowledge, product)
        if product not in knowledge.products:
            raise unknown(knowledge, product, "product", knowledge.products)
    entry = entry_of(knowledge, name)
    if entry is None:
        _show_what_was_meant(settings, knowledge, name, product)
        return
    text = render_entry(
        entry, knowledge, settings.format, product=product, width=settings.width, colour=settings.colour
    )
    deliver(text, settings)


def _show_what_was_meant(settings: Settings, knowledge: Knowledge, name: str, product: str | None) -> None:
    """Print what a search for the words finds and leave with the code of a wrong call: what was asked for is not there.

    A program that reads JSON, and a file that is to be saved, get no list where an entry was asked for. Raises UsageError.
    """
    from diagnose.commands.output import deliver
    from diagnose.corpus.find import EVERYTHING, find
    from diagnose.reports import render_found

    stages = {one.stage: one for one in knowledge.stages}
    known = {**stages, **{one: None for field in _FIELDS if field != "stages" for one in getattr(knowledge, field)}}
    words = name.replace("-", " ")[:LONGEST]
    hits = find(knowledge, words, 10, kinds=EVERYTHING, product=product)
    if hits and settings.format != "json" and settings.save is None:
        text = render_found(words, hits, knowledge, settings.format, width=settings.width, colour=settings.colour)
        deliver(text, settings)
    raise unknown(knowledge, name, "entry", known)
