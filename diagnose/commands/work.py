"""`diagnose work`: one computation of the plant's arithmetic."""

from __future__ import annotations

import click
from click.shell_completion import CompletionItem

from diagnose.commands.options import EXIT_CODES, Settings, with_settings
from diagnose.errors import UsageError


def _complete(_: click.Context, __: click.Parameter, incomplete: str) -> list[CompletionItem]:
    from diagnose.casework.works.shelf import ALL

    return [CompletionItem(name, help=one.title) for name, one in ALL.items() if name.startswith(incomplete)]


@click.command("work", epilog=EXIT_CODES)
@click.argument("name", required=False, shell_complete=_complete)
@click.argument("values", nargs=-1, metavar="KEY=VALUE...")
@with_settings
def command(settings: Settings, name: str | None, values: tuple[str, ...]) -> None:
    """Run one computation, such as: diagnose work humidity dry=149F wet=124F

    Without NAME, all computations are listed with their parameters, units and ranges; with a NAME alone, that one.
    """
    from diagnose.casework.works import shelf
    from diagnose.casework.works.work import done, read_given
    from diagnose.commands.output import check_target, deliver
    from diagnose.reports import laid_out, machine, work_report

    check_target(settings)
    form, width, colour = settings.format, settings.width, settings.colour
    if name is None:
        document, data = work_report.list_document(shelf.GROUPS), work_report.list_json(shelf.GROUPS)
    else:
        work = shelf.work_named(name)
        if not values:
            document, data = work_report.work_document(work), work_report.work_json(work)
        else:
            from diagnose.corpus.figures_file import load_figures

            knowledge = settings.knowledge()
            given = read_given(work, values, load_figures(knowledge, settings.folders))
            try:
                found = done(work, given, knowledge)
            except ValueError as error:
                raise UsageError(f"{work.name}: {error}") from error
            document = work_report.done_document(work, given, found, knowledge)
            data = work_report.done_json(work, found, knowledge)
    if form == "json":
        deliver(machine.as_json(data), settings)
    else:
        deliver(laid_out(document, form, width=width, colour=colour), settings)
