"""Scorecards, class files, sheets and tables: what is refused, and that nothing a person wrote can act as code."""

from __future__ import annotations

import csv
import io
import re
from pathlib import Path

import pytest
from making import class_of, marks, sheet

from diagnose.commands.main import call
from diagnose.corpus.glossary import Glossary, glossary_problems
from diagnose.corpus.load import default_folder
from diagnose.corpus.records import Knowledge
from diagnose.corpus.scorecard_file import read_scorecard, scorecard_problems
from diagnose.corpus.scorecards import Scorecard
from diagnose.errors import CaseError, Problem
from diagnose.judging.class_file import load_class
from diagnose.judging.comment import comments_of
from diagnose.judging.sheet import JudgedClass
from diagnose.judging.standing import standings
from diagnose.reports.class_machine import guarded, results_csv
from diagnose.reports.sheets import HOLD, entry_sheets
from diagnose.reports.sheets_html import sheets_html
from diagnose.reports.sheets_markdown import sheet_markdown

SHIPPED = default_folder() / "scorecards"
CARD = (SHIPPED / "bone-in-ham.yaml").read_text(encoding="utf-8")


def test_the_shipped_scorecards_are_in_order(knowledge: Knowledge) -> None:
    """Five classes are shipped, and nothing is wrong with them or with the glossary."""
    assert sorted(one.stem for one in SHIPPED.glob("*.yaml")) == [
        "bacon",
        "bone-in-ham",
        "boneless-ham",
        "dry-cured-ham",
        "smoked-sausage",
    ]
    assert scorecard_problems(knowledge, SHIPPED, "scorecards") == []
    assert glossary_problems(knowledge, default_folder(), "glossary.yaml") == []


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("total: 1000", "total: 990", "the criteria have 1000 points together, not 990"),
        ("sign: pale-outside", "sign: pale-outsid", 'no sign has the id "pale-outsid"; did you mean "pale-outside"?'),
        ("slight: 12, marked: 40, say: [a dull", "slight: 50, marked: 40, say: [a dull", "a slight one costs more"),
        ("marked: 60, say: [a split thigh", "slight: 5, marked: 60, say: [a split thigh", "is not graded"),
        ("{sign: dull-outside, slight: 12, ", "{sign: dull-outside, ", 'is graded, so it needs "slight" too'),
        ("ties: [flavour, cut-face", "ties: [flavour, cutface", 'there is no criterion "cutface"'),
        ("  criteria: [aroma]", "  criteria: [bite]", "is scored at two steps"),
        ("criteria: [bite, flavour]", "criteria: [bite]", '"flavour" is scored at no step of the order'),
        ("  - gas-holes\n", "", "must list it"),
        ("  kind: wrong-product", "  kind: rules", "needs a disqualification of the kind wrong-product"),
        ('{points: 75, says: "One small flaw', '{points: 95, says: "One small flaw', "the points must fall"),
        ('{points: 0, says: "Torn', '{points: 1, says: "Torn', "the last level must be that of 0 points"),
        ("    title: Smoke flavour covers the ham\n", "", 'a fault of its own needs "title"'),
        ("own: smoke-too-strong", "own: pale-outside", 'the knowledge has a sign "pale-outside"'),
        ("piece: ham", "peace: ham", 'unknown field "peace"; did you mean "piece"?'),
        ("own: smoke-too-weak", "own: Weak", "small letters"),
    ],
)
def test_what_is_wrong_with_a_scorecard(tmp_path: Path, knowledge: Knowledge, old: str, new: str, message: str) -> None:
    """Each slip is named with its place."""
    assert old in CARD
    path = tmp_path / "bone-in-ham.yaml"
    path.write_text(CARD.replace(old, new, 1), encoding="utf-8")
    problems: list[Problem] = []
    read_scorecard(knowledge, path, "card.yaml", problems)
    found = [str(one) for one in problems]
    assert any(message in one for one in found), found
    assert all(re.match(r"card\.yaml:\d+:\d+: ", one) for one in found)


