"""The page on the format names the words of every scale that authors use."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.corpus.load import load

PAGE = Path(__file__).parents[3] / "docs" / "knowledge-format.md"


@pytest.mark.parametrize("scale", ["frequency", "strength", "background", "reliability", "removal", "effort"])
def test_words_of_a_scale(scale: str) -> None:
    """Whoever writes knowledge finds the allowed words on the page, in the order of the scale."""
    words = ", ".join(step.word for step in load().scales[scale].steps)
    assert f"| {scale} | {words} |" in PAGE.read_text(encoding="utf-8")
