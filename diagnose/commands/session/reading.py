"""Reading one line at a time, by the plain way that always works or with prompt_toolkit's comforts.

Both give the same lines. prompt_toolkit adds completion while typing, a history, and a status line; where it cannot run
(a dumb terminal, a console it does not know), the plain reader takes its place and nothing else changes.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING, NamedTuple, Protocol, TextIO

if TYPE_CHECKING:
    from prompt_toolkit import PromptSession
    from prompt_toolkit.completion import CompleteEvent, Completer, Completion
    from prompt_toolkit.document import Document
    from prompt_toolkit.input import Input
    from prompt_toolkit.output import Output


class Suggestion(NamedTuple):
    """Something that may be meant by the letters typed so far."""

    title: str
    note: str


Suggest = Callable[[str], Sequence[Suggestion]]
"""From the letters typed so far to what may be meant."""


class Reader(Protocol):
    """Reads a line. KeyboardInterrupt and EOFError pass through."""

    status: str

    def read(self, prompt: str, suggest: Suggest | None, remember: bool) -> str:
        """The line typed after the prompt, without its end; `remember` puts it into the history."""
        ...


class PlainReader:
    """Reads with `input`; no status line, no completion."""

    def __init__(self, talk: TextIO) -> None:
        self.status = ""
        self._talk = talk

    def read(self, prompt: str, suggest: Suggest | None, remember: bool) -> str:
        """See `Reader`."""
        if self._talk is sys.stdout:
            return input(prompt)
        print(prompt, end="", file=self._talk, flush=True)  # the results go elsewhere, the prompt must not
        return input()


class ToolkitReader:
    """Reads with prompt_toolkit, on its terminal or on the input and output given."""

    def __init__(self, *, colour: bool, given: tuple[Input, Output] | None = None) -> None:
        self.status = ""
        self._colour = colour
        self._given = given
        self._answers = self._session()
        self._searches: PromptSession[str] | None = None

    def read(self, prompt: str, suggest: Suggest | None, remember: bool) -> str:
        """See `Reader`."""
        session = self._answers
        if suggest is not None or remember:  # kept apart, so that the history holds words and not every y and n
            session = self._searches = self._searches or self._session()
        session.bottom_toolbar = self.status or None
        session.completer = _completer(suggest) if suggest else None
        session.reserve_space_for_menu = 5 if suggest else 0
        return session.prompt(prompt)

    def _session(self) -> PromptSession[str]:
        from prompt_toolkit import PromptSession
        from prompt_toolkit.output import ColorDepth

        session: PromptSession[str] = PromptSession(
            color_depth=None if self._colour else ColorDepth.DEPTH_1_BIT,
            complete_while_typing=True,
            complete_in_thread=True,
            input=self._given[0] if self._given else None,
            output=self._given[1] if self._given else None,
        )
        # A terminal that does not tell where its cursor is only loses the status line; no warning is due.
        session.app.renderer.cpr_not_supported_callback = None
        return session


def _completer(suggest: Suggest) -> Completer:
    from prompt_toolkit.completion import Completer, Completion

    class Words(Completer):
        """Offers titles for the whole of what was typed, since people type words of a title in any order."""

        def get_completions(self, document: Document, complete_event: CompleteEvent) -> Iterable[Completion]:
            typed = document.text_before_cursor
            for suggestion in suggest(typed):
                yield Completion(suggestion.title, start_position=-len(typed), display_meta=suggestion.note)

    return Words()


def can_ask() -> bool:
    """Whether there is a terminal at which somebody can be asked."""
    return sys.stdin is not None and not sys.stdin.closed and sys.stdin.isatty()


def best_reader(talk: TextIO, *, plain: bool, colour: bool) -> Reader:
    """prompt_toolkit if it can run here and is wanted, else the plain reader."""
    if plain or talk is not sys.stdout or not talk.isatty() or os.environ.get("TERM", "") in ("dumb", "unknown"):
        return PlainReader(talk)
    try:
        return ToolkitReader(colour=colour)
    except Exception:  # whatever a strange console makes it raise, the plain way works
        return PlainReader(talk)
