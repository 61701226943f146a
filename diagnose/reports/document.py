"""A report as a list of plain blocks, before anybody has decided how it looks.

What a report says is written once, in blocks; the layouts for text, Markdown and HTML each walk the same blocks. All strings are
data: no block holds markup, and the layouts escape or clean whatever they print.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from diagnose.casework.batch_outcome import Plot

Tone = Literal["plain", "quiet"]


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading; level 1 is the title, 2 a section, 3 a part of a section."""

    level: int
    text: str


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text; `lead` is set off at its beginning."""

    text: str
    lead: str = ""
    tone: Tone = "plain"


@dataclass(frozen=True, slots=True)
class Item:
    """One item of a list; an empty `mark` means an ordinary bullet."""

    text: str
    lead: str = ""
    mark: str = ""
    below: tuple[Block, ...] = ()


@dataclass(frozen=True, slots=True)
class Items:
    """A list."""

    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class Meter:
    """One measure of a row: a name, a share between 0 and 1 that sets the bar, and the words beside it."""

    name: str
    share: float
    words: str


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a ranking."""

    mark: str
    title: str
    aside: str
    meters: tuple[Meter, ...]


@dataclass(frozen=True, slots=True)
class Ranking:
    """Rows in order, each with its measures."""

    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of short cells, one for each of the columns; the first cell names its row, and an empty one says nothing."""

    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Figure:
    """One computed figure: its value in words, where it stands, the published figure, and what it was computed from.

    `off` sets it apart: not within the published figure, or not shown.
    """

    title: str
    value: str
    verdict: str = ""
    limit: str = ""
    how: str = ""
    note: str = ""
    off: bool = False


@dataclass(frozen=True, slots=True)
class Figures:
    """Computed figures in order."""

    rows: tuple[Figure, ...]


@dataclass(frozen=True, slots=True)
class Picture:
    """A chart: drawn in characters where pictures cannot be shown."""

    plot: Plot


@dataclass(frozen=True, slots=True)
class Notice:
    """A warning that must not be missed, whatever the colours."""

    danger: bool
    title: str
    blocks: tuple[Paragraph, ...]


Block = Heading | Paragraph | Items | Ranking | Table | Figures | Picture | Notice


@dataclass(frozen=True, slots=True)
class Source:
    """A numbered source in full. `address` is a web address or empty."""

    number: int
    text: str
    address: str
    standing: str


@dataclass(frozen=True, slots=True)
class Document:
    """A whole report. `sources` and `closing` come after the blocks."""

    blocks: Sequence[Block]
    sources: Sequence[Source]
    closing: Sequence[str]


def bullets(items: Sequence[Item]) -> tuple[Block, ...]:
    """The items as a list, or nothing where there are none."""
    return (Items(tuple(items)),) if items else ()
