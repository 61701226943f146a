"""Listening: one line from the person, with the commands that are good at any moment done on the spot."""

from __future__ import annotations

from collections.abc import Callable, Collection
from typing import NamedTuple

from .reading import Suggest
from .sitting import Leave, Sitting, ToLists, ToQuestions, ToReport
from .talk import STRONG
from .vocabulary import Command
from .words import COMMANDS, command_in, number_in


class Heard(NamedTuple):
    """What the person said: a line, or a command that the caller handles. `changed`: the case has changed meanwhile."""

    line: str
    command: str = ""
    rest: str = ""
    changed: bool = False


def listen(
    sitting: Sitting,
    prompt: str,
    *,
    local: Collection[str] = (),
    suggest: Suggest | None = None,
    remember: bool = False,
    reminder: str | Callable[[], None] = "",
) -> Heard:
    """The next line that is for the caller.

    `local` are the command words that the caller handles. `reminder` is said, or called to print something, after a command
    has filled the screen. Raises Leave, ToReport, ToQuestions or ToLists when that is what was asked for.
    """
    while True:
        line = sitting.talk.ask(prompt, suggest=suggest, remember=remember)
        command = command_in(line)
        if command is None:
            return Heard(line)
        if command.word in local:
            return Heard(line, command.word, command.rest)
        if _aside(sitting, command):
            return Heard("", changed=True)
        if callable(reminder):
            reminder()
        elif reminder:
            sitting.talk.say()
            sitting.talk.say(reminder)


def _aside(sitting: Sitting, command: Command) -> bool:
    """Do a command that is not the caller's; true if the case has changed."""
    if command.word == "help":
        show_help(sitting)
        return False
    if command.word == "quit":
        raise Leave
    if sitting.case_id:
        if command.word == "end":
            raise ToReport
        if command.word == "ask":
            raise ToQuestions
        if command.word == "over":
            raise ToLists
        if command.word == "details":
            raise ToLists("details")
        aside = sitting.asides.get(command.word)
        if aside is not None:
            return aside(sitting, command.rest)
    sitting.talk.say(f'"{command.word}" has no use here.')
    return False


def show_help(sitting: Sitting) -> None:
    """The answers and commands, one a line, on no more lines than a small terminal has."""
    talk = sitting.talk
    talk.say("Answers: y yes, n no, c can't tell. y? or n? fairly sure, ym or nm from memory,", style=STRONG)
    talk.say("y slight a little of it, y marked a lot of it.", indent=9, style=STRONG)
    talk.say("Commands, the word or its letter, at any prompt:", style=STRONG)
    for word in COMMANDS:
        talk.say(word.says, lead=f"  {word.letter}  {word.word:<8} ")


def choose(
    sitting: Sitting, question: str, titles: list[str], *, prompt: str, enter: int = 1, notes: list[str] | None = None
) -> int | None:
    """The number (from 1) of one of the choices; Enter stands for `enter`; None for the command back.

    `notes`, one for each title, are shown as far as there is room.
    """
    talk = sitting.talk
    talk.heading(question)
    if notes is None:
        talk.choices(titles)
    else:
        for at, (title, note) in enumerate(zip(titles, notes, strict=True), 1):
            talk.lines(talk.entry(title, note, lead=f"{at:>3}  "))
    while True:
        heard = listen(sitting, prompt, local={"back"}, reminder=question)
        if heard.command == "back":
            return None
        if not heard.line:
            return enter
        if number := number_in(heard.line, len(titles)):
            return number
        talk.say(f"Please type a number from 1 to {len(titles)}, or ? for help.")
