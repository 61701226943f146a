"""What files beside the knowledge point to."""

from dataclasses import replace
from pathlib import Path

import pytest

from diagnose.corpus.case_file import load_case
from diagnose.corpus.figures_file import figures_problems
from diagnose.corpus.glossary import glossary_problems
from diagnose.corpus.records import Knowledge, Retired
from diagnose.errors import CaseError

MEASURE = """measures:
- id: humidity
  title: humidity
  result: humidity-colour
  unit: "%"
  bands:
  - at-least: 40
    basis: common-practice
    below:
    - {about: pale-ham, reliability: good, full-at: 15}
"""


@pytest.fixture
def retired(small: Knowledge) -> Knowledge:
    """The small knowledge, in which one sign and one cause were retired."""
    return replace(
        small, retired={"pale-ham": Retired("2026.1", "pale-outside"), "air-in-brine": Retired("2026.1", None)}
    )


def test_a_retired_id_is_called_retired(retired: Knowledge, tmp_path: Path) -> None:
    """An author learns what an id became, and is not told that it never was."""
    (tmp_path / "measures.yaml").write_text(MEASURE, encoding="utf-8")
    assert [problem.message for problem in figures_problems(retired, [(tmp_path, "")])] == [
        '"pale-ham" is retired; use pale-outside'
    ]
    (tmp_path / "glossary.yaml").write_text("causes:\n- {cause: air-in-brine, say: [air]}\n", encoding="utf-8")
    assert [str(problem) for problem in glossary_problems(retired, tmp_path, "glossary.yaml")] == [
        'glossary.yaml:2:11: "air-in-brine" is retired'
    ]


def test_a_case_says_where_in_a_source_it_stands(small: Knowledge, tmp_path: Path) -> None:
    """Whoever has seen the source of a case can say where in it the case is told, as for any other claim."""
    path = tmp_path / "case.yaml"
    text = "product: bone-in-ham\nbasis:\n- {source: second-notes, says: x, bears: relative}\n"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(CaseError, match=r':3:3: a source that was seen needs "at"'):
        load_case(small, path)
    path.write_text(text.replace("says: x", "says: x, at: page 3"), encoding="utf-8")
    assert load_case(small, path).basis[0].at == "page 3"
