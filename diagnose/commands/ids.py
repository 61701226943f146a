"""Ids as people type them: the one that was meant is named, by its letters or by its sense, and the shell completes them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

import click
from click.shell_completion import CompletionItem

from diagnose.commands.output import talk
from diagnose.errors import UsageError
from diagnose.text import clean

if TYPE_CHECKING:
    from diagnose.corpus.records import Knowledge

LONGEST = 200
"""Characters of an id or of search words that are looked at."""


def current(knowledge: Knowledge, written: str) -> str:
    """The id itself, or the id that took its place, with a word about it on stderr."""
    name = clean(written, LONGEST).strip()
    retired = knowledge.retired.get(name)
    if retired is not None and retired.instead:
        talk(f"{name} is retired since {retired.since}; this is {retired.instead}")
        return retired.instead
    return name


def unknown(knowledge: Knowledge, name: str, kind: str, known: Mapping[str, object]) -> UsageError:
    """The error for an id that is not there, with what was perhaps meant."""
    from diagnose.corpus.find import did_you_mean

    near = did_you_mean(knowledge, name, known)
    return UsageError(f'no {kind} has the id "{name}"{near or "; search with: diagnose find WORDS"}')


Completer = Callable[[click.Context, click.Parameter, str], list[CompletionItem]]


def completer(kinds: Iterable[str]) -> Completer:
    """A completion of the ids of these fields of the knowledge, such as causes and products; stages count as one."""
    fields = tuple(kinds)

    def complete(context: click.Context, _: click.Parameter, incomplete: str) -> list[CompletionItem]:
        from diagnose.corpus.load import load
        from diagnose.errors import DiagnoseError

        folder, also = context.params.get("knowledge_folder"), context.params.get("also") or ()
        try:
            knowledge = load(Path(folder) if folder else None, [Path(one) for one in also])
        except (DiagnoseError, OSError):
            return []
        held = {field: getattr(knowledge, field) for field in fields if field != "stages"}
        if "stages" in fields:
            held["stages"] = {one.stage: one for one in knowledge.stages}
        return [
            CompletionItem(name, help=getattr(one, "title", None) or getattr(one, "do", None))
            for entries in held.values()
            for name, one in entries.items()
            if name.startswith(incomplete)
        ]

    return complete
