"""YAML text as a tree in which every value knows its file, line and column.

This is the only module that imports yaml. It takes the parser's events (from the C parser where there is one) and builds
a plain tree from them. Working on events, before YAML makes values of them, has three uses: places are exact; anchors,
aliases and tags are seen and refused instead of expanded; and a scalar stays the text that was written, so that `no`,
`12:30` and `010` cannot turn into false, 750 and 8 behind the author's back.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import islice
from pathlib import Path
from typing import Any, NamedTuple

import yaml

from diagnose.corpus.folder import LARGEST_FILE, read_limited
from diagnose.errors import Problem
from diagnose.text import UNSAFE, composed

DEEPEST = 12
"""Levels of lists and mappings; the formats need about six."""

MOST_PROBLEMS = 100
"""Problems of form reported for one file before giving up on it."""

LONGEST_MESSAGE = 600
"""Characters kept of the message of a problem."""

_LOADER = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
_UNREADABLE = re.compile(f"{UNSAFE.pattern[:-1]}\u2028\u2029\ufeff]")


class Place(NamedTuple):
    """Where a value stands; line and column count from 1."""

    file: str
    line: int
    column: int

    def problem(self, message: str) -> Problem:
        """A problem at this place. A message quotes what was written, of any length, so it is cut."""
        return Problem(self.file, self.line, self.column, message[:LONGEST_MESSAGE])


@dataclass(slots=True)
class TextNode:
    """A scalar as written; `plain` is False when it stands in quotes or in a block (`|`, `>`)."""

    place: Place
    text: str
    plain: bool


@dataclass(slots=True)
class ListNode:
    """A sequence."""

    place: Place
    items: list[Node] = field(default_factory=list)


@dataclass(slots=True)
class MapNode:
    """A mapping, in the order written. `keys` says where each key stands."""

    place: Place
    items: dict[str, Node] = field(default_factory=dict)
    keys: dict[str, Place] = field(default_factory=dict)


Node = TextNode | ListNode | MapNode
Step = str | int


def place_of(node: Node, *path: Step) -> Place:
    """Where the value at `path` stands; for what is not written there, the nearest thing around it that is."""
    for step in path:
        below: Node | None = None
        if isinstance(node, MapNode) and isinstance(step, str):
            below = node.items.get(step)
        elif isinstance(node, ListNode) and isinstance(step, int) and step < len(node.items):
            below = node.items[step]
        if below is None:
            break
        node = below
    return node.place


def read_file(path: Path, shown: str, problems: list[Problem]) -> Node | None:
    """The tree of a file, or None if it has no usable form; what is wrong is added to `problems` under the name `shown`."""
    try:
        data = read_limited(path)
    except OSError as error:
        problems.append(Problem(shown, 1, 1, f"the file cannot be read: {error.strerror or error}"))
        return None
    if data is None:
        problems.append(Problem(shown, 1, 1, f"the file is larger than {LARGEST_FILE // 1_000_000} MB"))
        return None
    return read_bytes(data, shown, problems)


def read_bytes(data: bytes, shown: str, problems: list[Problem]) -> Node | None:
    """As `read_file`, for bytes already in hand, of which there are no more than `LARGEST_FILE`."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        column = error.start - (data.rfind(b"\n", 0, error.start) + 1) + 1
        problems.append(Problem(shown, line, column, "the file is not UTF-8 text here"))
        return None
    text = text.replace("\r\n", "\n")
    # Each place is counted from the start of the text, so no more of them are worked out than are told.
    unreadable = list(islice(_control_characters(text, shown), MOST_PROBLEMS))
    if unreadable:
        problems.extend(unreadable)
        return None
    return _Builder(shown, problems).build(text if text.isascii() else composed(text))


def _control_characters(text: str, shown: str) -> Iterator[Problem]:
    for match in _UNREADABLE.finditer(text):
        at = match.start()
        line = text.count("\n", 0, at) + 1
        column = at - text.rfind("\n", 0, at)
        yield Problem(shown, line, column, f"control character U+{ord(match.group()):04X} is not allowed")


class _GiveUpError(Exception):
    """The rest of the file cannot be used."""


