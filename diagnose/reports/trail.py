"""The chains of links from one cause to one sign, the strongest first."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.corpus.graph import chance_of
from diagnose.corpus.records import Cause, Knowledge, Link, Sign

from . import words
from .case_report import link_details
from .citations import Citations
from .document import Block, Document, Heading, Item, Items, Paragraph
from .entry import title_of

Chains = Sequence[tuple[Link, ...]]


def trail_document(cause: Cause, sign: Sign, chains: Chains, knowledge: Knowledge) -> Document:
    """Every chain with its links, their basis, and where sources disagree."""
    cited = Citations(knowledge)
    blocks: list[Block] = [
        Heading(1, f"From {cause.title} to {sign.title}"),
        Paragraph(cause.what, "The cause:"),
        Paragraph(sign.what, "The sign:"),
    ]
    if not chains:
        blocks.append(Paragraph("No chain of links in this knowledge leads from this cause to this sign."))
    else:
        blocks.append(
            Paragraph(
                "The per cent of a chain is the product of the strengths of its links: how often the sign follows by"
                " this chain alone if the cause is there and nothing else is wrong.",
                tone="quiet",
            )
        )
    for at, chain in enumerate(chains, start=1):
        blocks.append(Heading(2, f"Chain {at}: {words.likely(chance_of(knowledge, chain))}"))
        blocks.append(Paragraph("", cause.title))
        blocks.append(Items(tuple(_link(link, knowledge, cited) for link in chain)))
    return Document(blocks, cited.sources(), (f"Knowledge version {knowledge.version}.", words.SAFETY))


def _link(link: Link, knowledge: Knowledge, cited: Citations) -> Item:
    strength = words.on_scale(knowledge, "strength", link.strength)
    mechanism = knowledge.mechanisms.get(link.to)
    what = (Paragraph(mechanism.what),) if mechanism else ()
    needs_all = mechanism is not None and mechanism.combine == "all"
    also = (Paragraph("It needs everything that leads to it at once."),) if needs_all else ()
    return Item(
        f"{title_of(knowledge, link.to)}, follows {strength}; {cited.marks(link.basis)}",
        mark="→",
        below=(*what, *also, *link_details(link.basis, link.disputed, cited)),
    )
