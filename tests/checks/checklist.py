"""Checks of the plant's arithmetic against published numbers: read them, run one, list them all.

Each `*.yaml` file of this folder holds checks of one topic (the README beside this file has the format). The tests run
every check; run as a script, this file writes the list that the handbook shows:

    python tests/checks/checklist.py > docs/checks.md
"""

from __future__ import annotations

import dataclasses
import importlib
import math
import re
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent
if str(ROOT) not in sys.path:  # so that the script runs in a checkout where nothing is installed
    sys.path.insert(0, str(ROOT))

from diagnose.corpus.yamltree import ListNode, MapNode, Node, read_file  # noqa: E402
from diagnose.errors import KnowledgeError, Problem  # noqa: E402

PACKAGE = "diagnose.process"
BASES = ("published-sum", "published-row", "formula-check", "derived")
EXTERNAL = frozenset(BASES) - {"derived"}
"""A check is external when its number or its formula stands in a published work; `derived` is our own arithmetic."""

_NUMBER = re.compile(r"[-+]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][-+]?[0-9]+)?\Z")


@dataclass(frozen=True)
class Check:
    """One call of one function, and what must come out of it."""

    topic: str
    id: str
    function: str
    given: dict[str, Any]
    expected: Any
    tolerance: dict[str, Any]
    source: dict[str, Any]
    basis: str
    read: str

    @property
    def values(self) -> int:
        """How many values are compared."""
        return len(self.expected) if isinstance(self.expected, dict | list) else 1


def plain(node: Node) -> Any:
    """A tree of YAML as dicts, lists, numbers, true or false, and text; quoted scalars stay text."""
    if isinstance(node, MapNode):
        return {key: plain(value) for key, value in node.items.items()}
    if isinstance(node, ListNode):
        return [plain(item) for item in node.items]
    if node.plain and node.text in ("true", "false"):
        return node.text == "true"
    if node.plain and _NUMBER.match(node.text):
        return int(node.text) if re.fullmatch(r"[-+]?[0-9]+", node.text) else float(node.text)
    return node.text


def read_yaml(path: Path) -> Any:
    """The content of a YAML file.

    Raises:
        KnowledgeError: the file is not in order.
    """
    problems: list[Problem] = []
    shown = path.relative_to(ROOT).as_posix() if path.is_relative_to(ROOT) else str(path)
    root = read_file(path, shown, problems)
    if root is None or problems:
        raise KnowledgeError(problems)
    return plain(root)


def all_checks(folder: Path = HERE) -> list[Check]:
    """Every check of the folder, in order of topic and place in its file.

    Raises:
        ValueError: a check lacks a field, or two have one id.
    """
    fields = {field.name for field in dataclasses.fields(Check)} - {"topic"}
    found: list[Check] = []
    for path in sorted(folder.glob("*.yaml")):
        for entry in read_yaml(path)["checks"]:
            entry.setdefault("tolerance", {})
            if set(entry) != fields:
                odd = ", ".join(sorted(set(entry) ^ fields))
                raise ValueError(f"{path.name}: check {entry.get('id')}: fields missing or unknown: {odd}")
            found.append(Check(topic=path.stem, **entry))
    twice = [name for name, times in Counter(check.id for check in found).items() if times > 1]
    if twice:
        raise ValueError(f"ids used twice: {', '.join(twice)}")
    return found


def arguments(value: Any) -> Any:
    """A value of `given` with its references resolved.

    `{table: name}` is the `rows` list of knowledge/tables/name.yaml, `{limit: id}` the number of that limit, and
    `{make: module.Class, field: ...}` a record of the package.
    """
    if isinstance(value, list):
        return [arguments(item) for item in value]
    if not isinstance(value, dict):
        return value
    if set(value) == {"table"}:
        return read_yaml(ROOT / "knowledge" / "tables" / f"{value['table']}.yaml")["rows"]
    if set(value) == {"limit"}:
        return _limit(value["limit"])
    if "make" in value:
        return _named(value["make"])(**{name: arguments(item) for name, item in value.items() if name != "make"})
    return {name: arguments(item) for name, item in value.items()}