class _Builder:
    """Builds one tree from the parser's events."""

    def __init__(self, shown: str, problems: list[Problem]) -> None:
        self.shown = shown
        self.problems = problems
        self.found = 0

    def build(self, text: str) -> Node | None:
        try:
            root = self._walk(text)
        except _GiveUpError:
            return None
        except yaml.MarkedYAMLError as error:
            self._syntax(error, text)
            return None
        except yaml.YAMLError as error:
            self.problems.append(Problem(self.shown, 1, 1, f"not valid YAML: {error}"))
            return None
        if root is None:
            self.problems.append(Problem(self.shown, 1, 1, "the file is empty"))
        return root

    def _syntax(self, error: yaml.MarkedYAMLError, text: str) -> None:
        mark = error.problem_mark or error.context_mark
        line, column = (mark.line + 1, mark.column + 1) if mark else (1, 1)
        what = error.problem or "it cannot be understood"
        if "cannot start any token" in what:
            here = text.split("\n")[line - 1][column - 1 : column]
            hint = "indent with spaces, not tabs" if here == "\t" else f"put a text that begins with {here} in quotes"
            what = f"{what} ({hint})"
        elif "mapping values are not allowed" in what:
            what = f"{what} (put a text that holds ': ' in quotes or in a >- block)"
        around = f"{error.context}: " if error.context else ""
        self.problems.append(Problem(self.shown, line, column, f"not valid YAML: {around}{what}"))

    def _refuse(self, place: Place, message: str) -> None:
        self.problems.append(place.problem(message))
        self.found += 1
        if self.found >= MOST_PROBLEMS:
            raise _GiveUpError

    def _walk(self, text: str) -> Node | None:
        root: Node | None = None
        open_nodes: list[ListNode | MapNode] = []
        keys: list[str | None] = []  # the key that waits for its value, for each open mapping
        event: Any  # the stubs do not know that every event of the parser has marks
        for event in yaml.parse(text, Loader=_LOADER):
            kind = type(event)
            if kind in (yaml.MappingEndEvent, yaml.SequenceEndEvent):
                open_nodes.pop()
                keys.pop()
                continue
            if kind not in _NODE_EVENTS:
                if kind is yaml.DocumentStartEvent:
                    self._document(event, root)
                continue
            mark = event.start_mark
            node = self._node(event, Place(self.shown, mark.line + 1, mark.column + 1))
            if not open_nodes:
                root = node
            elif isinstance(parent := open_nodes[-1], ListNode):
                parent.items.append(node)
            elif (key := keys[-1]) is None:
                keys[-1] = self._key(parent, node)
            else:
                if key not in parent.items:
                    parent.items[key] = node
                keys[-1] = None
            if not isinstance(node, TextNode):
                open_nodes.append(node)
                keys.append(None)
                if len(open_nodes) > DEEPEST:
                    self._refuse(node.place, f"nested more than {DEEPEST} levels deep")
                    raise _GiveUpError
        return root

    def _document(self, event: Any, root: Node | None) -> None:
        place = Place(self.shown, event.start_mark.line + 1, event.start_mark.column + 1)
        if root is not None:
            self._refuse(place, "a file holds one document; remove the line ---")
            raise _GiveUpError
        if event.version or event.tags:
            self._refuse(place, "YAML directives (%) are not used here")

    def _node(self, event: Any, place: Place) -> Node:
        if isinstance(event, yaml.AliasEvent):
            self._refuse(place, f"aliases (*{event.anchor}) are not allowed; write the value out")
            return TextNode(place, "", plain=False)
        if event.anchor is not None:
            self._refuse(place, f"anchors (&{event.anchor}) are not allowed; write the value out")
        if event.tag is not None:
            self._refuse(place, f"tags ({event.tag}) are not allowed")
        if isinstance(event, yaml.ScalarEvent):
            value: str = event.value
            plain: bool = event.implicit[0] or event.tag is not None
            if not plain and (bad := UNSAFE.search(value)):
                self._refuse(place, f"the text holds the control character U+{ord(bad.group()):04X}")
                value = UNSAFE.sub("", value)
            return TextNode(place, value, plain)
        return MapNode(place) if isinstance(event, yaml.MappingStartEvent) else ListNode(place)

    def _key(self, parent: MapNode, node: Node) -> str:
        if not isinstance(node, TextNode):
            self._refuse(node.place, "a field name must be a word, not a list or a mapping")
            raise _GiveUpError
        key = node.text
        if key in parent.items:
            first = parent.keys[key]
            self._refuse(node.place, f'the field "{key}" stands twice; the first is on line {first.line}')
        else:
            parent.keys[key] = node.place
        return key


_NODE_EVENTS = (yaml.ScalarEvent, yaml.SequenceStartEvent, yaml.MappingStartEvent, yaml.AliasEvent)
