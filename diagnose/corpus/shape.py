"""The shape of a record class: the name of each field in YAML, the kind of value it takes, and its rules.

The reader, the checker, the cache and the schemas all ask here, so that a record class is the only place where a format is
described.
"""

from __future__ import annotations

import dataclasses
import types
import typing
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Literal

from diagnose.corpus.records import Basis


@dataclass(frozen=True, slots=True)
class Wanted:
    """What kind of value a field takes.

    `many` means a list; `basis` that the words common-practice may stand for an empty list; `record` is the class of a
    nested entry; `choices` are the only words allowed; `row` is a short list of numbers taken as one value.
    """

    kind: Literal["text", "whole", "number", "truth", "choice", "record", "row"]
    many: bool = False
    optional: bool = False
    basis: bool = False
    record: type[Any] | None = None
    choices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FieldShape:
    """One field of a record class."""

    name: str
    key: str
    wanted: Wanted
    required: bool
    default: Any
    says: str
    scale: str | None
    refers: tuple[str, ...]
    longest: int
    at_least: int
    lowest: int | None


_SHAPES: dict[type, tuple[FieldShape, ...]] = {}


def shape_of(record: type) -> tuple[FieldShape, ...]:
    """The fields of a record class that are written in YAML, in order."""
    if record not in _SHAPES:
        _SHAPES[record] = _shape_of(record)
    return _SHAPES[record]


def _shape_of(record: type) -> tuple[FieldShape, ...]:
    hints = typing.get_type_hints(record)
    shapes = []
    for field in dataclasses.fields(record):
        rules = field.metadata
        if rules.get("derived"):
            continue
        refers = rules["refers"]
        required = field.default is dataclasses.MISSING
        shapes.append(
            FieldShape(
                name=field.name,
                key=rules["key"] or field.name.replace("_", "-"),
                wanted=_wanted(hints[field.name]),
                required=required,
                default=None if required else field.default,
                says=rules["says"],
                scale=rules["scale"],
                refers=tuple(refers.split("|")) if refers else (),
                longest=rules["longest"],
                at_least=rules["at_least"],
                lowest=rules["lowest"],
            )
        )
    return tuple(shapes)


_PLAIN: dict[Any, Literal["text", "whole", "number", "truth"]] = {
    str: "text",
    int: "whole",
    float: "number",
    bool: "truth",
}


def _wanted(hint: Any) -> Wanted:
    """The kind of value behind a type: str, int, float, bool, Literal, a record class, tuple[X, ...] or X | None."""
    origin, inside = typing.get_origin(hint), typing.get_args(hint)
    if origin is tuple and len(inside) == 2 and inside[1] is Ellipsis:
        if inside[0] == tuple[float, ...]:
            return Wanted("row", many=True)
        return dataclasses.replace(_wanted(inside[0]), many=True, basis=inside[0] is Basis)
    if origin in (typing.Union, types.UnionType) and len(inside) == 2 and type(None) in inside:
        other = inside[0] if inside[1] is type(None) else inside[1]
        return dataclasses.replace(_wanted(other), optional=True)
    if origin is Literal:
        return Wanted("choice", choices=inside)
    if hint in _PLAIN:
        return Wanted(_PLAIN[hint])
    if dataclasses.is_dataclass(hint) and isinstance(hint, type):
        return Wanted("record", record=hint)
    raise TypeError(f"a record field of type {hint} cannot be read from YAML")


# A field, one of its values and the path to it.
Found = tuple[FieldShape, Any, tuple[str | int, ...]]


def fields(record: Any, path: tuple[str | int, ...] = ()) -> Iterator[Found]:
    """Every single value inside a record with its field and its path; lists are taken apart, empty values left out."""
    for shape in shape_of(type(record)):
        value = getattr(record, shape.name)
        if value is None or value in ("", ()):
            continue
        at = (*path, shape.key)
        for item, item_at in ((v, (*at, i)) for i, v in enumerate(value)) if shape.wanted.many else ((value, at),):
            if shape.wanted.kind == "record":
                yield shape, item, item_at
                yield from fields(item, item_at)
            elif item != "":
                yield shape, item, item_at
