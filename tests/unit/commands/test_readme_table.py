"""README tells what the knowledge holds, and that stays true."""

import os
import re
from pathlib import Path

README = Path(__file__).parents[3] / "README.md"
BEGIN, END = "<!-- knowledge:begin -->\n", "<!-- knowledge:end -->\n"


def test_readme_shows_what_the_knowledge_holds(run) -> None:
    """The table between the markers is the one that the program prints. DIAGNOSE_NEW_GOLDEN=1 puts the new one there."""
    now = run("knowledge", "coverage", "--summary", small=False).out
    text = README.read_text(encoding="utf-8")
    found = re.search(f"{BEGIN}(.*){END}", text, re.DOTALL)
    assert found is not None, f"README.md has lost its markers {BEGIN.strip()} and {END.strip()}"
    if os.environ.get("DIAGNOSE_NEW_GOLDEN"):
        text = text[: found.start(1)] + now + text[found.end(1) :]
        README.write_text(text, encoding="utf-8")
    assert f"{BEGIN}{now}{END}" in text, (
        "the table of the knowledge in README.md is out of date; run this test once with DIAGNOSE_NEW_GOLDEN=1, or put what"
        f" `diagnose knowledge coverage --summary` prints between {BEGIN.strip()} and {END.strip()}"
    )