def _limit(wanted: str) -> float:
    for limit in read_yaml(ROOT / "knowledge" / "limits.yaml")["limits"]:
        if limit["id"] == wanted:
            return float(limit["at-most"] if "at-most" in limit else limit["at-least"])
    raise ValueError(f"no limit has the id {wanted}")


def _named(path: str) -> Any:
    module, _, name = path.rpartition(".")
    return getattr(importlib.import_module(f"{PACKAGE}.{module}"), name)


def outcome(check: Check) -> Any:
    """What the function gives for the check's arguments."""
    return _named(check.function)(**{name: arguments(value) for name, value in check.given.items()})


def differences(check: Check) -> list[str]:
    """What is not as expected, one line each; an empty list is a pass."""
    found = outcome(check)
    if isinstance(check.expected, dict):
        pairs = [(name, _part(found, name), value) for name, value in check.expected.items()]
    elif isinstance(check.expected, list):
        pairs = [(f"[{at}]", found[at], value) for at, value in enumerate(check.expected)]
        if len(found) != len(check.expected):
            return [f"{len(found)} values, expected {len(check.expected)}"]
    else:
        pairs = [("", found, check.expected)]
    return [
        f"{name or 'result'} is {got!r}, expected {want!r}"
        for name, got, want in pairs
        if not _agrees(got, want, check.tolerance.get(name, check.tolerance))
    ]


def _part(found: Any, path: str) -> Any:
    for step in path.split("."):
        if step.isdigit() or isinstance(found, dict):
            found = found[int(step) if step.isdigit() else step]
        else:
            found = getattr(found, step)
    return found


def _agrees(got: Any, want: Any, tolerance: dict[str, Any]) -> bool:
    if isinstance(want, bool) or not isinstance(want, int | float):
        return bool(got == want)
    if isinstance(got, bool) or not isinstance(got, int | float):
        return False
    if not {"abs", "rel"} & set(tolerance):
        raise ValueError("a number needs a tolerance: abs or rel")
    return math.isclose(got, want, rel_tol=float(tolerance.get("rel", 0)), abs_tol=float(tolerance.get("abs", 0)))


def list_checks(checks: Sequence[Check]) -> str:
    """The list of checks as a Markdown page."""
    return "\n".join(_page(checks)) + "\n"


def _page(checks: Sequence[Check]) -> Iterator[str]:
    external = [check for check in checks if check.basis in EXTERNAL]
    seen = [check for check in external if check.read == "seen"]
    yield "# Checks of the arithmetic"
    yield ""
    yield (
        f"{len(checks)} checks, {sum(check.values for check in checks)} values. {len(external)} checks "
        f"({sum(check.values for check in external)} values) stand on a published number or a published formula, "
        f"{len(seen)} of them on one that was seen and {len(external) - len(seen)} on one read from memory. "
        "The others are arithmetic of our own that keeps a function from drifting."
    )
    for topic in sorted({check.topic for check in checks}):
        yield from ("", f"## {topic.replace('-', ' ').capitalize()}", "")
        yield "| check | function | expected | within | basis | source |"
        yield "|---|---|---|---|---|---|"
        for check in checks:
            if check.topic == topic:
                cells = (
                    check.id,
                    f"`{check.function}`",
                    _short(check.expected),
                    _short(check.tolerance) or "exact",
                    f"{check.basis}, {check.read}",
                    _work(check.source),
                )
                yield "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


def _short(value: Any) -> str:
    if isinstance(value, dict):
        return ", ".join(f"{name} {_short(item)}" for name, item in value.items())
    if isinstance(value, list):
        return ", ".join(_short(item) for item in value)
    return str(value)


def _work(source: dict[str, Any]) -> str:
    return ", ".join(str(source[name]) for name in ("authors", "title", "year", "at") if source.get(name))


if __name__ == "__main__":
    sys.stdout.write(list_checks(all_checks()))
