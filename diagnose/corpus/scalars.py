"""Single values as written in YAML: text, whole numbers, numbers and true or false, each with its traps named.

Every function takes a node and returns the value or None, adding what is wrong to the list of problems.
"""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Iterable

from diagnose.corpus.yamltree import ListNode, MapNode, Node, TextNode
from diagnose.errors import Problem

_TRAPS = (
    (re.compile(r"(?i:y|n|yes|no|true|false|on|off)\Z"), "true or false"),
    (re.compile(r"(?i:~|null)\Z"), "nothing at all"),
    (re.compile(r"(=|<<)\Z"), "a sign of its own"),
    (re.compile(r"[-+]?[0-9][0-9_]*(:[0-5]?[0-9])+(\.[0-9_]*)?\Z"), "a time or a number to base 60"),
    (re.compile(r"[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}([Tt ].*)?\Z"), "a date"),
    (re.compile(r"[-+]?(0[xX][0-9a-fA-F_]+|0[bB][01_]+|0[oO][0-7_]+|0[0-9_]+)\Z"), "a number to base 8, 16 or 2"),
    (re.compile(r"[-+]?(\.?[0-9][0-9_]*|[0-9][0-9_]*\.[0-9_]*)([eE][-+]?[0-9]+)?\Z"), "a number"),
    (re.compile(r"[-+]?\.(inf|Inf|INF)\Z|\.(nan|NaN|NAN)\Z"), "a number"),
)
_NUMBER = re.compile(r"[-+]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][-+]?[0-9]{1,3})?\Z")
_MOST_DIGITS = 12
_WHOLE = re.compile(r"(0|[1-9][0-9]*)\Z")


def trap(text: str) -> str | None:
    """What YAML may make of a plain scalar instead of text, or None if it is safe."""
    for pattern, meaning in _TRAPS:
        if pattern.match(text):
            return meaning
    return None


def guess(word: str, known: Iterable[str]) -> str:
    """The end of a message about an unknown word: the nearest known one, or nothing."""
    near = difflib.get_close_matches(word, list(known), n=1, cutoff=0.6)
    return f'; did you mean "{near[0]}"?' if near else ""


def kind_name(node: Node) -> str:
    """What a node is, in an author's words."""
    if isinstance(node, MapNode):
        return "a mapping (name: value)"
    return "a list" if isinstance(node, ListNode) else "a text"


def read_text(node: Node, name: str, longest: int, problems: list[Problem]) -> str | None:
    """A text for people or an id."""
    if not isinstance(node, TextNode):
        problems.append(node.place.problem(f'"{name}" takes a text, not {kind_name(node)}'))
        return None
    text = node.text
    if not text.strip():
        problems.append(node.place.problem(f'"{name}" is empty'))
        return None
    if node.plain and (meaning := trap(text)):
        problems.append(
            node.place.problem(f'"{name}": YAML may read {text} as {meaning}; write it in quotes: "{text}"')
        )
        return None
    if text != text.strip():
        problems.append(
            node.place.problem(f'"{name}" begins or ends with a blank or an empty line (use >- instead of > or |)')
        )
        return text.strip()
    if len(text) > longest:
        problems.append(node.place.problem(f'"{name}" has {len(text)} characters; at most {longest} are allowed'))
    return text


def read_choice(node: Node, name: str, choices: tuple[str, ...], problems: list[Problem]) -> str | None:
    """One of a few fixed words."""
    if not isinstance(node, TextNode):
        problems.append(node.place.problem(f'"{name}" takes one word, not {kind_name(node)}'))
        return None
    if node.text in choices:
        return node.text
    problems.append(node.place.problem(f'"{name}" is "{node.text}"; it must be one of {", ".join(choices)}'))
    return None


def read_truth(node: Node, name: str, problems: list[Problem]) -> bool | None:
    """true or false, in just these spellings."""
    if isinstance(node, TextNode) and node.plain and node.text in ("true", "false"):
        return node.text == "true"
    shown = f"{node.text}" if isinstance(node, TextNode) else kind_name(node)
    problems.append(node.place.problem(f'"{name}" is {shown}; write true or false'))
    return None


def read_whole(node: Node, name: str, lowest: int | None, problems: list[Problem]) -> int | None:
    """A whole number in decimal digits."""
    if not isinstance(node, TextNode) or not node.plain or not _WHOLE.match(node.text):
        shown = node.text if isinstance(node, TextNode) else kind_name(node)
        problems.append(node.place.problem(f'"{name}" is {shown}; write a whole number such as 5'))
        return None
    if len(node.text) > _MOST_DIGITS:
        problems.append(node.place.problem(f'"{name}" has {len(node.text)} digits; at most {_MOST_DIGITS} are allowed'))
        return None
    value = int(node.text)
    if lowest is not None and value < lowest:
        problems.append(node.place.problem(f'"{name}" is {value}; it must be at least {lowest}'))
        return None
    return value


def read_number(node: Node, name: str, problems: list[Problem]) -> float | None:
    """A number with a decimal point."""
    text = node.text if isinstance(node, TextNode) else ""
    if isinstance(node, TextNode) and node.plain and _NUMBER.match(text) and math.isfinite(float(text)):
        return float(text)
    shown = text if isinstance(node, TextNode) else kind_name(node)
    hint = (
        "write the decimal point as a dot" if re.match(r"[-+]?[0-9]+,[0-9]+\Z", text) else "write a number such as 0.5"
    )
    problems.append(node.place.problem(f'"{name}" is {shown}; {hint}'))
    return None
