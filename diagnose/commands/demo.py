"""`diagnose demo`: a worked case that was made up, told in words and then worked out."""

from __future__ import annotations

import dataclasses
from pathlib import Path

import click

from diagnose.commands.options import EXIT_CODES, Settings, with_settings

CASE = Path(__file__).with_name("demo_case.yaml")


@click.command("demo", epilog=EXIT_CODES)
@click.option("--as-file", is_flag=True, help="Print the case file itself, to begin one of your own from.")
@with_settings
def command(settings: Settings, as_file: bool) -> None:
    """Tell a case in words, then print its report. Plant, lot and figures are made up.

    Nothing is asked, so it also shows what a report looks like.
    """
    from diagnose.commands.output import check_target, deliver

    check_target(settings)
    if as_file:
        deliver(CASE.read_text(encoding="utf-8"), settings)
        return
    knowledge = settings.knowledge()

    from diagnose.casework.assess import assess
    from diagnose.commands.case_input import case_from
    from diagnose.reports import laid_out, render
    from diagnose.reports.document import Document, Heading, Paragraph

    case = case_from(knowledge, str(CASE))
    form, width, colour = settings.format, settings.width, settings.colour
    if form == "json":
        deliver(render(assess(knowledge, case, full=True), knowledge, form), settings)
        return
    story = Document([Heading(1, "The case"), *map(Paragraph, case.notes)], (), ())
    report = render(
        assess(knowledge, dataclasses.replace(case, notes=()), full=True), knowledge, form, width=width, colour=colour
    )
    deliver(f"{laid_out(story, form, width=width, colour=colour)}\n{report}", settings)
