"""Sources are numbered in the order in which a report first names them, and listed in full at its end."""

from __future__ import annotations

from collections.abc import Iterable

from diagnose.corpus.records import Basis, Knowledge
from diagnose.corpus.records import Source as SourceRecord

from .document import Block, Item, Source, bullets
from .words import KIND, NO_SOURCE


class Citations:
    """Gives out numbers, one to a source."""

    def __init__(self, knowledge: Knowledge) -> None:
        self._knowledge = knowledge
        self._numbers: dict[str, int] = {}

    def number(self, source: str) -> int:
        """The number of a source; a new one the first time."""
        return self._numbers.setdefault(source, len(self._numbers) + 1)

    def marks(self, basis: Iterable[Basis]) -> str:
        """The numbers behind a claim, such as `[1] [2]`, or the plain words that there is no source."""
        sources = dict.fromkeys(one.source for one in basis)
        return " ".join(f"[{self.number(source)}]" for source in sources) or NO_SOURCE

    def said(self, basis: Iterable[Basis]) -> tuple[Block, ...]:
        """What each source says of the claim, and where."""
        return bullets([Item(_said(one), mark=f"[{self.number(one.source)}]") for one in basis])

    def sources(self) -> tuple[Source, ...]:
        """The sources named so far, in full."""
        return tuple(self._source(number, name) for name, number in self._numbers.items())

    def ids(self) -> tuple[str, ...]:
        """The ids of the sources named so far, in the order of their numbers."""
        return tuple(self._numbers)

    def _source(self, number: int, name: str) -> Source:
        record = self._knowledge.sources.get(name)
        if record is None:
            return Source(number, name, "", "not among the sources of this knowledge")
        return Source(number, reference(record), address(record), standing(record))


def reference(record: SourceRecord) -> str:
    """Authors, year, title, where published, kind of work."""
    parts = [record.authors or "", f"({record.year})" if record.year else ""]
    head = " ".join(part for part in parts if part)
    tail = f"{_ended(record.title)} {_ended(record.published)} {_ended(KIND[record.kind].capitalize())}"
    return f"{_ended(head)} {tail}" if head else tail


def standing(record: SourceRecord) -> str:
    """Whether the work was read for this knowledge, and which part of it."""
    if record.read == "seen":
        return f"Seen for this knowledge: {record.seen_part or 'part not stated'}."
    return "From memory, not seen for this knowledge."


def address(record: SourceRecord) -> str:
    """Where the work can be found; empty if that is not known."""
    return record.url or (f"https://doi.org/{record.doi}" if record.doi else "")


def _said(basis: Basis) -> str:
    indirect = "other meat or another product, so indirect" if basis.bears == "relative" else ""
    aside = "; ".join(part for part in (basis.at, indirect) if part)
    return f"{basis.says} ({aside})" if aside else basis.says


def _ended(text: str) -> str:
    return text if text.endswith((".", "?", "!")) else f"{text}."
