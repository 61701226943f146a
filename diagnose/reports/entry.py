"""All that is written about one entry of the knowledge, with what leads to it and where it leads.

An entry is a cause, a mechanism, a sign or a correction; or, told of in `entry_beside`, a stage, a family, a caution, a
product or a source. Of the links around it only those are shown that can matter in its products, or in the one asked for.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TypeAlias

from diagnose.corpus.graph import belonging
from diagnose.corpus.records import Cause, Check, Correction, Knowledge, Link, Mechanism, Sign

from . import words
from .case_report import link_details
from .citations import Citations
from .document import Block, Document, Heading, Item, Items, Notice, Paragraph, bullets
from .entry_beside import KINDS, Beside, beside_blocks, beside_of
from .entry_rates import how_often

Linked: TypeAlias = Cause | Mechanism | Sign | Correction
Entry: TypeAlias = Linked | Beside

_ABOVE = "(see above)"
_MOST_WAYS = 8
_MOST_TELLING = 3


def entry_of(knowledge: Knowledge, name: str) -> Entry | None:
    """The entry of an id, or None."""
    return (
        knowledge.causes.get(name)
        or knowledge.signs.get(name)
        or knowledge.mechanisms.get(name)
        or knowledge.corrections.get(name)
        or beside_of(knowledge, name)
    )


class Around:
    """Which entries around one of them can matter in its products, or in the one product that was asked for."""

    def __init__(self, knowledge: Knowledge, name: str, product: str | None = None) -> None:
        self._home = belonging(knowledge)
        self._products = frozenset((product,)) if product else self._home.get(name)

    def shows(self, name: str) -> bool:
        """Whether the cause, mechanism or sign belongs to one of the products."""
        home = self._home.get(name)
        return home is None or self._products is None or not home.isdisjoint(self._products)

    def links(self, links: Iterable[Link]) -> list[Link]:
        """The links that lead to something that is shown."""
        return [link for link in links if self.shows(link.to)]


def parents(knowledge: Knowledge, name: str, around: Around) -> list[tuple[Cause | Mechanism, Link]]:
    """What leads straight to a mechanism or sign and is shown, the strongest link first."""
    starts: list[Cause | Mechanism] = [*knowledge.causes.values(), *knowledge.mechanisms.values()]
    found = [(one, link) for one in starts for link in one.leads_to if link.to == name and around.shows(one.id)]
    scale = knowledge.scales["strength"]
    return sorted(found, key=lambda pair: -scale.value(pair[1].strength))


def owners(knowledge: Knowledge, correction: str) -> list[Cause]:
    """The causes that a correction is for: the one it is written under first, then those it removes as well."""
    own = [one for one in knowledge.causes.values() if any(each.id == correction for each in one.corrections)]
    also = [knowledge.causes[name] for name in knowledge.corrections[correction].also_removes]
    return [*own, *(one for one in also if one not in own)]


def title_of(knowledge: Knowledge, name: str) -> str:
    """The title of a cause, mechanism or sign; the id where there is none."""
    one = knowledge.causes.get(name) or knowledge.mechanisms.get(name) or knowledge.signs.get(name)
    return one.title if one else name


def entry_document(entry: Entry, knowledge: Knowledge, product: str | None = None) -> Document:
    """Everything about one entry; with `product`, an id, only what belongs to that product around it."""
    cited = Citations(knowledge)
    blocks: Iterable[Block]
    if isinstance(entry, KINDS):
        blocks = beside_blocks(entry, knowledge, cited, product)
    else:
        blocks = _linked_blocks(entry, knowledge, cited, product)
    body = list(blocks)
    return Document(body, cited.sources(), (f"Knowledge version {knowledge.version}.", words.SAFETY))


def _linked_blocks(entry: Linked, knowledge: Knowledge, cited: Citations, product: str | None) -> Iterator[Block]:
    writer = _Writer(knowledge, cited, Around(knowledge, entry.id, product))
    match entry:
        case Cause():
            yield from writer.cause(entry)
        case Mechanism():
            yield from writer.mechanism(entry)
        case Sign():
            yield from writer.sign(entry)
        case Correction():
            yield from writer.correction(entry)
    if product is not None:
        yield Paragraph(
            f"What leads to it and where it leads is shown for {knowledge.products[product].title} only.", tone="quiet"
        )


class _Writer:
    """Writes the blocks of one entry."""

    def __init__(self, knowledge: Knowledge, cited: Citations, around: Around) -> None:
        self.knowledge = knowledge
        self.cited = cited
        self.around = around

    def cause(self, cause: Cause) -> Iterator[Block]:
        stage = next((one.title for one in self.knowledge.stages if one.stage == cause.stage), cause.stage)
        yield from self._head(cause.title, f"a cause, at the stage {stage}", cause.id, cause.also_called)
        yield from self._cautions(cause.caution)
        yield Paragraph(cause.what)
        yield from self._products(cause.products)
        yield from how_often(cause, self.knowledge, self.cited)
        yield Paragraph(words.COULD_KNOW[cause.maker_could_know], "Could the maker know?")
        yield from self._downward(cause.leads_to)
        yield from self._check(cause.check, "Is it there?")
        yield Heading(2, "What to do about it")
        yield Items(tuple(self._correction(one) for one in cause.corrections))

    def mechanism(self, mechanism: Mechanism) -> Iterator[Block]:
        yield from self._head(mechanism.title, "a mechanism", mechanism.id, mechanism.also_called)
        yield Paragraph(mechanism.what)
        often = words.on_scale(self.knowledge, "background", mechanism.background)
        yield Paragraph(f"in {often} of batches", "It happens though no listed cause is there:")
        if mechanism.combine == "all":
            yield Paragraph("It needs everything that leads to it at once; one alone does not start it.")
        yield from self._upward(mechanism.id)
        yield from self._downward(mechanism.leads_to)

    def sign(self, sign: Sign) -> Iterator[Block]:
        where = words.REGION.get(sign.region, sign.region)
        kind = "a defect" if sign.kind == "defect" else "a detail, asked to tell causes apart"
        yield from self._head(sign.title, f"{kind}; looked for here: {where}", sign.id, sign.also_called)
        yield from self._cautions(sign.caution)
        yield Paragraph(f"{sign.what} {self._marks(sign)}".strip())
        yield from self.cited.said(sign.basis)
        yield from self._ways(sign)
        yield from self._products(sign.products)
        families = [self.knowledge.families[one].title for one in sign.family if one in self.knowledge.families]
        yield Paragraph("; ".join(families), "Family:")
        often = words.on_scale(self.knowledge, "background", sign.background)
        yield Paragraph(f"in {often} of batches", "It is there though no listed cause is:")
        if sign.graded:
            yield Paragraph("slight or marked", "Graded:")
        if sign.tell_apart:
            yield Heading(2, "What looks like it")
            yield Items(tuple(Item(one.by, f"{title_of(self.knowledge, one.source)}:") for one in sign.tell_apart))
        yield from self._check(sign.check, "Is it there?")
        yield from self._upward(sign.id)

    def correction(self, correction: Correction) -> Iterator[Block]:
        causes = owners(self.knowledge, correction.id)
        yield Heading(1, correction.do)
        yield Paragraph(f"a correction; id {correction.id}", tone="quiet")
        yield from self._cautions(correction.caution)
        yield Items(tuple(Item(one.title, "Against:") for one in causes))
        yield from self._correction(correction).below

    def _marks(self, sign: Sign) -> str:
        return self.cited.marks(sign.basis) if sign.basis else ""

    def _head(self, title: str, kind: str, name: str, also: Sequence[str]) -> Iterator[Block]:
        yield Heading(1, title)
        yield Paragraph(f"{kind}; id {name}", tone="quiet")
        if also:
            yield Paragraph("; ".join(also), "Also called:")

    def _cautions(self, names: Iterable[str]) -> Iterator[Block]:
        for name in names:
            one = self.knowledge.cautions.get(name)
            if one is not None:
                basis = Paragraph(self.cited.marks(one.basis), "Basis:")
                yield Notice(one.weight == "danger", one.title, (Paragraph(one.say), basis))

    def _products(self, names: Iterable[str]) -> Iterator[Block]:
        titles = [self.knowledge.products[name].title for name in names if name in self.knowledge.products]
        if titles:
            yield Paragraph("; ".join(titles), "Only in:")

    def _check(self, check: Check, title: str) -> Iterator[Block]:
        yield Heading(2, title)
        yield Paragraph(check.ask)
        yield Paragraph(check.how)
        right = words.on_scale(self.knowledge, "reliability", check.reliability)
        yield Paragraph(f"{words.minutes(check.minutes)}; {words.WHO[check.needs]}", "What it takes:")
        yield Paragraph(f"{right} of answers", "Right:")

    def _correction(self, one: Correction) -> Item:
        takes = words.on_scale(self.knowledge, "removal", one.removes)
        below = [
            Paragraph(words.WHEN[one.when], "When:"),
            Paragraph(words.effort(self.knowledge, one.effort), "Effort:"),
            Paragraph(f"{takes} of what the cause does", "Takes away:"),
            Paragraph(one.verify, "To see that it worked:"),
        ]
        also = [title_of(self.knowledge, name) for name in one.also_removes]
        if also:
            below.append(Paragraph("; ".join(also), "Works on this as well:"))
        warnings = [self.knowledge.cautions[name].title for name in one.caution if name in self.knowledge.cautions]
        if warnings:
            below.append(Paragraph("; ".join(warnings), "Caution:"))
        below.append(Paragraph(self.cited.marks(one.basis), "Basis:"))
        return Item(one.do, below=(*below, *self.cited.said(one.basis)))

    def _downward(self, links: Iterable[Link]) -> Iterator[Block]:
        yield Heading(2, "Where it leads")
        yield from self._links_down(links, set())

    def _links_down(self, links: Iterable[Link], told: set[str]) -> tuple[Block, ...]:
        scale = self.knowledge.scales["strength"]
        items = []
        for link in sorted(self.around.links(links), key=lambda link: -scale.value(link.strength)):
            further = self.knowledge.mechanisms.get(link.to)
            below = link_details(link.basis, link.disputed, self.cited)
            aside = ""
            if further is not None and link.to in told:
                aside = f" {_ABOVE}"
            elif further is not None:
                told.add(link.to)
                below = (*below, *self._links_down(further.leads_to, told))
            items.append(Item(self._linked(title_of(self.knowledge, link.to), link) + aside, mark="→", below=below))
        return bullets(items)

    def _upward(self, name: str) -> Iterator[Block]:
        yield Heading(2, "What leads to it")
        found = self._links_up(name, set())
        yield from found or (Paragraph("Nothing in this knowledge leads to it."),)

    def _links_up(self, name: str, told: set[str]) -> tuple[Block, ...]:
        items = []
        for parent, link in parents(self.knowledge, name, self.around):
            below = link_details(link.basis, link.disputed, self.cited)
            aside = ""
            if isinstance(parent, Mechanism) and parent.id in told:
                aside = f" {_ABOVE}"
            elif isinstance(parent, Mechanism):
                told.add(parent.id)
                below = (*below, *self._links_up(parent.id, told))
            items.append(Item(self._linked(parent.title, link) + aside, mark="←", below=below))
        return bullets(items)

    def _ways(self, sign: Sign) -> Iterator[Block]:
        """How the sign comes about, in short: what leads straight to it, and what else would be seen then."""
        found = parents(self.knowledge, sign.id, self.around)
        if len(found) < 2:
            return
        shown = found[:_MOST_WAYS]
        less = f", the {len(shown)} strongest of {len(found)}" if len(found) > len(shown) else ""
        yield Heading(2, f"How it comes about, in short{less}")
        beside = {parent.id: self._seen_beside(parent, sign) for parent, _ in shown}
        items = []
        for parent, link in shown:
            others = {name for one, names in beside.items() if one != parent.id for name in names}
            own = [name for name in beside[parent.id] if name not in others] or beside[parent.id]
            telling = "; ".join(title_of(self.knowledge, name) for name in own[:_MOST_TELLING])
            below = (Paragraph(telling, "Look also for:"),) if telling else ()
            items.append(
                Item(f"{parent.title}, {words.on_scale(self.knowledge, 'strength', link.strength)}", below=below)
            )
        yield Items(tuple(items))

    def _seen_beside(self, parent: Cause | Mechanism, sign: Sign) -> list[str]:
        """The other signs that a cause or mechanism shows in, what it shows in most often first."""
        scale = self.knowledge.scales["strength"]
        links = [
            one for one in self.around.links(parent.leads_to) if one.to in self.knowledge.signs and one.to != sign.id
        ]
        return [one.to for one in sorted(links, key=lambda one: -scale.value(one.strength))]

    def _linked(self, title: str, link: Link) -> str:
        strength = words.on_scale(self.knowledge, "strength", link.strength)
        return f"{title}, {strength}; {self.cited.marks(link.basis)}"
