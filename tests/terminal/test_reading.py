"""Reading lines with prompt_toolkit, and saying things on a terminal."""

from __future__ import annotations

import io
import sys

import pytest
from prompt_toolkit.application import create_app_session
from prompt_toolkit.input import create_pipe_input
from prompt_toolkit.output import DummyOutput
from scripted import Script, small

from diagnose.commands.session.reading import PlainReader, Suggestion, ToolkitReader, best_reader
from diagnose.commands.session.safety import asks_to_taste
from diagnose.commands.session.talk import Talk
from diagnose.corpus.records import Check


def toolkit(typed: str, *, suggest: bool = False) -> str:
    """What the prompt_toolkit reader makes of these keys."""
    with create_pipe_input() as keys, create_app_session(input=keys, output=DummyOutput()):
        reader = ToolkitReader(colour=False, given=(keys, DummyOutput()))
        reader.status = "case 1"
        keys.send_text(typed)
        return reader.read(
            "> ", (lambda text: [Suggestion("Small round holes", "cut face")]) if suggest else None, False
        )


def test_a_line_is_read() -> None:
    """Keys up to Enter make the line, with and without completion."""
    assert toolkit("y? slight\r") == "y? slight"
    assert toolkit("3 5\r", suggest=True) == "3 5"


def test_keys_to_leave_pass_through() -> None:
    """Ctrl-C and Ctrl-D are not swallowed by the reader."""
    with pytest.raises(KeyboardInterrupt):
        toolkit("\x03")
    with pytest.raises(EOFError):
        toolkit("\x04")


def test_the_plain_reader_is_the_way_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where prompt_toolkit cannot be had, is not wanted, or would draw on a dumb terminal, input() is used."""

    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    terminal = Terminal()
    monkeypatch.setattr(sys, "stdout", terminal)
    monkeypatch.setenv("TERM", "xterm")
    assert isinstance(best_reader(terminal, plain=True, colour=False), PlainReader)
    monkeypatch.setattr(ToolkitReader, "__init__", broken)
    assert isinstance(best_reader(terminal, plain=False, colour=False), PlainReader)


def broken(*_: object, **__: object) -> None:
    """A console that prompt_toolkit does not know."""
    raise RuntimeError("no console")


def talk(width: int = 80, **others: bool) -> tuple[Talk, io.StringIO]:
    """A talk on a string."""
    stream = io.StringIO()
    made = Talk(stream, lambda: Script(["  typed\x1b[2J   text\u202e "]), **others)
    made.console.width = width
    return made, stream


def test_nothing_from_outside_is_obeyed_by_the_terminal() -> None:
    """Escape sequences, markup and marks of direction are shown harmless or dropped, never acted on."""
    made, stream = talk()
    made.say("[bold red]a[/] \x1b]0;title\x07 b\u202ec [link=x]")
    made.one_line("[b]\x1b[2Jtitle", "rest\x9b31m")
    assert stream.getvalue() == "[bold red]a[/] ]0;title bc [link=x]\n[b][2Jtitle: rest31m\n"
    assert made.ask("?") == "typed[2J text"


@pytest.mark.parametrize("width", [40, 80, 120])
def test_no_line_is_wider_than_the_terminal(width: int) -> None:
    """Running text wraps with its hanging indent, wide characters included; nothing is lost."""
    made, stream = talk(width)
    text = "\u706b\u817f\u8868\u9762\u767d " * 30 + "a long sentence of ordinary words " * 6
    made.say(text, lead=" 12  ")
    made.one_line("Title of a sign", text, lead=" 12  ")
    lines = stream.getvalue().splitlines()
    from rich.cells import cell_len

    assert max(map(cell_len, lines)) <= min(width, 100)
    assert "".join("".join(lines[:-1]).split()).replace("12", "") == "".join(text.split())
    assert lines[-1].endswith("...")


def test_bars() -> None:
    """A bar has its length whatever the share, ASCII where the encoding is narrow, and none in plain mode."""
    made = Talk(io.TextIOWrapper(io.BytesIO(), encoding="utf-8"), lambda: Script([]))
    assert made.bar(0.0, 10) + made.bar(1.0, 10) == "░" * 10 + "█" * 10
    narrow = Talk(io.TextIOWrapper(io.BytesIO(), encoding="latin-1"), lambda: Script([]))
    assert narrow.bar(0.25, 8) == "##......"
    assert talk(plain=True)[0].bar(0.5) == ""


@pytest.mark.parametrize(
    ("ask", "how", "tastes"),
    [
        ("Does it taste too salty?", "Try a slice from the middle.", True),
        ("Is the bite dry?", "Chew a cube from the centre.", True),
        ("Does it smell sour?", "Smell from a hand's distance; do not taste.", False),
        ("Are there shiny holes?", "Look at the cut face. Never taste it.", False),
        ("Is it salty?", "Do not swallow. Taste a small piece.", True),
        ("Is the face grey?", "Look without tasting anything.", False),
    ],
)
def test_checks_that_need_a_mouth(ask: str, how: str, tastes: bool) -> None:
    """A check is known as one of tasting by its words, and a warning against tasting is not."""
    assert asks_to_taste(Check(ask, how, "product", 1, "good")) is tastes


def test_the_small_knowledge_asks_nobody_to_taste() -> None:
    """The knowledge of these tests keeps its own rule."""
    assert not [sign.id for sign in small().signs.values() if asks_to_taste(sign.check)]
