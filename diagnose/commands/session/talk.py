"""Saying things on the terminal: the only way by which the session prints.

Nothing is ever drawn over: a line once printed stays. Every text passes `clean` and is printed with markup off, and nothing
is told by colour alone, so that a screen reader, a paper log and a terminal without colour get the same words.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Sequence
from typing import TextIO

from rich.cells import cell_len, set_cell_size
from rich.console import Console
from rich.text import Text

from diagnose.reports.words import FIXED
from diagnose.text import clean

from .reading import Reader, Suggest, best_reader

WIDEST = 100
"""Columns beyond which running text is not spread, since long lines are hard to read."""

BESIDE = 36
"""Columns that a description needs beside its title; with fewer it stands on a line of its own."""

_HOLDS = "\ue000"
"""Stands for a fixed blank while lines are broken, because rich breaks at every kind of blank."""

STRONG = "bold"
ALARM = "bold red"


class Talk:
    """Prints to one stream and reads lines through a `Reader`, which is made when the first line is wanted.

    `colour` None lets the terminal and NO_COLOR decide. With `plain` there are no bars, only figures and words.
    """

    def __init__(
        self,
        stream: TextIO,
        make_reader: Callable[[], Reader],
        *,
        colour: bool | None = None,
        plain: bool = False,
    ) -> None:
        self.status = ""
        """The line kept at the foot of the terminal where that can be done."""
        self.on_ready: Callable[[], None] | None = None
        """Called once, when the first question is on the screen: the moment for slow work in the background."""
        self._make_reader = make_reader
        self._reader: Reader | None = None
        self.plain = plain
        self.stream = stream
        self.console = Console(
            file=stream,
            no_color=True if colour is False else None,
            force_terminal=True if colour else None,
            markup=False,
            highlight=False,
            emoji=False,
            soft_wrap=False,
        )

    @property
    def width(self) -> int:
        """Columns to use."""
        return max(20, min(self.console.width, WIDEST))

    @property
    def rows(self) -> int:
        """Lines that the terminal shows at once."""
        return max(8, self.console.height)

    @property
    def colour(self) -> bool:
        """Whether colours are shown."""
        return self.console.is_terminal and not self.console.no_color and self.console.color_system is not None

    def say(self, text: str = "", *, style: str = "", indent: int = 0, lead: str = "") -> None:
        """A paragraph, wrapped; `lead` stands before its first line and the others hang below its text."""
        text, lead = clean(text).replace(FIXED, _HOLDS), clean(lead)
        hang = indent + cell_len(lead)
        for paragraph in text.split("\n"):
            lines = Text(paragraph.expandtabs(4)).wrap(self.console, max(16, self.width - hang))
            if not lines:
                self.console.print(Text(" " * indent + lead.rstrip()))
            for line in lines:
                said = line.plain.rstrip().replace(_HOLDS, " ")
                self._put(Text(f"{' ' * indent}{lead}{said}", style=style))
                lead = " " * cell_len(lead)

    def heading(self, text: str) -> None:
        """A heading with an empty line before it."""
        self.say()
        self.say(text, style=STRONG)

    def choices(self, titles: Sequence[str], *, first: int = 1) -> None:
        """Numbered choices, one a line."""
        for number, title in enumerate(titles, first):
            self.say(title, lead=f"{number:>3}  ")

    def entry(self, strong: str, rest: str, *, lead: str = "") -> list[Text]:
        """The lines of a title and of as much of its description as one line holds; the title is never cut short.

        The description stands behind the title where there is room for a good part of it, else below.
        """
        strong, rest, lead = clean(strong), " ".join(clean(rest).split()), clean(lead)
        hang = cell_len(lead)
        room = self.width - hang - cell_len(strong) - 2
        if room >= BESIDE or cell_len(_shortened(rest, WIDEST)) <= room:
            return [Text(f"{lead}{strong}: {_shortened(rest, room)}")]
        below = Text(" " * hang + _shortened(rest, max(16, self.width - hang)))
        titles = Text(strong).wrap(self.console, max(16, self.width - hang))
        return [Text(lead if at == 0 else " " * hang) + line for at, line in enumerate(titles)] + [below]

    def lines(self, lines: Iterable[Text]) -> None:
        """Lines that were laid out before."""
        for line in lines:
            self._put(line)

    def bar(self, share: float, cells: int = 20) -> str:
        """A bar for a share of 0..1, in block characters if the terminal's encoding has them; empty in plain mode."""
        if self.plain:
            return ""
        full, empty = ("█", "░") if self._can_show("█░") else ("#", ".")
        filled = round(max(0.0, min(1.0, share)) * cells)
        return full * filled + empty * (cells - filled)

    def ask(self, prompt: str, *, suggest: Suggest | None = None, remember: bool = False) -> str:
        """One line from the person, cleaned and stripped.

        Raises KeyboardInterrupt on Ctrl-C and EOFError on Ctrl-D.
        """
        self._reader = reader = self._reader or self._make_reader()
        reader.status = _fitting(clean(self.status).replace("\n", " "), self.console.width)
        if self.on_ready is not None:
            self.on_ready()
            self.on_ready = None
        while True:
            try:
                line = reader.read(clean(prompt) + " > ", suggest, remember)
            except UnicodeDecodeError:
                self.say("That line is not readable as text; please type it again.")
                continue
            return " ".join(clean(line, 500).split())

    def _can_show(self, characters: str) -> bool:
        try:
            characters.encode(self.stream.encoding or "ascii")
        except (LookupError, UnicodeEncodeError):
            return False
        return True

    def _put(self, line: Text) -> None:
        self.console.print(line, no_wrap=True, crop=False, overflow="ignore")


def _fitting(status: str, cells: int) -> str:
    """The status line without the parts at its end that have no room; the first always stays."""
    parts = status.split(" | ")
    while len(parts) > 1 and cell_len(" | ".join(parts)) > cells:
        parts.pop()
    return " | ".join(parts)


def _shortened(text: str, cells: int) -> str:
    """The text, or its first sentence, or as many whole words of it as fit, with three dots."""
    if cell_len(text) <= cells:
        return text
    sentence = text.partition(". ")[0] + "."
    if cell_len(sentence) <= cells:
        return sentence
    cut = set_cell_size(text, cells - 3)
    return cut.rpartition(" ")[0].rstrip(" ,;:.") + "..." if " " in cut.strip() else cut.rstrip() + "..."


def talk_here(*, colour: bool | None, plain: bool) -> Talk:
    """The talk on the terminal of this process, with what its reader can do there. `colour` and `plain` as for `Talk`."""
    _widen_encoding()
    stream = sys.stdout if sys.stdout.isatty() else sys.stderr  # results may go to a file, the talk may not
    talk = Talk(stream, lambda: best_reader(stream, plain=plain, colour=talk.colour), colour=colour, plain=plain)
    return talk


def _widen_encoding() -> None:
    """Let characters that the terminal's encoding lacks come out as question marks rather than as an error."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")
