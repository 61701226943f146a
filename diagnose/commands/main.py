"""The way in. `--version` answers before anything else is loaded, and every error ends here: one message, no traceback."""

from __future__ import annotations

import sys

from diagnose import __version__
from diagnose.errors import EXIT_BAD_INPUT, EXIT_FAULT, EXIT_FINE, EXIT_INTERRUPTED, DiagnoseError


def run() -> None:
    """Run the program with the arguments of the command line and leave with its exit code."""
    sys.exit(call(sys.argv[1:]))


def call(arguments: list[str]) -> int:
    """Run the program with these arguments; its exit code (see `diagnose --help`)."""
    _have_streams()
    try:
        code = _version() if arguments in (["--version"], ["-V"]) else _commands(arguments)
        sys.stdout.flush()
        return code
    except KeyboardInterrupt:
        _tell("\nStopped.")
        return EXIT_INTERRUPTED
    except BrokenPipeError:
        # Whoever read the output, `head` perhaps, has seen enough.
        _abandon_output()
        return EXIT_FINE
    except Exception as error:  # a person never meets a traceback
        return _failed(error)


def _have_streams() -> None:
    """Put something in the place of a stream that the caller has closed."""
    import os

    if sys.stdout is None:
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115, PTH123  kept open to the end
    if sys.stderr is None:
        sys.stderr = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115, PTH123


def _version() -> int:
    sys.stdout.write(f"diagnose {__version__}\n")
    return EXIT_FINE


def _commands(arguments: list[str]) -> int:
    import click

    from diagnose.commands.group import diagnose

    try:
        found = diagnose.main(args=arguments, prog_name="diagnose", standalone_mode=False)
    except click.Abort:  # Ctrl-C; click has ended the line already
        _tell("Stopped.")
        return EXIT_INTERRUPTED
    except click.ClickException as error:
        import io

        said = io.StringIO()
        error.show(file=said)
        _tell(said.getvalue().rstrip("\n"))
        return error.exit_code
    return found if isinstance(found, int) else EXIT_FINE


def _failed(error: Exception) -> int:
    import os

    if isinstance(error, DiagnoseError):
        _tell(str(error))
        return error.exit_code
    if isinstance(error, OSError):
        _abandon_output()
        about = f"{os.fsdecode(error.filename)}: " if isinstance(error.filename, str | bytes) else ""
        _tell(f"{about}{error.strerror or error}")
        return EXIT_BAD_INPUT
    if type(error).__name__ == "TooEntangledError":  # by name, so that numpy is not loaded to tell of a small slip
        _tell(
            "These answers tie so many causes together that an exact result does not fit in memory, and an inexact one is"
            f" not given. Leave out some answers and run again. ({error})"
        )
        return EXIT_BAD_INPUT
    if os.environ.get("DIAGNOSE_TRACEBACK"):
        import traceback

        traceback.print_exception(error)
    _tell(
        f"This is a fault of the program, not of what you gave it: {type(error).__name__}: {error}\n"
        "Set DIAGNOSE_TRACEBACK=1 to see where it happened, and report it with the case file."
    )
    return EXIT_FAULT


def _tell(message: str) -> None:
    """Say something on stderr, with whatever a terminal would obey taken out of it."""
    import contextlib

    from diagnose.text import clean

    with contextlib.suppress(OSError, ValueError):
        sys.stdout.flush()
    with contextlib.suppress(OSError, ValueError):
        text = clean(message) + "\n"
        encoding = sys.stderr.encoding or "utf-8"
        sys.stderr.write(text.encode(encoding, "replace").decode(encoding))
        sys.stderr.flush()


def _abandon_output() -> None:
    """Turn stdout to nowhere, so that the interpreter does not stumble over it once more on its way out."""
    import contextlib
    import os

    with contextlib.suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())


if __name__ == "__main__":
    run()
