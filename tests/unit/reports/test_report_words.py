"""Numbers become words by the published scales."""

import math

import pytest

from diagnose.corpus.records import Knowledge
from diagnose.reports import words

# EFSA Scientific Committee (2018), EFSA Journal 16(1):5123, table of the approximate probability scale.
EFSA = [
    ("almost certain", 99, 100),
    ("extremely likely", 95, 99),
    ("very likely", 90, 95),
    ("likely", 66, 90),
    ("about as likely as not", 33, 66),
    ("unlikely", 10, 33),
    ("very unlikely", 5, 10),
    ("extremely unlikely", 1, 5),
    ("almost impossible", 0, 1),
]


@pytest.mark.parametrize(("word", "low", "high"), EFSA)
def test_every_chance_inside_a_band_gets_the_word_of_that_band(word: str, low: int, high: int) -> None:
    """The nine words of the EFSA scale stand where the guidance puts them, with their range beside them."""
    for chance in (low / 100, (low + high) // 2 / 100, (high - 1) / 100):
        assert words.likelihood_word(chance) == word
        assert words.likely(chance).replace("\u00a0", " ").endswith(f" ({word}, {low}–{high} %)")


def test_the_number_comes_first() -> None:
    """A chance reads number, word, range, as the design writes it."""
    assert words.likely(0.72).replace("\u00a0", " ") == "72 % (likely, 66–90 %)"


@pytest.mark.parametrize(
    ("chance", "shown"),
    [(1.0, "over 99 %"), (0.9951, "over 99 %"), (0.994, "99 %"), (0.0, "under 1 %"), (0.005, "1 %")],
)
def test_no_chance_is_rounded_to_certainty(chance: float, shown: str) -> None:
    """Neither 0 % nor 100 % is ever shown."""
    assert words.percent(chance).replace("\u00a0", " ") == shown


@pytest.mark.parametrize(
    ("decibans", "word"),
    [
        (0.0, "barely"),
        (4.9, "barely"),
        (4.99, "substantial"),
        (5.0, "substantial"),
        (-9.9, "substantial"),
        (10, "strong"),
        (-20, "decisive"),
    ],
)
def test_decibans_are_put_on_steps_whichever_way_they_point(decibans: float, word: str) -> None:
    """The word for a weight depends on its size only."""
    assert words.weight_word(decibans) == word


def test_an_infinite_weight_still_reads() -> None:
    """Evidence that settles a thing is worded, not printed as inf."""
    assert "inf" not in words.weight(math.inf)
    assert "decisive" in words.weight(-math.inf)


def test_a_word_of_a_scale_shows_its_number_first(small: Knowledge) -> None:
    """Authors write words; people see the number that the word stands for, then the word."""
    assert words.on_scale(small, "strength", "nearly-always").replace("\u00a0", " ") == "92 % (nearly always)"
    assert words.on_scale(small, "background", "low").replace("\u00a0", " ") == "1.2 % (low)"
