"""A report as plain text for a terminal or a file: quiet headings, hanging indents, no line wider than asked for.

Colour is only ever an addition: with it off, every word and rule is still there.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from diagnose.text import clean

from .document import (
    Block,
    Document,
    Figure,
    Figures,
    Heading,
    Item,
    Items,
    Notice,
    Paragraph,
    Picture,
    Ranking,
    Row,
    Table,
)
from .layout import Word, broken, cells, one_line, words_of
from .words import FIXED

NARROWEST = 30
"""Columns below which a report is not squeezed."""

_STYLES = {"title": "1", "lead": "1", "quiet": "2", "danger": "1;31", "care": "1;33", "bar": "36"}
_BULLET = "-"
_PART = "▸"
_BAR = 20
"""Columns of a full bar."""


def as_text(document: Document, *, width: int = 80, colour: bool = False) -> str:
    """The report in lines of at most `width` columns, with a line end at its end."""
    return "\n".join(_Writer(max(width, NARROWEST), colour).lines(document)) + "\n"


class _Writer:
    """Puts blocks into lines."""

    def __init__(self, width: int, colour: bool) -> None:
        self.width = width
        self.colour = colour

    def lines(self, document: Document) -> list[str]:
        """All lines of a report."""
        out = list(self._all(document.blocks))
        if document.sources:
            out += ["", *self._heading(Heading(2, "Sources"), "")]
            for source in document.sources:
                parts = [source.text, source.address, source.standing]
                text = " ".join(part for part in parts if part)
                out += self._flow(words_of(text), "", f"[{source.number}]")
        if document.closing:
            out.append("")
        for closing in document.closing:
            out += self._flow(words_of(closing), "")
        return out

    def _all(self, blocks: Iterable[Block]) -> Iterator[str]:
        before: Block | None = None
        for block in blocks:
            if before is not None and _apart(before, block):
                yield ""
            yield from self._block(block, "")
            before = block

    def _block(self, block: Block, indent: str) -> Iterator[str]:
        match block:
            case Heading():
                yield from self._heading(block, indent)
            case Paragraph():
                style = "quiet" if block.tone == "quiet" else ""
                yield from self._flow([*words_of(block.lead, "lead"), *words_of(block.text, style)], indent)
            case Items():
                for at, item in enumerate(block.items):
                    if at and _long(item):
                        yield ""
                    mark = one_line(item.mark) or _BULLET
                    yield from self._flow([*words_of(item.lead, "lead"), *words_of(item.text)], indent + "  ", mark)
                    for below in item.below:
                        yield from self._block(below, indent + "  " + " " * (cells(mark) + 1))
            case Ranking():
                for row in block.rows:
                    yield from self._row(row, indent)
            case Table():
                for name, *values in block.rows:
                    yield from self._flow(words_of(name, "lead"), indent + "  ", _BULLET)
                    pairs = zip(block.columns[1:], values, strict=True)
                    said = "; ".join(f"{column}: {value}" for column, value in pairs if value)
                    yield from self._flow(words_of(said), indent + "    ")
            case Figures():
                for figure in block.rows:
                    yield from self._figure(figure, indent)
            case Picture():
                from .plot_text import plot_lines

                yield from map(clean, plot_lines(block.plot, self.width))
            case Notice():
                yield from self._notice(block)

    def _heading(self, heading: Heading, indent: str) -> Iterator[str]:
        title = words_of(heading.text, "title")
        yield from self._flow(title, indent, _PART if heading.level > 2 else "")
        if heading.level < 3:
            longest = max(
                (sum(cells(word) + 1 for word, _ in line) - 1 for line in self._lines(title, indent)), default=0
            )
            yield indent + ("═" if heading.level == 1 else "─") * longest

    def _row(self, row: Row, indent: str) -> Iterator[str]:
        mark = one_line(row.mark).rjust(3)
        title = [*words_of(row.title, "lead"), *words_of(f"({row.aside})", "quiet")]
        yield from self._flow(title, indent, mark)
        below = indent + " " * (cells(mark) + 1)
        name = max(cells(meter.name) for meter in row.meters)
        for meter in row.meters:
            head = f"{meter.name.ljust(name)}  "
            bar = "█" * round(_BAR * min(max(meter.share, 0.0), 1.0))
            text = head + one_line(meter.words).replace(FIXED, " ")
            room = self.width - cells(below) - _BAR - 2
            if bar and cells(text) <= room:
                yield f"{below}{text}{' ' * (min(room, 56) - cells(text))}  {self._styled(bar, 'bar')}"
            else:
                yield from self._flow(words_of(meter.words), below, meter.name.ljust(name + 1))

    def _figure(self, row: Figure, indent: str) -> Iterator[str]:
        mark = "!" if row.off else "-"
        style = "danger" if row.off else ""
        yield from self._flow([*words_of(f"{row.title}:", "lead"), *words_of(row.value)], indent, mark)
        below = indent + "    "
        if row.verdict:
            yield from self._flow([*words_of(row.verdict, style), *words_of(row.limit)], below)
        for text in (row.note, f"From {row.how}." if row.how else ""):
            if text:
                yield from self._flow(words_of(text, "quiet"), below)

    def _notice(self, notice: Notice) -> Iterator[str]:
        style = "danger" if notice.danger else "care"
        name = "DANGER" if notice.danger else "CAUTION"
        head = f"!! {name} !! "
        yield self._styled(head + "─" * (self.width - len(head)), style)
        yield from self._flow(words_of(notice.title, style), "")
        for block in notice.blocks:
            yield from self._block(block, "")
        foot = f"!! end of {name.lower()} notice "
        yield self._styled(foot + "─" * (self.width - len(foot)), style)

    def _flow(self, words: list[Word], indent: str, mark: str = "") -> Iterator[str]:
        """Lines of words behind an indent, with a mark in front of the first."""
        first = f"{indent}{mark} " if mark else indent
        rest = " " * cells(first)
        lines = self._lines(words, first)
        for at, line in enumerate(lines):
            yield (rest if at else first) + self._joined(line)
        if not lines and mark:
            yield first.rstrip()

    def _lines(self, words: list[Word], first: str) -> list[list[Word]]:
        """The words in lines that fit beside what stands before the first of them."""
        return broken(words, max(self.width - cells(first), 10))

    def _joined(self, line: Iterable[Word]) -> str:
        if not self.colour:
            return " ".join(word for word, _ in line)
        runs: list[tuple[list[str], str]] = []
        for word, style in line:
            if runs and runs[-1][1] == style:
                runs[-1][0].append(word)
            else:
                runs.append(([word], style))
        return " ".join(self._styled(" ".join(words), style) for words, style in runs)

    def _styled(self, text: str, style: str) -> str:
        return f"\x1b[{_STYLES[style]}m{text}\x1b[0m" if self.colour and style else text


def _long(item: Item) -> bool:
    """Whether an item is so long that a blank line before it helps the eye."""
    return sum(isinstance(block, Paragraph) for block in item.below) > 1


def _apart(before: Block, block: Block) -> bool:
    """Whether a blank line stands between two blocks."""
    if isinstance(before, Heading):
        return isinstance(block, Notice)
    if not (isinstance(before, Paragraph) and isinstance(block, Paragraph | Items)):
        return True
    if isinstance(block, Items):
        return before.tone == "quiet"
    return not (before.lead and before.text and block.lead and block.text)
