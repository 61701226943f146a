"""A long list of signs, laid out to be scanned: under the titles of their families, a screenful at a time."""

from __future__ import annotations

from collections.abc import Iterable

from rich.text import Text

from diagnose.corpus.records import Sign

from .sitting import Sitting
from .talk import STRONG
from .words import in_words

AROUND = 9
"""Lines of a screen that a list leaves free: its heading, the prompt, room for completions, the status line."""

SHORT = 9
"""A list of no more signs than this is seen at a glance and needs no titles of families."""

FEWEST = 5
CRUMBS = 3
"""Lines that are not worth a screen of their own, nor a family's title at the foot of one."""


class Listing:
    """The signs of one list. `shown` are those that have a number on the screen, `waiting` those still to come."""

    def __init__(self, sitting: Sitting, signs: Iterable[Sign]) -> None:
        self.sitting = sitting
        self.shown: list[Sign] = []
        self.waiting: list[Sign] = []
        self._page = 0
        self.add(signs)

    def add(self, signs: Iterable[Sign]) -> None:
        """Put more signs at the end, those of a family together and the families in their order."""
        order = list(self.sitting.knowledge.families)
        self.waiting += sorted(signs, key=lambda sign: order.index(sign.family[0]))

    def show_more(self) -> None:
        """Print the next screenful."""
        talk = self.sitting.talk
        room = max(FEWEST, talk.rows - AROUND)
        blocks = self._blocks()
        left = sum(len(lines) for lines in blocks)
        used = taken = 0
        for lines in blocks:
            begins_a_family = len(lines) > 1 and taken and self._family(taken) != self._family(taken - 1)
            if left > CRUMBS and (used + len(lines) > room or (begins_a_family and room - used <= CRUMBS)):
                break
            talk.lines(lines)
            used, left, taken = used + len(lines), left - len(lines), taken + 1
        if not taken:  # one entry alone is larger than the screen
            talk.lines(blocks[0])
            taken = 1
        self._page = len(self.shown)
        self.shown += self.waiting[:taken]
        del self.waiting[:taken]

    def show_again(self) -> None:
        """Print the last screenful once more, with the numbers it had and what was marked since."""
        self.waiting[:0] = self.shown[self._page :]
        del self.shown[self._page :]
        if self.waiting:
            self.show_more()

    def _family(self, at: int) -> str:
        return self.waiting[at].family[0]

    def _blocks(self) -> list[list[Text]]:
        """The lines of each waiting sign, with its family's title above the first of a family and of a screen."""
        talk, blocks = self.sitting.talk, []
        grouped = len(self.shown) + len(self.waiting) > SHORT
        for at, sign in enumerate(self.waiting):
            lines = talk.entry(self._state(sign) + sign.title, sign.what, lead=f"{len(self.shown) + at + 1:>3}  ")
            before = self.waiting[at - 1 : at] if at else self.shown[-1:]
            goes_on = bool(before) and before[0].family[0] == sign.family[0]
            if grouped and (at == 0 or not goes_on):
                title = self.sitting.knowledge.families[sign.family[0]].title
                lines.insert(0, Text(f"{title}, continued" if goes_on else title, style=STRONG))
            blocks.append(lines)
        return blocks

    def _state(self, sign: Sign) -> str:
        answer = self.sitting.case.answers.get(sign.id)
        return f"[{in_words(answer.verdict, answer.sure, answer.how_much)}] " if answer else ""
