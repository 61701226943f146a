"""`diagnose rank`: work out a case without asking anything."""

from __future__ import annotations

import click

from diagnose.commands.options import EXIT_CODES, Settings, with_pictures


@click.command("rank", epilog=EXIT_CODES)
@click.argument("case", type=click.Path(path_type=str, allow_dash=True))
@click.option("--hours", type=click.FloatRange(min=0), help="Work that the plan may take, in hours of one person.")
@click.option(
    "--rules",
    type=click.Choice(["us", "eu"]),
    default="us",
    show_default=True,
    help="Whose published figures the numbers of the case are compared with.",
)
@with_pictures
def command(settings: Settings, case: str, hours: float | None, rules: str) -> None:
    """Work out a case file and print the report.

    CASE is a YAML file with the product, what can be looked at, and the answers; - reads it from standard input. Its
    numbers, or the batch record that they name, are computed and count as evidence.
    """
    from diagnose.commands.output import check_target, deliver

    check_target(settings)
    knowledge = settings.knowledge()

    from diagnose.casework.assess import assess
    from diagnose.commands.case_input import case_and_measurements
    from diagnose.reports import render

    read, measured = case_and_measurements(knowledge, case, settings.folders, rules)
    found = assess(knowledge, read, full=True, hours=hours, measured=measured)
    deliver(render(found, knowledge, settings.format, width=settings.width, colour=settings.colour), settings)
