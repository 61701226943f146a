"""Showing where the case stands: the ranking and what moved it, the links from cause to defect, the answers so far."""

from __future__ import annotations

from diagnose.casework.diagnosis import Diagnosis, Ranked
from diagnose.casework.events import Answer
from diagnose.reports.words import counted, likelihood_word, likely, percent, spaced, weight

from .sitting import Sitting
from .talk import Talk
from .words import in_words as answer_in_words
from .words import number_in

TOP = 5
UNLISTED = "Something that is not listed here"
UNLISTED_WORTH_A_LINE = 0.15
"""What is not in this knowledge has its line from this chance on, or if only fewer than five causes are likelier."""

STANDS_OUT = 0.33
"""A first cause below this chance, which is called unlikely, does not stand out."""

WORTH_A_LINE = 0.01
"""Causes less likely to be at work than this are counted in the full ranking, not listed."""


def where_it_stands(sitting: Sitting, before: Diagnosis | None) -> None:
    """The first causes with bars, and what the last answer changed against `before`."""
    talk, now = sitting.talk, sitting.diagnosis()
    if not now.seen:
        return
    earlier = _chances(before)
    talk.heading("Most likely at work")
    shown = _first(now)
    if not shown:
        talk.say("No listed cause is left that could have done what was seen.", indent=3)
    elif nothing_stands_out(now):
        hope = " yet; the questions will tell" if now.worth_asking else ", and no open question would change that much"
        talk.say(f"Nothing stands out{hope}.", indent=3)
        if _perhaps_no_fault(now):
            talk.say("What is marked slight or unsure may be no fault at all.", indent=3)
    moved = before is not None and _anything(before)
    unlisted_at = sum(ranked.responsible >= now.unlisted for ranked in shown)
    for number, ranked in enumerate(shown, 1):
        if number == unlisted_at + 1:
            _unlisted_row(talk, before if moved else None, now)
        _row(talk, f"{number:>2}", ranked.title, ranked.responsible, earlier.get(ranked.id, 0.0) if moved else None)
    if unlisted_at == len(shown) and now.unlisted >= (WORTH_A_LINE if unlisted_at < TOP else UNLISTED_WORTH_A_LINE):
        _unlisted_row(talk, before if moved else None, now)
    if before is not None:
        _say_who_fell(talk, before, now)
    if not now.fit.fits and (before is None or before.fit.fits or before.fit.at_odds != now.fit.at_odds):
        _say_misfit(sitting, now)


def _perhaps_no_fault(diagnosis: Diagnosis) -> bool:
    """Whether no defect was marked both surely and as more than slight, so that all causes together stay unlikely."""
    defects = [seen.answer for seen in diagnosis.seen if seen.kind == "defect" and seen.answer.verdict == "yes"]
    return bool(defects) and all(answer.how_much == "slight" or answer.sure != "sure" for answer in defects)


def _first(diagnosis: Diagnosis) -> list[Ranked]:
    """The first causes, without those too unlikely for a line; the very first one always has its line."""
    first = diagnosis.ranking[:TOP]
    worth = [ranked for ranked in first if ranked.responsible >= WORTH_A_LINE]
    return worth or [ranked for ranked in first[:1] if ranked.responsible > 0.0]


def nothing_stands_out(diagnosis: Diagnosis) -> bool:
    """Whether even the first cause is unlikely."""
    return not diagnosis.ranking or diagnosis.ranking[0].responsible < STANDS_OUT


def _anything(diagnosis: Diagnosis) -> bool:
    return bool(diagnosis.ranking) and diagnosis.ranking[0].responsible > 0.0


def _chances(diagnosis: Diagnosis | None) -> dict[str, float]:
    return {} if diagnosis is None else {ranked.id: ranked.responsible for ranked in diagnosis.ranking}


def _row(talk: Talk, mark: str, title: str, chance: float, earlier: float | None) -> None:
    moved = "" if earlier is None else points(earlier, chance)
    talk.say(title, lead=f"{mark} ")
    figures = f"{percent(chance)} ({likelihood_word(chance)})" + (f", {moved}" if moved else "")
    bar = talk.bar(chance)
    talk.say(f"{bar}  {figures}" if bar else figures, indent=3)


def _unlisted_row(talk: Talk, before: Diagnosis | None, now: Diagnosis) -> None:
    _row(talk, " *", UNLISTED, now.unlisted, None if before is None else before.unlisted)


