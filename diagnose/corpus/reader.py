"""From the tree of a YAML file to the records, whatever their class.

The reader never stops at the first mistake. Where a value is missing or wrong it puts an empty one in its place, so that
the rest of the entry can still be looked at; the record is never handed out of this package, since there are problems.
"""

from __future__ import annotations

from typing import Any

from diagnose.corpus.scalars import guess, kind_name, read_choice, read_number, read_text, read_truth, read_whole
from diagnose.corpus.shape import FieldShape, Wanted, shape_of
from diagnose.corpus.yamltree import ListNode, MapNode, Node, TextNode
from diagnose.errors import Problem

COMMON_PRACTICE = "common-practice"
"""Written where a list of sources could stand: the trade knows it, nobody is quoted."""


def read_record(node: Node, record: type[Any], problems: list[Problem]) -> Any:
    """A record of the class given, or None if the node is no mapping at all."""
    if not isinstance(node, MapNode):
        problems.append(node.place.problem(f"expected an entry of fields (name: value), not {kind_name(node)}"))
        return None
    values: dict[str, Any] = {}
    shapes = shape_of(record)
    for shape in shapes:
        below = node.items.get(shape.key)
        if below is None:
            if shape.required:
                problems.append(node.place.problem(f'the field "{shape.key}" is missing'))
            values[shape.name] = _nothing(shape) if shape.required else shape.default
        else:
            value = _read_field(below, shape, problems)
            values[shape.name] = _nothing(shape) if value is None else value
    known = {shape.key for shape in shapes}
    if len(known) < len(node.items) or not known.issuperset(node.items):
        for key in node.items:
            if key not in known:
                near = guess(key, known)
                problems.append(node.keys[key].problem(f'unknown field "{key}"{near}'))
    return record(**values)


def _nothing(shape: FieldShape) -> Any:
    """An empty value that lets the other checks go on."""
    if shape.wanted.many:
        return ()
    return None if shape.wanted.optional else _nothing_of(shape.wanted)


def _nothing_of(wanted: Wanted) -> Any:
    if wanted.kind == "record" and wanted.record is not None:
        return wanted.record(**{below.name: _nothing(below) for below in shape_of(wanted.record)})
    return {"text": "", "choice": "", "whole": 0, "number": 0.0, "truth": False, "row": ()}[wanted.kind]


def _read_field(node: Node, shape: FieldShape, problems: list[Problem]) -> Any:
    wanted = shape.wanted
    if not wanted.many:
        return _read_one(node, shape, wanted, problems)
    if wanted.basis and isinstance(node, TextNode):
        if node.text != COMMON_PRACTICE:
            near = guess(node.text, [COMMON_PRACTICE])
            problems.append(
                node.place.problem(f'"{shape.key}" takes a list of sources or the words common-practice{near}')
            )
        return ()
    if not isinstance(node, ListNode):
        problems.append(node.place.problem(f'"{shape.key}" takes a list, not {kind_name(node)}'))
        return ()
    if len(node.items) < shape.at_least or (wanted.basis and not node.items):
        problems.append(node.place.problem(f'"{shape.key}" needs at least {max(1, shape.at_least)} in its list'))
    values = []
    for below in node.items:
        value = _read_one(below, shape, wanted, problems)
        values.append(_nothing_of(wanted) if value is None else value)  # keeps the places of the others in step
    return tuple(values)


def _read_one(node: Node, shape: FieldShape, wanted: Wanted, problems: list[Problem]) -> Any:
    if wanted.kind == "text":
        return read_text(node, shape.key, shape.longest, problems)
    if wanted.kind == "choice":
        return read_choice(node, shape.key, wanted.choices, problems)
    if wanted.kind == "truth":
        return read_truth(node, shape.key, problems)
    if wanted.kind == "whole":
        return read_whole(node, shape.key, shape.lowest, problems)
    if wanted.kind == "number":
        return read_number(node, shape.key, problems)
    if wanted.kind == "row":
        return _read_row(node, shape.key, problems)
    assert wanted.record is not None
    return read_record(node, wanted.record, problems)


def _read_row(node: Node, name: str, problems: list[Problem]) -> tuple[float, ...] | None:
    if not isinstance(node, ListNode):
        problems.append(node.place.problem(f'"{name}" takes lists of numbers, not {kind_name(node)}'))
        return None
    numbers = [read_number(below, name, problems) for below in node.items]
    return tuple(number for number in numbers if number is not None)
