"""Going through the drafts of comments with the judge who answers for them."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Sequence

import click

from diagnose.commands.options import Settings
from diagnose.commands.session.reading import can_ask
from diagnose.commands.session.talk import Talk, talk_here
from diagnose.corpus.records import Knowledge
from diagnose.errors import UsageError
from diagnose.judging.comment import FEWEST, MOST, Comment
from diagnose.judging.final import LEAST_WORDS, SUSPECT_WORDS, final_comments, final_words, make_final
from diagnose.judging.record import Record
from diagnose.judging.sheet import JudgedClass
from diagnose.judging.suggesting import fault_title
from diagnose.judging.wording import DEGREES


def edit_comments(
    settings: Settings, comments: Sequence[Comment], record: Record, judged: JudgedClass, knowledge: Knowledge
) -> None:
    """Show each comment; the judge takes it as it is, changes it, or leaves it a draft. Each is saved at once.

    Raises UsageError where nobody can be asked.
    """
    if settings.no_input or not can_ask():
        raise UsageError(
            "editing asks for words, and nobody can be asked here (no terminal, or --no-input); give final words with: "
            "diagnose comment FILE --entry N --final WORDS.txt"
        )
    go_through(talk_here(colour=False if settings.no_color else None, plain=False), comments, record, judged, knowledge)


HELP = (
    "y = these words are final; e = change them in your editor; t = type other words; s = what the judges put down;"
    " Enter = leave it a draft, go on; q = leave off; ? = this line."
)


def go_through(
    talk: Talk, comments: Sequence[Comment], record: Record, judged: JudgedClass, knowledge: Knowledge
) -> None:
    """The same, on the talk given."""
    talk.say(HELP)
    for one in comments:
        final = final_comments(record).get(one.entry)
        talk.heading(f"Entry {one.entry}: {'final' if final else 'draft'}")
        if one.plan.kind == "suspect":
            talk.say(SUSPECT_WORDS, lead="!!! ")
        _put_down(talk, one, judged, knowledge)
        talk.say()
        talk.say(final or one.text)
        if not _one(talk, one, final or one.text, record, judged, knowledge):
            return


def _put_down(talk: Talk, one: Comment, judged: JudgedClass, knowledge: Knowledge) -> None:
    """Points and marks of each judge, so that the words can be checked against them."""
    for sheet in judged.of_entry(one.entry):
        said = [f"{sheet.total} points"]
        for mark in sheet.marks:
            title = fault_title(judged.card, knowledge, mark.fault)
            amount = DEGREES.get(mark.how_much or "", "")
            inside = ", ".join(part for part in (amount, mark.place) if part)
            if mark.verdict == "yes":
                said.append(f"{title}{f' ({inside})' if inside else ''}")
        if sheet.suspect:
            said.append(f"SET ASIDE: {sheet.suspect}")
        said += [f'"{note}"' for note in sheet.notes]
        talk.say("; ".join(said), lead=f"  judge {sheet.judge}: ")


def _editor() -> str | None:
    """The editor that the person has chosen, else one that tells on the screen how to leave it; None if there is none."""
    chosen = os.environ.get("VISUAL") or os.environ.get("EDITOR")
    return chosen or shutil.which("nano") or ("notepad" if sys.platform == "win32" else None)


def _one(talk: Talk, one: Comment, text: str, record: Record, judged: JudgedClass, knowledge: Knowledge) -> bool:
    """One comment; false when the judge leaves off."""
    while True:
        try:
            line = talk.ask("y, e, t, s, Enter, q, ? = what these mean").casefold()
        except (EOFError, KeyboardInterrupt):
            return False
        if line in ("q", "quit"):
            return False
        if line == "":
            return True
        if line in ("y", "yes"):
            new: str | None = text
        elif line == "e":
            editor = _editor()
            if editor is None:
                talk.say("No editor is chosen here (the setting EDITOR); type the words with t instead.")
                continue
            new = click.edit(text + "\n", editor=editor)
        elif line == "t":
            new = talk.ask("Words, Enter = leave it", remember=True)
        elif line == "s":
            _put_down(talk, one, judged, knowledge)
            continue
        else:
            talk.say(HELP)
            continue
        new = final_words(new or "")
        if not new:
            return True
        if len(new.split()) < LEAST_WORDS:
            talk.say(f"That is too short to be a comment: {new}. Nothing was changed.")
            continue
        make_final(record, one.entry, new)
        count = len(new.split())
        talk.say(f"Final: {count} words." + ("" if FEWEST <= count <= MOST else f" (Usual are {FEWEST} to {MOST}.)"))
        return True
