"""A report as Markdown that reads well on a page.

Every string is escaped, so that a title with a star or an angle bracket in it shows as it was written.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from diagnose.text import clean

from .document import Block, Document, Figures, Heading, Item, Items, Notice, Paragraph, Picture, Ranking, Table
from .layout import is_web_address, one_line
from .words import FIXED

_MARKUP = re.compile(r"([\\`*_{}\[\]<>#|~&$@])")
_START = re.compile(r"(?:(?P<number>\d+)(?P<dot>[.)])|(?P<sign>[-+=]))(?=\s|$|[-=])")


def escape(text: str) -> str:
    """The text on one line, with everything that Markdown or HTML would take for markup made literal."""
    line = _MARKUP.sub(r"\\\1", one_line(text).replace(FIXED, " "))
    return _START.sub(_literal_start, line, count=1) if _START.match(line) else line


def _literal_start(found: re.Match[str]) -> str:
    return f"{found['number']}\\{found['dot']}" if found["number"] else f"\\{found['sign']}"


def as_markdown(document: Document) -> str:
    """The report, with a line end at its end."""
    parts = ["\n".join(_block(block)) for block in document.blocks]
    if document.sources:
        parts.append("## Sources")
        for source in document.sources:
            pieces = [escape(source.text), _address(source.address), escape(source.standing)]
            parts.append(f"\\[{source.number}\\] " + " ".join(piece for piece in pieces if piece))
    parts.append("---")
    parts += [escape(line) for line in document.closing]
    return "\n\n".join(part for part in parts if part) + "\n"


def _block(block: Block) -> Iterator[str]:
    match block:
        case Heading():
            yield f"{'#' * block.level} {escape(block.text)}"
        case Paragraph():
            text = _led(block.lead, block.text)
            yield f"*{text}*" if block.tone == "quiet" and text else text
        case Items():
            yield from _items(block.items, "")
        case Ranking():
            yield from _ranking(block)
        case Table():
            yield from _table(block.columns, block.rows)
        case Figures():
            yield from _figures(block)
        case Picture():
            from .plot_text import plot_lines

            yield "```text"
            yield from (clean(line).replace("`", "'") for line in plot_lines(block.plot, 80))
            yield "```"
        case Notice():
            name = "DANGER" if block.danger else "CAUTION"
            yield f"> **{name}: {escape(block.title)}**"
            for paragraph in block.blocks:
                yield ">"
                yield f"> {_led(paragraph.lead, paragraph.text)}"


def _items(items: Sequence[Item], indent: str) -> Iterator[str]:
    numbers = [int(item.mark[:-1]) if re.fullmatch(r"[0-9]{1,6}\.", item.mark) else -1 for item in items]
    # Markdown counts on from the first number of a list, so a list with gaps is given bullets with the numbers in words.
    counted = bool(numbers) and numbers[0] >= 0 and numbers == list(range(numbers[0], numbers[0] + len(items)))
    for item in items:
        mark = item.mark if counted else "-"
        shown = "" if counted or item.mark in ("", "+", "-", "?") else f"{escape(item.mark)} "
        yield f"{indent}{mark} {shown}{_led(item.lead, item.text)}"
        below = indent + " " * (len(mark) + 1)
        for block in item.below:
            if isinstance(block, Items):
                yield ""
                yield from _items(block.items, below)
            else:
                yield ""
                yield from (below + line for line in _block(block))


def _ranking(ranking: Ranking) -> Iterator[str]:
    names = list(dict.fromkeys(meter.name for row in ranking.rows for meter in row.meters))
    by_name = [{meter.name: meter.words for meter in row.meters} for row in ranking.rows]
    rows = [
        (row.mark, row.title, row.aside, *(words.get(name, "") for name in names))
        for row, words in zip(ranking.rows, by_name, strict=True)
    ]
    yield from _table(("", "Cause", "Where", *(name.capitalize() for name in names)), rows)


def _table(columns: Sequence[str], rows: Iterable[Sequence[str]]) -> Iterator[str]:
    yield f"|{'|'.join(f' {escape(name)} ' if name else ' ' for name in columns)}|"
    yield f"|{'---|' * len(columns)}"
    for row in rows:
        yield f"| {' | '.join(map(escape, row))} |"


def _figures(figures: Figures) -> Iterator[str]:
    yield "| Figure | Value | Against the published figure |"
    yield "|---|---|---|"
    for row in figures.rows:
        verdict = f"**{escape(row.verdict)}**" if row.off and row.verdict else escape(row.verdict)
        standing = " ".join(part for part in (verdict, escape(row.limit), escape(row.note)) if part)
        how = f" *({escape(row.how)})*" if row.how else ""
        yield f"| {escape(row.title)}{how} | {escape(row.value)} | {standing} |"


def _led(lead: str, text: str) -> str:
    parts = [f"**{escape(lead)}**" if lead else "", escape(text)]
    return " ".join(part for part in parts if part)


def _address(address: str) -> str:
    return f"<{address}>" if is_web_address(address) else escape(address)
