"""Words for people beside every number, always the number first.

Chances are put on the approximate probability scale of the EFSA Scientific Committee (2018), Guidance on Uncertainty
Analysis in Scientific Assessments, EFSA Journal 16(1):5123. The weight of an answer is given in decibans and in steps after
H. Jeffreys (Theory of Probability), which lie at whole fives of a deciban here.
"""

from __future__ import annotations

import math

from diagnose.corpus.priors import prior
from diagnose.corpus.records import Cause, Knowledge

SCALE_SOURCE = (
    "Words for chances: approximate probability scale of the EFSA Scientific Committee, 2018, EFSA Journal 16(1):5123."
)

_CHANCE_WORDS = (
    (0.99, "almost certain", "99–100"),
    (0.95, "extremely likely", "95–99"),
    (0.90, "very likely", "90–95"),
    (0.66, "likely", "66–90"),
    (0.33, "about as likely as not", "33–66"),
    (0.10, "unlikely", "10–33"),
    (0.05, "very unlikely", "5–10"),
    (0.01, "extremely unlikely", "1–5"),
    (0.0, "almost impossible", "0–1"),
)
_WEIGHT_WORDS = ((20.0, "decisive"), (10.0, "strong"), (5.0, "substantial"), (0.0, "barely"))

FIXED = "\u00a0"
"""A blank at which no line breaks; the layouts print it as an ordinary blank."""

NO_SOURCE = "common practice, no source"

SAFETY = (
    "Nothing here declares a product safe. Whether a lot may be sold, reworked or must be destroyed is for the inspector,"
    " the plant's HACCP plan and local law to decide."
)

HAVE = {
    "product": "the product itself",
    "process": "the process and its records",
    "raw-material": "raw-material and slaughter records",
    "lab": "a laboratory",
}
WHO = {
    "product": "anyone with the product in hand",
    "process": "the plant's people, with the process and its records",
    "raw-material": "whoever holds the raw-material and slaughter records",
    "lab": "a laboratory",
}
WHEN = {"this-lot": "This lot", "now": "Now", "next-batch": "For the next batch", "supplier": "With the supplier"}
COULD_KNOW = {
    "plainly": "Yes, plainly.",
    "with-a-check": "With a check.",
    "not-at-all": "No; it happened before the raw material came in, or could not be seen.",
}
REGION = {
    "exterior": "outside",
    "cut-face": "cut face",
    "aroma-flavor": "smell and flavour",
    "texture": "bite",
    "weight-and-lab": "scale and laboratory",
    "batch-pattern": "pattern in the batch",
}
SURE = {"sure": "", "fairly": "fairly sure", "from-memory": "from memory"}
KIND = {
    "paper": "paper",
    "book": "book",
    "regulation": "regulation",
    "guideline": "guideline",
    "standard": "standard",
    "extension": "extension publication",
    "trade-article": "trade article",
    "thesis": "thesis",
}


def percent(chance: float) -> str:
    """A chance between 0 and 1 as a whole per cent; the ends are never rounded to certainty."""
    if chance >= 0.995:
        return f"over{FIXED}99{FIXED}%"
    if chance < 0.005:
        return f"under{FIXED}1{FIXED}%"
    return f"{math.floor(100 * chance + 0.5)}{FIXED}%"


def likelihood_word(chance: float) -> str:
    """The EFSA word for a chance between 0 and 1, by the whole per cent that is shown."""
    return _step(chance)[0]


def likely(chance: float) -> str:
    """A chance as number, word and the word's range: `72 % (likely, 66–90 %)`."""
    word, band = _step(chance)
    return f"{percent(chance)} ({word}, {band}{FIXED}%)"


def _step(chance: float) -> tuple[str, str]:
    # A reader compares the word with the number in front of it, so the word follows the number as it is shown.
    if 0.005 <= chance < 0.995:
        chance = math.floor(100 * chance + 0.5) / 100
    for least, word, band in _CHANCE_WORDS:
        if chance >= least:
            return word, band
    return _CHANCE_WORDS[-1][1:]


def weight_word(decibans: float) -> str:
    """How much an answer weighs, whichever way it points."""
    size = round(abs(decibans), 1)
    return next((word for least, word in _WEIGHT_WORDS if size >= least), _WEIGHT_WORDS[-1][1])


def weight(decibans: float) -> str:
    """Decibans as number and word: `+11 dB, strong`."""
    if not math.isfinite(decibans):
        return f"beyond measure, {weight_word(decibans)}"
    number = f"{decibans:+.1f}" if abs(decibans) < 10 else f"{decibans:+.0f}"
    return f"{number}{FIXED}dB, {weight_word(decibans)}"


def on_scale(knowledge: Knowledge, scale: str, word: str) -> str:
    """A word of a scale with its number before it: `75 % (usually)`."""
    return f"{exact_percent(knowledge.scales[scale].value(word))} ({spaced(word)})"


def how_often(knowledge: Knowledge, cause: Cause) -> str:
    """The prior of a cause and its word, as `on_scale`; where it is computed from rates, the word is the nearest."""
    return f"{exact_percent(prior(cause, knowledge.scales))} ({spaced(cause.frequency)})"


def exact_percent(chance: float) -> str:
    """A figure of the knowledge in per cent, to a tenth or its first digit: `7.5 %`, `0.05 %`. `percent` is for results."""
    number = 100 * chance
    return f"{round(number, 1) if number >= 0.1 else float(f'{number:.1g}'):g}{FIXED}%"


def effort(knowledge: Knowledge, word: str) -> str:
    """An effort as hours of one person, then the word."""
    hours = knowledge.scales["effort"].value(word)
    return f"about {hours:g}{FIXED}h of one person ({spaced(word)})"


def points(gain: float) -> str:
    """A gain in a chance, in percentage points."""
    number = 100 * gain
    return f"{number:+.0f} points" if abs(number) >= 1 or number == 0 else f"{number:+.1f} points"


def minutes(count: int) -> str:
    """Minutes of work."""
    return f"{count}{FIXED}minute" if count == 1 else f"{count}{FIXED}minutes"


def counted(count: int, one: str, many: str | None = None) -> str:
    """A number with its noun in singular or plural."""
    return f"{count} {one if count == 1 else many or one + 's'}"


def spaced(word: str) -> str:
    """A kebab-case word as people write it."""
    return word.replace("-", " ")


def figure(value: float) -> str:
    """A computed number in as many figures as a person reads: three, or all of a whole number."""
    if abs(value) >= 1000:
        return f"{value:.0f}"
    if abs(value) >= 100:
        return f"{value:.1f}".removesuffix(".0")
    shown = f"{float(f'{value:.3g}'):g}"
    return "0" if shown == "-0" else shown


_TENTHS = ("points", "°C", "degrees salometer", "degrees")


def amount(value: float, unit: str) -> str:
    """A computed number with its unit; differences and temperatures to a tenth, as no instrument shows more."""
    if unit in _TENTHS:
        shown = f"{round(value, 1) + 0.0:.1f}".removesuffix(".0")
        shown = "0" if shown == "-0" else shown
    else:
        shown = figure(value)
    return f"{shown}{FIXED}{unit}".strip()
