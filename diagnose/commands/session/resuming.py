"""Going on with a case: choosing it from the latest ones, and saying where it stands."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from diagnose.casework.case import state_of
from diagnose.casework.casebook import Entry
from diagnose.casework.events import Opened
from diagnose.corpus.records import Sign
from diagnose.errors import CaseError
from diagnose.reports.words import counted

from .desk import choose
from .look import reach_in_words, what_can_you_look_at, which_product
from .show import answer_line, say_the_rest
from .sitting import Sitting

MOST_LISTED = 9
MOST_DEFECTS = 2


def take_up(sitting: Sitting, resume: str) -> bool:
    """Go on with the case of this id, or with one that is chosen; false if there is none to go on with."""
    talk = sitting.talk
    case_id = resume or _choose_case(sitting)
    if not case_id:
        talk.say("There is no case to go on with; start one with: diagnose")
        return False
    sitting.take_up(case_id)
    case, knowledge = sitting.case, sitting.knowledge
    if case.product not in knowledge.products:
        talk.say(f'The product "{case.product}" is not in this knowledge; please say again what it is.')
        while (product := which_product(sitting, knowledge)) is None:
            talk.say("This is the first question.")
        sitting.begin(product, case.have or what_can_you_look_at(sitting) or ("product",))
        case = sitting.case
    talk.heading(f"Case {case_id}: {knowledge.products[case.product].title}{f', {case.title}' if case.title else ''}")
    talk.say(f"You can look at: {reach_in_words(case.have)}.")
    if not case.answers:
        talk.say("Nothing is marked or answered yet.")
    for answer in case.answers.values():
        if answer.came != "rest":
            talk.say(answer_line(sitting, answer), lead="  -  ")
    say_the_rest(sitting)
    for about in sitting.outdated():
        talk.say(f"{about}: no longer in this knowledge, so it counts for nothing now.", lead="  !  ")
    if _known_then(sitting) != knowledge.version:
        talk.say("The knowledge has changed since this case began; the answers are weighed anew.", lead="  !  ")
    return True


def _known_then(sitting: Sitting) -> str:
    return [event for event in sitting.events if isinstance(event, Opened)][-1].knowledge


def _choose_case(sitting: Sitting) -> str:
    """The id of one of the latest cases; empty if there is none."""
    entries = sitting.book.recent(MOST_LISTED + 1)
    if len(entries) < 2:
        return entries[0].id if entries else ""
    older = len(entries) > MOST_LISTED
    entries = entries[:MOST_LISTED]
    number = choose(
        sitting,
        "Which case? The latest first." + (" Older ones go by their id: diagnose resume CASE." if older else ""),
        [_line(sitting, entry) for entry in entries],
        prompt=f"1 to {len(entries)}, Enter = 1",
    )
    return entries[(number or 1) - 1].id


def _line(sitting: Sitting, entry: Entry) -> str:
    """A case as people know it again: when it was last worked on, its title, and what was seen first."""
    return f"{entry.id}, {when(entry.latest, date.today())}: " + "; ".join(
        [*([entry.title] if entry.title else []), *_seen(sitting, entry)]
    )


def _seen(sitting: Sitting, entry: Entry) -> list[str]:
    try:
        answers = state_of(sitting.book.read(entry.id)).answers
    except (CaseError, ValueError):
        return ["cannot be read"]
    if not answers:
        return ["nothing marked yet"]
    seen = [sitting.entry(about) for about, answer in answers.items() if answer.verdict == "yes"]
    defects = [one.title for one in seen if isinstance(one, Sign) and one.kind == "defect"]
    told = sum(answer.came != "rest" for answer in answers.values())
    return [*defects[:MOST_DEFECTS], counted(told, "answer")]


def when(stamp: str, today: date) -> str:
    """A time as people say it: today 08:30, yesterday 17:05, or the date. `stamp` is local, ISO 8601."""
    at = datetime.fromisoformat(stamp)
    if at.date() == today:
        return f"today {at:%H:%M}"
    if at.date() == today - timedelta(days=1):
        return f"yesterday {at:%H:%M}"
    return at.date().isoformat()
