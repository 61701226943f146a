"""What `diagnose work` prints: the list of computations, one of them, or what came out of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from diagnose.casework.works.work import Done, Given, Parameter, Work, range_words
from diagnose.corpus.records import Knowledge

from . import words
from .batch_machine import cautions_json, result_json
from .batch_report import COMPARISON, RULES, cautions_of
from .citations import Citations
from .document import Block, Document, Figures, Heading, Item, Items, Paragraph
from .figure_words import figures_of
from .machine import Json, sources_json


def list_document(groups: Mapping[str, Sequence[Work]]) -> Document:
    """All computations with their parameters."""
    blocks: list[Block] = [
        Heading(1, "Computations"),
        Paragraph("Run one with: diagnose work NAME key=value ..., such as: diagnose work humidity dry=65C wet=51C"),
    ]
    for group, works in groups.items():
        blocks.append(Heading(2, group))
        for work in works:
            blocks.append(Heading(3, f"{work.name}: {work.title}{' (backwards)' if work.backwards else ''}"))
            blocks.append(Items(tuple(map(_parameter, work.parameters))))
    return Document(blocks, (), (words.SAFETY,))


def work_document(work: Work) -> Document:
    """One computation with its parameters."""
    blocks: list[Block] = [
        Heading(1, f"{work.name}: {work.title}"),
        Items(tuple(map(_parameter, work.parameters))),
        Paragraph(work.source, "Source:"),
    ]
    return Document(blocks, (), (words.SAFETY,))


def _parameter(one: Parameter) -> Item:
    asides = [range_words(one)]
    if one.default is not None:
        asides.append(f"left out: {words.figure(one.default) if isinstance(one.default, float) else one.default}")
    elif one.optional:
        asides.append("may be left out")
    return Item(f"{one.says} ({'; '.join(asides)})", lead=f"{one.name}=")


def done_document(work: Work, given: Given, done: Done, knowledge: Knowledge) -> Document:
    """What came out: cautions first, as on the page of a batch, then every result beside its published figure."""
    cited = Citations(knowledge)
    blocks: list[Block] = [Heading(1, work.title)]
    if "product" in given.words:
        whose = f"{knowledge.products[given.words['product']].title}, {RULES[given.words.get('rules', 'us')]}"
        blocks.append(Paragraph(f"{whose} (product={given.words['product']})", "Published figures:"))
    blocks += cautions_of(done.cautions, knowledge, cited)
    blocks.append(Figures(figures_of(done.results, cited)))
    blocks.append(Paragraph(work.source, "Source:"))
    closing = (COMPARISON, words.SAFETY) if any(one.bound for one in done.results) else (words.SAFETY,)
    return Document(blocks, cited.sources(), closing)


def list_json(groups: Mapping[str, Sequence[Work]]) -> Json:
    """All computations for programs."""
    return {"computations": [work_json(work) for works in groups.values() for work in works]}


def work_json(work: Work) -> Json:
    """One computation for programs."""
    return {
        "name": work.name,
        "title": work.title,
        "backwards": work.backwards,
        "source": work.source,
        "parameters": [
            {
                "name": one.name,
                "kind": one.kind,
                "says": one.says,
                "range": range_words(one),
                "needed": one.needed,
                "default": one.default,
            }
            for one in work.parameters
        ],
    }


def done_json(work: Work, done: Done, knowledge: Knowledge) -> Json:
    """What came out, for programs; cautions and results as those of a batch."""
    body = {
        "name": work.name,
        "title": work.title,
        "source": work.source,
        "cautions": cautions_json(done.cautions, knowledge),
        "results": [result_json(one, knowledge) for one in done.results],
    }
    cited = [
        *(
            one.source
            for result in done.results
            for one in (*(result.bound.basis if result.bound else ()), *result.basis)
        )
    ]
    cited += [one.source for caution in done.cautions for one in knowledge.cautions[caution.id].basis]
    return {**body, "sources": sources_json(cited, knowledge), "safety": words.SAFETY}
