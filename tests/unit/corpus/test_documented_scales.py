"""The page on the format names the words of every scale that authors use."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.corpus.load import load
from diagnose.corpus.records import Knowledge

PAGE = Path(__file__).parents[3] / "docs" / "knowledge-format.md"


@pytest.fixture(scope="module")
def shipped() -> Knowledge:
    """The shipped knowledge."""
    return load(remember=False)


@pytest.mark.parametrize("scale", ["frequency", "strength", "background", "reliability", "removal", "effort"])
def test_words_of_a_scale(scale: str, shipped: Knowledge) -> None:
    """Whoever writes knowledge finds the allowed words on the page, in the order of the scale."""
    words = ", ".join(step.word for step in shipped.scales[scale].steps)
    assert f"| {scale} | {words} |" in PAGE.read_text(encoding="utf-8")
