"""Knowledge for the tests of this folder, and ways to spoil it."""

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from diagnose.corpus.load import check, load
from diagnose.corpus.records import Knowledge

TESTS = Path(__file__).parents[2]
SMALL = TESTS / "small"


@pytest.fixture(scope="session")
def small() -> Knowledge:
    """The small valid knowledge of the tests."""
    return load(SMALL, remember=False)


@pytest.fixture(autouse=True)
def own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A cache folder of the test's own, so that no test meets what another left behind."""
    folder = tmp_path / "cache"
    monkeypatch.setenv("DIAGNOSE_CACHE_DIR", str(folder))
    monkeypatch.delenv("DIAGNOSE_NO_CACHE", raising=False)
    return folder


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    """A copy of the small knowledge that a test may change."""
    return Path(shutil.copytree(SMALL, tmp_path / "knowledge"))


@pytest.fixture
def problems_of(tmp_path: Path) -> Callable[..., list[str]]:
    """The problems of a folder as lines with relative paths."""

    def lines(folder: Path, *also: Path) -> list[str]:
        return [str(problem).replace(f"{tmp_path.as_posix()}/", "") for problem in check(folder, also)]

    return lines