def _say_who_fell(talk: Talk, before: Diagnosis, now: Diagnosis) -> None:
    """Name those of the former first places that have dropped out of sight."""
    shown = {ranked.id for ranked in _first(now)}
    chances = _chances(now)
    fallen = [
        f"{ranked.title} ({percent(ranked.responsible)} to {percent(chances.get(ranked.id, 0.0))})"
        for ranked in before.ranking[:TOP]
        if ranked.id not in shown and points(ranked.responsible, chances.get(ranked.id, 0.0))
    ]
    if fallen:
        talk.say("Out of the first places: " + "; ".join(fallen), lead="   ")


def _say_misfit(sitting: Sitting, now: Diagnosis) -> None:
    at_odds = "; ".join(sitting.title(about) for about in now.fit.at_odds)
    talk = sitting.talk
    talk.say("These answers fit no listed cause well." + (f" At odds: {at_odds}." if at_odds else ""), lead=" ! ")


def points(before: float, after: float) -> str:
    """The change of a chance in whole points of per cent: "up 12 points"; empty if it rounds to none."""
    moved = round(after * 100) - round(before * 100)
    if not moved:
        return ""
    return f"{'up' if moved > 0 else 'down'} {counted(abs(moved), 'point')}"


def whole_ranking(sitting: Sitting, _: str) -> bool:
    """The command `rank`."""
    talk, now = sitting.talk, sitting.diagnosis()
    listed = [ranked for ranked in now.ranking if ranked.responsible >= WORTH_A_LINE]
    talk.heading("All causes, by the chance that they did some of what was seen")
    if not listed:
        talk.say("None stands out yet: mark a defect first.")
    for number, ranked in enumerate(listed, 1):
        talk.say(f"{ranked.title} [{ranked.stage_title}]", lead=f"{number:>3} ")
        talk.say(f"{likely(ranked.responsible)}; that it is there at all: {percent(ranked.present)}", indent=4)
    if rest := len(now.ranking) - len(listed):
        talk.say(f"and {rest} more, each below 1 %", indent=4)
    talk.say(f"{UNLISTED}: {likely(now.unlisted)}", indent=4)
    return False


def links(sitting: Sitting, which: str) -> bool:
    """The command `links`: the chain of links from the cause at that place of the ranking (1 if left out)."""
    talk = sitting.talk
    diagnosis = sitting.full_diagnosis()
    place = number_in(which or "1", len(diagnosis.ranking))
    if place is None:
        talk.say(f"The ranking has no place {which or 1}.")
        return False
    ranked = diagnosis.ranking[place - 1]
    talk.heading(f"{ranked.title} [{ranked.stage_title}]")
    talk.say(ranked.what)
    if not ranked.chains:
        talk.say("No link leads from it to a defect marked so far.")
    for chain in ranked.chains:
        talk.say()
        for link in chain:
            talk.say(f"{link.from_title} -> {link.to_title}: {spaced(link.strength)}", lead="  ")
            talk.say(f"({_sources(sitting, [basis.source for basis in link.basis])})", indent=6)
            if link.disputed:
                talk.say(f"Disputed: {link.disputed}", indent=6)
    if ranked.reasons:
        talk.heading("What the answers say of it (dB: +10 makes the odds ten times as good)")
        for reason in ranked.reasons:
            said = answer_in_words(reason.verdict, "sure", None)  # type: ignore[arg-type]
            talk.say(f"{reason.title}: {said} ({weight(reason.decibans)})", lead="  ")
    return False


def _sources(sitting: Sitting, ids: list[str]) -> str:
    if not ids:
        return "common practice in the trade"
    named = []
    for name in dict.fromkeys(ids):
        source = sitting.knowledge.sources.get(name)
        named.append(name if source is None else f"{source.title}{f', {source.year}' if source.year else ''}")
    return "; ".join(named)


def say_the_rest(sitting: Sitting) -> None:
    """How many signs were said to be absent with one word for the rest of a list."""
    rest = sum(answer.came == "rest" for answer in sitting.case.answers.values())
    if rest:
        sitting.talk.say(
            f"Looked for in the lists and not there: {counted(rest, 'sign')}; over shows them.", lead="  -  "
        )


def answer_line(sitting: Sitting, answer: Answer) -> str:
    """One answer in a line: what it is about, and what was said."""
    said = answer_in_words(answer.verdict, answer.sure, answer.how_much)
    return f"{sitting.title(answer.about)}: {said}"
