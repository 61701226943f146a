"""`diagnose judge`: score a class at the keyboard, and work its results out."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from diagnose.commands.options import EXIT_CODES, Settings, with_settings
from diagnose.errors import EXIT_FINDING, EXIT_FINE, CaseError, Problem, UsageError

if TYPE_CHECKING:
    from diagnose.corpus.records import Knowledge
    from diagnose.judging.sheet import JudgedClass

_FILE = click.Path(exists=True, dir_okay=False, path_type=Path)


@click.command("judge", epilog=EXIT_CODES)
@click.argument("file", required=False, type=_FILE)
@click.option(
    "--example", is_flag=True, help="Print a small class file that was made up, to begin one of your own from."
)
@click.option("--judge", "name", help="Which of the class's judges is at the keyboard; left out, it is asked.")
@click.option("--results", is_flag=True, help="Print the order of the class and how far the judges agreed.")
@click.option(
    "--clinic", is_flag=True, help="Print the faults that the class has in common, for the talk after the show."
)
@click.option("--csv", "table", is_flag=True, help="Print the results as a table for a spreadsheet.")
@click.option(
    "--sheets", type=click.Path(file_okay=False, path_type=Path), help="Write the comment sheets into this folder."
)
@click.option(
    "--check", is_flag=True, help="Look the file through, a class or a scorecard, and print what is wrong with it."
)
@click.option(
    "--without", multiple=True, metavar="JUDGE", help="Leave a judge out of the results; may be given several times."
)
@click.option("--plain", is_flag=True, help="At the keyboard: without completion and status line.")
@with_settings
def command(
    settings: Settings,
    file: Path | None,
    example: bool,
    name: str | None,
    results: bool,
    clinic: bool,
    table: bool,
    sheets: Path | None,
    check: bool,
    without: tuple[str, ...],
    plain: bool,
) -> int:
    """Judge a class: FILE names its entries, judges and scorecard.

    Without an option a judge scores entry after entry at the keyboard; every answer is saved at once beside FILE, and no
    judge sees another's sheets. When all are done, --results, --clinic, --csv and --sheets work the class out.
    """
    if example:
        return _example(settings)
    if file is None:
        raise UsageError("which class? Name its file, or begin with: diagnose judge --example")
    wanted = [option for option, given in (("--results", results), ("--clinic", clinic), ("--csv", table)) if given]
    if len(wanted) > 1:
        raise UsageError(f"{' and '.join(wanted)} do not go together; one at a time")
    if check:
        return _check(settings, file)
    if wanted or sheets:
        return _work_out(settings, file, wanted[0] if wanted else "", sheets, without)
    if without:
        raise UsageError("--without goes with --results, --clinic, --csv or --sheets")
    from .hold import hold

    return hold(settings, file, name, plain=plain)


def _example(settings: Settings) -> int:
    from diagnose.commands.output import check_target, deliver

    check_target(settings)
    deliver(Path(__file__).with_name("example.yaml").read_text(encoding="utf-8"), settings)
    return EXIT_FINE


def read_class(settings: Settings, knowledge: Knowledge, file: Path) -> JudgedClass:
    """The class in a file with everything that was judged at the keyboard."""
    from diagnose.judging.class_file import load_class
    from diagnose.judging.record import with_records

    return with_records(load_class(knowledge, file, settings.folders), file)


def finished_class(settings: Settings, knowledge: Knowledge, file: Path, without: tuple[str, ...] = ()) -> JudgedClass:
    """The same, where all judges are done. Raises UsageError with what is still open."""
    from diagnose.judging.record import still_open

    judged = read_class(settings, knowledge, file)
    for judge in without:
        if judge not in judged.judges:
            raise UsageError(f'"{judge}" is not among the judges: {", ".join(judged.judges)}')
        judged = judged.without(judge)
    if not judged.judges:
        raise UsageError("no judge is left")
    waiting = still_open(judged)
    if waiting:
        raise UsageError(
            "Nobody sees results before all judges are done:\n"
            + "\n".join(f"  {line}" for line in waiting)
            + "\nA judge goes on with: diagnose judge FILE --judge NAME; one who cannot is left out with --without NAME."
        )
    return judged


def _check(settings: Settings, file: Path) -> int:
    from diagnose.commands.output import check_target, deliver
    from diagnose.commands.problems import problem_lines, problems_json
    from diagnose.corpus.scorecard_file import load_scorecard
    from diagnose.judging.class_file import load_class

    check_target(settings)
    knowledge = settings.knowledge()
    problems: Sequence[Problem] = ()
    try:
        if _is_scorecard(file):
            load_scorecard(knowledge, file)
        else:
            load_class(knowledge, file, settings.folders)
    except CaseError as error:
        problems = error.problems
    if settings.format == "json":
        from diagnose.reports.machine import as_json

        deliver(as_json({"file": str(file), "problems": problems_json(problems)}), settings)
    else:
        deliver(problem_lines(problems) if problems else f"{file} is in order.\n", settings)
    return EXIT_FINDING if problems else EXIT_FINE


def _is_scorecard(file: Path) -> bool:
    """A file with criteria is a scorecard, one with entries a class."""
    from diagnose.corpus.yamltree import MapNode, read_file

    root = read_file(file, file.as_posix(), [])
    return isinstance(root, MapNode) and "criteria" in root.items and "entries" not in root.items


def _work_out(settings: Settings, file: Path, wanted: str, sheets: Path | None, without: tuple[str, ...]) -> int:
    from diagnose.commands.output import check_target, deliver

    check_target(settings if settings.save or not sheets else dataclasses.replace(settings, force=False))
    knowledge = settings.knowledge()
    judged = finished_class(settings, knowledge, file, without)

    from .results import results_text, write_sheets

    if sheets is not None:
        write_sheets(judged, knowledge, file, sheets, settings.folders, force=settings.force and settings.save is None)
    if wanted:
        deliver(results_text(judged, knowledge, wanted, settings), settings)
    return EXIT_FINE
