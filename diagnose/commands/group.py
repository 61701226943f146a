"""The command `diagnose` with its subcommands, each loaded when it is called for."""

from __future__ import annotations

import importlib
from pathlib import Path
from typing import Any

import click

from diagnose import __version__
from diagnose.commands.options import EXIT_CODES, common, merged

_SUBCOMMANDS = {
    "rank": "Work out a case file: causes, reasons, plan.",
    "batch": "The numbers of a batch record: weights, brine, charts, each beside its limit.",
    "work": "One computation of the plant's arithmetic, forwards or backwards.",
    "explain": "Everything about one cause, mechanism, sign or correction.",
    "trace": "The chains of links from a cause to a sign.",
    "find": "Search the knowledge with the words of the trade.",
    "demo": "A worked case that was made up, from the signs to the plan.",
    "judge": "Score a class at the keyboard, and work its results out.",
    "comment": "The words for the maker of an entry, drafted from the judges' sheets.",
    "resume": "Go on with a case of the casebook.",
    "knowledge": "Check the knowledge, count what it holds, try its worked cases.",
}


class LazyGroup(click.Group):
    """A group that loads a subcommand's module only when that subcommand is used; its help knows the short texts."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(_SUBCOMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in _SUBCOMMANDS:
            return None
        module = importlib.import_module(f"diagnose.commands.{cmd_name}")
        command: click.Command = module.command
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        try:
            return super().resolve_command(ctx, args)
        except click.UsageError as error:
            from difflib import get_close_matches

            message = error.message.rstrip(".")
            near = get_close_matches(args[0], _SUBCOMMANDS, n=1)
            if near and "did you mean" not in message.lower():
                message += f"; did you mean {near[0]!r}?"
            elif not near and Path(args[0]).suffix in (".yaml", ".yml"):
                message += f"; to work out a case file: diagnose rank {args[0]}"
            raise click.UsageError(message, ctx) from error

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl(list(_SUBCOMMANDS.items()))


@click.group(
    cls=LazyGroup,
    invoke_without_command=True,
    epilog=EXIT_CODES,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.version_option(__version__, "--version", "-V", prog_name="diagnose", message="%(prog)s %(version)s")
@common
@click.option("--casebook", type=click.Path(dir_okay=False, path_type=Path), help="File that the guided session keeps.")
@click.option("--plain", is_flag=True, help="Guided session without completion and status line.")
@click.pass_context
def diagnose(ctx: click.Context, /, casebook: Path | None, plain: bool, **given: Any) -> int | None:
    """Reason back from a defect of a cured ham to the step of the chain that caused it, and say what to change.

    Without a command, a guided session begins: it asks what is seen, keeps the case, and ends with a report. For work
    without questions, write the case into a file and run: diagnose rank CASE.yaml

    Nothing here declares a product safe: that is for the inspector, the HACCP plan and local law.
    """
    from diagnose.commands.options import Settings

    settings = merged(Settings(), given)
    ctx.obj = settings
    if ctx.invoked_subcommand is not None:
        return None
    from diagnose.commands import session

    return session.run(
        knowledge_loader=settings.knowledge,
        casebook_path=casebook,
        colour=False if settings.no_color else None,
        plain=plain,
        no_input=settings.no_input,
    )
