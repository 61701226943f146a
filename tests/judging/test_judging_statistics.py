"""Agreement between judges, against published tables and against scipy and pingouin."""

from __future__ import annotations

import pytest

from diagnose.judging.distributions import chi_square_upper, f_quantile, f_upper, t_two_sided
from diagnose.judging.statistics import intraclass, kendall, ranks

SHROUT_FLEISS = [[9, 2, 5, 8], [6, 1, 3, 2], [8, 4, 6, 8], [7, 1, 2, 6], [10, 5, 6, 9], [6, 2, 4, 7]]
"""Table 2 of Shrout and Fleiss (1979), six targets and four judges, as the documentation of R's psych package repeats it."""

WING = [10.4, 10.8, 11.1, 10.2, 10.3, 10.2, 10.7, 10.5, 10.8, 11.2, 10.6, 11.4]
TAIL = [7.4, 7.6, 7.9, 7.2, 7.4, 7.1, 7.4, 7.2, 7.8, 7.7, 7.8, 8.3]
BILL = [17, 17, 20, 14.5, 15.5, 13, 19.5, 16, 21, 20, 18, 22]
"""Birds of Zar, Biostatistical Analysis (2010), example 20.5, from memory; the rank sums agree with those that the page of
Unistat on Kendall's concordance coefficient prints for that example."""
ZAR_RANK_SUMS = [14.5, 21, 30.5, 6, 11, 3.5, 20, 11.5, 29, 28.5, 22.5, 36]

ANXIETY = (
    [3, 3, 3, 4, 5, 5, 2, 3, 5, 2, 2, 6, 1, 5, 2, 2, 1, 2, 4, 3],
    [3, 6, 4, 6, 2, 4, 2, 4, 3, 3, 2, 3, 3, 3, 2, 2, 1, 3, 3, 4],
    [2, 1, 4, 4, 3, 2, 1, 6, 1, 1, 1, 2, 3, 3, 1, 1, 3, 3, 2, 2],
)
"""Artificial ratings that the documentation of R's irr and DescTools packages prints."""


def test_the_table_of_shrout_and_fleiss() -> None:
    """The mean squares and the four correlations are those of their tables 3 and 4, to the digits printed there."""
    found = intraclass(SHROUT_FLEISS)
    assert found is not None
    assert [round(x, 2) for x in (found.between, found.judges, found.error)] == [11.24, 32.49, 1.02]
    values = (found.agreement_one, found.consistency_one, found.agreement_mean, found.consistency_mean)
    assert [round(one.value, 2) for one in values] == [0.29, 0.71, 0.62, 0.91]


def test_intervals_as_pingouin_gives_them() -> None:
    """The intervals of 95 % are those of pingouin 0.7.0 (intraclass_corr, CI95) for the same table."""
    found = intraclass(SHROUT_FLEISS)
    assert found is not None
    expected = {
        found.agreement_one: (0.02, 0.76),
        found.consistency_one: (0.34, 0.95),
        found.agreement_mean: (0.07, 0.93),
        found.consistency_mean: (0.68, 0.99),
    }
    assert {one: (round(one.low, 2), round(one.high, 2)) for one in expected} == expected


def test_values_as_pingouin_gives_them() -> None:
    """The correlations are those of pingouin 0.7.0 to six digits."""
    found = intraclass(SHROUT_FLEISS)
    assert found is not None
    assert found.agreement_one.value == pytest.approx(0.289764, abs=5e-7)
    assert found.consistency_one.value == pytest.approx(0.714841, abs=5e-7)
    assert found.agreement_mean.value == pytest.approx(0.620051, abs=5e-7)
    assert found.consistency_mean.value == pytest.approx(0.909316, abs=5e-7)


def test_rank_sums_of_zar() -> None:
    """Ranks with ties add up to the published sums."""
    columns = [ranks(column) for column in (WING, TAIL, BILL)]
    assert [sum(column[at] for column in columns) for at in range(12)] == ZAR_RANK_SUMS


@pytest.mark.parametrize("judges", [(WING, TAIL, BILL), ANXIETY])
def test_kendall_against_friedman(judges: tuple[list[float], ...]) -> None:
    """W corrected for ties is Friedman's chi-square over m(n-1), as scipy computes it, with the same chance."""
    stats = pytest.importorskip("scipy.stats")
    entries = list(zip(*judges, strict=True))
    reference = stats.friedmanchisquare(*[list(row) for row in entries])
    found = kendall(entries)
    assert found is not None
    assert found.chi_square == pytest.approx(float(reference.statistic), rel=1e-12)
    assert found.chance == pytest.approx(float(reference.pvalue), rel=1e-9)
    assert found.w == pytest.approx(float(reference.statistic) / (len(judges) * (len(entries) - 1)), rel=1e-12)


