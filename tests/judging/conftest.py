"""Shared by the tests of judging: the shipped knowledge, the class of 24, and classes made from a few marks."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.corpus.glossary import Glossary, load_glossary
from diagnose.corpus.load import default_folder, load
from diagnose.corpus.records import Knowledge
from diagnose.corpus.scorecard_file import load_scorecard
from diagnose.corpus.scorecards import Scorecard
from diagnose.judging.class_file import load_class
from diagnose.judging.comment import Comment, comments_of
from diagnose.judging.sheet import JudgedClass

ROOT = Path(__file__).parent.parent.parent
CLASS = ROOT / "docs" / "examples" / "class-of-24.yaml"


@pytest.fixture(scope="session")
def knowledge() -> Knowledge:
    """The shipped knowledge."""
    return load(remember=False)


@pytest.fixture(scope="session")
def card(knowledge: Knowledge) -> Scorecard:
    """The scorecard of bone-in ham."""
    return load_scorecard(knowledge, default_folder() / "scorecards" / "bone-in-ham.yaml")


@pytest.fixture(scope="session")
def glossary(knowledge: Knowledge) -> Glossary:
    """The shipped glossary."""
    return load_glossary(knowledge, [default_folder()])


@pytest.fixture(scope="session")
def class_of_24(knowledge: Knowledge) -> JudgedClass:
    """The class of the documentation."""
    return load_class(knowledge, CLASS, [default_folder()])


@pytest.fixture(scope="session")
def comments(class_of_24: JudgedClass, knowledge: Knowledge, glossary: Glossary) -> dict[int, Comment]:
    """Its comments by entry."""
    return {one.entry: one for one in comments_of(class_of_24, knowledge, glossary)}
