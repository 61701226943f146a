"""`diagnose knowledge`: for those who write knowledge, to see that it is in order."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from diagnose.commands.options import EXIT_CODES, FOLDER, Settings, with_settings
from diagnose.errors import EXIT_FINDING, EXIT_FINE, Problem, UsageError

if TYPE_CHECKING:
    from diagnose.corpus.case_file import CaseFile
    from diagnose.corpus.records import Knowledge


@click.group("knowledge", epilog=EXIT_CODES)
def command() -> None:
    """Check the knowledge, count what it holds, try its worked cases, and make the schemas that editors use."""


@command.command("check", epilog=EXIT_CODES)
@click.argument("folder", required=False, type=FOLDER)
@with_settings
def check(settings: Settings, folder: Path | None) -> int:
    """Look a knowledge folder through and print everything that is wrong, one problem a line.

    FOLDER left out: the knowledge that comes with the program. With --also, the folders laid over it are checked too.
    """
    from diagnose.commands.output import check_target, deliver
    from diagnose.corpus import load

    check_target(settings)
    folder = folder or settings.knowledge_folder
    problems = load.check(folder, settings.also)
    known = None if problems else load.load(folder, settings.also)
    text = _as_json(problems, known) if settings.format == "json" else _as_lines(problems, known)
    deliver(text, settings)
    return EXIT_FINDING if problems else EXIT_FINE


@command.command("sums", epilog=EXIT_CODES)
@click.option("--write", is_flag=True, help="Write the list into docs/checks.md.")
@with_settings
def sums(settings: Settings, write: bool) -> int:
    """List the published numbers that the arithmetic is checked against; in a checkout only.

    Without --write it is seen whether docs/checks.md is up to date.
    """
    from diagnose.commands.output import check_target, deliver, save
    from diagnose.reports.machine import as_json

    check_target(settings)
    root = _checkout()
    page = _list_of_checks(root)
    target = root / "docs" / "checks.md"
    if write:
        save(target, page, force=True)
    late = not target.is_file() or target.read_text(encoding="utf-8") != page
    if settings.format == "json":
        deliver(as_json({"file": str(target), "out_of_date": late, "written": write}), settings)
    elif write:
        deliver(f"written: {target}\n", settings)
    elif late:
        deliver(f"{target} is out of date; run: diagnose knowledge sums --write\n", settings)
    else:
        deliver("The list is up to date.\n", settings)
    return EXIT_FINDING if late else EXIT_FINE


def _checkout() -> Path:
    """The top of the checkout that the program runs from. Raises UsageError for an installed program."""
    root = Path(__file__).resolve().parents[2]
    if not (root / "tests" / "checks" / "checklist.py").is_file():
        raise UsageError("the checks lie with the tests, so this works in a checkout of the project only")
    return root


def _list_of_checks(root: Path) -> str:
    import importlib.util
    import sys

    spec = importlib.util.spec_from_file_location("checklist", root / "tests" / "checks" / "checklist.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules.setdefault("checklist", module)  # its records look themselves up there
    spec.loader.exec_module(module)
    page: str = module.list_checks(module.all_checks())
    return page


@command.command("schema", epilog=EXIT_CODES)
@click.argument("folder", required=False, type=FOLDER)
@click.option("--write", is_flag=True, help="Write the schemas into the folder `schema` of the knowledge.")
@with_settings
def schema(settings: Settings, folder: Path | None, write: bool) -> int:
    """See whether the JSON Schemas in the knowledge folder are up to date, or write them."""
    from diagnose.commands.output import check_target, deliver
    from diagnose.corpus.load import default_folder, load
    from diagnose.corpus.schema import out_of_date, write_schemas

    check_target(settings)
    folder = folder or settings.knowledge_folder or default_folder()
    scales = load(folder, settings.also).scales
    target = folder / "schema"
    if write:
        lines = [f"written: {path}" for path in write_schemas(target, scales)]
        late: Sequence[str] = ()
    else:
        late = out_of_date(target, scales)
        lines = [f"{target / name}.json is out of date; run: diagnose knowledge schema --write" for name in late]
    if settings.format == "json":
        from diagnose.reports.machine import as_json

        deliver(as_json({"folder": str(target), "out_of_date": list(late), "written": write}), settings)
    else:
        deliver("".join(f"{line}\n" for line in lines or ["The schemas are up to date."]), settings)
    return EXIT_FINDING if late else EXIT_FINE


@command.command("coverage", epilog=EXIT_CODES)
@click.argument("folder", required=False, type=FOLDER)
@click.option("--summary", is_flag=True, help="Print only the totals, as the small Markdown table that README shows.")
@with_settings
def coverage(settings: Settings, folder: Path | None, summary: bool) -> None:
    """Count what the knowledge holds and on what it rests, for each stage, family and product, weakest first.

    Also named: causes without a worked case, and causes that nothing but their own checks can tell apart.
    """
    from diagnose.commands.output import check_target, deliver
    from diagnose.corpus.coverage import coverage_of

    check_target(settings)
    if summary and settings.chosen_format in ("text", "json"):
        raise UsageError("--summary is always Markdown")
    known, cases = _with_cases(settings, folder)
    found = coverage_of(known, cases)
    if summary:
        from diagnose.reports.coverage_report import summary_table

        deliver(summary_table(found), settings)
        return

    from diagnose.casework.telling_apart import not_told_apart
    from diagnose.reports import render_coverage

    pairs = not_told_apart(known)
    form, width, colour = settings.format, settings.width, settings.colour
    deliver(render_coverage(found, pairs, known, form, width=width, colour=colour), settings)


@command.command("cases", epilog=EXIT_CODES)
@click.argument("folder", required=False, type=FOLDER)
@with_settings
def cases(settings: Settings, folder: Path | None) -> int:
    """Work out every worked case and say how often the expected cause ranks first, and among the first three.

    Exit code 1 if a case does not come out as it expects and is not marked as missed, or is marked and does come out.
    """
    from diagnose.commands.output import check_target, deliver

    check_target(settings)
    known, read = _with_cases(settings, folder)

    from diagnose.casework.case import state_of
    from diagnose.casework.trial import trial_of
    from diagnose.commands.case_input import events_of
    from diagnose.reports import render_trials

    by_product = sorted(read.items(), key=lambda pair: (pair[1].product, pair[0]))
    trials = [trial_of(known, name, one, state_of(events_of(one, known.version))) for name, one in by_product]
    form, width, colour = settings.format, settings.width, settings.colour
    deliver(render_trials(trials, known, form, width=width, colour=colour), settings)
    return EXIT_FINDING if any(one.findings for one in trials) else EXIT_FINE


def _with_cases(settings: Settings, folder: Path | None) -> tuple[Knowledge, dict[str, CaseFile]]:
    """The knowledge of the folder with what is laid over it, and the worked cases of all of them."""
    from diagnose.corpus.case_file import load_all_cases
    from diagnose.corpus.load import default_folder, load

    folder = folder or settings.knowledge_folder or default_folder()
    known = load(folder, settings.also)
    return known, load_all_cases(known, (folder, *settings.also))


def _as_lines(problems: Sequence[Problem], known: Knowledge | None) -> str:
    from diagnose.commands.problems import problem_lines

    if known is None:
        return problem_lines(problems)
    counts = ", ".join(f"{count} {name}" for name, count in _counts(known).items())
    return f"The knowledge is in order: {counts}. Version {known.version}.\n"


def _as_json(problems: Sequence[Problem], known: Knowledge | None) -> str:
    from diagnose.commands.problems import problems_json
    from diagnose.reports.machine import as_json

    return as_json(
        {
            "problems": problems_json(problems),
            "counts": _counts(known) if known else {},
            "knowledge": known.version if known else None,
        }
    )


def _counts(known: Knowledge) -> dict[str, int]:
    names = ("stages", "causes", "mechanisms", "signs", "corrections", "sources")
    return {name: len(getattr(known, name)) for name in names}
