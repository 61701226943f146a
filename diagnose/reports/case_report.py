"""What a report of a case says, block by block: warnings first, then the ranking, the reasons, the plan, the sources.

Everything shown has been worked out before; this module only chooses, orders and words it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from diagnose.casework.batch_outcome import Result
from diagnose.casework.diagnosis import ChainLink, Diagnosis, Ranked, Reason, Seen, SeenByNumbers, Suspicion, Warned
from diagnose.casework.measuring import Measured
from diagnose.corpus.records import Basis, Knowledge

from . import case_plan, words
from .citations import Citations
from .document import Block, Document, Heading, Item, Items, Meter, Notice, Paragraph, Ranking, Row
from .figure_words import finding, grouped
from .words import FIXED

MOST_RANKED = 10
"""Causes listed in the ranking; the others are counted."""

FAINT = 0.01
"""A cause less likely to be responsible is counted, not listed, unless it is the first."""

MOST_EXPLAINED = 3
WORTH_EXPLAINING = 0.05
"""Causes this likely to be responsible, or likelier, are explained in full; the first one always is."""

MOST_REASONS = 6
"""Answers listed for and against one cause; the others are counted."""

WEAKEST_REASON = 1.0
"""Decibans below which an answer is counted, not listed, unless it is the strongest."""


def case_document(diagnosis: Diagnosis, knowledge: Knowledge) -> Document:
    """The whole report of a case."""
    cited = Citations(knowledge)
    blocks = [
        *_head(diagnosis),
        *_cautions(diagnosis.cautions, cited),
        *_rule_out(diagnosis.rule_out),
        *_seen(diagnosis, cited),
        *_ranking(diagnosis),
        *_causes(diagnosis, knowledge, cited),
        *case_plan.fit(diagnosis, knowledge),
        *case_plan.robustness(diagnosis),
        *case_plan.plan(diagnosis, explained(diagnosis), knowledge, cited),
        *case_plan.questions(diagnosis),
    ]
    closing = (words.SCALE_SOURCE, f"Knowledge version {diagnosis.knowledge}.", words.SAFETY)
    return Document(blocks, cited.sources(), closing)


def explained(diagnosis: Diagnosis) -> tuple[Ranked, ...]:
    """The causes that a report explains in full."""
    top = diagnosis.ranking[:MOST_EXPLAINED]
    return tuple(one for at, one in enumerate(top) if at == 0 or one.responsible >= WORTH_EXPLAINING)


def _head(diagnosis: Diagnosis) -> Iterator[Block]:
    yield Heading(1, f"Diagnosis: {diagnosis.title}" if diagnosis.title else "Diagnosis")
    looked = "; ".join(words.HAVE.get(one, one) for one in diagnosis.have)
    yield Paragraph(diagnosis.product_title, "Product:")
    yield Paragraph(looked, "Looked at:")


def _cautions(cautions: Iterable[Warned], cited: Citations) -> Iterator[Block]:
    for one in cautions:
        blocks = [Paragraph(one.say)]
        if one.because:
            blocks.append(Paragraph("; ".join(one.because), "Because of:"))
        blocks.append(Paragraph(cited.marks(one.basis), "Basis:"))
        yield Notice(one.weight == "danger", one.title, tuple(blocks))


def _rule_out(suspicions: Iterable[Suspicion]) -> Iterator[Block]:
    """Dangerous causes that are possible: one line and one check each, so that they do not drown what was seen."""
    items = [
        Item(
            f"{one.cause} ({words.likely(one.chance)}). If so: {one.title}",
            below=(Paragraph(f"{one.ask} {one.how}", "Check:"),),
        )
        for one in suspicions
    ]
    if items:
        yield Heading(2, "Rule out first")
        yield Paragraph(
            "Nobody has found these, but they are possible and can hurt someone. Until they are ruled out,"
            " hold the lot and taste nothing."
        )
        yield Items(tuple(items))


def _numbers(measured: Sequence[SeenByNumbers], moved: set[str], cited: Citations) -> Iterator[Block]:
    """What the record says: in full where it says yes or somebody has answered too; else what has moved a cause."""
    full = [one for one in measured if one.measured.verdict == "yes" or one.own]
    rest = [one for one in measured if one not in full]
    telling = [one for one in rest if one.measured.about in moved]
    if full:
        yield Paragraph("", "Computed from the batch record:")
        marks = {"yes": "+", "no": "-"}
        yield Items(tuple(Item(_computed_words(one, cited), mark=marks[one.measured.verdict]) for one in full))
    if telling:
        yield Paragraph("", "Computed, and speaking against:")
        yield Items(tuple(Item(_against_words(one), mark="-") for one in telling))
    if len(rest) > len(telling):
        count = words.counted(len(rest) - len(telling), "more computed value")
        yield Paragraph(
            f"{count} spoke against what they bear on, and moved none of the causes explained below.", tone="quiet"
        )


def _against_words(one: SeenByNumbers) -> str:
    value = words.amount(one.measured.value, one.measured.unit)
    return f"{one.title}: no, right in {words.percent(one.measured.right)}; computed: {value} {one.measured.title}"


def _moved(diagnosis: Diagnosis) -> set[str]:
    """Ids on which an answer or value has moved a cause that is explained."""
    return {
        reason.about for one in explained(diagnosis) for reason in one.reasons if abs(reason.decibans) >= WEAKEST_REASON
    }


def _off(off: Sequence[Result], cited: Citations) -> Iterator[Block]:
    """What the record shows to be out of bounds, whether or not it has to do with what was seen."""
    if off:
        yield Paragraph("", "Out of bounds in the batch record:")
        items = [
            Item(f"{finding(group)} {cited.marks(one.bound.basis)}", mark="!")
            for group in grouped(off)
            for one in group[:1]
            if one.bound is not None
        ]
        yield Items(tuple(items))


def _seen(diagnosis: Diagnosis, cited: Citations) -> Iterator[Block]:
    yield Heading(2, "What was seen")
    if not diagnosis.seen:
        yield Paragraph("Nothing has been answered yet.")
    for verdict, title, mark in (("yes", "There:", "+"), ("no", "Not there:", "-"), ("cant-tell", "Can't tell:", "?")):
        alike = [one for one in diagnosis.seen if one.answer.verdict == verdict]
        rest = [one.title for one in alike if one.answer.came == "rest"]
        items = [Item(_seen_words(one), mark=mark) for one in alike if one.answer.came != "rest"]
        if rest:
            items.append(Item(f"nor any of the {len(rest)} other defects on the lists gone through", mark=mark))
        if items:
            yield Paragraph("", title)
            yield Items(tuple(items))
    if diagnosis.numbers:
        yield Paragraph("", "Figures:")
        yield Items(tuple(Item(f"{name}: {value}") for name, value in diagnosis.numbers))
    yield from _off(diagnosis.off, cited)
    yield from _numbers(diagnosis.measured, _moved(diagnosis), cited)
    if diagnosis.notes:
        yield Paragraph("", "Notes:")
        yield Items(tuple(Item(note) for note in diagnosis.notes))


def _seen_words(seen: Seen) -> str:
    asides = [
        seen.answer.how_much or "",
        words.SURE.get(seen.answer.sure, seen.answer.sure) if seen.answer.verdict != "cant-tell" else "",
        words.REGION.get(seen.where, words.spaced(seen.where)),
    ]
    return f"{seen.title} ({', '.join(aside for aside in asides if aside)})"


def _computed_words(one: SeenByNumbers, cited: Citations) -> str:
    """What a value says; where the person has answered too, both, and that the answer counts."""
    says = "yes" if one.measured.verdict == "yes" else "no"
    said = f"{one.title}: {says}, right in {words.percent(one.measured.right)}; {computed(one.measured, cited)}"
    return f"{said}. Your own answer, {one.own}, counts in its place" if one.own else said


def computed(measured: Measured, cited: Citations) -> str:
    """A computed value with its band and source: `computed: 24 % humidity during ... (band 40 to 60 %, [3])`."""
    value = words.amount(measured.value, measured.unit)
    if measured.at_least is not None and measured.at_most is not None:
        band = f"band {words.figure(measured.at_least)} to {words.figure(measured.at_most)}"
    elif measured.at_least is not None:
        band = f"band from {words.figure(measured.at_least)}"
    else:
        band = f"band to {words.figure(measured.at_most or 0.0)}"
    memory = ", recalled, not seen" if measured.standing == "memory" else ""
    return f"computed: {value} {measured.title} ({band}{FIXED}{measured.unit}, {cited.marks(measured.basis)}{memory})"


def _ranking(diagnosis: Diagnosis) -> Iterator[Block]:
    yield Heading(2, "What is behind it")
    if not diagnosis.ranking:
        yield Paragraph("No cause can be ranked, because no defect has been answered with yes.")
        return
    yield Paragraph(
        "Responsible: the chance that the cause is there and did some of what was seen. Present: the chance that it is"
        " there at all. The chances need not add up to 100 %: to more where several causes are at work, to less where one"
        " of two would have been enough without the other.",
        tone="quiet",
    )
    listed = [one for at, one in enumerate(diagnosis.ranking[:MOST_RANKED]) if at == 0 or one.responsible >= FAINT]
    rows = [_row(f"{at}.", one) for at, one in enumerate(listed, start=1)]
    unlisted = Meter("responsible", diagnosis.unlisted, words.likely(diagnosis.unlisted))
    rows.append(Row("*", "Something that this knowledge does not hold", "unlisted", (unlisted,)))
    yield Ranking(tuple(rows))
    left = diagnosis.ranking[len(listed) :]
    found = [one for one in left if one.id in _found(diagnosis)]
    if found:
        yield Paragraph("", "Found to be there, but not shown to have done what was seen:")
        yield Items(tuple(Item(f"{one.title} ({one.stage_title})") for one in found))
    left = tuple(one for one in left if one not in found)
    if left:
        most = words.percent(left[0].responsible)
        most = most if left[0].responsible < 0.005 else f"{most} or less"
        yield Paragraph(f"{words.counted(len(left), 'more cause')} not listed, {most} each.", tone="quiet")


def _found(diagnosis: Diagnosis) -> set[str]:
    """Ids of what was answered yes, or computed yes with no answer against it."""
    answered = {one.answer.about for one in diagnosis.seen if one.answer.verdict == "yes"}
    computed = {one.measured.about for one in diagnosis.measured if one.measured.verdict == "yes" and not one.own}
    return answered | computed


def _row(mark: str, one: Ranked) -> Row:
    return Row(
        mark,
        one.title,
        one.stage_title,
        (
            Meter("responsible", one.responsible, words.likely(one.responsible)),
            Meter("present", one.present, words.likely(one.present)),
        ),
    )


def _causes(diagnosis: Diagnosis, knowledge: Knowledge, cited: Citations) -> Iterator[Block]:
    shown = [one for one in explained(diagnosis) if one.reasons or one.chains]
    if not shown:
        return
    yield Heading(2, "Why")
    yield Paragraph(
        "dB are decibans: +10 dB made the odds of the cause ten times as large, -10 dB a tenth. Below 5 barely worth a"
        " mention, 5 to 10 substantial, 10 to 20 strong, over 20 decisive (steps after Jeffreys).",
        tone="quiet",
    )
    told: set[tuple[str, str]] = set()
    for at, one in enumerate(shown, start=1):
        yield Heading(3, f"{at}. {one.title}")
        yield Paragraph(one.what)
        yield from _reasons(one.reasons, cited)
        yield from _chains(one.chains, knowledge, cited, told)
        yield from _could_know(one, knowledge)


def _reasons(reasons: tuple[Reason, ...], cited: Citations) -> Iterator[Block]:
    for title, none, side in (
        ("Speaks for it:", "No answer speaks for it.", [one for one in reasons if one.decibans > 0]),
        ("Speaks against it:", "No answer speaks against it.", [one for one in reasons if one.decibans < 0]),
    ):
        if not side:
            yield Paragraph(none)
            continue
        yield Paragraph("", title)
        telling = [one for one in side[:MOST_REASONS] if abs(one.decibans) >= WEAKEST_REASON] or side[:1]
        items = [Item(f"{_verdict(one, cited)} ({words.weight(one.decibans)})") for one in telling]
        if len(side) > len(telling):
            items.append(Item(f"and {words.counted(len(side) - len(telling), 'weaker one')}"))
        yield Items(tuple(items))


def _verdict(reason: Reason, cited: Citations) -> str:
    says = {"yes": "yes", "no": "no", "cant-tell": "can't tell"}.get(reason.verdict, reason.verdict)
    shown = f"{reason.title}: {says}"
    return f"{shown}; {computed(reason.computed, cited)}" if reason.computed is not None else shown


def _chains(
    chains: Iterable[tuple[ChainLink, ...]], knowledge: Knowledge, cited: Citations, told: set[tuple[str, str]]
) -> Iterator[Block]:
    """Each chain; what stands behind a link is told once in a report, `told` remembers it."""
    for chain in chains:
        if not chain:
            continue
        yield Paragraph(f"from {chain[0].from_title} to {chain[-1].to_title}", "How it comes about:")
        items = []
        for link in chain:
            below = () if (link.from_id, link.to_id) in told else link_details(link.basis, link.disputed, cited)
            told.add((link.from_id, link.to_id))
            strength = words.on_scale(knowledge, "strength", link.strength)
            items.append(Item(f"{link.to_title}, follows {strength}; {cited.marks(link.basis)}", mark="→", below=below))
        yield Items(tuple(items))


def link_details(basis: tuple[Basis, ...], disputed: str | None, cited: Citations) -> tuple[Block, ...]:
    """What stands behind one link, and whether sources disagree on it."""
    dispute = (Paragraph(disputed, "Disputed:"),) if disputed else ()
    return (*cited.said(basis), *dispute)


def _could_know(one: Ranked, knowledge: Knowledge) -> Iterator[Block]:
    text = words.COULD_KNOW.get(one.maker_could_know, one.maker_could_know)
    cause = knowledge.causes.get(one.id)
    if cause is not None and one.maker_could_know != "not-at-all":
        text = f"{text} {cause.check.ask} {cause.check.how}"
    yield Paragraph(text, "Could the maker have known?")
