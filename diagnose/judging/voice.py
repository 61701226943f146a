"""A voice that does not repeat itself: of several ways to say a thing it takes the one used least in this class so far."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence

from diagnose.corpus.glossary import Gloss


class Voice:
    """Chooses wordings for the comments of one class, in the order of its entries, always the same way."""

    def __init__(self, glosses: Sequence[Gloss] = ()) -> None:
        self._used: Counter[str] = Counter()
        self._patterns = [
            (
                gloss,
                re.compile(
                    rf"(?<![\w-])(?:{'|'.join(map(re.escape, (gloss.word, *gloss.also)))})(?![\w-])", _flags(gloss)
                ),
            )
            for gloss in glosses
        ]

    def least_used(self, options: Sequence[str], turn: int) -> str:
        """The option that was taken least so far; among equals the one whose turn it is."""
        at = min(range(len(options)), key=lambda i: (self._used[options[i]], (i - turn) % len(options)))
        return options[at]

    def take(self, option: str) -> None:
        """Note that an option was used."""
        self._used[option] += 1

    def uses(self, option: str) -> int:
        """How often an option was used."""
        return self._used[option]

    def glossed(self, text: str) -> str:
        """The text with each word of the trade explained where it stands first, unless brackets follow it anyway."""
        for gloss, pattern in self._patterns:
            found = pattern.search(text)
            if found and not text[found.end() :].lstrip().startswith("(") and not _inside_brackets(text, found.start()):
                text = f"{text[: found.end()]} ({gloss.says}){text[found.end() :]}"
        return text


def _flags(gloss: Gloss) -> re.RegexFlag:
    """Words in capitals, such as PSE, are matched as they are written."""
    return re.RegexFlag(0) if gloss.word.isupper() or gloss.word == "pH" else re.IGNORECASE


def _inside_brackets(text: str, at: int) -> bool:
    return text.count("(", 0, at) > text.count(")", 0, at)
