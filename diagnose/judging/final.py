"""Final comments: the words that a judge has read, changed where needed, and stands by. Kept beside the sheets."""

from __future__ import annotations

from pathlib import Path

from .record import Record, folder_of


def comments_record(class_file: Path) -> Record:
    """The append-only file of the final comments of a class."""
    return Record(folder_of(class_file) / "comments.jsonl")


def final_comments(record: Record) -> dict[int, str]:
    """The final words by entry; a later one replaces an earlier one."""
    return {int(event["entry"]): str(event["text"]) for event in record.events if event["do"] == "final"}


def make_final(record: Record, entry: int, text: str) -> None:
    """Keep the final words of one entry."""
    record.append("final", entry=entry, text=text)
