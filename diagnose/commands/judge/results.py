"""Putting the results of a class out: as a report, a table, a summary for the clinic, or sheets in a folder."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from diagnose.commands.options import Settings
from diagnose.commands.output import save, talk
from diagnose.corpus.glossary import load_glossary
from diagnose.corpus.records import Knowledge
from diagnose.errors import UsageError
from diagnose.judging.clinic import common_faults
from diagnose.judging.comment import comments_of
from diagnose.judging.final import comments_record, final_comments
from diagnose.judging.panel import panel_of
from diagnose.judging.sheet import JudgedClass
from diagnose.judging.standing import standings
from diagnose.reports import class_machine, class_report, laid_out, machine
from diagnose.reports.sheets import entry_sheets
from diagnose.reports.sheets_html import sheets_html
from diagnose.reports.sheets_markdown import sheet_markdown


def results_text(judged: JudgedClass, knowledge: Knowledge, wanted: str, settings: Settings) -> str:
    """The text of --results, --clinic or --csv in the format asked for."""
    order = standings(judged)
    if wanted == "--csv":
        return class_machine.results_csv(judged, order)
    faults = common_faults(judged, knowledge)
    if wanted == "--clinic":
        if settings.format == "json":
            return machine.as_json(class_machine.clinic_json(judged, faults, knowledge))
        document = class_report.clinic_document(judged, order, faults, knowledge)
    else:
        panel = panel_of(judged, order)
        if settings.format == "json":
            return machine.as_json(class_machine.results_json(judged, order, panel, faults, knowledge))
        document = class_report.results_document(judged, order, panel, faults, knowledge)
    return laid_out(document, settings.format, width=settings.width, colour=settings.colour)


def write_sheets(
    judged: JudgedClass, knowledge: Knowledge, file: Path, folder: Path, folders: Sequence[Path], *, force: bool
) -> None:
    """Write a sheet for each entry as Markdown and HTML, and all sheets in one HTML for the printer.

    Raises UsageError if one of the files is there and `force` is off.
    """
    comments = comments_of(judged, knowledge, load_glossary(knowledge, folders))
    final = final_comments(comments_record(file))
    pages = entry_sheets(judged, knowledge, standings(judged), comments, final)
    texts: dict[str, str] = {}
    for page in pages:
        texts[f"entry-{page.entry:03d}.md"] = sheet_markdown(page)
        texts[f"entry-{page.entry:03d}.html"] = sheets_html([page], f"{judged.title}: entry {page.entry}")
    texts["all-entries.html"] = sheets_html(pages, judged.title)
    there = [name for name in texts if (folder / name).exists()]
    if there and not force:
        raise UsageError(f"{folder / there[0]} is there already; choose another folder, or replace it with --force")
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in texts.items():
        save(folder / name, text, force=True)
    waiting = sum(not page.final for page in pages)
    talk(f"Written: {len(pages)} sheets as Markdown and HTML, and all-entries.html to print, in {folder}")
    if waiting:
        talk(f"{waiting} comments are drafts; a judge reads and approves them with: diagnose comment {file} --edit")
