"""Choosing a case to go on with, held by a script."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from scripted import held, small

from diagnose.commands.session import run
from diagnose.commands.session.resuming import when
from diagnose.errors import CaseError, UsageError


def test_cases_are_known_again_by_what_was_seen(tmp_path: Path) -> None:
    """The list says when, the title, the first defects, and how much was answered; the number goes on with that case."""
    first = held(tmp_path, "1", "1", "", "1 marked", "title lot 412", "q")
    second = held(tmp_path, "1", "1", "q")
    end = held(tmp_path, "2", "q", resume="")
    said = " ".join(end.said.split())
    assert f"1 {second.sitting.case_id}, today " in said
    assert ": nothing marked yet" in said
    assert f"2 {first.sitting.case_id}, today " in said
    assert ": lot 412; Small round holes scattered through the lean; 1 answer" in said
    assert end.sitting.case_id == first.sitting.case_id
    assert "Bone-in cured and smoked ham, lot 412" in end.said


def test_more_cases_than_are_listed(tmp_path: Path) -> None:
    """Nine are listed, and the words say how to reach an older one."""
    for _ in range(10):
        held(tmp_path, "1", "1", "q")
    said = held(tmp_path, "q", resume="").said
    assert "  9  " in said
    assert " 10  " not in said
    assert "Older ones go by their id: diagnose resume CASE" in " ".join(said.split())


@pytest.mark.parametrize(
    ("stamp", "says"),
    [
        ("2026-03-01T08:05:59", "today 08:05"),
        ("2026-02-28T23:59:00", "yesterday 23:59"),
        ("2026-02-27T10:00:00", "2026-02-27"),
    ],
)
def test_a_time_is_said_as_people_say_it(stamp: str, says: str) -> None:
    """Today and yesterday with the hour, older days by their date."""
    assert when(stamp, date(2026, 3, 1)) == says


def test_a_product_that_is_gone_is_asked_for_until_it_is_chosen(tmp_path: Path) -> None:
    """Back at that question does not choose for the person."""
    held(tmp_path, "1", "1", "q")
    known = small()
    products = {name: one for name, one in known.products.items() if name != "bone-in-ham"}
    products["another-ham"] = replace(products["boneless-ham"], id="another-ham", title="Another ham")
    end = held(tmp_path, "back", "2", "q", resume="", knowledge=lambda: replace(known, products=products))
    assert end.sitting.case.product == "another-ham"


def test_an_unknown_case_is_said_even_where_nobody_can_be_asked(tmp_path: Path) -> None:
    """The first thing wrong is the id, not the missing terminal; no casebook is made by it."""
    book = tmp_path / "casebook.sqlite"
    with pytest.raises(CaseError, match="there is no case nosuch; no casebook"):
        run(knowledge_loader=small, casebook_path=book, resume="nosuch", no_input=True)
    assert not book.exists()
    case = held(tmp_path, "1", "1", "q").sitting.case_id
    with pytest.raises(CaseError, match=f"there is no case nosuch; the latest are:\n  {case}"):
        run(knowledge_loader=small, casebook_path=book, resume="nosuch", no_input=True)
    with pytest.raises(UsageError, match="run: diagnose rank CASE"):
        run(knowledge_loader=small, casebook_path=book, resume=case, no_input=True)
