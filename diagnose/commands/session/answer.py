"""One question: putting it, with why it is asked and how to look, and taking the answer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from diagnose.casework.diagnosis import NextQuestion
from diagnose.casework.events import Answer, Came
from diagnose.corpus.records import Cause, Sign
from diagnose.reports.words import WHO, minutes, percent

from .desk import listen
from .safety import MOUTH_REGIONS
from .sitting import Sitting, ToLists, ToQuestions, ToReport
from .warning import warn_at_once
from .words import Reply, in_words, reply_in

Outcome = Literal["answered", "skipped", "back", "changed"]

_LOCAL = frozenset({"back", "skip", "why", "how"})


@dataclass(frozen=True, slots=True)
class Asked:
    """A question to put. `offered` is what the calculation says of it, if anything; `chosen`: by the person."""

    entry: Sign | Cause
    offered: NextQuestion | None = None
    chosen: bool = False

    @property
    def graded(self) -> bool:
        """Whether slight and marked are told apart."""
        return isinstance(self.entry, Sign) and self.entry.graded


def put_question(sitting: Sitting, asked: Asked, heading: str) -> None:
    """Say the question, why it is asked, and how to look."""
    talk, check = sitting.talk, asked.entry.check
    talk.heading(f"{heading}: {check.ask}")
    cost = f"{minutes(check.minutes)}; {WHO[check.needs]}."
    talk.say(f"{_separates(asked.offered)}{cost}", lead="  Why: ")
    talk.say(check.how, lead="  How: ")
    if isinstance(asked.entry, Sign) and asked.entry.region in MOUTH_REGIONS and sitting.in_danger():
        talk.say("There is a warning: do not taste.", lead="  !    ")


def _separates(offered: NextQuestion | None) -> str:
    if offered is None or offered.speaks_for is None:
        return ""
    if offered.speaks_against is None:
        return f'Tells for or against "{offered.speaks_for}". '
    return f'Separates "{offered.speaks_for}" from "{offered.speaks_against}". '


def take_answer(sitting: Sitting, asked: Asked) -> Outcome:
    """The person's answer, kept before this returns. "back" and "skipped" are left to the caller to act on."""
    talk = sitting.talk
    while True:
        heard = listen(sitting, _prompt(asked), local=_LOCAL, reminder=asked.entry.check.ask)
        if heard.changed:
            return "changed"
        if heard.command == "back":
            return "back"
        if heard.command == "skip" or (not heard.line and not heard.command):
            return "skipped"
        if heard.command == "why":
            _say_why(sitting, asked)
        elif heard.command == "how":
            explain(sitting, asked.entry)
        elif (reply := reply_in(_with_yes(heard.line) if asked.graded else heard.line)) is not None:
            keep(sitting, asked, reply)
            return "answered"
        elif asked.graded and heard.line.casefold() == "m":
            talk.say("m alone can mean two things: type y marked for much of it, or ym for yes from memory.")
        else:
            talk.say("Please answer y, n or c (can't tell). Something else to tell? Put add in front: add foam.")


def keep(sitting: Sitting, asked: Asked, reply: Reply) -> None:
    """Record an answer, say what more than a plain yes or no was understood, and show at once any warning it calls for."""
    entry, how_much = asked.entry, reply.how_much if asked.graded else None
    before = sitting.case.answers.get(entry.id)
    came: Came = "question" if not asked.chosen or (before is not None and before.came == "question") else ""
    sitting.record(Answer(entry.id, reply.verdict, reply.sure, how_much, came))
    if reply.sure != "sure" or how_much:
        sitting.talk.say(f"Kept: {in_words(reply.verdict, reply.sure, how_much)}.")
    if reply.how_much and not asked.graded:
        sitting.talk.say("Slight and marked are not told apart here.")
    if reply.verdict == "yes":
        warn_at_once(sitting, entry)


def put_entry(sitting: Sitting, entry: Sign | Cause) -> bool:
    """Put the question of an entry that the person chose; true if the case has changed.

    Whoever leaves it without an answer is told so, since they may think that naming it was enough.
    """
    asked = Asked(entry, chosen=True)
    changed = False
    try:
        put_question(sitting, asked, "Tell me more")
        while (outcome := take_answer(sitting, asked)) == "changed":
            changed = True
            put_question(sitting, asked, "Tell me more")
    except (ToLists, ToQuestions, ToReport):
        sitting.talk.say(_nothing_kept(entry))
        raise
    if outcome == "answered":
        return True
    sitting.talk.say(_nothing_kept(entry))
    return changed


def _nothing_kept(entry: Sign | Cause) -> str:
    return f"Nothing is kept of: {entry.title}."


def explain(sitting: Sitting, entry: Sign | Cause) -> None:
    """What an entry is, how to look for it, and what it may be mistaken for."""
    talk = sitting.talk
    talk.say(f"{entry.title}. {entry.what}")
    talk.say(f"How to look: {entry.check.how}")
    if isinstance(entry, Sign):
        for alike in entry.tell_apart:
            talk.say(f"Not to be taken for: {sitting.title(alike.source)}. {alike.by}")


def _prompt(asked: Asked) -> str:
    """Enter goes on without an answer: it puts a question of the program's aside, and drops one that the person chose."""
    enter = "Enter = leave it" if asked.chosen else "Enter = skip"
    return f"y, n, c (can't tell){', y slight, y marked' if asked.graded else ''}, {enter}"


def _with_yes(line: str) -> str:
    """A bare "slight" or "marked" means yes."""
    return f"y {line}" if line.casefold().startswith(("slight", "marked")) else line


def _say_why(sitting: Sitting, asked: Asked) -> None:
    talk, offered = sitting.talk, asked.offered
    right = sitting.knowledge.scales["reliability"].value(asked.entry.check.reliability)
    if offered is None:
        talk.say("You chose this one yourself.")
    else:
        talk.say(f"As things stand, a yes is expected with {percent(offered.yes)}.")
        if offered.speaks_for:
            talk.say(f"A yes speaks most for: {offered.speaks_for}.")
        if offered.speaks_against:
            talk.say(f"A yes speaks against, or leaves behind: {offered.speaks_against}.")
        a_minute = offered.bits / max(offered.minutes, 1)
        talk.say(f"It is worth {offered.bits:.2f} bits, {a_minute:.3f} for each minute.")
    talk.say(f"A check like this gives the right answer in about {percent(right)} of cases.")
