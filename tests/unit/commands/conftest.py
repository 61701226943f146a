"""The commands called in this very process, on the small knowledge of the tests."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from diagnose.commands.main import call

TESTS = Path(__file__).parents[2]
SMALL = TESTS / "small"
CASE = SMALL / "cases" / "air-at-the-pump.yaml"


@dataclass(frozen=True)
class Outcome:
    """What a command did."""

    code: int
    out: str
    err: str


@pytest.fixture(scope="session")
def memory(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where checked knowledge is remembered: one folder for all these tests, since what lies there is never wrong."""
    return tmp_path_factory.mktemp("memory")


@pytest.fixture(autouse=True)
def alone(tmp_path: Path, memory: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No cache, no casebook and no wishes about colour from outside the tests."""
    monkeypatch.setenv("DIAGNOSE_CACHE_DIR", str(memory))
    monkeypatch.setenv("DIAGNOSE_CASEBOOK", str(tmp_path / "casebook.sqlite"))
    for name in ("NO_COLOR", "COLUMNS", "DIAGNOSE_TRACEBACK", "PYTHONIOENCODING"):
        monkeypatch.delenv(name, raising=False)


@pytest.fixture
def run(capfd: pytest.CaptureFixture[str]) -> Callable[..., Outcome]:
    """Call the program with arguments; `small` knowledge unless the arguments name another."""

    def called(*arguments: object, small: bool = True) -> Outcome:
        given = [str(one) for one in arguments]
        code = call([*(["--knowledge", str(SMALL)] if small else []), *given])
        out, err = capfd.readouterr()
        return Outcome(code, out, err)

    return called


@pytest.fixture
def process(tmp_path: Path) -> Callable[..., subprocess.CompletedProcess[bytes]]:
    """Run the program as a process of its own, as a shell does."""

    def started(*arguments: object, **how: object) -> subprocess.CompletedProcess[bytes]:
        command = [sys.executable, "-m", "diagnose.commands.main", *map(str, arguments)]
        environment = {**os.environ, "PYTHONPATH": str(TESTS.parent), **how.pop("env", {})}  # type: ignore[dict-item]
        how.setdefault("stdin", subprocess.DEVNULL)
        how.setdefault("stdout", subprocess.PIPE)
        how.setdefault("stderr", subprocess.PIPE)
        return subprocess.run(command, check=False, timeout=60, cwd=tmp_path, env=environment, **how)  # type: ignore[call-overload,no-any-return]

    return started
