"""The files of a knowledge folder as bytes, and a fingerprint of them all.

Nothing here understands YAML, so that a start with remembered knowledge need not load the parser.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

LARGEST_FILE = 2_000_000
"""Bytes; a larger file is refused unread."""

_NOT_KNOWLEDGE = {"cases", "schema"}
"""Folders that belong to the knowledge but say nothing that a ranking rests on."""


@dataclass(frozen=True, slots=True)
class Folder:
    """The YAML files of one folder: relative name to bytes, None for a file that is too large or unreadable."""

    path: Path
    shown: str
    contents: dict[str, bytes | None]

    def name(self, relative: str) -> str:
        """The name of a file as problems print it."""
        return f"{self.shown}/{relative}" if self.shown != "." else relative


def gather(path: Path, shown: str | None = None) -> Folder:
    """Read the bytes of every YAML file in the folder that counts as knowledge."""
    contents: dict[str, bytes | None] = {}
    for file in sorted([*path.rglob("*.yaml"), *path.rglob("*.yml")]):
        relative = file.relative_to(path)
        hidden = any(part.startswith(".") for part in relative.parts)
        if hidden or relative.parts[0] in _NOT_KNOWLEDGE or not file.is_file():
            continue
        try:
            data = read_limited(file)
        except OSError:
            data = None
        contents[relative.as_posix()] = data
    return Folder(path, path.as_posix() if shown is None else shown, contents)


def read_limited(path: Path) -> bytes | None:
    """The bytes of a file; None if they are more than `LARGEST_FILE`, which counts for pipes and devices too.

    Raises OSError if the file cannot be read.
    """
    with path.open("rb") as file:
        data = file.read(LARGEST_FILE + 1)
    return None if len(data) > LARGEST_FILE else data


def fingerprint(folders: Sequence[Folder]) -> str:
    """Twelve hex digits that change whenever any byte or file name of the folders does."""
    digest = hashlib.sha256()
    for folder in folders:
        for name, data in folder.contents.items():
            digest.update(f"{name}\0{-1 if data is None else len(data)}\0".encode())
            digest.update(data or b"")
        digest.update(b"\0\0")
    return digest.hexdigest()[:12]
