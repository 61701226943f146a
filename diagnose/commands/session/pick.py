"""Finding a sign or a cause by a few letters: trade words, other names, slips of the finger."""

from __future__ import annotations

from diagnose.corpus.find import find
from diagnose.corpus.records import Cause, Sign
from diagnose.reports.words import REGION

from .desk import listen
from .reading import Suggestion
from .sitting import Sitting
from .words import Reply, command_in, in_words, marks_in

MOST = 9
NEAR = 0.6
"""Share of the best score below which a find is more noise than help."""


def _found(sitting: Sitting, words: str) -> tuple[list[Sign | Cause], int]:
    """What may be meant and may be asked now, best first; and how many more there are out of this person's reach."""
    hits = find(sitting.knowledge, words, 40, kinds=("sign", "cause"))
    entries = [sitting.entry(hit.id) for hit in hits if hit.score >= NEAR * hits[0].score]
    open_to_all = [entry for entry in entries if entry is not None]
    reachable = [entry for entry in open_to_all if sitting.may_ask(entry)]
    return reachable[:MOST], sum(not sitting.within_reach(entry) for entry in open_to_all)


def suggestions(sitting: Sitting, typed: str) -> list[Suggestion]:
    """What to offer while the person types; nothing for numbers, commands and single letters."""
    typed = typed.strip()
    if len(typed) < 2 or typed[0].isdigit() or command_in(typed) is not None:
        return []
    entries, _ = _found(sitting, typed)
    return [Suggestion(entry.title, _where(sitting, entry)) for entry in entries]


def _where(sitting: Sitting, entry: Sign | Cause) -> str:
    if isinstance(entry, Sign):
        return REGION.get(entry.region, entry.region)
    stage = next((stage.title for stage in sitting.knowledge.stages if stage.stage == entry.stage), entry.stage)
    return f"cause, {stage.lower()}"


def _state(sitting: Sitting, entry: Sign | Cause) -> str:
    answer = sitting.case.answers.get(entry.id)
    return f"[{in_words(answer.verdict, answer.sure, answer.how_much)}] " if answer else ""


def pick(sitting: Sitting, words: str) -> tuple[Sign | Cause, Reply] | None:
    """The entry that the person means, and the mark they put on it; None if they found nothing."""
    talk = sitting.talk
    while True:
        entries, out_of_reach = _found(sitting, words)
        exact = next((entry for entry in entries if entry.title.casefold() == words.casefold()), None)
        if exact is not None:
            return exact, Reply("yes")
        talk.say(f'Found for "{words}":' if entries else f'Nothing found for "{words}".')
        talk.choices([f"{_state(sitting, entry)}{entry.title} ({_where(sitting, entry)})" for entry in entries])
        if out_of_reach:
            talk.say(f"{out_of_reach} more need what you cannot look at; the command reach changes that.")
        if not entries:
            return None
        heard = listen(
            sitting,
            f"{'1 = this one' if len(entries) == 1 else 'Number'}, other words, Enter = none of these",
            local={"back", "skip", "add"},
            suggest=lambda typed: suggestions(sitting, typed),
            remember=True,
        )
        if heard.command in ("back", "skip") or heard.changed or not (heard.rest or heard.line):
            return None
        marks = marks_in(heard.line)
        if marks is None:
            words = heard.rest or heard.line
        elif len(marks) == 1 and 1 <= marks[0][0] <= len(entries):
            return entries[marks[0][0] - 1], marks[0][1]
        else:
            talk.say(f"Please type one number from 1 to {len(entries)}.")