def test_nothing_is_tasted_before_the_rest_is_scored(tmp_path: Path, knowledge: Knowledge) -> None:
    """An order of evaluation that tastes before it smells is refused."""
    path = tmp_path / "card.yaml"
    text = CARD.replace("  criteria: [aroma]", "  criteria: [bite]", 1)
    path.write_text(text.replace("  criteria: [bite, flavour]", "  criteria: [flavour, aroma]", 1), encoding="utf-8")
    problems: list[Problem] = []
    read_scorecard(knowledge, path, "card.yaml", problems)
    assert any("taste last" in one.message for one in problems)


def test_a_shows_own_scorecard(tmp_path: Path, knowledge: Knowledge, capsys: pytest.CaptureFixture[str]) -> None:
    """A class names a scorecard beside it, and the checker looks at such a file alone."""
    (tmp_path / "ours.yaml").write_text(CARD.replace("scorecard: bone-in-ham", "scorecard: ours", 1), encoding="utf-8")
    file = tmp_path / "class.yaml"
    file.write_text("class: c\ntitle: C\nscorecard: ours.yaml\njudges: [a]\nentries: [1]\n", encoding="utf-8")
    assert load_class(knowledge, file, [default_folder()]).card.scorecard == "ours"
    assert call(["judge", str(tmp_path / "ours.yaml"), "--check"]) == 0
    (tmp_path / "ours.yaml").write_text(CARD.replace("total: 1000", "total: 1", 1), encoding="utf-8")
    assert call(["judge", str(tmp_path / "ours.yaml"), "--check"]) == 1
    assert "ours.yaml:" in capsys.readouterr().out


