"""The end of a session: the report on the screen, and in a file if the person wants it."""

from __future__ import annotations

import sys
from pathlib import Path

from diagnose.casework.diagnosis import Diagnosis
from diagnose.commands.options import format_of
from diagnose.commands.output import save

from .brief import in_short
from .desk import listen
from .sitting import Sitting

ENDINGS = (".md", ".txt", ".html", ".json")
"""How the name of a report's file may end."""


def finish(sitting: Sitting) -> bool:
    """Say it in short, show the whole report on wish, offer to save it; false if the person goes back to the questions."""
    talk = sitting.talk
    talk.say()
    talk.say("Making the report...")
    diagnosis = sitting.full_diagnosis()
    in_short(sitting, diagnosis)
    if talk.stream is not sys.stdout:  # the results go to a file or to another program
        _print_whole(sitting, diagnosis)
    else:
        heard = listen(sitting, "Show the whole report? Enter = yes, n = no", local={"back"})
        if heard.command == "back" or heard.changed:
            return False
        if not heard.line.casefold().startswith("n"):
            _print_whole(sitting, diagnosis)
    return _offer_to_save(sitting, diagnosis)


def _print_whole(sitting: Sitting, diagnosis: Diagnosis) -> None:
    talk, tools = sitting.talk, sitting.tools
    here = talk.stream is sys.stdout
    report = tools.render(
        diagnosis, tools.knowledge, "text", width=talk.width if here else 80, colour=talk.colour and here
    )
    print("\n" + report.strip("\n"), file=sys.stdout, flush=True)


def _offer_to_save(sitting: Sitting, diagnosis: Diagnosis) -> bool:
    """Save the report if the person wants it; false if they go back to the questions."""
    name = f"ham-{sitting.case_id}.md"
    sitting.talk.heading("Save the report?")
    sitting.talk.say(f"y = as {name} in this folder; or type a name ({', '.join(ENDINGS)}); Enter = do not save.")
    while True:
        heard = listen(sitting, "File", local={"back"}, remember=True)
        if heard.command == "back" or heard.changed:
            return False
        if not heard.line or heard.line.casefold() in ("n", "no"):
            return True
        if _save(sitting, diagnosis, name if heard.line.casefold() in ("y", "yes") else heard.line):
            return True


def _save(sitting: Sitting, diagnosis: Diagnosis, typed: str) -> bool:
    """Write the report; false if another name is wanted."""
    talk, tools = sitting.talk, sitting.tools
    try:
        path = Path(typed).expanduser()
        if path.is_dir():
            path /= f"ham-{sitting.case_id}.md"
        if path.suffix and path.suffix.lower() not in ENDINGS:
            talk.say(
                f"A report cannot be made as {path.suffix}. End the name in {', '.join(ENDINGS)}; Enter = do not save."
            )
            return False
        if not path.parent.is_dir():
            talk.say(f"That cannot be saved: there is no folder {path.parent}. Another name, or Enter = do not save.")
            return False
        if path.exists():
            answer = listen(sitting, f"{path} is there already. Write over it? y, or Enter = no").line
            if answer.casefold() not in ("y", "yes"):
                talk.say("Left as it is. Another name, or Enter = do not save.")
                return False
        save(path, tools.render(diagnosis, tools.knowledge, format_of(path, pictures=True)), force=True)
    except (OSError, RuntimeError, ValueError) as error:  # no such home, a name that no file can have
        reason = getattr(error, "strerror", None) or str(error)
        talk.say(f"That cannot be saved: {reason}. Another name, or Enter = do not save.")
        return False
    talk.say(f"Saved as {path}.")
    return True
