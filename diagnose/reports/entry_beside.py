"""What is written about a stage, a family, a caution, a product or a source, and what belongs to it.

A short first paragraph says what it is; then come the entries that belong to it, each with the id to go on with.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TypeAlias

from diagnose.corpus.graph import belonging
from diagnose.corpus.priors import prior
from diagnose.corpus.records import Basis, Cause, Caution, Family, Knowledge, Mechanism, Product, Sign, Source, Stage
from diagnose.corpus.shape import fields

from . import words
from .citations import Citations, address, reference, standing
from .document import Block, Heading, Item, Items, Notice, Paragraph

Beside: TypeAlias = Stage | Family | Caution | Product | Source

KINDS = (Stage, Family, Caution, Product, Source)


@dataclass(frozen=True, slots=True)
class Group:
    """Entries that belong together, as (id, title, what is said of it)."""

    title: str
    entries: tuple[tuple[str, str, str], ...]


def beside_of(knowledge: Knowledge, name: str) -> Beside | None:
    """The stage, product, family, caution or source of an id, or None."""
    return (
        next((one for one in knowledge.stages if one.stage == name), None)
        or knowledge.products.get(name)
        or knowledge.families.get(name)
        or knowledge.cautions.get(name)
        or knowledge.sources.get(name)
    )


def groups(entry: Beside, knowledge: Knowledge, product: str | None) -> list[Group]:
    """What belongs to it, for one product or for all, without the groups that are empty."""
    home = belonging(knowledge)

    def here(name: str) -> bool:
        return product is None or (products := home.get(name)) is None or product in products

    match entry:
        case Stage():
            found = [_causes(knowledge, "What can go wrong here", (one.id for one in entry.causes if here(one.id)))]
        case Family():
            signs = [one for one in knowledge.signs.values() if entry.id in one.family and here(one.id)]
            found = _signs(signs)
        case Caution():
            signs = [one for one in knowledge.signs.values() if entry.id in one.caution and here(one.id)]
            causes = (one.id for one in knowledge.causes.values() if entry.id in one.caution and here(one.id))
            steps = [
                (one.id, one.do, "")
                for one in knowledge.corrections.values()
                if entry.id in one.caution and (product is None or one.suits(product))
            ]
            found = [
                Group("Signs that call for it", tuple((one.id, one.title, _where(one)) for one in signs)),
                _causes(knowledge, "Causes that call for it", causes),
                Group("Corrections that need it", tuple(steps)),
            ]
        case Product():
            found = _of_product(knowledge, entry.id)
        case Source():
            found = [Group("What rests on it", tuple(_claims(knowledge, entry.id)))]
    return [group for group in found if group.entries]


def beside_blocks(entry: Beside, knowledge: Knowledge, cited: Citations, product: str | None) -> Iterator[Block]:
    """The blocks of such an entry."""
    yield from _head(entry, knowledge, cited)
    if product is not None and not isinstance(entry, Product | Source):
        yield Paragraph(f"{knowledge.products[product].title} only", "Shown for:")
    found = groups(entry, knowledge, product)
    for group in found:
        yield Heading(2, f"{group.title} ({len(group.entries)})")
        yield Items(tuple(_item(*one) for one in group.entries))
    if not found:
        yield Paragraph("Nothing in this knowledge belongs to it.")


def _item(name: str, title: str, aside: str) -> Item:
    return Item(f"{title}; {aside}" if aside else title, below=(Paragraph(name, tone="quiet"),))


def _head(entry: Beside, knowledge: Knowledge, cited: Citations) -> Iterator[Block]:
    match entry:
        case Stage():
            order = [one.stage for one in knowledge.stages]
            at = order.index(entry.stage)
            yield Heading(1, entry.title)
            yield Paragraph(f"a stage, number {at + 1} of {len(order)} in the chain; id {entry.stage}", tone="quiet")
            yield Paragraph(entry.what)
            beside = [("After", at - 1), ("Before", at + 1)]
            around = [f"{word} {knowledge.stages[i].title}" for word, i in beside if 0 <= i < len(order)]
            if around:
                yield Paragraph("; ".join(around), "Its place:")
        case Family():
            yield Heading(1, entry.title)
            yield Paragraph(f"a family of signs that are looked at together; id {entry.id}", tone="quiet")
            yield Paragraph(entry.what)
        case Caution():
            yield Heading(1, entry.title)
            yield Paragraph(f"a caution; id {entry.id}", tone="quiet")
            basis = Paragraph(cited.marks(entry.basis), "Basis:")
            yield Notice(entry.weight == "danger", entry.title, (Paragraph(entry.say), basis))
            yield from cited.said(entry.basis)
        case Product():
            yield Heading(1, entry.title)
            yield Paragraph(f"a product; id {entry.id}", tone="quiet")
            yield Paragraph(entry.what)
            if entry.also_called:
                yield Paragraph("; ".join(entry.also_called), "Also called:")
        case Source():
            yield Heading(1, entry.title)
            yield Paragraph(f"a source; id {entry.id}", tone="quiet")
            yield Paragraph(reference(entry))
            if where := address(entry):
                yield Paragraph(where, "Where it is:")
            yield Paragraph(standing(entry))


def _where(sign: Sign) -> str:
    return words.REGION.get(sign.region, sign.region)


def _causes(knowledge: Knowledge, title: str, names: Iterable[str]) -> Group:
    """The commonest first."""
    causes = [knowledge.causes[name] for name in names if name in knowledge.causes]
    said = [
        (one.id, one.title, f"in {words.how_often(knowledge, one)} of batches")
        for one in sorted(causes, key=lambda one: -prior(one, knowledge.scales))
    ]
    return Group(title, tuple(said))


def _signs(signs: Iterable[Sign]) -> list[Group]:
    held = list(signs)
    return [
        Group(title, tuple((one.id, one.title, _where(one)) for one in held if one.kind == kind))
        for title, kind in (("Defects", "defect"), ("Details that tell causes apart", "detail"))
    ]


def _of_product(knowledge: Knowledge, product: str) -> list[Group]:
    home = belonging(knowledge)
    here = [one for one in knowledge.signs.values() if (home[one.id] is None or product in (home[one.id] or ()))]
    defects = [one for one in here if one.kind == "defect"]
    stages = []
    for stage in knowledge.stages:
        count = sum(not one.products or product in one.products for one in stage.causes)
        if count:
            stages.append((stage.stage, stage.title, f"{count} {'cause' if count == 1 else 'causes'}"))
    families = [
        (family.id, family.title, f"{count} {'defect' if count == 1 else 'defects'}")
        for family in knowledge.families.values()
        if (count := sum(family.id in one.family for one in defects))
    ]
    return [Group("Families of defects", tuple(families)), Group("Stages", tuple(stages))]


def _claims(knowledge: Knowledge, source: str) -> Iterator[tuple[str, str, str]]:
    """Each entry that names the source, with the first thing that it says there."""
    for one in _citing(knowledge):
        said = [value.says for _, value, _ in fields(one) if isinstance(value, Basis) and value.source == source]
        if said:
            more = f" (and {len(said) - 1} more)" if len(said) > 1 else ""
            yield one.id, one.title, f"{said[0]}{more}"


def _citing(knowledge: Knowledge) -> Iterator[Cause | Mechanism | Sign | Caution]:
    yield from knowledge.signs.values()
    yield from knowledge.causes.values()
    yield from knowledge.mechanisms.values()
    yield from knowledge.cautions.values()
