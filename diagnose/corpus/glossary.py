"""Words of the trade with a few plain words that explain them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from diagnose.corpus.reader import read_record
from diagnose.corpus.records import said
from diagnose.corpus.yamltree import MapNode, place_of, read_file
from diagnose.errors import CaseError, Problem

NAME = "glossary.yaml"


@dataclass(frozen=True, slots=True)
class Gloss:
    """One word and what it means."""

    word: str = said("The word as the trade writes it.", longest=40)
    says: str = said("What it means, in a few plain words that can stand in brackets behind it.", longest=70)
    also: tuple[str, ...] = said("Other forms of it.", longest=40, default=())


@dataclass(frozen=True, slots=True)
class GlossaryFile:
    """The words that comments explain."""

    words: tuple[Gloss, ...] = said("The words.")


def load_glossary(folders: Sequence[Path]) -> tuple[Gloss, ...]:
    """The words of all folders, those of a folder laid over another first. Raises CaseError if a file is not in order."""
    problems: list[Problem] = []
    found: list[Gloss] = []
    for folder in reversed(folders):
        path = folder / NAME
        if path.is_file():
            found += _read(path, path.as_posix(), problems)
    if problems:
        raise CaseError(sorted(problems))
    return tuple(found)


def glossary_problems(folder: Path, shown: str) -> list[Problem]:
    """Everything wrong with the glossary of a folder, which may be missing."""
    problems: list[Problem] = []
    if (folder / NAME).is_file():
        _read(folder / NAME, shown, problems)
    return problems


def _read(path: Path, shown: str, problems: list[Problem]) -> tuple[Gloss, ...]:
    root = read_file(path, shown, problems)
    if root is None:
        return ()
    read: GlossaryFile | None = read_record(root, GlossaryFile, problems)
    if read is None or not isinstance(root, MapNode):
        return ()
    seen: set[str] = set()
    for number, one in enumerate(read.words):
        for form in (one.word, *one.also):
            if form.casefold() in seen:
                problems.append(place_of(root, "words", number).problem(f'"{form}" stands twice'))
            seen.add(form.casefold())
    return read.words
