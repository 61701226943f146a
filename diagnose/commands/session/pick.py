"""Finding a sign or a cause by a few letters: trade words, other names, slips of the finger."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from diagnose.corpus.find import find
from diagnose.corpus.records import Cause, Sign
from diagnose.reports.words import REGION

from .desk import Heard, listen
from .look import reach_in_words
from .reading import Suggestion
from .sitting import Sitting
from .words import Reply, command_in, in_words, marks_in

MOST = 9
NEAR = 0.6
"""Share of the best score below which a find is more noise than help."""

AS_GOOD = 0.9
"""Share of the best score from which a find that is out of reach is worth naming."""

Picked = list[tuple[Sign | Cause, Reply]]


@dataclass(frozen=True, slots=True)
class _Finds:
    """What may be meant and may be asked now, best first; what this person cannot look at; how many more there are.

    `tasted` counts what is found by tasting and is not offered because there is a warning.
    """

    entries: list[Sign | Cause]
    out_of_reach: list[Sign | Cause]
    more: int
    tasted: int


def _found(sitting: Sitting, words: str) -> _Finds:
    hits = find(sitting.knowledge, words, 40, kinds=("sign", "cause"), product=sitting.case.product)
    near = {hit.id: hit.score for hit in hits if hit.score >= NEAR * hits[0].score}
    about = [entry for name in near if (entry := sitting.entry(name)) is not None and sitting.belongs(entry)]
    open_now = [entry for entry in about if sitting.may_ask(entry)]
    best = max(near.values(), default=0.0)
    out = [one for one in about if not sitting.within_reach(one) and (near[one.id] >= AS_GOOD * best or not open_now)]
    tasted = sum(sitting.within_reach(one) and not sitting.may_ask(one) for one in about)
    return _Finds(open_now[:MOST], out, max(0, len(open_now) - MOST), tasted)


def suggestions(sitting: Sitting, typed: str) -> list[Suggestion]:
    """What to offer while the person types; nothing for numbers, commands and single letters."""
    typed = typed.strip()
    if len(typed) < 2 or typed[0].isdigit() or command_in(typed) is not None:
        return []
    return [Suggestion(entry.title, _where(sitting, entry)) for entry in _found(sitting, typed).entries]


def _where(sitting: Sitting, entry: Sign | Cause) -> str:
    if isinstance(entry, Sign):
        return REGION.get(entry.region, entry.region)
    stage = next((stage.title for stage in sitting.knowledge.stages if stage.stage == entry.stage), entry.stage)
    return f"cause, {stage.lower()}"


def _state(sitting: Sitting, entry: Sign | Cause) -> str:
    answer = sitting.case.answers.get(entry.id)
    return f"[{in_words(answer.verdict, answer.sure, answer.how_much)}] " if answer else ""


class Search:
    """A search and what it found. The numbers of the finds hold until Enter, or until other words are searched for."""

    def __init__(self, sitting: Sitting, words: str, *, several: bool = False, undo: Callable[[], bool] | None = None):
        """`several`: more than one find can be picked. `undo` takes back what was picked last; false if nothing was."""
        self.sitting = sitting
        self.several = several
        self.undo = undo
        self.shown = False
        self.picked = False
        self.entries: list[Sign | Cause] = []
        self._words = words

    @property
    def over(self) -> bool:
        """Whether there is nothing more to pick."""
        return not self.shown or len(self.entries) < 2

    def first(self) -> Picked | None:
        """What is picked of the first finds; None if nothing is. A whole title needs no second choice."""
        self.entries = _found(self.sitting, self._words).entries
        exact = next((one for one in self.entries if one.title.casefold() == self._words.casefold()), None)
        if exact is not None:
            return [(exact, Reply("yes"))]
        self._look_for(self._words)
        return self.ask() if self.entries else None

    def ask(self, heard: Heard | None = None) -> Picked | None:
        """What is picked next; None once the finds are left. `heard`: what was said already, at another prompt."""
        while True:
            heard = heard or self._listen()
            if heard.command == "back":
                if self.undo is None or not self.undo():
                    return None
            elif heard.changed:
                self._look_for(self._words)
            elif heard.command == "skip" or not (heard.rest or heard.line):
                return None
            elif (marks := marks_in(heard.line)) is None:
                self._look_for(heard.rest or heard.line)
            elif all(1 <= number <= len(self.entries) for number, _ in marks) and (self.several or len(marks) == 1):
                self.picked = True
                return [(self.entries[number - 1], reply) for number, reply in marks]
            else:
                self.sitting.talk.say(
                    f"Please type {'numbers' if self.several else 'one number'} from 1 to {len(self.entries)}."
                )
            if not self.entries:
                return None
            heard = None

    def _listen(self) -> Heard:
        number = "1 = this one" if len(self.entries) == 1 else "Numbers" if self.several else "Number"
        return listen(
            self.sitting,
            f"{number}, other words, Enter = {'no more of these' if self.picked else 'none of these'}",
            local={"back", "skip", "add"},
            suggest=lambda typed: suggestions(self.sitting, typed),
            remember=True,
            reminder=self._show,
        )

    def _look_for(self, words: str) -> None:
        self._words = words
        self.entries = _found(self.sitting, words).entries
        self._show()

    def _show(self) -> None:
        """The finds with their numbers, and what else there is."""
        self.shown = True
        talk, finds = self.sitting.talk, _found(self.sitting, self._words)
        talk.say(f'Found for "{self._words}":' if self.entries else f'Nothing found for "{self._words}".')
        talk.choices([f"{_state(self.sitting, one)}{one.title} ({_where(self.sitting, one)})" for one in self.entries])
        if finds.more:
            talk.say(f"{finds.more} more fit less well; another word narrows it down.")
        if finds.tasted:
            talk.say(f"{finds.tasted} more can be told by tasting only, which nobody does while there is a warning.")
        if finds.out_of_reach:
            _say_out_of_reach(self.sitting, finds.out_of_reach)


def _say_out_of_reach(sitting: Sitting, entries: list[Sign | Cause]) -> None:
    """Name the best of what needs what this person does not have, and what that is."""
    first, rest = entries[0], len(entries) - 1
    also = f" and {rest} more" if rest else ""
    needs = reach_in_words(tuple(dict.fromkeys(one.check.needs for one in entries)))
    sitting.talk.say(f'Out of your reach: "{first.title}"{also}. To be looked at: {needs}. If you can, type reach.')


def pick(sitting: Sitting, words: str) -> tuple[Sign | Cause, Reply] | None:
    """The one entry that the person means, and the mark they put on it; None if they found nothing."""
    picked = Search(sitting, words).first()
    return picked[0] if picked else None
