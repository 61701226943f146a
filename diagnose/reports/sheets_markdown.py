"""Comment sheets as Markdown, one file for each entry."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from .document import Source
from .markdown import escape
from .sheets import DRAFT, EntrySheet


def sheet_markdown(sheet: EntrySheet) -> str:
    """One sheet, with a line end at its end."""
    return "\n\n".join(part for part in _parts(sheet) if part) + "\n"


def _parts(sheet: EntrySheet) -> Iterator[str]:
    yield f"# {escape(sheet.title)}: entry {sheet.entry}"
    yield escape(" · ".join(part for part in (sheet.date, sheet.result, sheet.total) if part))
    if sheet.hold:
        yield f"> **{escape(sheet.hold)}**"
    yield "## Comment"
    yield escape(sheet.comment)
    if not sheet.final:
        yield f"*{escape(DRAFT)}*"
    yield "## Points"
    yield "\n".join(
        [
            "| | Points | Of | Judges gave | This level means |",
            "|---|---:|---:|---|---|",
            *(
                f"| {escape(row.title)} | {row.given} | {row.most} | {row.span} | {escape(row.says)} |"
                for row in sheet.rows
            ),
        ]
    )
    if sheet.notes:
        yield "## In the judges' own words"
        yield _list(sheet.notes)
    yield "---"
    yield "## What this rests on"
    if sheet.seen:
        yield "Seen on the piece:"
        yield _list(sheet.seen)
    if sheet.causes:
        yield escape(f"How well each cause fits, from the piece alone ({sheet.causes_of}):")
        if sheet.causes_if:
            yield escape(sheet.causes_if)
        yield _list([f"{row.title} [{row.stage}]: {row.chance}" for row in sheet.causes])
        yield escape(f"Something that is not listed here: {sheet.unlisted}.")
    if sheet.steps:
        yield "Steps named, and their basis:"
        yield _list([f"{row.text} {row.basis}" for row in sheet.steps])
    if sheet.links:
        yield "How the causes named lead there:"
        yield _list(sheet.links)
    if sheet.sources:
        yield "### Sources"
        yield "\n\n".join(_source(one) for one in sheet.sources)
    for line in sheet.closing:
        yield escape(line)


def _list(lines: Sequence[str]) -> str:
    return "\n".join(f"- {escape(line)}" for line in lines)


def _source(one: Source) -> str:
    parts = (f"[{one.number}] {one.text}", one.address, one.standing)
    return " ".join(escape(part) for part in parts if part)
