"""The same finding as text for a terminal, Markdown or HTML for a page, or JSON for a program. Nothing is computed here."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from collections.abc import Sequence

    from diagnose.casework.batch_outcome import BatchOutcome
    from diagnose.casework.diagnosis import Diagnosis
    from diagnose.casework.measuring import Measurements
    from diagnose.casework.telling_apart import NotToldApart
    from diagnose.casework.trial import Trial
    from diagnose.corpus.coverage import Coverage
    from diagnose.corpus.find import Hit
    from diagnose.corpus.records import Cause, Knowledge, Sign

    from .document import Document
    from .entry import Entry
    from .trail import Chains

Format = Literal["text", "markdown", "json", "html"]


def render(diagnosis: Diagnosis, knowledge: Knowledge, format: Format, *, width: int = 80, colour: bool = False) -> str:
    """The report of a case, ending in a line end. `width` (columns) and `colour` matter for text only."""
    from . import case_report, machine

    if format == "json":
        return machine.as_json(machine.case_json(diagnosis, knowledge))
    return laid_out(case_report.case_document(diagnosis, knowledge), format, width=width, colour=colour)


def laid_out(document: Document, format: Format, *, width: int = 80, colour: bool = False) -> str:
    """Any document as text, Markdown or HTML; for JSON each finding has its own object, so it is no format here."""
    if format == "html":
        from .html import as_html

        return as_html(document)
    if format == "markdown":
        from .markdown import as_markdown

        return as_markdown(document)
    from .text import as_text

    return as_text(document, width=width, colour=colour)


def render_batch(
    outcome: BatchOutcome,
    measured: Measurements,
    knowledge: Knowledge,
    format: Format,
    *,
    width: int = 80,
    colour: bool = False,
) -> str:
    """The numbers of a batch record, with what they point to."""
    from . import batch_machine, batch_report, machine

    if format == "json":
        return machine.as_json(batch_machine.batch_json(outcome, measured, knowledge))
    document = batch_report.batch_document(outcome, measured, knowledge)
    return laid_out(document, format, width=width, colour=colour)


def render_entry(
    entry: Entry,
    knowledge: Knowledge,
    format: Format,
    *,
    product: str | None = None,
    width: int = 80,
    colour: bool = False,
) -> str:
    """All that is written about one entry; with `product`, an id, only what belongs to that product around it."""
    from . import entry as entries
    from . import entry_machine, machine

    if format == "json":
        return machine.as_json(entry_machine.entry_json(entry, knowledge, product))
    return laid_out(entries.entry_document(entry, knowledge, product), format, width=width, colour=colour)


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


def render_coverage(
    found: Coverage, pairs: NotToldApart, knowledge: Knowledge, format: Format, *, width: int = 80, colour: bool = False
) -> str:
    """What the knowledge holds, as `coverage_of` and `not_told_apart` give it."""
    from . import coverage_machine, coverage_report, machine

    if format == "json":
        return machine.as_json(coverage_machine.coverage_json(found, pairs))
    document = coverage_report.coverage_document(found, pairs, knowledge)
    return laid_out(document, format, width=width, colour=colour)


def render_trials(
    trials: Sequence[Trial], knowledge: Knowledge, format: Format, *, width: int = 80, colour: bool = False
) -> str:
    """How the worked cases came out."""
    from . import machine, trials_report

    if format == "json":
        return machine.as_json(trials_report.trials_json(trials, knowledge))
    return laid_out(trials_report.trials_document(trials, knowledge), format, width=width, colour=colour)
