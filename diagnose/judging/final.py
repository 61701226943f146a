"""Final comments: the words that a judge has read, changed where needed, and stands by. Kept beside the sheets."""

from __future__ import annotations

from pathlib import Path

from diagnose.text import clean

from .record import Record, folder_of

LEAST_WORDS = 4
"""Fewer words than these are a slip of the key and no comment."""

LONGEST = 4000
"""Characters kept of one comment."""


SUSPECT_WORDS = (
    "This piece was set aside. Whatever the words say, the sheet begins with the box to hold the lot, not to taste it and"
    " to call the inspector. Please see that the words do not say otherwise."
)
"""What a judge is told whose final words go on the sheet of a suspect piece."""


def comments_record(class_file: Path) -> Record:
    """The append-only file of the final comments of a class."""
    return Record(folder_of(class_file) / "comments.jsonl")


def final_comments(record: Record) -> dict[int, str]:
    """The final words by entry; a later one replaces an earlier one."""
    return {event["entry"]: clean(event["text"], LONGEST) for event in record.events if event["do"] == "final"}


def make_final(record: Record, entry: int, text: str) -> None:
    """Keep the final words of one entry; they come from `final_words`."""
    record.append("final", entry=entry, text=text)


def final_words(text: str) -> str:
    """Words as a judge gave them, made harmless, on one line and of bounded length; empty if there are none."""
    return " ".join(clean(text, LONGEST).split())
