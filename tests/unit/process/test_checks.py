"""Every check of tests/checks, run against the functions."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "checks"))

import checklist

CHECKS = checklist.all_checks()


@pytest.mark.parametrize("check", CHECKS, ids=[f"{check.topic}-{check.id}" for check in CHECKS])
def test_check(check: checklist.Check) -> None:
    """The function gives the published or worked number within the stated tolerance."""
    assert not checklist.differences(check)


def test_enough_external_values() -> None:
    """The package is checked against at least 120 values from outside."""
    assert sum(check.values for check in CHECKS if check.basis in checklist.EXTERNAL) >= 120


def test_words_of_every_check() -> None:
    """Each check says where its number comes from, in the words that the list understands."""
    for check in CHECKS:
        assert check.basis in checklist.BASES, check.id
        assert check.read in ("seen", "memory"), check.id
        assert check.source.get("title"), check.id


def test_a_wrong_number_is_reported() -> None:
    """A check whose number is off by more than its tolerance does not pass silently."""
    first = next(check for check in CHECKS if isinstance(check.expected, float))
    wrong = checklist.Check(**{**vars(first), "expected": first.expected * 2 + 1})
    assert checklist.differences(wrong)


def test_the_list_names_every_check() -> None:
    """The page for the handbook leaves no check out."""
    page = checklist.list_checks(CHECKS)
    assert all(f"| {check.id} |" in page for check in CHECKS)
