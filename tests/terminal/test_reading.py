"""Reading lines with prompt_toolkit, and saying things on a terminal."""

from __future__ import annotations

import io
import sys

import pytest
from prompt_toolkit.application import create_app_session
from prompt_toolkit.input import create_pipe_input
from prompt_toolkit.output import DummyOutput
from scripted import Script

from diagnose.commands.session.reading import PlainReader, Suggestion, ToolkitReader, best_reader
from diagnose.commands.session.talk import Talk


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
    made.lines(made.entry("[b]\x1b[2Jtitle", "rest\x9b31m"))
    assert stream.getvalue() == "[bold red]a[/] ]0;title bc [link=x]\n[b][2Jtitle: rest31m\n"
    assert made.ask("?") == "typed[2J text"


@pytest.mark.parametrize("width", [40, 80, 120])
def test_no_line_is_wider_than_the_terminal(width: int) -> None:
    """Running text wraps with its hanging indent, wide characters included; nothing is lost."""
    made, stream = talk(width)
    text = "\u706b\u817f\u8868\u9762\u767d " * 30 + "a long sentence of ordinary words " * 6
    made.say(text, lead=" 12  ")
    said = stream.getvalue().splitlines()
    made.lines(made.entry("Title of a sign", text, lead=" 12  "))
    lines = stream.getvalue().splitlines()
    from rich.cells import cell_len

    assert max(map(cell_len, lines)) <= min(width, 100)
    assert "".join("".join(said).split()).replace("12", "") == "".join(text.split())
    assert lines[-1].endswith("...")


def test_a_description_stands_below_where_there_is_no_room_beside() -> None:
    """A long title gets its description on a line of its own, and a first sentence that fits is not cut."""
    made, stream = talk()
    made.lines(
        made.entry(
            "Swollen ham, blown pack or gas under the skin",
            "The pack or the skin is puffed up with gas. " * 5,
            lead="  1  ",
        )
    )
    assert stream.getvalue() == (
        "  1  Swollen ham, blown pack or gas under the skin\n     The pack or the skin is puffed up with gas.\n"
    )


def test_a_fixed_blank_holds() -> None:
    """A number and its per cent sign are not put on two lines, and what is printed is an ordinary blank."""
    made, stream = talk(40)
    made.say("It is expected to be in this place: 12\u00a0% of the time.")
    assert "12 %" in stream.getvalue()
    assert "\u00a0" not in stream.getvalue()


def test_bars() -> None:
    """A bar has its length whatever the share, ASCII where the encoding is narrow, and none in plain mode."""
    made = Talk(io.TextIOWrapper(io.BytesIO(), encoding="utf-8"), lambda: Script([]))
    assert made.bar(0.0, 10) + made.bar(1.0, 10) == "░" * 10 + "█" * 10
    narrow = Talk(io.TextIOWrapper(io.BytesIO(), encoding="latin-1"), lambda: Script([]))
    assert narrow.bar(0.25, 8) == "##......"
    assert talk(plain=True)[0].bar(0.5) == ""
