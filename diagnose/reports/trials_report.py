"""How the worked cases came out, as a report: the shares for each product, then every case that somebody has to look at."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from diagnose.casework.trial import WITHIN, Score, Trial, score_of
from diagnose.corpus.coverage import share
from diagnose.corpus.records import Knowledge

from .document import Block, Document, Heading, Item, Paragraph, Table, bullets
from .machine import Json
from .words import FIXED, counted

BASES = {True: "published", False: "common practice"}
ALL = "All products"


def trials_document(trials: Sequence[Trial], knowledge: Knowledge) -> Document:
    """The whole report."""
    wrong = [one for one in trials if one.findings]
    marked = [one for one in trials if one.missed is not None]
    blocks: list[Block] = [
        Heading(1, "The worked cases"),
        Paragraph(
            f"{counted(len(trials), 'case')}, {counted(len(wrong), 'finding')}, {len(marked)} marked as missed. The shares are"
            " of the cases that expect a cause; marked ones count in them as they come out.",
        ),
        _shares(trials, knowledge),
    ]
    if wrong:
        blocks += [Heading(2, "Not as expected"), *bullets([_item(one, one.findings) for one in wrong])]
    if marked:
        reasons = [_item(one, (*one.misses, f"marked: {one.missed}")) for one in marked]
        blocks += [Heading(2, "Marked as missed"), *bullets(reasons)]
    return Document(blocks, (), (f"Knowledge version {knowledge.version}.",))


def trials_json(trials: Sequence[Trial], knowledge: Knowledge) -> Json:
    """The same for programs."""
    return {
        "knowledge": knowledge.version,
        "shares": [
            {
                "product": product,
                "basis": basis,
                "cases": score.cases,
                "first": score.first,
                "within_three": score.within,
            }
            for product, _, basis, score in _scores(trials, knowledge)
        ],
        "cases": [
            {
                "id": one.case,
                "product": one.product,
                "basis": BASES[one.published],
                "expected": one.expected,
                "place": one.place,
                "misses": one.misses,
                "cautions": one.silent,
                "missed": one.missed,
                "findings": one.findings,
            }
            for one in trials
        ],
    }


def _shares(trials: Sequence[Trial], knowledge: Knowledge) -> Table:
    rows = [
        (f"{title}, {basis}", str(score.cases), _of(score.first, score.cases), _of(score.within, score.cases))
        for _, title, basis, score in _scores(trials, knowledge)
    ]
    return Table(("", "cases", "first", f"within the first {WITHIN}"), tuple(rows))


def _scores(trials: Sequence[Trial], knowledge: Knowledge) -> Iterator[tuple[str | None, str, str, Score]]:
    """Product (None for all), its title, the basis, and the score, wherever there are cases."""
    named: list[tuple[str | None, str]] = [(one.id, one.title) for one in knowledge.products.values()]
    for product, title in [*named, (None, ALL)]:
        for published, basis in BASES.items():
            score = score_of(one for one in trials if product in (None, one.product) and one.published == published)
            if score.cases:
                yield product, title, basis, score


def _of(part: int, whole: int) -> str:
    return f"{part} ({round(100 * share(part, whole))}{FIXED}%)"


def _item(trial: Trial, lines: Sequence[str]) -> Item:
    return Item("", lead=f"{trial.case}: {trial.title}", below=tuple(Paragraph(line) for line in lines))