GOOD = """\
class: c
title: C
scorecard: bone-in-ham
judges: [a]
entries: [1, 2]
sheets:
- judge: a
  entries:
  - entry: 1
    points: {workmanship: 80}
    marks:
    - {fault: gas-holes, how-much: slight}
"""


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("judge: a\n", "judge: b\n", '"b" is not among the judges'),
        ("entry: 1\n", "entry: 3\n", "there is no entry 3 in this class"),
        ("workmanship: 80", "workmanship: 91", "has at most 90 points"),
        ("workmanship: 80", "workmanship: -3", "write a whole number"),
        ("workmanship: 80", "flavour: 300", "nobody tastes it"),
        ("fault: gas-holes", "fault: gass-holes", 'did you mean "gas-holes"?'),
        ("fault: gas-holes", "fault: foam-on-brine", "cannot be seen on the piece"),
        ("fault: gas-holes", "fault: split-or-broken-femur", 'takes no "how-much"'),
        ("entries: [1, 2]", "entries: [1, 1]", '"1" stands twice'),
        ("title: C", "titel: C", 'unknown field "titel"'),
    ],
)
def test_what_is_wrong_with_a_class(tmp_path: Path, knowledge: Knowledge, old: str, new: str, message: str) -> None:
    """Each slip in a class file is named with its place."""
    file = tmp_path / "class.yaml"
    file.write_text(GOOD.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(CaseError) as caught:
        load_class(knowledge, file, [default_folder()])
    found = [str(one) for one in caught.value.problems]
    assert any(message in one for one in found), found


def test_cells_that_a_spreadsheet_would_run(card: Scorecard) -> None:
    """A cell that begins with = + - @ is made text; the table has a row for every entry."""
    assert [guarded(one) for one in ("=1+1", "+1", "-1", "@x", "a=b", "")] == ["'=1+1", "'+1", "'-1", "'@x", "a=b", ""]
    import dataclasses

    judged = class_of(card, {"=cmd": (sheet(card, "=cmd", 1, bite=1), sheet(card, "=cmd", 2))})
    bad = dataclasses.replace(judged, title="=HYPERLINK(1)")
    rows = list(csv.reader(io.StringIO(results_csv(bad, standings(bad)))))
    assert [row[1] for row in rows] == ["entry", "2", "1"]
    assert not [cell for row in rows for cell in row if cell.startswith(("=", "+", "-", "@"))]


def test_a_sheet_shows_what_was_written_and_runs_none_of_it(card: Scorecard, knowledge: Knowledge) -> None:
    """Notes with markup come out as text in HTML and in Markdown."""
    import dataclasses

    evil = "<script>alert(1)</script> **x** \u202e & \x1b[31m"
    one = dataclasses.replace(sheet(card, "a", 1, marks("pale-outside:marked")), notes=(evil,))
    judged = dataclasses.replace(class_of(card, {"a": (one,)}), title="<b>Class</b>")
    pages = entry_sheets(judged, knowledge, standings(judged), comments_of(judged, knowledge), {})
    html, markdown = sheets_html(pages, judged.title), sheet_markdown(pages[0])
    assert "<script" not in html
    assert "<b>" not in html
    assert "&lt;script&gt;" in html
    assert "\\<script" in markdown
    assert "\\*\\*x" in markdown
    assert not {"\u202e", "\x1b"} & set(html + markdown)


def test_a_sheet_to_a_page(class_of_24: JudgedClass, knowledge: Knowledge, glossary: Glossary) -> None:
    """Every entry has a front and a back, each a page of its own; nothing is fetched from outside."""
    drafts = comments_of(class_of_24, knowledge, glossary)
    pages = entry_sheets(class_of_24, knowledge, standings(class_of_24), drafts, {1: "Final words."})
    html = sheets_html(pages, "t")
    assert html.count('<section class="front"') == html.count('<section class="back"') == 24
    assert "break-after: page" in html
    assert not re.search(r"<(script|link|img|iframe)|src=|url\(|@import", html)
    assert html.count("no judge has read and approved") == 23
    assert "Final words." in html


def test_sources_stand_on_the_back_only(class_of_24: JudgedClass, knowledge: Knowledge, glossary: Glossary) -> None:
    """A comment holds no source; its back page does."""
    drafts = comments_of(class_of_24, knowledge, glossary)
    pages = entry_sheets(class_of_24, knowledge, standings(class_of_24), drafts, {})
    assert any(page.sources for page in pages)
    assert not [one for one in drafts if re.search(r"\[\d+\]|et al\.|\b(19|20)\d\d\b|https?:", one.text)]


def test_no_words_take_the_hold_off_a_suspect_sheet(
    class_of_24: JudgedClass, knowledge: Knowledge, glossary: Glossary
) -> None:
    """Whatever a judge wrote, the sheet begins with hold, do not taste and call, in both forms and nowhere else."""
    drafts = comments_of(class_of_24, knowledge, glossary)
    final = dict.fromkeys(class_of_24.entries, "A very nice ham, well done, enjoy it.")
    pages = {one.entry: one for one in entry_sheets(class_of_24, knowledge, standings(class_of_24), drafts, final)}
    for entry, page in pages.items():
        html, markdown = sheets_html([page], "t"), sheet_markdown(page)
        for text, words in ((html, "A very nice ham"), (markdown, "A very nice ham")):
            assert (HOLD[:40] in text) is (entry in (10, 18))
            if entry in (10, 18):
                assert text.index(HOLD[:40]) < text.index(words)
    assert "inspector" in HOLD
    assert "Nobody tastes" in HOLD


def test_a_sheet_says_how_far_the_judges_were_apart(
    class_of_24: JudgedClass, knowledge: Knowledge, glossary: Glossary
) -> None:
    """0 and 158 of 160 are not averaged without a word, the same from all is said, and a lone view stands with its chances."""
    drafts = comments_of(class_of_24, knowledge, glossary)
    pages = {one.entry: one for one in entry_sheets(class_of_24, knowledge, standings(class_of_24), drafts, {})}
    cut = next(row for row in pages[18].rows if row.title.startswith("Cut face"))
    assert "far apart" in cut.says
    assert all(row.says for page in pages.values() for row in page.rows)
    assert "If what 1 of 3 judges saw is right" in pages[18].causes_if
    assert pages[2].causes_if == ""
    assert any(row.span == "the same" for page in pages.values() for row in page.rows)
    assert not [line for page in pages.values() for line in page.seen if "(marked" in line]


def test_all_that_is_wrong_with_a_class_is_told_at_once(tmp_path: Path, knowledge: Knowledge) -> None:
    """A missing title does not hide the points that are too many and the fault that nobody knows."""
    file = tmp_path / "class.yaml"
    text = GOOD.replace("title: C\n", "", 1).replace("workmanship: 80", "workmanship: 999", 1)
    file.write_text(text.replace("fault: gas-holes", "fault: gass-holes", 1), encoding="utf-8")
    with pytest.raises(CaseError) as caught:
        load_class(knowledge, file, [default_folder()])
    found = " ".join(str(one) for one in caught.value.problems)
    assert "title" in found
    assert "at most 90 points" in found
    assert "gass-holes" in found
