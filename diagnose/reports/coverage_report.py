"""What the knowledge holds, as a report for its authors: weakest places first, then the totals and what cannot be told apart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from diagnose.casework.telling_apart import NotToldApart
from diagnose.corpus.coverage import CaseCounts, Coverage, LinkCounts, Place, share
from diagnose.corpus.records import Knowledge

from .document import Block, Document, Heading, Item, Items, Paragraph, Table, bullets
from .markdown import escape
from .words import FIXED, KIND, counted


def coverage_document(found: Coverage, pairs: NotToldApart, knowledge: Knowledge) -> Document:
    """The whole report."""
    blocks: list[Block] = [
        Heading(1, "What the knowledge holds"),
        Paragraph(
            "Weakest places first, by the mean of three shares: links with a source, links with a source of which text was"
            " seen, causes with a worked case in which they must rank first.",
            tone="quiet",
        ),
    ]
    for title, places in (("Stages", found.stages), ("Families", found.families), ("Products", found.products)):
        blocks += [Heading(2, title), _places(places)]
    blocks += [Heading(2, "Causes without a case in which they must rank first"), *_without_case(found)]
    blocks += [Heading(2, "Causes that only their own checks can tell apart"), *_pairs(pairs, knowledge)]
    blocks += [Heading(2, "Totals"), _totals(found)]
    return Document(blocks, (), (f"Knowledge version {knowledge.version}.",))


def summary_table(found: Coverage) -> str:
    """The totals as a small Markdown table, with a line end at its end. The same knowledge gives the same table."""
    rows = "".join(f"| {name} | {escape(value)} |\n" for name, value in _total_rows(found))
    return f"| What | How much |\n| --- | --- |\n{rows}"


def _places(places: Sequence[Place]) -> Table:
    rows = [dict(_cells(one)) for one in places]
    columns = tuple(rows[0]) if rows else ()
    return Table(columns, tuple(tuple(row.values()) for row in rows))


def _cells(place: Place) -> Iterator[tuple[str, str]]:
    causes, links, cases = place.causes, place.links, place.cases
    yield place.kind, f"{place.title} ({place.id})"
    yield "causes", str(causes.causes)
    yield "with check, correction, caution", f"{causes.with_check}, {causes.with_correction}, {causes.with_caution}"
    yield "defects", str(place.defects)
    yield "details", str(place.details)
    yield "signs not reached", str(len(place.unreached) or "")
    yield "links", str(links.links)
    yield "with a source", _percent(links.sourced, links.links)
    yield "source seen", _percent(links.seen, links.links)
    yield "same product", _percent(links.direct, links.links)
    yield "corrections", str(place.corrections)
    yield "corrections with a source", str(place.sourced_corrections)
    yield "cases published", str(cases.published)
    yield "cases from practice", str(cases.practice)
    yield "cases marked as missed", str(cases.missed or "")
    yield "causes without a case", str(len(place.without_case))


def _without_case(found: Coverage) -> Iterator[Block]:
    if not found.without_case:
        yield Paragraph("None.")
        return
    missing = set(found.without_case)
    by_stage = [(one, [name for name in one.without_case if name in missing]) for one in found.stages]
    yield from bullets([Item(", ".join(names), lead=f"{one.title}:") for one, names in by_stage if names])


def _pairs(pairs: NotToldApart, knowledge: Knowledge) -> Iterator[Block]:
    for product, everybody in pairs.everybody.items():
        judge = counted(len(pairs.judge[product]), "pair")
        yield Paragraph(
            f"with all records {counted(len(everybody), 'pair')}, for a judge with only the product {judge}.",
            lead=f"{knowledge.products[product].title}:",
        )
        yield from bullets([Item(f"{one.first} and {one.second} ({', '.join(one.families)})") for one in everybody])


def _totals(found: Coverage) -> Items:
    return Items(tuple(Item(value, lead=f"{name}:") for name, value in _total_rows(found)))


def _total_rows(found: Coverage) -> Iterator[tuple[str, str]]:
    seen = sum(count for (_, read), count in found.sources.items() if read == "seen")
    total = sum(found.sources.values())
    kinds = {kind: sum(n for (one, _), n in found.sources.items() if one == kind) for kind in KIND}
    yield "Products", ", ".join(sorted(one.title for one in found.products))
    yield "Stages", str(len(found.stages))
    yield "Families of defects", str(len(found.families))
    yield "Causes", f"{found.causes} (the prior of {found.rated} computed from published rates)"
    yield "Mechanisms", str(found.mechanisms)
    yield (
        "Signs",
        f"{found.defects + found.details} ({counted(found.defects, 'defect')}, {found.details} to tell apart)",
    )
    yield "Links", _links(found.links)
    yield "Corrections", f"{found.corrections} ({found.sourced_corrections} with a source)"
    yield "Sources", f"{total} ({seen} seen, {total - seen} from memory)"
    yield "Sources by kind", ", ".join(f"{KIND[kind]} {count}" for kind, count in kinds.items() if count)
    yield "Worked cases", _cases(found.cases)
    yield "Causes without a case of their own", str(len(found.without_case))
    yield "Orphans", f"{len(found.orphans)}, signs that no cause reaches {len(found.unreached)}"


def _links(links: LinkCounts) -> str:
    return (
        f"{links.links} (with a source {_percent(links.sourced, links.links)}, "
        f"with one that was seen {_percent(links.seen, links.links)}, "
        f"on the same product {_percent(links.direct, links.links)})"
    )


def _cases(cases: CaseCounts) -> str:
    marked = f"; {cases.missed} marked as missed" if cases.missed else ""
    return f"{cases.cases} ({cases.published} published, {cases.practice} from common practice{marked})"


def _percent(part: int, whole: int) -> str:
    return f"{round(100 * share(part, whole))}{FIXED}%" if whole else "none"
