"""`diagnose batch`: the numbers of a batch record on one page."""

from __future__ import annotations

from pathlib import Path

import click

from diagnose.commands.options import EXIT_CODES, Settings, with_pictures


@click.command("batch", epilog=EXIT_CODES)
@click.argument("record", type=click.Path(dir_okay=False, path_type=Path))
@click.option(
    "--rules",
    type=click.Choice(["us", "eu"]),
    default="us",
    show_default=True,
    help="Whose published figures the results are compared with.",
)
@with_pictures
def command(settings: Settings, record: Path, rules: str) -> None:
    """Compute everything that a batch record allows and print it beside the published figures.

    RECORD is a YAML file with the weights, recipe, charts (CSV files) and analysis of one lot. Cautions come first. A
    comparison never says that a product is safe.
    """
    from diagnose.commands.output import check_target, deliver

    check_target(settings)
    knowledge = settings.knowledge()

    from diagnose.casework.batch_record import load_record
    from diagnose.casework.batch_results import results_of
    from diagnose.casework.measuring import measurements
    from diagnose.corpus.figures_file import load_figures
    from diagnose.reports import render_batch

    figures = load_figures(knowledge, settings.folders)
    outcome = results_of(knowledge, figures, load_record(knowledge, record), rules)
    measured = measurements(knowledge, figures, outcome)
    text = render_batch(outcome, measured, knowledge, settings.format, width=settings.width, colour=settings.colour)
    deliver(text, settings)
