"""How often a cause is there, with what that rests on: a word, or the whole sum from published rates to the prior."""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.corpus.priors import chance, part_of
from diagnose.corpus.records import Cause, Knowledge, Rate, Scale

from . import words
from .citations import Citations
from .document import Block, Item, Paragraph, bullets


def how_often(cause: Cause, knowledge: Knowledge, cited: Citations) -> Iterator[Block]:
    """The prior of a cause with its sources; for a computed one each rate with its parts and what it comes to."""
    if cause.rates:
        basis = f"computed from {words.counted(len(cause.rates), 'published rate')}"
    else:
        basis = cited.marks(cause.frequency_basis)
    yield Paragraph(f"in {words.how_often(knowledge, cause)} of ordinary batches; {basis}", "How often it is there:")
    yield from bullets([_rate(rate, knowledge.scales["strength"], cited) for rate in cause.rates])
    yield from cited.said(cause.frequency_basis)


def _rate(rate: Rate, strength: Scale, cited: Citations) -> Item:
    share = f"{rate.share:g}" if rate.to is None else f"{rate.share:g} to {rate.to:g}"
    sources = cited.said(rate.basis)
    parts = []
    for part in rate.parts:
        what = "published" if part.how_often is None else f"judged: {words.spaced(part.how_often)}"
        fraction = words.exact_percent(part_of(part, strength))
        parts.append(Item(f"{fraction} of that ({what}). {part.why}", mark="×", below=cited.said(part.basis)))
    total = f", which comes to {words.exact_percent(chance(rate, strength))} here:" if parts else ""
    return Item(f"{share}{words.FIXED}% of {rate.of}{total}", below=(*sources, *bullets(parts)))
