"""`diagnose explain`: everything about one entry of the knowledge."""

from __future__ import annotations

import click

from diagnose.commands.ids import completer, current, unknown
from diagnose.commands.options import EXIT_CODES, Settings, with_settings


@click.command("explain", epilog=EXIT_CODES)
@click.argument("id", shell_complete=completer(("causes", "signs", "mechanisms", "corrections")))
@with_settings
def command(settings: Settings, id: str) -> None:
    """Print everything about one cause, mechanism, sign or correction.

    That is what it is, what leads to it and where it leads with the strength and the basis of each link, how to find out
    whether it is there, what to do about it, and the sources. Find an ID with: diagnose find WORDS
    """
    from diagnose.commands.output import check_target, deliver
    from diagnose.reports import render_entry
    from diagnose.reports.entry import entry_of

    check_target(settings)
    knowledge = settings.knowledge()
    name = current(knowledge, id)
    entry = entry_of(knowledge, name)
    if entry is None:
        known = {**knowledge.causes, **knowledge.signs, **knowledge.mechanisms, **knowledge.corrections}
        raise unknown(knowledge, name, "cause, mechanism, sign or correction", known)
    deliver(render_entry(entry, knowledge, settings.format, width=settings.width, colour=settings.colour), settings)
