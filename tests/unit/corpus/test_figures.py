"""Limits, measures and tables: read, checked, and refused with their places."""

from collections.abc import Callable
from pathlib import Path

import pytest

from diagnose.corpus.figures import CoolingTable, HoldTable
from diagnose.corpus.figures_file import load_figures
from diagnose.corpus.load import default_folder, load
from diagnose.corpus.records import Knowledge
from diagnose.errors import KnowledgeError

LIMIT = """limits:
- id: most-nitrite
  title: Nitrite
  quantity: ingoing-nitrite
  rules: us
  at-most: 200
  unit: ppm
  date: "1999-12-23"
  basis: common-practice
"""
MEASURE = """measures:
- id: humidity
  title: humidity
  result: humidity-colour
  unit: "%"
  bands:
  - at-least: 40
    at-most: 60
    basis: common-practice
    below:
    - {about: pale-outside, reliability: good, full-at: 15}
"""
TABLE = """table: lethality-meat-6-5-log
title: Times
rules: us
date: undated
columns: [celsius, minutes]
rows:
- [54.4, 112]
- [60, 12]
basis: common-practice
"""
NAMES = {"limits": "limits.yaml", "measures": "measures.yaml", "table": "tables/lethality-meat-6-5-log.yaml"}
TEXTS = {"limits": LIMIT, "measures": MEASURE, "table": TABLE}


def written(folder: Path, which: str, old: str = "", new: str = "") -> None:
    path = folder / NAMES[which]
    path.parent.mkdir(exist_ok=True)
    assert old in TEXTS[which]
    path.write_text(TEXTS[which].replace(old, new, 1) if old else TEXTS[which], encoding="utf-8")


def test_good_files_are_in_order_and_come_out_typed(
    copied: Path, problems_of: Callable[..., list[str]], small: Knowledge
) -> None:
    """All three kinds together, and what they hold."""
    for which in NAMES:
        written(copied, which)
    assert problems_of(copied) == []
    found = load_figures(small, [copied])
    assert found.limits[0].at_most == 200
    assert found.measures[0].bands[0].below[0].full_at == 15
    table = found.table("lethality-meat-6-5-log", HoldTable)
    assert table is not None
    assert table.rows == ((54.4, 112.0), (60.0, 12.0))
    assert found.table("cooling-options", CoolingTable) is None


@pytest.mark.parametrize(
    ("which", "old", "new", "line"),
    [
        ("limits", "  at-most: 200\n", "", 'limits.yaml:2:3: a limit has "at-most" or "at-least", and not both'),
        ("limits", "at-most: 200", "at-most: two hundred", '"at-most" is two hundred; write a number'),
        ("limits", '"1999-12-23"', "soon", 'limits.yaml:8:9: "soon" is no date'),
        ("limits", "unit: ppm", "unit: ppm\n  products: [hma]", 'no product has the id "hma"'),
        ("limits", "unit: ppm", "unit: ppm\n  caution: [nothing]", 'no caution has the id "nothing"'),
        ("limits", "quantity", "quantitty", 'unknown field "quantitty"; did you mean "quantity"?'),
        (
            "limits",
            "basis: common-practice",
            "basis: [{source: nobody, says: x, bears: relative}]",
            'no source has the id "nobody"',
        ),
        ("measures", "about: pale-outside", "about: pale-outsid", 'did you mean "pale-outside"?'),
        ("measures", "reliability: good", "reliability: fine", '"fine" is not on the scale reliability'),
        ("measures", "full-at: 15", "full-at: 0", '"full-at" is a distance from the edge and lies above 0'),
        ("measures", "at-least: 40\n    at-most: 60", "at-most: 60", '"below" needs the edge "at-least"'),
        ("measures", "at-least: 40", "at-least: 70", "the lower edge of a band lies below its upper edge"),
        ("table", "table: lethality-meat-6-5-log", "table: another", "a table bears the name of its file"),
        ("table", "- [60, 12]", "- [60]", "this row has 1 numbers, the table 2 columns"),
        ("table", "- [60, 12]", "- sixty", '"rows" takes lists of numbers, not a text'),
    ],
)
def test_slips_are_named_at_their_place(
    copied: Path, problems_of: Callable[..., list[str]], which: str, old: str, new: str, line: str
) -> None:
    """Each rule of these files, broken once."""
    written(copied, which, old, new)
    found = problems_of(copied)
    assert any(line in one for one in found), found
    assert all(one.startswith(f"knowledge/{NAMES[which]}:") for one in found)


def test_a_table_that_nobody_reads_is_named(copied: Path, problems_of: Callable[..., list[str]]) -> None:
    """A misspelt file name would otherwise silently be no table."""
    (copied / "tables").mkdir()
    (copied / "tables" / "cooling-option.yaml").write_text(TABLE, encoding="utf-8")
    assert 'did you mean "cooling-options"?' in problems_of(copied)[0]


def test_no_plant_replaces_a_published_figure(copied: Path, small: Knowledge, tmp_path: Path) -> None:
    """An id that stands in both folders is refused, so a rule's figure cannot be changed unseen."""
    written(copied, "limits")
    also = tmp_path / "plant"
    also.mkdir()
    written(also, "limits", "at-most: 200", "at-most: 900")
    with pytest.raises(KnowledgeError, match="stands twice"):
        load_figures(small, [copied, also])


def test_every_shipped_table_is_there() -> None:
    """The program's own folder holds all the tables it knows of."""
    from diagnose.corpus.figures import TABLES

    known = load(remember=False)
    assert set(load_figures(known, [default_folder()]).tables) == set(TABLES)
