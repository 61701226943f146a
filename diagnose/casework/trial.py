"""Worked cases put to the test: does the cause that a case expects come out, and are its cautions shown?

A case whose expected cause does not come out may say why (`missed`). It is then no finding, but it stays a miss in every
share, and it becomes a finding on the day it comes out after all, so that the mark cannot outlive its reason.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from diagnose.corpus.case_file import CaseFile, Expectation
from diagnose.corpus.records import Knowledge

from .assess import assess
from .case import Case
from .diagnosis import Diagnosis

WITHIN = 3
"""Places from the top that count as among the first."""

COMES_OUT = 'the expected cause comes out after all; take "missed" away'


@dataclass(frozen=True, slots=True)
class Trial:
    """One worked case and what came of it.

    `place` is the best rank of a cause that the case expects, counted from 1; None if it expects no cause or none of them
    is ranked. `misses` says what of the ranking, and `silent` what of the cautions, is not as expected.
    """

    case: str
    title: str
    product: str
    published: bool
    expected: tuple[str, ...]
    place: int | None
    misses: tuple[str, ...]
    silent: tuple[str, ...]
    missed: str | None

    @property
    def findings(self) -> tuple[str, ...]:
        """What somebody has to mend, one sentence each; empty if all is as the case says."""
        if self.missed is None:
            return (*self.misses, *self.silent)
        return self.silent if self.misses else (COMES_OUT, *self.silent)


@dataclass(frozen=True, slots=True)
class Score:
    """How often the expected cause ranks first, and within the first three.

    `cases` are those that expect a cause, those marked as missed among them.
    """

    cases: int
    first: int
    within: int


def trial_of(knowledge: Knowledge, name: str, read: CaseFile, case: Case) -> Trial:
    """The trial of the worked case `read`; `case` is the same case with its answers laid out for a diagnosis.

    Raises what `assess` raises.
    """
    expect = read.expect or Expectation()
    found = assess(knowledge, case)
    ranked = [one.id for one in found.ranking]
    expected = tuple(dict.fromkeys((*expect.first, *expect.within_three)))
    return Trial(
        case=name,
        title=read.title or name,
        product=read.product,
        published=bool(read.basis),
        expected=expected,
        place=min((ranked.index(one) + 1 for one in expected if one in ranked), default=None),
        misses=tuple(_misses(expect, ranked)),
        silent=tuple(_silent(expect, found)),
        missed=expect.missed,
    )


def _misses(expect: Expectation, ranked: Sequence[str]) -> Iterable[str]:
    first = ranked[0] if ranked else "nothing"
    if expect.first and first not in expect.first:
        yield f"{' or '.join(expect.first)} must rank first; {first} does"
    for one in expect.within_three:
        if one not in ranked[:WITHIN]:
            place = f"ranks {ranked.index(one) + 1}" if one in ranked else "is not ranked"
            yield f"{one} must be among the first {WITHIN}; it {place}"
    if first in expect.not_first:
        yield f"{first} must not rank first; it does"


def _silent(expect: Expectation, found: Diagnosis) -> Iterable[str]:
    shown = {one.id for one in found.cautions} | {one.caution for one in found.rule_out}
    for one in expect.cautions:
        if one not in shown:
            yield f"the caution {one} must be shown; it is not"


def score_of(trials: Iterable[Trial]) -> Score:
    """How the trials that expect a cause came out."""
    places = [one.place for one in trials if one.expected]
    return Score(
        cases=len(places),
        first=sum(place == 1 for place in places),
        within=sum(place is not None and place <= WITHIN for place in places),
    )
