"""Going through the drafts of comments with the judge who answers for them."""

from __future__ import annotations

import sys
from collections.abc import Sequence

import click

from diagnose.commands.options import Settings
from diagnose.commands.session.reading import best_reader
from diagnose.commands.session.talk import Talk
from diagnose.errors import UsageError
from diagnose.judging.comment import FEWEST, MOST, Comment
from diagnose.judging.final import final_comments, make_final
from diagnose.judging.record import Record
from diagnose.text import clean

LONGEST = 4000


def edit_comments(settings: Settings, comments: Sequence[Comment], record: Record) -> None:
    """Show each comment; the judge takes it as it is, changes it, or leaves it a draft. Each is saved at once.

    Raises UsageError where nobody can be asked.
    """
    if settings.no_input or not sys.stdin or not sys.stdin.isatty():
        raise UsageError(
            "editing asks for words, and nobody can be asked here (no terminal, or --no-input); give final words with: "
            "diagnose comment FILE --entry N --final WORDS.txt"
        )
    stream = sys.stdout if sys.stdout.isatty() else sys.stderr
    talk = Talk(
        stream,
        lambda: best_reader(stream, plain=False, colour=talk.colour),
        colour=False if settings.no_color else None,
    )
    go_through(talk, comments, record)


def go_through(talk: Talk, comments: Sequence[Comment], record: Record) -> None:
    """The same, on the talk given."""
    talk.say("y = final as it is; e = change it in your editor; t = type other words; Enter = leave it; q = leave off.")
    for one in comments:
        final = final_comments(record).get(one.entry)
        talk.heading(f"Entry {one.entry}: {'final' if final else 'draft'}")
        talk.say(final or one.text)
        if not _one(talk, one, final or one.text, record):
            return


def _one(talk: Talk, one: Comment, text: str, record: Record) -> bool:
    """One comment; false when the judge leaves off."""
    while True:
        try:
            line = talk.ask("y, e, t, Enter, q").casefold()
        except (EOFError, KeyboardInterrupt):
            return False
        if line in ("q", "quit"):
            return False
        if line == "":
            return True
        if line in ("y", "yes"):
            new: str | None = text
        elif line == "e":
            new = click.edit(text + "\n")
        elif line == "t":
            new = talk.ask("Words, Enter = leave it", remember=True)
        else:
            talk.say("Please type y, e, t or q, or press Enter.")
            continue
        new = " ".join(clean(new or "", LONGEST).split())
        if not new:
            return True
        make_final(record, one.entry, new)
        count = len(new.split())
        talk.say(f"Final: {count} words." + ("" if FEWEST <= count <= MOST else f" (Usual are {FEWEST} to {MOST}.)"))
        return True
