"""`diagnose rank`: work out a case without asking anything."""

from __future__ import annotations

import click

from diagnose.commands.options import EXIT_CODES, Settings, with_settings


@click.command("rank", epilog=EXIT_CODES)
@click.argument("case", type=click.Path(path_type=str, allow_dash=True))
@click.option("--hours", type=click.FloatRange(min=0), help="Work that the plan may take, in hours of one person.")
@with_settings
def command(settings: Settings, case: str, hours: float | None) -> None:
    """Work out a case file and print the report.

    CASE is a YAML file with the product, what can be looked at, and the answers; - reads it from standard input.
    """
    from diagnose.commands.output import check_target, deliver

    check_target(settings)
    knowledge = settings.knowledge()

    from diagnose.casework.assess import assess
    from diagnose.commands.case_input import case_from
    from diagnose.reports import render

    found = assess(knowledge, case_from(knowledge, case), full=True, hours=hours)
    deliver(render(found, knowledge, settings.format, width=settings.width, colour=settings.colour), settings)
