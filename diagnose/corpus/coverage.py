"""How much the knowledge holds, and on what it rests: counted for each stage, family and product, and in all.

The counts show an author where to work next: links without a source, causes without a worked case, corrections that nobody
has published. They say nothing of whether the knowledge is right.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from diagnose.corpus.case_file import CaseFile
from diagnose.corpus.records import Cause, Knowledge, Link, Sign
from diagnose.corpus.ways import Ways


@dataclass(frozen=True, slots=True)
class LinkCounts:
    """Links, and on what they rest. `sourced`: on some source, so not on common practice alone. `seen`: on a source of
    which text was seen. `direct`: on a source about the same product."""

    links: int
    sourced: int
    seen: int
    direct: int


@dataclass(frozen=True, slots=True)
class CauseCounts:
    """Causes, and how many have a check, a correction and a caution of their own."""

    causes: int
    with_check: int
    with_correction: int
    with_caution: int


@dataclass(frozen=True, slots=True)
class CaseCounts:
    """Worked cases, and how many of them are from a publication, from common practice, and marked as missed."""

    cases: int
    published: int
    practice: int
    missed: int


@dataclass(frozen=True, slots=True)
class Place:
    """What belongs to one stage, family or product.

    A stage has its causes, the links written under them, every sign that they lead to, and the cases that expect one of
    them. A family has its signs, the causes that lead to a defect of it, the links on the way from these causes to its
    signs, and the cases in which such a defect was seen. A product has what applies to it, and its own cases.

    `without_case` are the causes that no case has rank first: a case that is content with one of several, or that is
    marked as missed, is none. `unreached` are signs of the place that none of its causes leads to.
    """

    kind: Literal["stage", "family", "product"]
    id: str
    title: str
    causes: CauseCounts
    defects: int
    details: int
    links: LinkCounts
    corrections: int
    sourced_corrections: int
    cases: CaseCounts
    without_case: tuple[str, ...]
    unreached: tuple[str, ...]

    @property
    def standing(self) -> float:
        """Mean of three shares: links with a source, links with a seen source, causes with a case. 0 is the weakest."""
        links, causes = self.links, self.causes.causes
        with_case = causes - len(self.without_case)
        return (share(links.sourced, links.links) + share(links.seen, links.links) + share(with_case, causes)) / 3


@dataclass(frozen=True, slots=True)
class Coverage:
    """The places of each kind, weakest first, and the totals.

    `rated` counts the causes whose prior is computed from published rates, `sources` the sources by (kind, seen or memory).
    `orphans` are causes that lead to no defect and mechanisms that nothing starts; `unreached` are signs that no cause leads
    to.
    """

    version: str
    stages: tuple[Place, ...]
    families: tuple[Place, ...]
    products: tuple[Place, ...]
    causes: int
    rated: int
    mechanisms: int
    defects: int
    details: int
    links: LinkCounts
    corrections: int
    sourced_corrections: int
    sources: Mapping[tuple[str, str], int]
    cases: CaseCounts
    without_case: tuple[str, ...]
    orphans: tuple[str, ...]
    unreached: tuple[str, ...]


def share(part: int, whole: int) -> float:
    """A share between 0 and 1; 0 where there is nothing to have a share of."""
    return part / whole if whole else 0.0


def coverage_of(knowledge: Knowledge, cases: Mapping[str, CaseFile]) -> Coverage:
    """What the knowledge and its worked cases hold."""
    return _Counter(knowledge, cases).coverage()


class _Counter:
    """Counts one knowledge."""

    def __init__(self, knowledge: Knowledge, cases: Mapping[str, CaseFile]) -> None:
        self.knowledge = knowledge
        self.cases = list(cases.values())
        self.ways = Ways(knowledge)

    def coverage(self) -> Coverage:
        known = self.knowledge
        signs = known.signs.values()
        corrections = known.corrections.values()
        return Coverage(
            version=known.version,
            stages=_weakest_first(self._stage(one.stage, one.title) for one in known.stages),
            families=_weakest_first(self._family(one.id, one.title) for one in known.families.values()),
            products=_weakest_first(self._product(one.id, one.title) for one in known.products.values()),
            causes=len(known.causes),
            rated=sum(bool(one.rates) for one in known.causes.values()),
            mechanisms=len(known.mechanisms),
            defects=sum(one.kind == "defect" for one in signs),
            details=sum(one.kind == "detail" for one in signs),
            links=self._links([link for links in self.ways.links.values() for link in links]),
            corrections=len(corrections),
            sourced_corrections=sum(bool(one.basis) for one in corrections),
            sources=Counter((one.kind, one.read) for one in known.sources.values()),
            cases=_count_cases(self.cases),
            without_case=_without_case(known.causes.values(), self.cases),
            orphans=self._orphans(),
            unreached=self._unreached(known.causes, signs),
        )

    def _stage(self, name: str, title: str) -> Place:
        causes = [one for one in self.knowledge.causes.values() if one.stage == name]
        ids = {one.id for one in causes}
        below = self.ways.below(ids)
        return self._place(
            ("stage", name, title),
            causes,
            [one for one in self.knowledge.signs.values() if one.id in below],
            [link for one in causes for link in one.leads_to],
            [case for case in self.cases if not ids.isdisjoint(_expected(case))],
            self.cases,
        )

    def _family(self, name: str, title: str) -> Place:
        signs = [one for one in self.knowledge.signs.values() if name in one.family]
        defects = {one.id for one in signs if one.kind == "defect"}
        above = self.ways.above(defects)
        causes = [one for one in self.knowledge.causes.values() if one.id in above]
        return self._place(
            ("family", name, title),
            causes,
            signs,
            self.ways.between([one.id for one in causes], [one.id for one in signs]),
            [case for case in self.cases if any(one.id in defects and one.answer == "yes" for one in case.answers)],
            self.cases,
        )

    def _product(self, name: str, title: str) -> Place:
        causes = [one for one in self.knowledge.causes.values() if not one.products or name in one.products]
        signs = [one for one in self.knowledge.signs.values() if not one.products or name in one.products]
        cases = [case for case in self.cases if case.product == name]
        links = self.ways.between([one.id for one in causes], [one.id for one in signs])
        return self._place(("product", name, title), causes, signs, links, cases, cases)

    def _place(
        self,
        named: tuple[Literal["stage", "family", "product"], str, str],
        causes: Collection[Cause],
        signs: Collection[Sign],
        links: Collection[Link],
        cases: Collection[CaseFile],
        telling: Collection[CaseFile],
    ) -> Place:
        """`cases` are counted as those of the place; `telling` are those in which its causes may have to rank first."""
        kind, name, title = named
        corrections = [step for cause in causes for step in cause.corrections if kind != "product" or step.suits(name)]
        return Place(
            kind=kind,
            id=name,
            title=title,
            causes=_count_causes(causes),
            defects=sum(one.kind == "defect" for one in signs),
            details=sum(one.kind == "detail" for one in signs),
            links=self._links(links),
            corrections=len(corrections),
            sourced_corrections=sum(bool(one.basis) for one in corrections),
            cases=_count_cases(cases),
            without_case=_without_case(causes, telling),
            unreached=self._unreached([one.id for one in causes], signs),
        )

    def _links(self, links: Collection[Link]) -> LinkCounts:
        sources = self.knowledge.sources
        return LinkCounts(
            links=len(links),
            sourced=sum(bool(link.basis) for link in links),
            seen=sum(any(sources[one.source].read == "seen" for one in link.basis) for link in links),
            direct=sum(any(one.bears == "same-product" for one in link.basis) for link in links),
        )

    def _orphans(self) -> tuple[str, ...]:
        known = self.knowledge
        heading = self.ways.above(one.id for one in known.signs.values() if one.kind == "defect")
        started = self.ways.below(known.causes)
        idle = [name for name in known.causes if name not in heading]
        return (*idle, *(name for name in known.mechanisms if name not in started))

    def _unreached(self, causes: Iterable[str], signs: Iterable[Sign]) -> tuple[str, ...]:
        below = self.ways.below(causes)
        return tuple(one.id for one in signs if one.id not in below)


def _weakest_first(places: Iterable[Place]) -> tuple[Place, ...]:
    return tuple(sorted(places, key=lambda place: place.standing))


def _count_causes(causes: Collection[Cause]) -> CauseCounts:
    return CauseCounts(
        causes=len(causes),
        with_check=sum(bool(one.check.ask) for one in causes),
        with_correction=sum(bool(one.corrections) for one in causes),
        with_caution=sum(bool(one.caution) for one in causes),
    )


def _count_cases(cases: Collection[CaseFile]) -> CaseCounts:
    published = sum(bool(one.basis) for one in cases)
    missed = sum(one.expect is not None and one.expect.missed is not None for one in cases)
    return CaseCounts(len(cases), published, len(cases) - published, missed)


def _expected(case: CaseFile) -> tuple[str, ...]:
    return (*case.expect.first, *case.expect.within_three) if case.expect else ()


def _without_case(causes: Iterable[Cause], cases: Iterable[CaseFile]) -> tuple[str, ...]:
    firsts = [case.expect.first for case in cases if case.expect and case.expect.missed is None]
    alone = {first[0] for first in firsts if len(first) == 1}
    return tuple(one.id for one in causes if one.id not in alone)
