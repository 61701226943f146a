"""Text from knowledge and people is shown, never obeyed."""

import dataclasses
import json

import pytest

from diagnose.casework.diagnosis import Diagnosis
from diagnose.corpus.records import Knowledge
from diagnose.reports import render, render_entry, render_found
from diagnose.reports.layout import broken, cells, words_of
from diagnose.reports.markdown import escape

HOSTILE = "\x1b[31mred\x07 [bold]b[/bold] <script>x</script> **s** `c` | \u202eback\u202c # h \x9b2J _e_ &amp; {{7*7}}"


@pytest.fixture
def hostile(diagnosis: Diagnosis) -> Diagnosis:
    """A diagnosis with hostile text wherever people or plants can write."""
    first = dataclasses.replace(diagnosis.ranking[0], title=HOSTILE, what=HOSTILE, stage_title=HOSTILE)
    caution = dataclasses.replace(diagnosis.cautions[0], title=HOSTILE, say=HOSTILE, because=(HOSTILE,))
    return dataclasses.replace(
        diagnosis,
        title=HOSTILE,
        notes=(HOSTILE, "line\nbreak\n# heading\n- item"),
        numbers=((HOSTILE, HOSTILE),),
        ranking=(first, *diagnosis.ranking[1:]),
        cautions=(caution,),
    )


@pytest.mark.parametrize("form", ["text", "markdown", "json"])
def test_nothing_that_a_terminal_obeys_comes_through(hostile: Diagnosis, small: Knowledge, form: str) -> None:
    """Escape sequences, bells, C1 controls and marks that turn the writing round are taken out in every form."""
    text = render(hostile, small, form)  # type: ignore[arg-type]
    for character in "\x1b\x07\x9b\u202e\u202c":
        assert character not in text


def test_markup_is_shown_as_it_was_written_in_text(hostile: Diagnosis, small: Knowledge) -> None:
    """Square brackets and stars are only characters in a text report."""
    text = render(hostile, small, "text", width=400)
    assert "[bold]b[/bold] <script>x</script> **s** `c` |" in text


def test_markup_is_made_literal_in_markdown(hostile: Diagnosis, small: Knowledge) -> None:
    """No tag, table cell, emphasis or heading of a person's text takes effect on a page."""
    text = render(hostile, small, "markdown")
    assert "<script>" not in text
    assert "\\<script\\>x\\</script\\> \\*\\*s\\*\\* \\`c\\` \\|" in text
    assert "line break \\# heading - item" in text
    rows = [line for line in text.splitlines() if line.startswith("| ")]
    assert {line.replace("\\|", "").count("|") for line in rows} == {6}


@pytest.mark.parametrize(
    ("written", "shown"),
    [("1. one", "1\\. one"), ("- dash", "\\- dash"), ("+ plus", "\\+ plus"), ("=== ", "\\==="), ("a - b", "a - b")],
)
def test_a_text_that_looks_like_a_list_is_none(written: str, shown: str) -> None:
    """A text that begins like a list or an underline does not become one."""
    assert escape(written) == shown


def test_json_keeps_the_text_without_the_controls(hostile: Diagnosis, small: Knowledge) -> None:
    """Programs get the markup as data."""
    found = json.loads(render(hostile, small, "json"))
    assert found["title"].startswith("[31mred [bold]b[/bold] <script>")


def test_a_web_address_that_is_none_is_not_linked(small: Knowledge) -> None:
    """Only http and https addresses become links on a page."""
    sources = {
        **small.sources,
        "second-notes": dataclasses.replace(small.sources["second-notes"], url="javascript:alert(1)"),
    }
    knowledge = dataclasses.replace(small, sources=sources)
    text = render_entry(knowledge.causes["surface-not-dried"], knowledge, "markdown")
    assert "javascript:alert(1)" in text
    assert "<javascript" not in text


def test_search_words_are_cleaned(small: Knowledge) -> None:
    """Words typed at the shell are shown without what a terminal would obey."""
    assert "\x1b" not in render_found("\x1b]0;title\x07x", [], small, "text")


def test_lines_break_by_columns_not_by_characters() -> None:
    """Wide East Asian characters count two columns, combining marks none, and a word is cut only if it must be."""
    lines = broken(words_of("火腿火腿 火腿 ham"), 6)
    assert [" ".join(word for word, _ in line) for line in lines] == ["火腿火", "腿", "火腿", "ham"]
    assert cells("e\u0301") == 1


def test_an_address_is_cut_behind_a_slash() -> None:
    """A long web address stays readable over two lines."""
    lines = broken(words_of("https://example.org/one/two-three-four"), 26)
    assert [line[0][0] for line in lines] == ["https://example.org/one/", "two-three-four"]
