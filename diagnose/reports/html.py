"""A report as one self-contained HTML page: no script, nothing loaded from anywhere, every text escaped."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape

from .document import Block, Document, Figures, Heading, Item, Items, Notice, Paragraph, Picture, Ranking, Table
from .layout import is_web_address, one_line
from .plot_svg import plot_svg
from .words import FIXED

_STYLE = """
*{box-sizing:border-box}
body{margin:0 auto;max-width:52rem;padding:1.5rem 1rem 3rem;color:#1c1c1c;background:#fff;
font:1rem/1.5 Georgia,"Times New Roman","Liberation Serif",serif}
h1{font-size:1.6rem;margin:0 0 .5rem;border-bottom:2px solid #7a2e1d;padding-bottom:.4rem}
h2{font-size:1.2rem;margin:2rem 0 .5rem;color:#7a2e1d}
h3{font-size:1.05rem;margin:1.2rem 0 .3rem}
p{margin:.4rem 0}
.quiet{color:#555;font-size:.92rem}
.notice{border:2px solid #b36b00;border-left-width:10px;padding:.6rem .9rem;margin:1rem 0}
.danger{border-color:#b00020}
.notice strong.head{display:block;font-size:1.1rem}
table{border-collapse:collapse;width:100%;font-size:.94rem;margin:.5rem 0}
th,td{text-align:left;vertical-align:top;padding:.3rem .6rem .3rem 0;border-bottom:1px solid #ddd}
th{font-weight:normal;color:#555}
table.figures{table-layout:fixed}
table.figures th:nth-child(1){width:30%}
table.figures th:nth-child(2){width:23%}
td .small{display:block;color:#555;font-size:.85rem}
tr.off td{background:#fbeeee}
tr.off td.v{font-weight:bold}
tr.off td.v .small{font-weight:normal}
figure{margin:1rem 0}
svg{width:100%;height:auto;display:block}
svg.key{width:30px;height:8px;display:inline-block;vertical-align:middle}
.grid{stroke:#e4e0dd;stroke-width:1}
svg text{font:12px Helvetica,Arial,sans-serif;fill:#444}
svg text.y{text-anchor:end}
svg text.x{text-anchor:middle}
.legend{list-style:none;padding:0;margin:.2rem 0;font-size:.88rem;display:flex;flex-wrap:wrap;gap:.2rem 1.4rem}
.sources{font-size:.88rem;overflow-wrap:anywhere}
footer{margin-top:2rem;border-top:1px solid #ccc;font-size:.9rem;color:#444}
@media print{body{max-width:none;padding:0}tr,figure,.notice{break-inside:avoid}}
"""


def as_html(document: Document) -> str:
    """The report as a page, with a line end at its end."""
    title = next((block.text for block in document.blocks if isinstance(block, Heading)), "Report")
    body = [part for block in document.blocks for part in _block(block)]
    if document.sources:
        body.append('<h2>Sources</h2><div class="sources">')
        for source in document.sources:
            pieces = [html_text(source.text), _address(source.address), html_text(source.standing)]
            body.append(f"<p>[{source.number}] {' '.join(piece for piece in pieces if piece)}</p>")
        body.append("</div>")
    body.append(f"<footer>{''.join(f'<p>{html_text(line)}</p>' for line in document.closing)}</footer>")
    head = (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n"
        f"<title>{html_text(title)}</title>\n<style>{_STYLE}</style>\n</head>\n<body>\n"
    )
    return head + "\n".join(body) + "\n</body>\n</html>\n"


def html_text(text: str) -> str:
    """The text on one line, with everything that HTML would take for markup made literal."""
    return escape(one_line(text)).replace(FIXED, "&nbsp;")


def _block(block: Block) -> Iterator[str]:
    match block:
        case Heading():
            yield f"<h{block.level}>{html_text(block.text)}</h{block.level}>"
        case Paragraph():
            yield f"<p{' class=quiet' if block.tone == 'quiet' else ''}>{_led(block.lead, block.text)}</p>"
        case Items():
            yield _items(block.items)
        case Ranking():
            yield _ranking(block)
        case Table():
            yield _table(block)
        case Figures():
            yield _figures(block)
        case Picture():
            yield f"<figure><figcaption>{html_text(block.plot.title)}</figcaption>{plot_svg(block.plot)}</figure>"
        case Notice():
            name = "DANGER" if block.danger else "CAUTION"
            yield f'<div class="notice{" danger" if block.danger else ""}" role="note">'
            yield f'<strong class="head">{name}: {html_text(block.title)}</strong>'
            for paragraph in block.blocks:
                yield f"<p>{_led(paragraph.lead, paragraph.text)}</p>"
            yield "</div>"


def _items(items: Sequence[Item]) -> str:
    out = []
    for item in items:
        mark = "" if item.mark in ("", "+", "-", "?") else f"{html_text(item.mark)} "
        below = "".join(part for block in item.below for part in _block(block))
        out.append(f"<li>{mark}{_led(item.lead, item.text)}{below}</li>")
    return f"<ul>{''.join(out)}</ul>"


def _ranking(ranking: Ranking) -> str:
    names = list(dict.fromkeys(meter.name for row in ranking.rows for meter in row.meters))
    rows = []
    for row in ranking.rows:
        found = {meter.name: meter.words for meter in row.meters}
        cells = "".join(f"<td>{html_text(found.get(name, ''))}</td>" for name in names)
        rows.append(
            f"<tr><td>{html_text(row.mark)}</td><td>{html_text(row.title)}</td><td>{html_text(row.aside)}</td>{cells}</tr>"
        )
    head = "".join(f"<th>{html_text(name).capitalize()}</th>" for name in names)
    return f"<table><thead><tr><th></th><th>Cause</th><th>Where</th>{head}</tr></thead><tbody>{''.join(rows)}</tbody></table>"


def _table(table: Table) -> str:
    head = "".join(f"<th>{html_text(name)}</th>" for name in table.columns)
    rows = "".join(f"<tr>{''.join(f'<td>{html_text(cell)}</td>' for cell in row)}</tr>" for row in table.rows)
    return f"<table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>"


def _figures(figures: Figures) -> str:
    rows = []
    for row in figures.rows:
        how = f'<span class="small">{html_text(row.how)}</span>' if row.how else ""
        note = f'<span class="small">{html_text(row.note)}</span>' if row.note else ""
        limit = f'<span class="small">{html_text(row.limit)}</span>' if row.limit else ""
        rows.append(
            f'<tr{" class=off" if row.off else ""}><td>{html_text(row.title)}{how}</td><td class="n">{html_text(row.value)}</td>'
            f'<td class="v">{html_text(row.verdict)}{limit}{note}</td></tr>'
        )
    head = "<tr><th>Figure</th><th>Value</th><th>Against the published figure</th></tr>"
    return f'<table class="figures"><thead>{head}</thead><tbody>{"".join(rows)}</tbody></table>'


def _led(lead: str, text: str) -> str:
    parts = [f"<strong>{html_text(lead)}</strong>" if lead else "", html_text(text)]
    return " ".join(part for part in parts if part)


def _address(address: str) -> str:
    return f'<a href="{escape(address)}">{escape(address)}</a>' if is_web_address(address) else html_text(address)
