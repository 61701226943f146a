"""Checks of file names."""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.corpus.draft import Draft
from diagnose.errors import Problem


def names_that_clash(draft: Draft) -> Iterator[Problem]:
    """Two files whose names differ only in capitals are one file on many machines."""
    seen: dict[tuple[str, str], str] = {}
    for folder, name in draft.files:
        first = seen.setdefault((folder, name.lower()), name)
        if first != name:
            path = name if folder == "." else f"{folder}/{name}"
            yield Problem(path, 1, 1, f"this name differs from {first} only in capitals")
