"""A killed process loses nothing that was acknowledged."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
from pathlib import Path

import pytest

import diagnose
from diagnose.casework.casebook import Casebook
from diagnose.casework.events import Answer

CHILD = """
import sys
from pathlib import Path
from diagnose.casework.casebook import Casebook
from diagnose.casework.events import Answer, Opened

with Casebook(Path(sys.argv[1])) as book:
    case = book.start(Opened("bone-in-ham", ("product",), "v1"))
    print(case, flush=True)
    for number in range(2, 100_000):
        book.append(case, number, Answer(f"sign-{number}", "yes"))
        print(number, flush=True)
"""


@pytest.mark.skipif(os.name != "posix", reason="needs SIGKILL")
@pytest.mark.parametrize("seed", range(6))
def test_kill_between_and_within_answers(tmp_path: Path, seed: int) -> None:
    """After SIGKILL at a random moment every acknowledged event is there, in order, and the case goes on."""
    path = tmp_path / "casebook.sqlite"
    wanted = random.Random(seed).randint(1, 60)
    command = [sys.executable, "-c", CHILD, str(path)]
    here = {**os.environ, "PYTHONPATH": str(Path(diagnose.__file__).parent.parent)}
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=here) as child:
        assert child.stdout is not None
        case = child.stdout.readline().strip()
        acknowledged = 1
        for line in child.stdout:
            acknowledged = int(line)
            if acknowledged == wanted + 1:
                child.send_signal(signal.SIGKILL)
    assert child.returncode == -signal.SIGKILL
    with Casebook(path) as book:
        events = book.read(case)
        assert len(events) in (acknowledged, acknowledged + 1)
        assert [event.about for event in events[1:] if isinstance(event, Answer)] == [
            f"sign-{number}" for number in range(2, len(events) + 1)
        ]
        book.append(case, len(events) + 1, Answer("after", "no"))
        assert len(book.read(case)) == len(events) + 1
