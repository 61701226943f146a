"""What `diagnose work` prints: the list of computations, one of them, or what came out of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from diagnose.casework.computing.values import Value
from diagnose.casework.works.work import Parameter, Work, range_words
from diagnose.corpus.records import Knowledge

from . import words
from .citations import Citations
from .document import Block, Document, Figure, Figures, Heading, Item, Items, Paragraph
from .machine import Json, basis_json, sources_json


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


def done_document(work: Work, values: Sequence[Value], knowledge: Knowledge) -> Document:
    """What came out."""
    cited = Citations(knowledge)
    blocks: list[Block] = [Heading(1, work.title), Figures(tuple(_figures(values, cited)))]
    blocks.append(Paragraph(work.source, "Source:"))
    return Document(blocks, cited.sources(), (words.SAFETY,))


def _figures(values: Sequence[Value], cited: Citations) -> Iterator[Figure]:
    for one in values:
        note = " ".join(part for part in (one.note, cited.marks(one.basis) if one.basis else "") if part)
        yield Figure(one.title, words.amount(one.value, one.unit), note=note)


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


def done_json(work: Work, values: Sequence[Value], knowledge: Knowledge) -> Json:
    """What came out, for programs."""
    return {
        "name": work.name,
        "title": work.title,
        "source": work.source,
        "results": [
            {
                "name": one.name,
                "title": one.title,
                "value": one.value,
                "unit": one.unit,
                "note": one.note,
                "basis": basis_json(one.basis),
            }
            for one in values
        ],
        "sources": sources_json([basis.source for one in values for basis in one.basis], knowledge),
        "safety": words.SAFETY,
    }