def test_kendall_from_the_published_rank_sums() -> None:
    """W of Zar's birds: 12 S / (m2(n3-n) - m T) worked by hand from the published rank sums and the ties."""
    spread = sum((value - 19.5) ** 2 for value in ZAR_RANK_SUMS)
    ties = 2 * (2**3 - 2) + (2**3 - 2) + (3**3 - 3) + (2**3 - 2) + (2**3 - 2) + (2**3 - 2)
    found = kendall(list(zip(WING, TAIL, BILL, strict=True)))
    assert found is not None
    assert found.w == pytest.approx(12 * spread / (9 * (12**3 - 12) - 3 * ties), rel=1e-12)


def test_kendall_at_its_ends() -> None:
    """The same order gives 1, opposite orders of two judges give 0, and no spread at all gives nothing."""
    same = kendall([(1, 10), (2, 20), (3, 30)])
    opposite = kendall([(1, 3), (2, 2), (3, 1)])
    assert same is not None
    assert opposite is not None
    assert (same.w, opposite.w) == (1.0, 0.0)
    assert kendall([(5, 5), (5, 5)]) is None
    assert kendall([(1,), (2,)]) is None


def test_perfect_agreement_has_no_interval_to_widen() -> None:
    """Judges who agree in every point have a correlation of 1 and no error to divide by."""
    found = intraclass([(1, 1), (2, 2), (4, 4)])
    assert found is not None
    assert (found.agreement_one.value, found.agreement_one.low, found.consistency_mean.value) == (1.0, 1.0, 1.0)


def test_no_difference_between_entries() -> None:
    """Where all entries have the same mean, nothing can be said."""
    assert intraclass([(1, 2), (1, 2)]) is None


@pytest.mark.parametrize("value", [0.1, 0.9, 1.0, 2.5, 11.0, 40.0])
@pytest.mark.parametrize("freedom", [(1, 1), (5, 15), (20, 3.7), (2, 200)])
def test_f_against_scipy(value: float, freedom: tuple[float, float]) -> None:
    """The tail and the quantile of F are scipy's."""
    stats = pytest.importorskip("scipy.stats")
    assert f_upper(value, *freedom) == pytest.approx(float(stats.f.sf(value, *freedom)), rel=1e-9, abs=1e-14)
    chance = float(stats.f.cdf(value, *freedom))
    if 0.001 < chance < 0.999:
        assert f_quantile(chance, *freedom) == pytest.approx(value, rel=1e-8)


@pytest.mark.parametrize("value", [0.01, 0.5, 3.0, 12.0, 60.0])
@pytest.mark.parametrize("freedom", [1, 2, 11, 40])
def test_chi_square_and_t_against_scipy(value: float, freedom: int) -> None:
    """The tails of chi-square and t are scipy's."""
    stats = pytest.importorskip("scipy.stats")
    assert chi_square_upper(value, freedom) == pytest.approx(float(stats.chi2.sf(value, freedom)), rel=1e-9, abs=1e-15)
    assert t_two_sided(value, freedom) == pytest.approx(2 * float(stats.t.sf(value, freedom)), rel=1e-9, abs=1e-15)


@pytest.mark.parametrize("table", [[(10, 6), (5, 7)], [(1, 2), (2, 1)], [(1, 0, 4), (4, 0, 1)]])
def test_entries_that_differ_less_than_the_judges_err(table: list[tuple[float, ...]]) -> None:
    """Where the mean of all judges has no correlation, because its mean square is not above 0, none is given."""
    assert intraclass(table) is None


def test_an_interval_without_lower_end() -> None:
    """Where the limit for one judge lies below -1/(judges-1), that of the mean is minus infinity, not a number above 1."""
    found = intraclass([(1, 0, 4), (4, 0, 1), (0, 3, 0), (4, 6, 2)])
    assert found is not None
    assert found.agreement_one.low < -0.5
    assert found.agreement_mean.low == float("-inf")
    assert found.agreement_mean.low < found.agreement_mean.value < found.agreement_mean.high < 1.0
