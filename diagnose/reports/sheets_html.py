"""Comment sheets as HTML that prints: the front of a sheet on one page, its back on the next.

Every text is escaped where it enters the page; nothing is loaded from anywhere.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from string import Template

from .html import html_text
from .sheets import DRAFT, EntrySheet

_PAGE = Template(
    """<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>$title</title>
<style>
@page { size: A4; margin: 16mm 18mm; }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 178mm; padding: 6mm; color: #1c1c1c; background: #fff;
       font: 11pt/1.45 Georgia, "Times New Roman", "Liberation Serif", serif; }
header { display: flex; justify-content: space-between; align-items: baseline; gap: 8mm;
         border-bottom: 1.5pt solid #7a2e1d; padding-bottom: 2mm; }
h1 { font-size: 15pt; margin: 0; }
h2 { font-size: 12pt; margin: 6mm 0 1.5mm; color: #7a2e1d; }
.entry { font-size: 19pt; font-weight: bold; white-space: nowrap; }
.result { margin: 2mm 0 0; }
.comment { font-size: 13pt; line-height: 1.55; margin: 4mm 0 2mm; }
.hold { border: 2.5pt solid #b00020; padding: 2.5mm 3.5mm; margin: 3mm 0; font-size: 12.5pt; font-weight: bold; }
.draft { border: 1pt dashed #7a2e1d; padding: 1mm 2mm; font-size: 9.5pt; display: inline-block; }
table { border-collapse: collapse; width: 100%; font-size: 10pt; }
th, td { text-align: left; vertical-align: top; padding: 1.2mm 2mm 1.2mm 0; border-bottom: .5pt solid #c9c2bd; }
th { font-weight: normal; color: #555; }
td.n, th.n { text-align: right; white-space: nowrap; }
td.says { color: #444; }
ul { margin: 1mm 0; padding-left: 5mm; }
li { margin: .6mm 0; }
.back { font-size: 9pt; line-height: 1.35; }
.back h2 { font-size: 10.5pt; margin-top: 4mm; }
.small { font-size: 8.5pt; color: #444; margin: 1mm 0; overflow-wrap: anywhere; }
section { break-after: page; }
section:last-of-type { break-after: auto; }
tr, li { break-inside: avoid; }
@media screen { section { margin-bottom: 14mm; } }
@media print { body { padding: 0; max-width: none; } }
</style>
</head>
<body>
$sheets
</body>
</html>
"""
)

_FRONT = Template(
    """<section class="front" aria-label="Entry $entry">
<header><h1>$title</h1><div class="entry">Entry $entry</div></header>
$hold<p class="result">$result</p>
<p class="comment">$comment</p>
$draft
<h2>Points</h2>
<table>
<thead><tr><th></th><th class="n">Points</th><th class="n">Of</th><th class="n">Judges gave</th>
<th>This level means</th></tr></thead>
<tbody>
$rows
</tbody>
</table>
$notes
</section>"""
)

_BACK = Template(
    """<section class="back" aria-label="Entry $entry, back">
<header><h1>What this rests on</h1><div>Entry $entry</div></header>
$body
</section>"""
)


def sheets_html(sheets: Sequence[EntrySheet], title: str) -> str:
    """All sheets in one page of HTML; printed, each sheet begins a new page and its back another."""
    return _PAGE.substitute(title=html_text(title), sheets="\n".join(f"{_front(one)}\n{_back(one)}" for one in sheets))


def _front(sheet: EntrySheet) -> str:
    rows = "\n".join(
        f'<tr><td>{html_text(row.title)}</td><td class="n">{html_text(row.given)}</td><td class="n">{row.most}</td>'
        f'<td class="n">{html_text(row.span)}</td><td class="says">{html_text(row.says)}</td></tr>'
        for row in sheet.rows
    )
    return _FRONT.substitute(
        entry=sheet.entry,
        title=html_text(sheet.title),
        result=html_text(" · ".join(part for part in (sheet.date, sheet.result, sheet.total) if part)),
        hold=f'<p class="hold" role="alert">{html_text(sheet.hold)}</p>\n' if sheet.hold else "",
        comment=html_text(sheet.comment),
        draft="" if sheet.final else f'<p class="draft">{html_text(DRAFT)}</p>',
        rows=rows,
        notes=_section("In the judges’ own words", sheet.notes),
    )


def _back(sheet: EntrySheet) -> str:
    parts = [_section("Seen on the piece", sheet.seen)]
    if sheet.causes:
        lines = [sheet.causes_if] if sheet.causes_if else []
        lines += [f"{row.title} [{row.stage}]: {row.chance}" for row in sheet.causes]
        lines.append(f"Something that is not listed here: {sheet.unlisted}")
        parts.append(_section(f"How well each cause fits, from the piece alone ({sheet.causes_of})", lines))
    parts.append(_section("Steps named, and their basis", [f"{row.text} {row.basis}" for row in sheet.steps]))
    parts.append(_section("How the causes named lead there", sheet.links))
    parts.append(
        _section(
            "Sources",
            [
                " ".join(part for part in (f"[{s.number}] {s.text}", s.address, s.standing) if part)
                for s in sheet.sources
            ],
        )
    )
    parts += [f'<p class="small">{html_text(line)}</p>' for line in sheet.closing]
    return _BACK.substitute(entry=sheet.entry, body="\n".join(part for part in parts if part))


def _section(title: str, lines: Iterable[str]) -> str:
    items = "".join(f"<li>{html_text(line)}</li>" for line in lines)
    return f"<h2>{html_text(title)}</h2>\n<ul>{items}</ul>" if items else ""
