"""`diagnose trace`: the chains of links from a cause to a sign."""

from __future__ import annotations

import click

from diagnose.commands.ids import completer, current, unknown
from diagnose.commands.options import EXIT_CODES, Settings, with_settings
from diagnose.errors import UsageError


@click.command("trace", epilog=EXIT_CODES)
@click.argument("cause", shell_complete=completer(("causes",)))
@click.argument("sign", shell_complete=completer(("signs",)))
@with_settings
def command(settings: Settings, cause: str, sign: str) -> None:
    """Print every chain of links from CAUSE to SIGN, the strongest first.

    Each link is shown with its strength, its basis, and where sources disagree.
    """
    from diagnose.commands.output import check_target, deliver
    from diagnose.corpus.graph import chains
    from diagnose.reports import render_trail

    check_target(settings)
    knowledge = settings.knowledge()
    start, end = current(knowledge, cause), current(knowledge, sign)
    if start in knowledge.signs and end in knowledge.causes:
        raise UsageError(f"the cause comes first: diagnose trace {end} {start}")
    if start not in knowledge.causes:
        raise unknown(knowledge, start, "cause", knowledge.causes)
    if end not in knowledge.signs:
        raise unknown(knowledge, end, "sign", knowledge.signs)
    text = render_trail(
        knowledge.causes[start],
        knowledge.signs[end],
        chains(knowledge, start, end),
        knowledge,
        settings.format,
        width=settings.width,
        colour=settings.colour,
    )
    deliver(text, settings)
