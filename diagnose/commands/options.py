"""The options that every command takes. They may stand before or behind the name of the command."""

from __future__ import annotations

import dataclasses
import functools
import os
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar, cast

import click

from diagnose.reports import Format

if TYPE_CHECKING:
    from diagnose.corpus.records import Knowledge

F = TypeVar("F", bound=Callable[..., Any])

NARROWEST, WIDEST = 40, 400
USUAL_WIDTH = 80
BEST_WIDTH = 100
"""Longer lines are hard to read, so a wide terminal is not filled unless `--width` asks for it."""

EXIT_CODES = """\b
Exit codes:
  0    all went well
  1    a check found something
  2    the command was called in a way that makes no sense
  3    a file, a folder or the knowledge is not in order
  70   a fault of the program itself
  130  stopped with Ctrl-C"""

_SUFFIXES: dict[str, Format] = {".md": "markdown", ".markdown": "markdown", ".json": "json"}
_PICTURE_SUFFIXES: dict[str, Format] = {".html": "html", ".htm": "html"}
FOLDER = click.Path(exists=True, file_okay=False, path_type=Path)
"""The type of an argument or option that names a folder of knowledge."""


@dataclass(frozen=True, slots=True)
class Settings:
    """What the common options say. None stands for an option that was not given."""

    knowledge_folder: Path | None = None
    also: tuple[Path, ...] = ()
    chosen_format: Format | None = None
    chosen_width: int | None = None
    no_color: bool = False
    no_input: bool = False
    save: Path | None = None
    force: bool = False
    pictures: bool = False
    """Whether the command can also print HTML."""

    @property
    def format(self) -> Format:
        """The format asked for, else the one that the name of the file to save suggests, else text."""
        if self.chosen_format is not None:
            return self.chosen_format
        return format_of(self.save, pictures=self.pictures) if self.save else "text"

    @property
    def folders(self) -> list[Path]:
        """The knowledge folders, the one that all rests on first."""
        from diagnose.corpus.load import default_folder

        return [self.knowledge_folder or default_folder(), *self.also]

    @property
    def width(self) -> int:
        """Columns of a text report: as asked, else those of the terminal within reason, else 80."""
        if self.chosen_width is not None:
            return self.chosen_width
        if self.save is None and sys.stdout.isatty():
            import shutil

            return min(max(shutil.get_terminal_size((USUAL_WIDTH, 24)).columns, NARROWEST), BEST_WIDTH)
        return USUAL_WIDTH

    @property
    def colour(self) -> bool:
        """Whether the output is coloured: only on a terminal that can, and never against anybody's wish."""
        if self.no_color or os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb" or self.save:
            return False
        return sys.stdout.isatty()

    def knowledge(self) -> Knowledge:
        """The knowledge that the options name. Raises KnowledgeError if it is not in order."""
        from diagnose.corpus.load import load

        return load(self.knowledge_folder, self.also)


def format_of(path: Path, *, pictures: bool) -> Format:
    """The format that the end of a file's name suggests; text for every other. `pictures`: whether HTML can be made."""
    suffixes = {**_SUFFIXES, **_PICTURE_SUFFIXES} if pictures else _SUFFIXES
    return suffixes.get(path.suffix.lower(), "text")


_COMMON = (
    click.option(
        "--format",
        "chosen_format",
        type=click.Choice(["text", "markdown", "json"]),
        help="Form of the output. Left out: text, or what the name given to --save ends in (.md, .json).",
    ),
    click.option("--knowledge", "knowledge_folder", type=FOLDER, help="Use this knowledge folder and no other."),
    click.option(
        "--also", type=FOLDER, multiple=True, help="Lay a plant's own knowledge over it; may be given several times."
    ),
    click.option("--no-color", is_flag=True, help="No colours. The variable NO_COLOR does the same."),
    click.option(
        "--width",
        "chosen_width",
        type=click.IntRange(NARROWEST, WIDEST),
        help="Columns of text output. Left out: the terminal's, at most 100; 80 in a pipe or a file.",
    ),
    click.option("--no-input", is_flag=True, help="Never ask anything; stop where something would have to be asked."),
)
_SAVING = (
    click.option(
        "--save",
        type=click.Path(dir_okay=False, path_type=Path),
        help="Write the output to this file instead; the file appears whole or not at all.",
    ),
    click.option("--force", is_flag=True, help="With --save: replace a file that is there already."),
)
NAMES = ("chosen_format", "knowledge_folder", "also", "no_color", "chosen_width", "no_input", "save", "force")


def common(command: F) -> F:
    """Add the common options, without those for saving; the function gets them as keyword arguments."""
    for option in reversed(_COMMON):
        command = option(command)
    return command


_HTML = click.option(
    "--format",
    "chosen_format",
    type=click.Choice(["text", "markdown", "json", "html"]),
    help="Form of the output. Left out: text, or what the name given to --save ends in (.md, .json, .html).",
)


def with_settings(function: F) -> F:
    """Add all common options and hand them to the function as one `Settings`, its first argument."""
    return _with(function, _COMMON, pictures=False)


def with_pictures(function: F) -> F:
    """As `with_settings`, for a command that can also print HTML."""
    return _with(function, (_HTML, *_COMMON[1:]), pictures=True)


def _with(function: F, options: Sequence[Callable[..., Any]], *, pictures: bool) -> F:
    @functools.wraps(function)
    def called(**given: Any) -> Any:
        own = {name: given.pop(name) for name in NAMES if name in given}
        outer = click.get_current_context().find_root().obj
        settings = merged(outer if isinstance(outer, Settings) else Settings(), own)
        return function(dataclasses.replace(settings, pictures=pictures), **given)

    command = cast(F, called)
    for option in reversed((*options, *_SAVING)):
        command = option(command)
    return command


def merged(outer: Settings, own: dict[str, Any]) -> Settings:
    """The settings of a command: what stands behind its name, else what stands before it."""
    values: dict[str, Any] = {}
    for name in NAMES:
        before, behind = getattr(outer, name), own.get(name)
        if name == "also":
            values[name] = (*before, *(behind or ()))
        else:
            values[name] = behind if behind else before
    return Settings(**values)
