"""A knowledge folder as read, before anybody has looked whether it hangs together.

A draft keeps every entry together with the tree it was read from, so that a check can point at the very word it objects
to. Folders that a plant lays over the shipped one are read into the same draft; their files say where they come from.
"""

from __future__ import annotations

import contextlib
import dataclasses
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from diagnose.corpus import files
from diagnose.corpus.folder import LARGEST_FILE, Folder, read_limited
from diagnose.corpus.reader import read_record
from diagnose.corpus.records import Stage
from diagnose.corpus.scalars import guess
from diagnose.corpus.yamltree import ListNode, MapNode, Node, Place, Step, place_of, read_bytes
from diagnose.errors import Problem


@dataclass(slots=True)
class Entry:
    """One entry with the tree it was read from; `home` is its stage or region."""

    kind: str
    record: Any
    node: Node
    home: str = ""

    @property
    def id(self) -> str:
        """Its id; empty when that could not be read."""
        found: str = self.record.id
        return found

    @property
    def live(self) -> bool:
        """Whether it is in use, that is, not retired."""
        return getattr(self.record, "retired", None) is None

    def place(self, *path: Step) -> Place:
        """Where the value at `path` (keys and list positions as in YAML) stands."""
        return place_of(self.node, *path)


@dataclass(slots=True)
class StageEntry:
    """One stage with the file that opens it."""

    id: str
    number: int
    title: str
    what: str
    file: str
    node: Node


@dataclass(slots=True)
class Draft:
    """All entries of the folders, by kind and in file order, with what was wrong while reading.

    `unread` holds the kinds of which some could not be read at all, so that nobody calls their ids unknown;
    `words_elsewhere` the words, source ids among them, of files that other parts of the program read.
    """

    stages: dict[str, StageEntry] = field(default_factory=dict)
    entries: dict[str, list[Entry]] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    unread: set[str] = field(default_factory=set)
    files: list[tuple[str, str]] = field(default_factory=list)
    words_elsewhere: set[str] = field(default_factory=set)

    def of(self, *kinds: str) -> Iterator[Entry]:
        """The entries of these kinds, retired ones too."""
        for kind in kinds:
            yield from self.entries.get(kind, ())

    def live(self, *kinds: str) -> Iterator[Entry]:
        """The entries of these kinds that are in use and have an id."""
        return (entry for entry in self.of(*kinds) if entry.live and entry.id)

    def find(self, kind: str, wanted: str) -> Entry | None:
        """The first entry of this kind and id that is in use."""
        return next((entry for entry in self.live(kind) if entry.id == wanted), None)

    def add(self, entry: Entry) -> None:
        """Put an entry behind the others of its kind."""
        self.entries.setdefault(entry.kind, []).append(entry)


def read_folders(folders: Sequence[Folder]) -> Draft:
    """Read the first folder as a whole and add the entries of the others to it."""
    draft = Draft()
    for number, folder in enumerate(folders):
        _FolderReader(draft, folder, added=number > 0).read()
    for folder in folders:
        draft.words_elsewhere.update(_words_elsewhere(folder))
    return draft


def _words_elsewhere(folder: Folder) -> set[str]:
    """Every word, ids included, of the files that other parts of the program read: worked cases, limits, scorecards."""
    texts = [data for name, data in folder.contents.items() if data is not None and not _is_ours(name)]
    for path in folder.path.glob("cases/*.yaml"):
        with contextlib.suppress(OSError):  # whoever reads the cases says so
            texts.append(read_limited(path) or b"")
    return {word.decode() for text in texts for word in re.findall(rb"[a-z0-9-]+", text)}


def _is_ours(name: str) -> bool:
    return name.partition("/")[0] in ("chain", "signs") or name in files.SINGLE_FILES


