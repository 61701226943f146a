"""A comment: from the sentences that could be said to some 40 to 110 words that a maker can act on.

The result is a draft; a judge reads and edits it before it is final.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from diagnose.corpus.glossary import Glossary
from diagnose.corpus.records import Knowledge

from . import phrases
from .causes import Reasoner
from .comment_plan import CommentPlan, Step, plan_comment
from .sentences import LEADS, Part, Sentences
from .sheet import JudgedClass
from .voice import Voice
from .wording import count_words, small

FEWEST, MOST = 40, 110
"""Words of a comment."""

ENOUGH = 55
"""A comment shorter than this takes in more of what is good, if there is more."""


@dataclass(frozen=True, slots=True)
class Comment:
    """A draft with the plan behind it. `steps` are those that the text holds."""

    entry: int
    text: str
    plan: CommentPlan
    steps: tuple[Step, ...]

    @property
    def words(self) -> int:
        """Words of the text."""
        return len(self.text.split())


def comments_of(judged: JudgedClass, knowledge: Knowledge, glossary: Glossary | None = None) -> tuple[Comment, ...]:
    """The comments of a class in the order of its entries; entries without any sheet have none."""
    reasoner = Reasoner(knowledge, judged.card.product)
    glossary = glossary or Glossary()
    voice = Voice(glossary.words)
    found = []
    for turn, entry in enumerate(judged.entries):
        if judged.of_entry(entry):
            plan = plan_comment(judged, knowledge, reasoner, entry)
            found.append(_Writer(Sentences(judged.card.piece, voice, glossary, plan, turn)).write())
    return tuple(found)


class _Writer:
    """Fits the sentences of one comment into its length."""

    def __init__(self, sentences: Sentences) -> None:
        self.sentences = sentences
        self.plan = sentences.plan
        self.voice = sentences.voice

    def write(self) -> Comment:
        """The comment, with its wordings noted as used. Where a fault would go unsaid, less is praised."""
        parts, text, unsaid = self._fitted()
        if unsaid:
            self.sentences.most_praise = 1
            parts, text, unsaid = self._fitted()
        for one in parts:
            for option in one.used:
                self.voice.take(option)
        return Comment(self.plan.entry, text, self.plan, tuple(one.step for one in parts if one.step is not None))

    def _fitted(self) -> tuple[list[Part], str, bool]:
        """The sentences that fit, their text, and whether a fault was left out without a word."""
        parts = self.sentences.parts()
        waiting = [one for one in parts if one.wait]
        parts = [one for one in parts if not one.wait]
        while waiting and count_words(self._joined(parts)) < ENOUGH:
            parts.insert(1 if parts else 0, waiting.pop(0))
        text = self._joined(parts)
        missed = False
        while count_words(text) > MOST and (droppable := [one for one in parts if one.rank]):
            dropped = max(droppable, key=lambda one: one.rank)
            parts.remove(dropped)
            missed = missed or dropped.missed
            text = self._joined(parts)
        for one in self._instead(parts, missed):
            if one.step and any(each.step for each in parts):
                continue
            if count_words(longer := self._joined([*parts, one])) <= MOST:
                parts, text = [*parts, one], longer
                missed = missed and not one.asks
        return parts, text, missed

    def _instead(self, parts: Sequence[Part], missed: bool) -> Iterator[Part]:
        """What takes the room of what was dropped, if it fits: a shorter step where none is left, and that there is more."""
        if self.plan.kind == "ordinary" and not any(one.step for one in parts):
            for step in sorted(self.plan.steps, key=lambda one: (one.kind != "check", count_words(one.text)))[:2]:
                part = self.sentences.part(LEADS[step.kind], 1, step.text, do=small(step.text))
                part.step = step
                yield part
        if missed:
            part = self.sentences.part(phrases.NO_ROOM, 2)
            part.asks = True
            yield part

    def _joined(self, parts: Sequence[Part]) -> str:
        return self.voice.glossed(" ".join(one.text for one in parts))
