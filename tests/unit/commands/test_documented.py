"""docs/commands.md and the help name everything there is."""

import re
from collections.abc import Iterator
from pathlib import Path

import click
import pytest

from diagnose.commands.group import diagnose

DOCUMENT = Path(__file__).parents[3] / "docs" / "commands.md"


def commands(group: click.Group, path: str) -> Iterator[tuple[str, click.Command]]:
    """Every command with the words that call it."""
    context = click.Context(group)
    for name in group.list_commands(context):
        command = group.get_command(context, name)
        assert command is not None
        yield f"{path} {name}", command
        if isinstance(command, click.Group):
            yield from commands(command, f"{path} {name}")


ALL = [("diagnose", diagnose), *commands(diagnose, "diagnose")]


@pytest.mark.parametrize(("path", "command"), ALL, ids=[path for path, _ in ALL])
def test_every_command_and_option_is_documented(path: str, command: click.Command) -> None:
    """The page mentions each command by the words that call it, and each of its options."""
    text = DOCUMENT.read_text(encoding="utf-8")
    assert path in text
    for parameter in command.params:
        if isinstance(parameter, click.Option):
            for name in (*parameter.opts, *parameter.secondary_opts):
                assert f"`{name}" in text, f"{path} {name}"


@pytest.mark.parametrize(("path", "command"), ALL, ids=[path for path, _ in ALL])
def test_every_help_tells_the_exit_codes(run, path: str, command: click.Command) -> None:
    """Whoever asks any command for help learns what its exit code means."""
    found = run(*path.split()[1:], "--help", small=False)
    assert found.code == 0
    for code in ("0", "1", "2", "3", "70", "130"):
        assert re.search(rf"^ *{code} +\S", found.out, re.MULTILINE), code


def test_every_exit_code_is_documented() -> None:
    """The page has a row for each exit code."""
    text = DOCUMENT.read_text(encoding="utf-8")
    for code in ("0", "1", "2", "3", "70", "130"):
        assert f"| {code} |" in text


def test_every_example_runs(run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each example line of the page works as it stands, in its order, in an empty folder."""
    import shlex

    monkeypatch.chdir(tmp_path)
    lines = re.findall(r"^\$ (diagnose .*)$", DOCUMENT.read_text(encoding="utf-8"), re.MULTILINE)
    assert len(lines) >= len(ALL)
    for line in lines:
        command, arrow, target = line.partition(" > ")
        found = run(*shlex.split(command)[1:], small=False)
        assert found.code == (2 if "--no-input" in command else 0), f"{line}\n{found.err}"
        if arrow:
            (tmp_path / target).write_text(found.out, encoding="utf-8")