class _FolderReader:
    """Reads one folder into a draft."""

    def __init__(self, draft: Draft, folder: Folder, added: bool) -> None:
        self.draft = draft
        self.folder = folder
        self.added = added

    def read(self) -> None:
        if not self.folder.path.is_dir():
            self.draft.problems.append(Problem(self.folder.shown, 1, 1, "there is no such folder"))
            return
        names = list(self.folder.contents)
        if not self.added:
            self._whole(names)
        for name in names:
            if message := self._misplaced(name):
                self.draft.problems.append(Problem(self.folder.name(name), 1, 1, message))
            elif name.startswith("chain/"):
                self._stage(name, Path(name).stem)
            elif name.startswith("signs/"):
                self._signs(name, Path(name).stem)
            elif name in files.SINGLE_FILES:
                self._entries(name, files.SINGLE_FILES[name], "")

    def _misplaced(self, name: str) -> str | None:
        """What is wrong with a file's name or place, if anything; names that are nobody's are let be."""
        top, _, rest = name.partition("/")
        if top in ("chain", "signs"):
            if "/" in rest:
                return f"files lie directly in {top}, not in a folder inside it"
            return None if name.endswith(".yaml") else "the name must end in .yaml"
        if name == "changes.yaml" and not self.added:
            return "changes.yaml belongs into a folder that is laid over another"
        if name in files.SINGLE_FILES or name in files.OTHERS or top == "tables":
            return None
        near = guess(top, files.NAMES)
        return f'unknown name "{top}"{near}' if near else None

    def _whole(self, names: list[str]) -> None:
        """The folder that all rests on must have every file."""
        for name in files.SINGLE_FILES:
            if name not in names:
                self.draft.problems.append(Problem(self.folder.name(name), 1, 1, "this file is missing"))
                self.draft.unread.add(files.SINGLE_FILES[name].kind)
        for top, kind in (("chain", "cause"), ("signs", "sign")):
            if not any(name.startswith(f"{top}/") for name in names):
                self.draft.problems.append(Problem(self.folder.name(top), 1, 1, "there is no file in this folder"))
                self.draft.unread.add(kind)

    def _file(self, name: str, kind: files.FileKind) -> tuple[Any, MapNode] | None:
        self.draft.files.append((self.folder.shown, name))
        found = read_top(self.folder, name, kind, self.draft.problems)
        if found is None:
            self.draft.unread.add(kind.kind)
        return found

    def _entries(self, name: str, kind: files.FileKind, home: str) -> Any:
        """Read a file's entries into the draft; its record and tree, or None when it has no usable form."""
        found = self._file(name, kind)
        if found is None:
            return None
        record, node = found
        below = node.items.get(kind.entries)
        if isinstance(below, ListNode):
            for entry, entry_node in zip(getattr(record, kind.entries), below.items, strict=True):
                if home and kind.kind in ("cause", "sign"):
                    changed = {"stage": home} if kind.kind == "cause" else {"region": home}
                    entry = dataclasses.replace(entry, **changed)  # noqa: PLW2901
                self.draft.add(Entry(kind.kind, entry, entry_node, home))
        return found

    def _signs(self, name: str, region: str) -> None:
        if region not in files.REGIONS:
            near = guess(region, files.REGIONS)
            message = f"the files of signs are {', '.join(files.REGIONS)}{near}"
            self.draft.problems.append(Problem(self.folder.name(name), 1, 1, message))
        self._entries(name, files.SIGNS, region)

    def _stage(self, name: str, stem: str) -> None:
        number, _, stage = stem.partition("-")
        shown = self.folder.name(name)
        if not (len(number) == 2 and number.isdecimal() and stage):
            message = "a stage's file is named with its two-digit number and id, such as 08-injection.yaml"
            self.draft.problems.append(Problem(shown, 1, 1, message))
        home = stage or stem
        found = self._entries(name, files.STAGE_ADDITION if self.added else files.STAGE, home)
        if found is None:
            return
        record, node = found
        problem = self._stage_problem(record.stage, home, node)
        if problem is not None:
            self.draft.problems.append(problem)
        known = self.draft.stages.get(home)
        value = int(number) if number.isdecimal() else 0
        if known is None:
            if self.added and (record.title is None or record.what is None):
                message = f'"{home}" is a new stage, so "title" and "what" are needed'
                self.draft.problems.append(node.place.problem(message))
            self._number(value, home, shown)
            self.draft.stages[home] = StageEntry(home, value, record.title or "", record.what or "", shown, node)
        elif known.number != value:
            message = f"the stage {home} has the number {known.number:02d}, see {known.file}"
            self.draft.problems.append(Problem(shown, 1, 1, message))

    def _stage_problem(self, written: str, home: str, node: MapNode) -> Problem | None:
        if not written or written == home:
            return None
        return place_of(node, "stage").problem(f'the stage is "{written}" but the file is named after "{home}"')

    def _number(self, value: int, home: str, shown: str) -> None:
        for other in self.draft.stages.values():
            if other.number == value:
                message = f"the number {value:02d} is already that of {other.file}"
                self.draft.problems.append(Problem(shown, 1, 1, message))


def read_top(folder: Folder, name: str, kind: files.FileKind, problems: list[Problem]) -> tuple[Any, MapNode] | None:
    """The record and the tree of a file's top level, or None when it has no usable form."""
    shown = folder.name(name)
    data = folder.contents[name]
    if data is None:
        message = f"the file is larger than {LARGEST_FILE // 1_000_000} MB or cannot be read"
        problems.append(Problem(shown, 1, 1, message))
        return None
    node = read_bytes(data, shown, problems)
    if node is None:
        return None
    record = read_record(node, kind.record, problems)
    return (record, node) if isinstance(node, MapNode) else None


def whole_stages(draft: Draft) -> tuple[Stage, ...]:
    """The stages in the order of their numbers, each with its causes that are in use."""
    return tuple(
        Stage(
            stage=stage.id,
            title=stage.title,
            what=stage.what,
            causes=tuple(entry.record for entry in draft.live("cause") if entry.home == stage.id),
        )
        for stage in sorted(draft.stages.values(), key=lambda stage: stage.number)
    )
