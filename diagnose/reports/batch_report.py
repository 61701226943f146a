"""The page of a batch record: cautions, results beside their published figures, charts, what is missing, sources."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from diagnose.casework.batch_outcome import BatchOutcome, RecordCaution, Result
from diagnose.casework.measuring import Measured, Measurements
from diagnose.corpus.records import Knowledge

from . import words
from .case_report import computed
from .citations import Citations
from .document import Block, Document, Figures, Heading, Item, Items, Notice, Paragraph, Picture, bullets
from .figure_words import figures_of, finding, grouped

RULES = {"us": "United States", "eu": "European Union"}
COMPARISON = (
    "A verdict compares a figure with a published one, in the text and of the date named; it never says that a product is"
    " safe. Read the current text of a rule before relying on it."
)
_PARTS = (
    (
        "Weights and yield",
        ("pump", "retained", "brine-lost", "cook-shrink", "chill-shrink", "finished-yield", "yield", "loss"),
    ),
    ("Brine and cure", ("brine", "ingoing", "added", "cure-middle")),
    ("Before the house", ("raw", "deep", "cure-room", "hold")),
    ("House and cook", ("humid", "surface", "core", "come-up", "f70", "salmonella", "lethality", "cook-humidity")),
    ("Chill", ("cooling", "chill")),
    ("Finished product", ("finished", "salt", "water", "pff", "moisture", "residual", "label")),
)


def batch_document(outcome: BatchOutcome, measured: Measurements, knowledge: Knowledge) -> Document:
    """The whole page."""
    cited = Citations(knowledge)
    name = outcome.title or outcome.batch
    blocks: list[Block] = [Heading(1, f"Numbers of the batch: {name}" if name else "Numbers of the batch")]
    blocks += [Paragraph(knowledge.products[outcome.product].title, "Product:")]
    if outcome.batch and outcome.title:
        blocks.append(Paragraph(outcome.batch, "Batch:"))
    blocks.append(Paragraph(f"{RULES[outcome.rules]} (--rules {outcome.rules})", "Published figures:"))
    blocks += cautions_of(outcome.cautions, knowledge, cited)
    blocks += _findings(outcome)
    blocks += [Paragraph(note, tone="quiet") for note in outcome.notes]
    for part, results in _parts(outcome.results):
        blocks.append(Heading(2, part))
        blocks.append(Figures(figures_of(results, cited)))
    if outcome.plots:
        blocks.append(Heading(2, "Charts"))
        blocks += [Picture(plot) for plot in outcome.plots]
    blocks += _pointing(measured, knowledge, cited)
    if outcome.missing:
        blocks.append(Heading(2, "Not computed"))
        blocks.append(Items(tuple(Item(text) for text in outcome.missing)))
    return Document(blocks, cited.sources(), (COMPARISON, f"Knowledge version {knowledge.version}.", words.SAFETY))


def cautions_of(cautions: Sequence[RecordCaution], knowledge: Knowledge, cited: Citations) -> Iterator[Block]:
    """The cautions of a record, danger first, each with all that called for it."""
    called: dict[str, list[str]] = {}
    for one in cautions:
        called.setdefault(one.id, []).append(one.because)
    for caution in sorted((knowledge.cautions[name] for name in called), key=lambda one: one.weight != "danger"):
        because = Paragraph("; ".join(called[caution.id]), "Because of:")
        basis = Paragraph(cited.marks(caution.basis), "Basis:")
        yield Notice(caution.weight == "danger", caution.title, (Paragraph(caution.say), because, basis))


def _findings(outcome: BatchOutcome) -> Iterator[Block]:
    """How many figures are out of bounds, and which: what a reader wants before the rest of the page."""
    groups = [group for group in grouped(outcome.results) if any(one.bound for one in group)]
    off = [group for group in groups if any(one.off for one in group)]
    if not groups:
        return
    of = f"of {words.counted(len(groups), 'figure')} with a published one"
    count = f"{len(off)} {of}" if off else f"none {of}; a comparison, no release"
    yield Paragraph(count, "Out of bounds:")
    yield from bullets([Item(finding(group), mark="!") for group in off])


def _parts(results: Sequence[Result]) -> Iterator[tuple[str, list[Result]]]:
    left = list(results)
    for part, names in _PARTS:
        inside = [one for one in left if one.name.startswith(names)]
        left = [one for one in left if one not in inside]
        if inside:
            yield part, inside
    if left:
        yield "Other figures", left


def _pointing(measured: Measurements, knowledge: Knowledge, cited: Citations) -> Iterator[Block]:
    """What the record says of signs and causes, strongest first."""
    found = sorted((one for one in measured.evidence.values() if one.verdict == "yes"), key=lambda one: -one.right)
    if not found:
        return
    yield Heading(2, "What it points to")
    yield Paragraph(
        "Each counts as evidence when the record is named in a case (diagnose rank). The per cent is the chance that the"
        " figure is right about it; it is even at the edge of the band and grows with the distance from it.",
        tone="quiet",
    )
    yield Items(tuple(Item(_pointed(one, knowledge, cited), mark="+") for one in found))


def _pointed(one: Measured, knowledge: Knowledge, cited: Citations) -> str:
    known = knowledge.signs.get(one.about) or knowledge.causes[one.about]
    return f"{known.title} ({words.percent(one.right)}); {computed(one, cited)}"
