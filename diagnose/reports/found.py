"""What a search found: a short list, each entry with the id to use next."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.corpus.find import Hit
from diagnose.corpus.records import Knowledge

from .document import Block, Document, Heading, Item, Items, Paragraph


def found_document(asked: str, hits: Sequence[Hit], knowledge: Knowledge) -> Document:
    """The entries found, best first."""
    blocks: list[Block] = [Heading(1, f"Found for: {asked}")]
    if not hits:
        blocks.append(Paragraph("Nothing fits these words. Try fewer of them, or another word of the trade."))
    else:
        blocks.append(Items(tuple(_hit(hit) for hit in hits)))
        blocks.append(Paragraph(f"More about one of them: diagnose explain {hits[0].id}", tone="quiet"))
    return Document(blocks, (), (f"Knowledge version {knowledge.version}.",))


def _hit(hit: Hit) -> Item:
    other = f"; matched: {hit.why}" if hit.why and hit.why.casefold() not in hit.title.casefold() else ""
    return Item(f"{hit.title} ({hit.kind}{other})", below=(Paragraph(hit.id),))
