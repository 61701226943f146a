"""The same finding as text for a terminal, as Markdown for a page, or as JSON for a program. Nothing is computed here."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from collections.abc import Sequence

    from diagnose.casework.diagnosis import Diagnosis
    from diagnose.corpus.find import Hit
    from diagnose.corpus.records import Cause, Knowledge, Sign

    from .document import Document
    from .entry import Entry
    from .trail import Chains

Format = Literal["text", "markdown", "json"]


def render(diagnosis: Diagnosis, knowledge: Knowledge, format: Format, width: int = 80, *, colour: bool = False) -> str:
    """The report of a case, ending in a line end. `width` (columns) and `colour` matter for text only."""
    from . import case_report, machine

    if format == "json":
        return machine.as_json(machine.case_json(diagnosis, knowledge))
    return laid_out(case_report.case_document(diagnosis, knowledge), format, width=width, colour=colour)


def laid_out(document: Document, format: Format, *, width: int = 80, colour: bool = False) -> str:
    """Any document as text or Markdown."""
    if format == "markdown":
        from .markdown import as_markdown

        return as_markdown(document)
    from .text import as_text

    return as_text(document, width=width, colour=colour)


def render_entry(entry: Entry, knowledge: Knowledge, format: Format, *, width: int = 80, colour: bool = False) -> str:
    """All that is written about one cause, mechanism, sign or correction."""
    from . import entry as entries
    from . import entry_machine, machine

    if format == "json":
        return machine.as_json(entry_machine.entry_json(entry, knowledge))
    return laid_out(entries.entry_document(entry, knowledge), format, width=width, colour=colour)


def render_trail(
    cause: Cause,
    sign: Sign,
    chains: Chains,
    knowledge: Knowledge,
    format: Format,
    *,
    width: int = 80,
    colour: bool = False,
) -> str:
    """The chains of links from a cause to a sign, as `diagnose.corpus.graph.chains` gives them."""
    from . import entry_machine, machine, trail

    if format == "json":
        return machine.as_json(entry_machine.trail_json(cause, sign, chains, knowledge))
    return laid_out(trail.trail_document(cause, sign, chains, knowledge), format, width=width, colour=colour)


def render_found(
    asked: str, hits: Sequence[Hit], knowledge: Knowledge, format: Format, *, width: int = 80, colour: bool = False
) -> str:
    """What a search found, as `diagnose.corpus.find.find` gives it."""
    from . import entry_machine, found, machine

    if format == "json":
        return machine.as_json(entry_machine.found_json(asked, hits, knowledge))
    return laid_out(found.found_document(asked, hits, knowledge), format, width=width, colour=colour)
