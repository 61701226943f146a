"""The words of comments: what trade words mean, and how causes are named in the middle of a sentence."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from diagnose.corpus.reader import read_record
from diagnose.corpus.records import Knowledge, said
from diagnose.corpus.references import broken_references
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
class Wording:
    """How a comment names one cause."""

    cause: str = said("Id of the cause.", refers="cause")
    say: tuple[str, ...] = said("Words that follow a colon; several, used by turns.", longest=90, at_least=1)


@dataclass(frozen=True, slots=True)
class GlossaryFile:
    """The words that comments explain, and their wording of causes."""

    words: tuple[Gloss, ...] = said("The words.", default=())
    causes: tuple[Wording, ...] = said("The causes.", default=())


@dataclass(frozen=True, slots=True)
class Glossary:
    """Everything of all folders. `causes` goes by id."""

    words: tuple[Gloss, ...] = ()
    causes: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


def load_glossary(knowledge: Knowledge, folders: Sequence[Path]) -> Glossary:
    """The words of all folders, those of a folder laid over another first. Raises CaseError if a file is not in order."""
    problems: list[Problem] = []
    words: list[Gloss] = []
    causes: dict[str, tuple[str, ...]] = {}
    for folder in folders:
        path = folder / NAME
        if path.is_file():
            read = _read(knowledge, path, path.as_posix(), problems)
            words = [*read.words, *words]
            causes |= {one.cause: one.say for one in read.causes}
    if problems:
        raise CaseError(sorted(problems))
    return Glossary(tuple(words), causes)


def glossary_problems(knowledge: Knowledge, folder: Path, shown: str) -> list[Problem]:
    """Everything wrong with the glossary of a folder, which may be missing."""
    problems: list[Problem] = []
    if (folder / NAME).is_file():
        _read(knowledge, folder / NAME, shown, problems)
    return problems


def _read(knowledge: Knowledge, path: Path, shown: str, problems: list[Problem]) -> GlossaryFile:
    root = read_file(path, shown, problems)
    if root is None:
        return GlossaryFile((), ())
    read: GlossaryFile | None = read_record(root, GlossaryFile, problems)
    if read is None or not isinstance(root, MapNode):
        return GlossaryFile((), ())
    seen: set[str] = set()
    for number, one in enumerate(read.words):
        for form in (one.word, *one.also):
            if form.casefold() in seen:
                problems.append(place_of(root, "words", number).problem(f'"{form}" stands twice'))
            seen.add(form.casefold())
    problems.extend(broken_references(knowledge, read, root))
    for number, wording in enumerate(read.causes):
        if wording.cause in [each.cause for each in read.causes[:number]]:
            problems.append(place_of(root, "causes", number, "cause").problem(f'"{wording.cause}" stands twice'))
    return read
