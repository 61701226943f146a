"""Listening: one line from the person, with the commands that are good at any moment done on the spot."""

from __future__ import annotations

from collections.abc import Collection
from typing import NamedTuple

from .reading import Suggest
from .sitting import Leave, Sitting, ToLists, ToReport
from .words import COMMANDS, Command, command_in


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
    reminder: str = "",
) -> Heard:
    """The next line that is for the caller.

    `local` are the command words that the caller handles. `reminder` is said again after a command has filled the screen.
    Raises Leave, ToReport or ToLists when that is what was asked for.
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
        if reminder:
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
        if command.word == "mark":
            raise ToLists
        aside = sitting.asides.get(command.word)
        if aside is not None:
            return aside(sitting, command.rest)
    sitting.talk.say(f'"{command.word}" has no use here.')
    return False


def show_help(sitting: Sitting) -> None:
    """The answers and commands, one a line."""
    talk = sitting.talk
    talk.heading("Answers")
    for typed, says in (
        ("y  n  c", "yes, no, can't tell"),
        ("y?  n?", "yes or no, fairly sure"),
        ("ym  nm", "yes or no, from memory"),
        ("y slight", "yes, a little of it; y marked: a lot of it"),
    ):
        talk.say(says, lead=f"  {typed:<10} ")
    talk.heading("Commands, the word or its letter")
    for word in COMMANDS:
        talk.say(word.says, lead=f"  {word.letter}  {word.word:<7} ")
    talk.say("Ctrl-C or Ctrl-D leave too. Every answer is saved as soon as it is given.")
    talk.say()


def choose(sitting: Sitting, question: str, titles: list[str], *, prompt: str, enter: int = 1) -> int | None:
    """The number (from 1) of one of the choices; Enter stands for `enter`; None for the command back."""
    talk = sitting.talk
    talk.heading(question)
    talk.choices(titles)
    while True:
        heard = listen(sitting, prompt, local={"back"}, reminder=question)
        if heard.command == "back":
            return None
        if not heard.line:
            return enter
        if heard.line.isdecimal() and 1 <= int(heard.line[:9]) <= len(titles):
            return int(heard.line)
        talk.say(f"Please type a number from 1 to {len(titles)}, or ? for help.")
