"""The way in: from folders of YAML to checked knowledge.

`load` gives the knowledge or raises with everything that is wrong; `check` gives the list of what is wrong. A folder that
has been found in order is remembered (see `remembered`), so that the next start need not read YAML at all.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from diagnose.corpus import remembered
from diagnose.corpus.folder import Folder, fingerprint, gather
from diagnose.corpus.records import Knowledge
from diagnose.errors import KnowledgeError, Problem

_PACKAGE = Path(__file__).resolve().parent.parent


def default_folder() -> Path:
    """The knowledge that comes with the program: inside an installed package, or at the top of a checkout."""
    inside = _PACKAGE / "knowledge"
    return inside if inside.is_dir() else _PACKAGE.parent / "knowledge"


def load(folder: Path | None = None, also: Sequence[Path] = (), *, remember: bool = True) -> Knowledge:
    """The checked knowledge of `folder`, with the folders of `also` laid over it in order.

    With `remember` off, or the environment variable DIAGNOSE_NO_CACHE set, the YAML is read afresh and nothing is
    stored. Raises KnowledgeError with all problems found.
    """
    folders = _gathered(folder, also)
    version = fingerprint(folders)
    remember = remember and remembered.wanted()
    if remember and (known := remembered.recall(version)) is not None:
        return known
    from diagnose.corpus.assemble import assemble

    knowledge, problems = assemble(folders, version)
    if knowledge is None:
        raise KnowledgeError(problems)
    if remember:
        remembered.store(knowledge)
    return knowledge


def check(folder: Path | None = None, also: Sequence[Path] = ()) -> list[Problem]:
    """Everything that is wrong in `folder` with the folders of `also` laid over it, by file and place.

    Where the knowledge is in order, the worked cases, scorecards, glossaries and figures of the folders are looked at
    too.
    """
    from diagnose.corpus.assemble import assemble
    from diagnose.corpus.case_file import case_problems
    from diagnose.corpus.figures_file import figures_problems
    from diagnose.corpus.glossary import NAME, glossary_problems
    from diagnose.corpus.scorecard_file import FOLDER, scorecard_problems

    folders = _gathered(folder, also)
    knowledge, problems = assemble(folders, fingerprint(folders))
    if knowledge is None:
        return problems
    return [
        problem
        for each in folders
        for problem in (
            *case_problems(knowledge, each.path / "cases", each.name("cases")),
            *scorecard_problems(knowledge, each.path / FOLDER, each.name(FOLDER)),
            *glossary_problems(knowledge, each.path, each.name(NAME)),
        )
    ] + figures_problems(knowledge, [(each.path, each.shown) for each in folders])


def _gathered(folder: Path | None, also: Sequence[Path]) -> list[Folder]:
    first = default_folder() if folder is None else folder
    shown = None
    if folder is None and first.is_relative_to(Path.cwd()):
        shown = first.relative_to(Path.cwd()).as_posix()
    return [gather(first, shown), *map(gather, also)]
