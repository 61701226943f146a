"""`diagnose resume`: go on with a case of the casebook."""

from __future__ import annotations

from pathlib import Path

import click
from click.shell_completion import CompletionItem

from diagnose.commands.options import EXIT_CODES, Settings, common, merged


def _cases(context: click.Context, _: click.Parameter, incomplete: str) -> list[CompletionItem]:
    from diagnose.casework.casebook import Casebook, default_path
    from diagnose.errors import DiagnoseError

    named = context.params.get("casebook")
    path = Path(named) if named else default_path()
    try:
        if not path.is_file():
            return []
        with Casebook(path) as book:
            return [CompletionItem(one.id, help=one.title) for one in book.recent() if one.id.startswith(incomplete)]
    except (DiagnoseError, OSError):
        return []


@click.command("resume", epilog=EXIT_CODES)
@click.argument("case", default="", shell_complete=_cases)
@click.option("--casebook", type=click.Path(dir_okay=False, path_type=Path), help="File that the cases are kept in.")
@click.option("--plain", is_flag=True, help="Without completion and status line.")
@common
@click.pass_context
def command(ctx: click.Context, /, case: str, casebook: Path | None, plain: bool, **given: object) -> int:
    """Go on with a case of the casebook: CASE is its id; left out, the cases are listed to choose from."""
    from diagnose.commands import session

    outer = ctx.find_root()
    settings = merged(outer.obj if isinstance(outer.obj, Settings) else Settings(), given)
    return session.run(
        knowledge_loader=settings.knowledge,
        casebook_path=casebook or outer.params.get("casebook"),
        resume=case,
        colour=False if settings.no_color else None,
        plain=plain or bool(outer.params.get("plain")),
        no_input=settings.no_input,
    )
