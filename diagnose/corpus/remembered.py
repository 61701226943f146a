"""Checked knowledge kept between runs, so that starting the program does not mean reading hundreds of YAML entries.

What is kept is plain JSON in the user's cache folder, one file per content: its name comes from the fingerprint of all
knowledge files and of this package's own code, so a changed word or a changed check never meets an old file. Losing the
folder costs half a second and nothing else. That is why every failure here is silent: a file that is missing, damaged or
not ours is read past, and a folder that cannot be written is left alone.
"""

from __future__ import annotations

import contextlib
import dataclasses
import hashlib
import json
import os
import typing
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path
from typing import Any

import diagnose
from diagnose.corpus.records import Knowledge

NO_CACHE = "DIAGNOSE_NO_CACHE"
"""Environment variable: when set to anything, nothing is recalled or stored."""

CACHE_FOLDER = "DIAGNOSE_CACHE_DIR"
"""Environment variable: the folder to use in place of the user's cache folder."""

KEPT = 8
"""Files kept in the folder; older ones are removed when a new one is stored."""


def wanted() -> bool:
    """Whether the environment leaves the memory on."""
    return not os.environ.get(NO_CACHE)


def recall(version: str) -> Knowledge | None:
    """The knowledge of this version, if it was stored by this very program."""
    try:
        path = _path(version)
        with path.open("rb") as file:
            if not _ours(os.fstat(file.fileno())):
                return None
            values = json.loads(file.read())
        knowledge: Knowledge = _from_values(values)
    except (OSError, ValueError, TypeError, KeyError, IndexError, RecursionError):
        return None
    return knowledge if knowledge.version == version else None


def store(knowledge: Knowledge) -> None:
    """Keep the knowledge for the next run; readers see the whole new file or none."""
    import tempfile

    with contextlib.suppress(OSError):
        path = _path(knowledge.version)
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=".new-")
        try:
            with os.fdopen(handle, "w", encoding="utf-8") as file:
                json.dump(_to_values(knowledge), file, ensure_ascii=False, separators=(",", ":"))
            Path(name).replace(path)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
        _tidy(path.parent)


def _tidy(folder: Path) -> None:
    files = sorted(folder.glob("knowledge-*.json"), key=lambda file: file.stat().st_mtime, reverse=True)
    for file in files[KEPT:]:
        file.unlink(missing_ok=True)


def _ours(status: os.stat_result) -> bool:
    """Whether the file belongs to this user and nobody else can write it."""
    if not hasattr(os, "getuid"):
        return True
    return status.st_uid == os.getuid() and not status.st_mode & 0o022


def _path(version: str) -> Path:
    folder = os.environ.get(CACHE_FOLDER)
    if not folder:
        import platformdirs

        folder = platformdirs.user_cache_dir("diagnose", appauthor=False)
    return Path(folder) / f"knowledge-{version}-{_code()}.json"


@cache
def _code() -> str:
    """Eight hex digits that change with the program's version and with any line of this package."""
    digest = hashlib.sha256(diagnose.__version__.encode())
    for file in sorted(Path(__file__).parent.rglob("*.py")):
        digest.update(file.read_bytes())
    return digest.hexdigest()[:8]


def _to_values(knowledge: Knowledge) -> list[Any]:
    """The knowledge as nested lists: a record is the list of its fields' values in order."""
    values = []
    for field in dataclasses.fields(knowledge):
        value = getattr(knowledge, field.name)
        if field.name == "causes":
            value = list(value)  # the causes themselves stand in their stages
        elif field.name == "corrections":
            value = []
        elif isinstance(value, Mapping):
            value = [[key, _plain(each)] for key, each in value.items()]
        else:
            value = _plain(value)
        values.append(value)
    return values


def _plain(value: Any) -> Any:
    if dataclasses.is_dataclass(value):
        return [_plain(getattr(value, field.name)) for field in dataclasses.fields(value)]
    return [_plain(each) for each in value] if isinstance(value, tuple) else value


def _from_values(values: list[Any]) -> Knowledge:
    hints = typing.get_type_hints(Knowledge)
    found: dict[str, Any] = {}
    for field, value in zip(dataclasses.fields(Knowledge), values, strict=True):
        if field.name in ("causes", "corrections"):
            continue
        if typing.get_origin(hints[field.name]) is Mapping:
            make = _maker(typing.get_args(hints[field.name])[1])
            found[field.name] = {key: make(each) for key, each in value}
        else:
            found[field.name] = _maker(hints[field.name])(value)
    causes = {cause.id: cause for stage in found["stages"] for cause in stage.causes}
    order = values[[field.name for field in dataclasses.fields(Knowledge)].index("causes")]
    found["causes"] = {each: causes[each] for each in order}
    found["corrections"] = {each.id: each for cause in found["causes"].values() for each in cause.corrections}
    return Knowledge(**found)


def _same(value: Any) -> Any:
    return value


@cache
def _maker(hint: Any) -> Callable[[Any], Any]:
    """A function that turns the stored value of a field of this type back into the value."""
    if isinstance(hint, type) and dataclasses.is_dataclass(hint):
        hints = typing.get_type_hints(hint)
        makers = [_maker(hints[field.name]) for field in dataclasses.fields(hint)]
        nested = [(i, maker) for i, maker in enumerate(makers) if maker is not _same]
        count = len(makers)

        def record(value: list[Any]) -> Any:
            if len(value) != count:
                raise ValueError("stored by another version")
            for i, maker in nested:
                value[i] = maker(value[i])
            return hint(*value)

        return record
    origin, inside = typing.get_origin(hint), typing.get_args(hint)
    if origin is tuple:
        item = _maker(inside[0])
        return tuple if item is _same else lambda value: tuple(map(item, value))
    if type(None) in inside:
        item = _maker(next(each for each in inside if each is not type(None)))
        return _same if item is _same else lambda value: None if value is None else item(value)
    return _same
