"""Holds a session on the small knowledge as the program does: child.py CASEBOOK [--plain] [--resume CASE]."""

from __future__ import annotations

import sys
from pathlib import Path

from diagnose.commands.session import run
from diagnose.corpus.load import load
from diagnose.corpus.records import Knowledge
from diagnose.errors import DiagnoseError


def _small() -> Knowledge:
    return load(Path(__file__).parent.parent / "small", remember=False)


if __name__ == "__main__":
    arguments = sys.argv[1:]
    try:
        sys.exit(
            run(
                knowledge_loader=_small,
                casebook_path=Path(arguments[0]),
                resume=arguments[arguments.index("--resume") + 1] if "--resume" in arguments else None,
                plain="--plain" in arguments,
            )
        )
    except DiagnoseError as error:
        print(error, file=sys.stderr)
        sys.exit(error.exit_code)
