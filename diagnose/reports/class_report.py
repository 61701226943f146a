"""The results of a class and the summary for the clinic after the show, block by block. Nothing is computed here."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction

from diagnose.corpus.records import Knowledge
from diagnose.corpus.scorecards import Scorecard
from diagnose.judging.causes import NAMED
from diagnose.judging.clinic import CommonFault
from diagnose.judging.panel import Panel
from diagnose.judging.sheet import JudgedClass
from diagnose.judging.standing import Standing
from diagnose.judging.statistics import Concordance, Intraclass

from . import words
from .citations import Citations
from .document import Block, Document, Heading, Item, Items, Paragraph

FEWEST_ENTRIES = 8
"""Entries from which figures of agreement are printed; below that chance alone makes them high or low."""

ROUGH = "For how these figures are made and what they can bear, see docs/judging.md."


def points(value: Fraction | float | None) -> str:
    """Points with one decimal where they are not whole."""
    if value is None:
        return "-"
    number = float(value)
    return f"{number:.0f}" if number == int(number) else f"{number:.1f}"


def results_document(
    judged: JudgedClass,
    standings: Sequence[Standing],
    panel: Panel,
    faults: Sequence[CommonFault],
    knowledge: Knowledge,
) -> Document:
    """The whole result of a class."""
    blocks = [
        Heading(1, f"Results: {judged.title}"),
        *_head(judged),
        *_order(judged, standings),
        *_not_placed(standings),
        *_judges(judged, panel),
        *_second_look(judged.card, panel),
        *_drift(panel),
        *_faults_in_short(faults),
    ]
    return Document(blocks, (), (f"Knowledge version {knowledge.version}.", ROUGH, words.SAFETY))


def _head(judged: JudgedClass) -> Iterator[Block]:
    if judged.date:
        yield Paragraph(judged.date, "Date:")
    yield Paragraph(f"{judged.card.title} ({judged.card.total} points)", "Scorecard:")
    yield Paragraph(f"{len(judged.entries)} entries, {words.counted(len(judged.judges), 'judge')}", "Judged:")
    how = (
        "mean of the judges' totals, the highest and the lowest of each entry left out"
        if judged.trimmed
        else "mean of the judges' totals"
    )
    yield Paragraph(how, "Total:")
    ties = ", then ".join(judged.card.criterion(name).title.lower() for name in judged.card.ties)
    yield Paragraph(f"a tie is settled by {ties}", "Ties:")


def _order(judged: JudgedClass, standings: Sequence[Standing]) -> Iterator[Block]:
    yield Heading(2, "Order of the class")
    placed = [one for one in standings if one.status == "placed" and one.place is not None]
    if not placed:
        yield Paragraph("No entry has been placed.")
        return
    items = []
    for one in placed:
        by_judge = ", ".join(f"{judge} {total}" for judge, total in one.by_judge.items())
        tie = f". Tie: {one.why}" if one.why else ""
        items.append(Item(f"entry {one.entry}, {points(one.total)} points ({by_judge}){tie}", mark=f"{one.place}."))
    yield Items(tuple(items))


def _not_placed(standings: Sequence[Standing]) -> Iterator[Block]:
    others = [one for one in standings if one.status != "placed" or one.place is None]
    if others:
        yield Heading(2, "Not placed")
        yield Items(tuple(Item(f"entry {one.entry}: {one.why or 'no complete sheet'}") for one in others))


def _judges(judged: JudgedClass, panel: Panel) -> Iterator[Block]:
    yield Heading(2, "How far the judges agreed")
    if len(judged.judges) < 2:
        yield Paragraph("There was one judge, so nothing can be said of agreement.")
        return
    if not panel.entries:
        yield Paragraph("No entry was scored in full by every judge, so nothing can be said of agreement.")
        return
    yield Paragraph(
        f"These figures rest on the {words.counted(panel.entries, 'entry', 'entries')} that every judge scored in full."
    )
    yield Items(
        tuple(
            Item(
                f"judge {one.judge}: mean total {one.mean:.1f}, standard deviation {one.spread:.1f}; "
                f"{abs(one.above):.1f} points {'above' if one.above >= 0 else 'below'} the others on the same entries"
            )
            for one in panel.judges
        )
    )
    if panel.entries < FEWEST_ENTRIES:
        yield Paragraph(
            f"Figures of agreement (Kendall's W, ICC) say nothing on fewer than {FEWEST_ENTRIES} entries, so they are left"
            " out here. Compare the totals above, and talk about the entries on which the judges are furthest apart."
        )
        return
    if len(judged.judges) == 2:
        yield Paragraph("With two judges the figures below are weak: one judge who differs changes them all.")
    if panel.concordance is not None:
        yield Paragraph(_concordance(panel.concordance), "Order:")
    if panel.agreement is not None:
        found = panel.agreement
        yield Paragraph(
            f"one judge alone {_icc(found.agreement_one)}; the mean of all {_icc(found.agreement_mean)}",
            "Points, agreement (ICC 2):",
        )
        yield Paragraph(
            f"one judge alone {_icc(found.consistency_one)}; the mean of all {_icc(found.consistency_mean)}",
            "Points, consistency (ICC 3):",
        )
        if found.consistency_one.value - found.agreement_one.value > 0.05:
            yield Paragraph("The second pair is higher: some judge scores higher or lower than the others throughout.")
    parts = [
        Item(f"{judged.card.criterion(name).title}: W = {one.w:.2f}")
        for name, one in panel.by_criterion.items()
        if one is not None
    ]
    if parts:
        yield Paragraph("", "Order by criterion (Kendall's W):")
        yield Items(tuple(parts))


def _concordance(found: Concordance) -> str:
    chance = "under 0.001" if found.chance < 0.001 else f"{found.chance:.3f}"
    return (
        f"Kendall's W = {found.w:.2f} (0: no order in common, 1: the same order); chi-square {found.chi_square:.1f}"
        f" with {found.freedom} degrees of freedom; chance of as much if the judges had nothing in common {chance}"
    )


def _icc(found: Intraclass) -> str:
    low = f"{found.low:.2f} to" if math.isfinite(found.low) else "up to"
    return f"{found.value:.2f} (95 % interval {low} {found.high:.2f})"


def _second_look(card: Scorecard, panel: Panel) -> Iterator[Block]:
    yield Heading(2, "For a second look")
    if not panel.outlying:
        yield Paragraph("No total stands far from those of the other judges.")
        return
    yield Paragraph("These totals stand far from the others'. Nothing was changed; the judges may want to look again.")
    yield Items(
        tuple(
            Item(
                f"entry {one.entry}, judge {one.judge}: {one.total} against {one.others:.1f};"
                f" furthest apart in {card.criterion(one.criterion).title.lower()}"
            )
            for one in panel.outlying
        )
    )


def _drift(panel: Panel) -> Iterator[Block]:
    if not panel.drift:
        return
    yield Heading(2, "Over the morning")
    yield Paragraph("How each judge's totals moved against the other judges' along the judge's own running order:")
    items = []
    for one in panel.drift:
        word = "more than chance would easily give" if one.notable else "no more than chance"
        items.append(
            Item(
                f"judge {one.judge}: {10 * one.slope:+.1f} points for every ten entries (standard error"
                f" {10 * one.error:.1f}; p = {one.chance:.2f}): {word}"
            )
        )
    yield Items(tuple(items))


def _faults_in_short(faults: Sequence[CommonFault]) -> Iterator[Block]:
    yield Heading(2, "Faults that several entries share")
    if not faults:
        yield Paragraph("No fault was found on more than one entry.")
        return
    yield Items(tuple(Item(f"{one.title}: {words.counted(len(one.entries), 'entry', 'entries')}") for one in faults))


def clinic_document(
    judged: JudgedClass, standings: Sequence[Standing], faults: Sequence[CommonFault], knowledge: Knowledge
) -> Document:
    """What to talk about after the show; entries are counted, not named."""
    cited = Citations(knowledge)
    blocks: list[Block] = [
        Heading(1, f"For the clinic: {judged.title}"),
        Paragraph(
            f"{len(judged.entries)} entries. Only faults that several entries share are told here, with counts and without"
            " numbers of entries, so that nobody's piece is held up."
        ),
    ]
    placed = [one.total for one in standings if one.total is not None]
    if placed:
        blocks.append(
            Paragraph(f"from {points(min(placed))} to {points(max(placed))} of {judged.card.total} points", "Totals:")
        )
    aside = sum(one.status == "suspect" for one in standings)
    if aside:
        blocks.append(Paragraph(f"{words.counted(aside, 'piece')} set aside untasted. {words.SAFETY}", "Safety:"))
    for one in faults:
        blocks += _common(one, judged, knowledge, cited)
    if not faults:
        blocks.append(Paragraph("No fault was found on more than one entry."))
    closing = (words.SCALE_SOURCE, f"Knowledge version {knowledge.version}.", words.SAFETY)
    return Document(blocks, cited.sources(), closing)


def _common(one: CommonFault, judged: JudgedClass, knowledge: Knowledge, cited: Citations) -> Iterator[Block]:
    yield Heading(2, one.title)
    criterion = judged.card.criterion(one.criterion)
    yield Paragraph(
        f"{words.counted(len(one.entries), 'entry', 'entries')} of {one.judged}, clearly in"
        f" {one.marked}; about {one.lost:.0f} of the {criterion.points} points for {criterion.title.lower()}."
    )
    sign = knowledge.signs.get(one.fault)
    if sign is not None:
        yield Paragraph(sign.what)
    if not one.causes:
        return
    if one.causes[0][1] < NAMED:
        yield Paragraph(
            "The pieces do not show why: many causes fit, each of them a little. Questions to put to the room, as a place to"
            " begin:"
        )
        yield Items(tuple(Item(cause.check.ask) for cause, _ in one.causes))
        return
    yield Paragraph("", "Where it points, from the pieces alone:")
    yield Items(tuple(Item(f"{cause.title}: {words.likely(chance)}") for cause, chance in one.causes))
    yield Paragraph(one.causes[0][0].check.ask, "First question to the room:")
    if one.corrections:
        yield Paragraph("", "What helps:")
        yield Items(tuple(Item(f"{each.do} {cited.marks(each.basis)}") for each in one.corrections))
