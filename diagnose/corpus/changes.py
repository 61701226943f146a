"""A plant's changes to entries that it did not write: other frequencies, other backgrounds, other links.

The changes stand in the file changes.yaml of the folder that is laid over. They are put into the draft before it is checked,
record and tree alike, so that every check sees the outcome and points at the plant's own file.
"""

from __future__ import annotations

import dataclasses
from typing import Any

from diagnose.corpus import files
from diagnose.corpus.draft import Draft, Entry, read_top
from diagnose.corpus.files import AddedLink
from diagnose.corpus.folder import Folder
from diagnose.corpus.records import Link
from diagnose.corpus.scalars import guess
from diagnose.corpus.yamltree import ListNode, MapNode, Node, Place, place_of

_TARGETS = {
    "links": ("from", ("cause", "mechanism")),
    "frequency": ("cause", ("cause",)),
    "background": ("sign", ("sign",)),
}
"""For each list of the file: the field that says which entry is changed, and the kinds of entry that it may be."""


def apply_changes(draft: Draft, folder: Folder) -> None:
    """Put the changes of a folder, if it has any, into the draft; what is wrong goes to the draft's problems."""
    if "changes.yaml" not in folder.contents:
        return
    found = read_top(folder, "changes.yaml", files.CHANGES, draft.problems)
    if found is None:
        return
    record, node = found
    done: dict[tuple[str, ...], Place] = {}
    for name in _TARGETS:
        nodes = node.items.get(name)
        if not isinstance(nodes, ListNode):
            continue
        for change, below in zip(getattr(record, name), nodes.items, strict=True):
            if isinstance(below, MapNode):
                _apply(draft, name, change, below, done)


def _apply(draft: Draft, name: str, change: Any, node: MapNode, done: dict[tuple[str, ...], Place]) -> None:
    key, kinds = _TARGETS[name]
    target: str = getattr(change, "source" if name == "links" else key)
    if not target:
        return
    same = (name, target, getattr(change, "to", ""))
    if same in done:
        message = f"changed twice; the first is on line {done[same].line}"
        draft.problems.append(place_of(node, key).problem(message))
        return
    done[same] = node.place
    entry = next((found for kind in kinds if (found := draft.find(kind, target))), None)
    if entry is None:
        if not draft.unread.intersection(kinds):
            near = guess(target, [other.id for other in draft.live(*kinds)])
            message = f'no {" or ".join(kinds)} has the id "{target}"{near}'
            draft.problems.append(place_of(node, key).problem(message))
    elif isinstance(entry.node, MapNode):
        tree = MapNode(entry.node.place, dict(entry.node.items), entry.node.keys)
        if name == "links":
            _put_link(entry, tree, change, node)
        else:
            _put_word(entry, tree, name, change, node)
        entry.node = tree


def _put_link(entry: Entry, tree: MapNode, change: AddedLink, node: MapNode) -> None:
    """Put a link in the place of the one to the same target, or behind the others."""
    link = Link(to=change.to, strength=change.strength, basis=change.basis, disputed=change.disputed)
    links, nodes = list(entry.record.leads_to), _items(tree, "leads-to")
    at = next((number for number, other in enumerate(links) if other.to == link.to), len(links))
    links[at : at + 1], nodes[at : at + 1] = [link], [node]
    tree.items["leads-to"] = ListNode(place_of(tree, "leads-to"), nodes)
    entry.record = dataclasses.replace(entry.record, leads_to=tuple(links))


def _put_word(entry: Entry, tree: MapNode, name: str, change: Any, node: MapNode) -> None:
    """Put another word for the frequency or the background, and its basis behind the one that is there.

    A plant's own word for a frequency takes the place of the rates published elsewhere.
    """
    field, key = ("frequency_basis", "frequency-basis") if name == "frequency" else ("basis", "basis")
    basis = (*getattr(entry.record, field), *change.basis)
    tree.items[key] = ListNode(node.place, _items(tree, key) + _items(node, "basis"))
    if name in node.items:
        tree.items[name] = node.items[name]
    put = {name: getattr(change, name), field: basis}
    if name == "frequency":
        tree.items.pop("rates", None)
        put["rates"] = ()
    entry.record = dataclasses.replace(entry.record, **put)


def _items(node: MapNode, key: str) -> list[Node]:
    below = node.items.get(key)
    return list(below.items) if isinstance(below, ListNode) else []
