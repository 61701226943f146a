"""From the bytes of the folders to checked knowledge: read, check, lay together."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.corpus.changes import apply_changes
from diagnose.corpus.checks import checked
from diagnose.corpus.draft import Draft, read_folders, whole_stages
from diagnose.corpus.folder import Folder
from diagnose.corpus.records import Knowledge
from diagnose.errors import Problem


def assemble(folders: Sequence[Folder], version: str) -> tuple[Knowledge | None, list[Problem]]:
    """The knowledge of the folders laid over each other, or None and everything that is wrong."""
    draft = read_folders(folders)
    for folder in folders[1:]:
        apply_changes(draft, folder)
    problems = checked(draft)
    return (None, problems) if problems else (_knowledge(draft, version), [])


def _knowledge(draft: Draft, version: str) -> Knowledge:
    causes = {entry.id: entry.record for entry in draft.live("cause")}
    return Knowledge(
        version=version,
        stages=whole_stages(draft),
        causes=causes,
        mechanisms={entry.id: entry.record for entry in draft.live("mechanism")},
        signs={entry.id: entry.record for entry in draft.live("sign")},
        corrections={each.id: each for cause in causes.values() for each in cause.corrections},
        products={entry.id: entry.record for entry in draft.live("product")},
        families={entry.id: entry.record for entry in draft.live("family")},
        scales={entry.id: entry.record for entry in draft.live("scale")},
        cautions={entry.id: entry.record for entry in draft.live("caution")},
        sources={entry.id: entry.record for entry in draft.live("source")},
        retired={entry.id: entry.record.retired for entry in draft.of("cause", "mechanism", "sign") if not entry.live},
    )
