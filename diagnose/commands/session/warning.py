"""Warnings, said before anything else goes on."""

from __future__ import annotations

from diagnose.casework.diagnosis import Suspicion
from diagnose.corpus.records import Cause, Sign
from diagnose.reports.words import likelihood_word, percent

from .safety import HOLD, cautions_of
from .sitting import Leave, Sitting
from .talk import ALARM, STRONG, Talk
from .words import command_in


def warn_at_once(sitting: Sitting, entry: Sign | Cause) -> None:
    """The warnings of an entry that was just answered yes; danger waits until the person has read it."""
    danger = False
    for caution in cautions_of(sitting.knowledge, [entry]):
        if caution.id not in sitting.warned:
            sitting.warned.add(caution.id)
            _show(sitting.talk, caution.title, caution.say, caution.weight, (entry.title,))
            danger = danger or caution.weight == "danger"
    if danger:
        _wait_until_read(sitting)


def _wait_until_read(sitting: Sitting) -> None:
    """Go on at Enter only, so that nothing typed ahead is lost and no command jumps over a warning."""
    while line := sitting.talk.ask("Press Enter when you have read this"):
        command = command_in(line)
        if command is not None and command.word == "quit":
            raise Leave
        sitting.talk.say(f'"{line}" is not taken here. Read the warning, then press Enter.')


def warn_of_all(sitting: Sitting) -> None:
    """Every warning that the case calls for, a suspected cause's too, and that was not shown in this sitting yet."""
    for caution in sitting.diagnosis().cautions:
        if caution.id not in sitting.warned:
            sitting.warned.add(caution.id)
            _show(sitting.talk, caution.title, caution.say, caution.weight, caution.because)
    _say_what_to_rule_out(sitting)


def _say_what_to_rule_out(sitting: Sitting) -> None:
    """Dangerous causes that nobody has found but that are possible: a line each, once."""
    new = [one for one in sitting.diagnosis().rule_out if one.cause not in sitting.suspected]
    if not new:
        return
    sitting.suspected.update(one.cause for one in new)
    sitting.talk.say()
    sitting.talk.say("Not found, but to be ruled out first. Until then hold the lot and taste nothing.", lead="!   ")
    for one in new:
        sitting.talk.say(suspicion(one), lead="!   ")


def suspicion(one: Suspicion) -> str:
    """A dangerous cause that is possible, with its chance and what it would call for."""
    return f"{one.cause} ({percent(one.chance)}, {likelihood_word(one.chance)}). If so: {one.title}."


def _show(talk: Talk, title: str, say: str, weight: str, because: tuple[str, ...]) -> None:
    """Danger stands out by words and marks, and by colour only besides."""
    talk.say()
    if weight == "danger":
        talk.say(f"DANGER: {title}", style=ALARM, lead="!!! ")
        talk.say(say, lead="!!! ")
        talk.say(HOLD, style=STRONG, lead="!!! ")
    else:
        talk.say(f"Take care: {title}. {say}", lead="!   ")
    talk.say(f"Because of: {'; '.join(because)}", lead="!!! " if weight == "danger" else "!   ")
