"""The second half of a case report: whether the answers fit, whether the result is robust, what to do, what to ask."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from diagnose.casework.diagnosis import Diagnosis, NextQuestion, Plan, PlanStep, Ranked
from diagnose.corpus.records import Correction, Knowledge

from . import words
from .citations import Citations
from .document import Block, Heading, Item, Items, Paragraph, bullets

FEWEST_BITS = 0.02
"""A question that tells less is not listed, unless it is the only one."""

MOST_QUESTIONS = 5
"""Open questions listed; the others are counted."""


def fit(diagnosis: Diagnosis, knowledge: Knowledge) -> Iterator[Block]:
    """Do the answers go together, and with what is known?"""
    if not diagnosis.seen:
        return
    found = diagnosis.fit
    yield Heading(2, "Do the answers fit?")
    if found.fits:
        yield Paragraph("Yes: they go together, and the causes listed here account for them.")
    elif found.unlisted >= 0.5:
        yield Paragraph("Not well: it is more likely than not that something unlisted did some of what was seen.")
    else:
        yield Paragraph("Not well: the answers speak against each other. Look once more at those named below.")
    yield Paragraph(
        f"{words.likely(found.unlisted)} that some defect seen came from something this knowledge does not hold.",
        tone="quiet",
    )
    if not found.at_odds:
        return
    yield Paragraph(f"Conflict measure {found.conflict:+.1f}; ordinary answers stay under 1.", tone="quiet")
    if found.explained_by is not None:
        cause = knowledge.causes.get(found.explained_by)
        title = cause.title if cause else found.explained_by
        yield Paragraph(title, "The conflict would be accounted for by:")
    titles = {one.answer.about: one.title for one in diagnosis.seen}
    if found.at_odds:
        yield Paragraph("; ".join(titles.get(one, one) for one in found.at_odds), "Most at odds with the rest:")


def robustness(diagnosis: Diagnosis) -> Iterator[Block]:
    """Does the first place hold?"""
    found = diagnosis.robustness
    if diagnosis.plan is None:
        return
    yield Heading(2, "Is it robust?")
    if found is None:
        yield Paragraph(
            "Not tried: so many unsure answers hang together here that moving every word would take minutes. Surer"
            " answers would help more."
        )
        return
    moved = words.counted(found.words_moved, "change")
    if found.holds:
        yield Paragraph(
            f"The first place holds under each of {moved} tried, one at a time: every word of the knowledge that the"
            " answers touch, moved one step down and one step up its scale."
        )
        return
    yield Paragraph(
        f"The first place is not firm. Of {moved} tried (every word of the knowledge that the answers touch, moved one"
        " step on its scale, one at a time), these upset it most:"
    )
    yield Items(
        tuple(
            Item(
                f"{hinge.where}; if that were {words.spaced(hinge.instead)} and not {words.spaced(hinge.word)},"
                f" this would come first: {hinge.first}"
            )
            for hinge in found.hinges
        )
    )


def plan(diagnosis: Diagnosis, first: Sequence[Ranked], knowledge: Knowledge, cited: Citations) -> Iterator[Block]:
    """What to do, by when it is done. `first` are the causes that the report explains."""
    found = diagnosis.plan
    if found is None:
        return
    yield Heading(2, "What to do")
    yield from _this_lot(diagnosis, found, knowledge, cited)
    yield from _confirm(found)
    numbered = list(enumerate(found.steps, start=1))
    for when in ("now", "next-batch", "supplier"):
        steps = [(at, one) for at, one in numbered if one.when == when]
        if steps:
            yield Heading(3, words.WHEN[when])
            yield Items(tuple(_step(one, f"{at}.", knowledge, cited) for at, one in steps))
    yield from _outlook(found)
    if not found.steps:
        yield from _written_for(first, diagnosis.product, knowledge, cited)


def _this_lot(diagnosis: Diagnosis, plan: Plan, knowledge: Knowledge, cited: Citations) -> Iterator[Block]:
    """What holds the lot stands first; everything else waits for its release where there is danger."""
    yield Heading(3, words.WHEN["this-lot"])
    holding = [one for one in plan.this_lot if one.holds]
    others = [one for one in plan.this_lot if not one.holds]
    if not plan.this_lot:
        yield Paragraph("There is no instruction here for the lot at hand beyond the cautions at the top.")
    if holding:
        yield Items(tuple(_step(one, "", knowledge, cited) for one in holding))
    danger = holding or diagnosis.rule_out or any(one.weight == "danger" for one in diagnosis.cautions)
    if others and danger:
        yield Paragraph(
            "The lot stays on hold (see the top). Only if whoever decides releases it, and only as far as its state"
            " allows (raw, cooked, packed):"
        )
    if others:
        yield Items(tuple(_step(one, "", knowledge, cited) for one in others))


def _confirm(plan: Plan) -> Iterator[Block]:
    if plan.confirm_first:
        yield Heading(3, "Confirm first")
        yield Paragraph("Cheap checks that show whether the causes are there, before work is spent on them:")
        yield Items(tuple(_check(one) for one in plan.confirm_first))


def _check(one: NextQuestion) -> Item:
    who = words.WHO.get(one.needs, one.needs)
    return Item(one.ask, below=(Paragraph(f"{one.how} ({words.minutes(one.minutes)}; {who})"),))


def _step(one: PlanStep, mark: str, knowledge: Knowledge, cited: Citations) -> Item:
    below: list[Block] = [Paragraph("; ".join(one.causes), "Against:")] if one.causes else []
    below += [
        Paragraph(words.effort(knowledge, one.effort), "Effort:"),
        Paragraph(one.verify, "To see that it worked:"),
    ]
    if mark:
        below.append(Paragraph(f"{words.points(one.gain)} of the defects seen", "Takes away:"))
    below += _cautions(one.cautions, knowledge)
    below += [Paragraph(cited.marks(one.basis), "Basis:"), *cited.said(one.basis)]
    return Item(one.do, mark=mark, below=tuple(below))


def _outlook(plan: Plan) -> Iterator[Block]:
    yield Heading(3, "What it should bring")
    if not plan.steps:
        yield Paragraph(
            "No set of steps was found that noticeably lowers what was seen. What is written for the first causes"
            " follows; take it up once a check has shown that they are there."
        )
    else:
        yield Paragraph("If this batch were made again with all the steps:")
        yield Items(
            (
                Item(f"{words.percent(plan.gone_after_all)} of the defects seen would be expected to be gone"),
                Item(f"chance that all of them would be gone: {words.likely(plan.free_after_all)}"),
            )
        )
        yield Paragraph("What a step takes away counts what it adds after the steps with smaller numbers.")
    if plan.assumptions:
        yield Paragraph("", "This rests on:")
        yield from bullets([Item(one) for one in plan.assumptions])


def _written_for(first: Sequence[Ranked], product: str, knowledge: Knowledge, cited: Citations) -> Iterator[Block]:
    """Where no set of steps was found: what the knowledge says to do about the first causes, one by one."""
    causes = [knowledge.causes[one.id] for one in first if one.id in knowledge.causes]
    for cause in causes:
        steps = [one for one in cause.corrections if one.when != "this-lot" and one.suits(product)]
        if not steps:
            continue
        yield Heading(3, f"Written for: {cause.title}")
        yield Items(tuple(_written(one, knowledge, cited) for one in steps))


def _written(one: Correction, knowledge: Knowledge, cited: Citations) -> Item:
    below = (
        Paragraph(f"{words.WHEN[one.when].lower()}; {words.effort(knowledge, one.effort)}", "When and effort:"),
        Paragraph(one.verify, "To see that it worked:"),
        *_cautions(one.caution, knowledge),
        Paragraph(cited.marks(one.basis), "Basis:"),
        *cited.said(one.basis),
    )
    return Item(one.do, below=below)


def _cautions(names: Iterable[str], knowledge: Knowledge) -> Iterator[Block]:
    """What a person must heed who takes the step."""
    for name in names:
        one = knowledge.cautions[name]
        yield Paragraph(f"{one.title}. {one.say}", "Caution:")


def questions(diagnosis: Diagnosis) -> Iterator[Block]:
    """What would settle it best next, and what others could look at."""
    yield from _at_hand(diagnosis)
    if diagnosis.elsewhere:
        yield Paragraph("", "What would tell much, but needs what was not at hand:")
        yield Items(tuple(_question("-", one) for one in diagnosis.elsewhere))


def _at_hand(diagnosis: Diagnosis) -> Iterator[Block]:
    yield Heading(2, "What would settle it best next")
    if not diagnosis.next:
        yield Paragraph("No question is open that would tell more and that can be answered with what is at hand.")
        return
    if not diagnosis.worth_asking:
        yield Paragraph("None of the open questions is clearly worth its time any more. The best of them:")
    telling = [one for one in diagnosis.next if one.bits >= FEWEST_BITS] or list(diagnosis.next[:1])
    yield Items(tuple(_question(f"{at}.", one) for at, one in enumerate(telling[:MOST_QUESTIONS], start=1)))
    more = len(telling) - MOST_QUESTIONS
    if more > 0:
        yield Paragraph(f"{words.counted(more, 'more open question')} that would tell less for the time.", tone="quiet")


def _question(mark: str, one: NextQuestion) -> Item:
    who = words.WHO.get(one.needs, one.needs)
    below = [
        Paragraph(one.how),
        Paragraph(
            f"{words.minutes(one.minutes)}; {who}; tells {one.bits:.2f} bits; the chance of a yes is"
            f" {words.percent(one.yes)}"
        ),
    ]
    if one.speaks_for and one.speaks_against:
        below.append(Paragraph(f"{one.speaks_for} / {one.speaks_against}", "Separates:"))
    elif one.speaks_for:
        below.append(Paragraph(one.speaks_for, "A yes speaks for:"))
    elif one.speaks_against:
        below.append(Paragraph(one.speaks_against, "A yes speaks against:"))
    return Item(one.ask, mark=mark, below=tuple(below))
