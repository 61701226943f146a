"""Where results go: to stdout in whatever encoding it has, or to a file that is never half written."""

from __future__ import annotations

import contextlib
import os
import sys
from pathlib import Path

from diagnose.commands.options import Settings
from diagnose.errors import UsageError
from diagnose.text import clean

_SIMPLER = str.maketrans(
    {
        "█": "#",
        "─": "-",
        "═": "=",
        "▸": ">",
        "→": ">",
        "←": "<",
        "–": "-",
        "—": "-",
        "’": "'",
        "‘": "'",
        "“": '"',
        "”": '"',
        "…": ".",
    }
)
"""Stand-ins of the same width for a terminal that knows few characters."""


def check_target(settings: Settings) -> None:
    """Refuse a file to save to that must not be replaced, before any work is done. Raises UsageError."""
    path = settings.save
    if path is None:
        if settings.force:
            raise UsageError("--force goes with --save")
        return
    if path.exists() and not path.is_file():
        raise UsageError(f"{path} is not an ordinary file; nothing is saved there")
    if path.exists() and not settings.force:
        raise UsageError(_there(path))


def deliver(text: str, settings: Settings) -> None:
    """Write a result to stdout, or save it and say so on stderr."""
    if settings.save is not None:
        save(settings.save, text, force=settings.force)
        talk(f"Saved: {settings.save}")
    elif settings.format == "json":
        _write_utf8(text)
    else:
        _write(text)


def talk(message: str) -> None:
    """Say something that is not the result, on stderr."""
    encoding = sys.stderr.encoding or "utf-8"
    sys.stderr.write((clean(message) + "\n").encode(encoding, "replace").decode(encoding))


def save(path: Path, text: str, *, force: bool) -> None:
    """Write a file in one piece, as UTF-8: at any moment the old one or the new one is there, whole.

    A file that is replaced keeps its mode. Raises UsageError if it is there and `force` is off, OSError for trouble.
    """
    path = path.resolve()
    new = path.with_name(f".{path.name[:40]}.{os.getpid()}.new")
    try:
        handle = os.open(new, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666)
    except OSError as error:
        raise OSError(error.errno, error.strerror, str(path)) from None  # name the file that was asked for
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        if force:
            if path.exists():
                new.chmod(path.stat().st_mode & 0o777)
            new.replace(path)
        else:
            _put_new(new, path)
    finally:
        with contextlib.suppress(OSError):
            new.unlink(missing_ok=True)


def _put_new(new: Path, path: Path) -> None:
    """Give the new file its name only if nobody has it, not even since the last look."""
    try:
        path.hardlink_to(new)
    except FileExistsError:
        raise UsageError(_there(path)) from None
    except OSError:  # a file system without hard links
        if path.exists():
            raise UsageError(_there(path)) from None
        new.replace(path)


def _there(path: Path) -> str:
    return f"{path} is there already; choose another name, or replace it with --force"


def _write_utf8(text: str) -> None:
    sys.stdout.flush()
    sys.stdout.buffer.write(text.encode("utf-8"))
    sys.stdout.buffer.flush()


def _write(text: str) -> None:
    encoding = sys.stdout.encoding or "utf-8"
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        text = text.translate(_SIMPLER).encode(encoding, "replace").decode(encoding)
    sys.stdout.write(text)
