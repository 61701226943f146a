"""A prior that rests on published rates is computed from them."""

import numpy as np
import pytest
from scipy.special import expit, logit

from diagnose.corpus.priors import chance, pooled, prior, published
from diagnose.corpus.records import Knowledge, Rate


def test_a_rate_is_its_share_times_its_parts(small: Knowledge) -> None:
    """20 to 45 % has the geometric mean 30 %; half of that counts, judged, and 60 % of the other plant's 25 %, published."""
    rates = small.causes["hams-touch-on-truck"].rates
    assert published(rates[0]) == pytest.approx(0.30)
    assert [chance(rate, small.scales["strength"]) for rate in rates] == pytest.approx([0.15, 0.15])


def test_a_prior_is_computed_from_rates_and_else_read_from_the_scale(small: Knowledge) -> None:
    """The word beside rates is for the reader; the number comes from the figures."""
    assert prior(small.causes["hams-touch-on-truck"], small.scales) == pytest.approx(0.15)
    assert prior(small.causes["smoke-too-short"], small.scales) == small.scales["frequency"].value("occasional")


def test_rates_are_pooled_by_the_mean_of_their_log_odds() -> None:
    """As scipy's logit and expit give it, and near the geometric mean where all are small."""
    chances = [0.0334, 0.102, 0.155, 0.4]
    assert pooled(chances) == pytest.approx(expit(np.mean(logit(chances))), rel=1e-12)
    assert pooled([0.001, 0.004]) == pytest.approx(0.002, rel=0.002)
    assert pooled([0.07]) == pytest.approx(0.07)


@pytest.mark.parametrize(("share", "to"), [(0.0, None), (100.0, None), (5.0, 3.0), (50.0, 100.0)])
def test_a_share_that_is_none_is_refused(share: float, to: float | None) -> None:
    """Neither nothing nor everything: a prior is never certain."""
    with pytest.raises(ValueError, match="above 0 and below 100"):
        published(Rate(share=share, of="hams", basis=(), to=to))


def test_the_nearest_word_is_nearest_in_ratio(small: Knowledge) -> None:
    """0.11 lies nearer to 0.15 than to 0.08 as a ratio, though not by difference."""
    assert small.scales["frequency"].nearest(0.112).word == "common"
    assert small.scales["frequency"].nearest(0.105).word == "occasional"
