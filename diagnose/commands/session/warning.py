"""Warnings, said before anything else goes on."""

from __future__ import annotations

from diagnose.corpus.records import Cause, Sign

from .desk import listen
from .safety import HOLD, cautions_of
from .sitting import Sitting
from .talk import ALARM, STRONG, Talk


def warn_at_once(sitting: Sitting, entry: Sign | Cause) -> None:
    """The warnings of an entry that was just answered yes; danger waits until the person has read it."""
    danger = False
    for caution in cautions_of(sitting.knowledge, [entry]):
        if caution.id not in sitting.warned:
            sitting.warned.add(caution.id)
            _show(sitting.talk, caution.title, caution.say, caution.weight, (entry.title,))
            danger = danger or caution.weight == "danger"
    if danger:
        listen(sitting, "Press Enter when you have read this")


def warn_of_all(sitting: Sitting) -> None:
    """Every warning that the case calls for, a suspected cause's too, and that was not shown in this sitting yet."""
    for caution in sitting.diagnosis().cautions:
        if caution.id not in sitting.warned:
            sitting.warned.add(caution.id)
            _show(sitting.talk, caution.title, caution.say, caution.weight, caution.because)


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
