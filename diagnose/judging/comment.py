"""Wording a comment: from the plan of what to say to some 40 to 110 words that a maker can act on.

The words for chances are those of the approximate probability scale, and no cause is called more certain than the ranking
from the piece alone allows. The result is a draft; a judge reads and edits it before it is final.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from diagnose.corpus.glossary import Glossary
from diagnose.corpus.records import Knowledge
from diagnose.corpus.scorecards import Criterion
from diagnose.reports.words import likelihood_word

from . import phrases
from .causes import LIKELY, Candidate, Reasoner
from .comment_plan import CommentPlan, Step, Told, plan_comment
from .sheet import JudgedClass
from .voice import Voice
from .wording import at_place, capital, count_words, number_word, small, title

FEWEST, MOST = 40, 110
"""Words of a comment."""

ENOUGH = 55
"""A comment shorter than this takes in more of what is good, if there is more."""

LONG_STEP = 22
"""Words of a step above which a shorter one is tried first."""

EVEN = 0.33
"""From here on the scale says about as likely as not."""


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


@dataclass(slots=True)
class _Part:
    """One sentence. The lower `rank`, the later it is dropped; 0 is never dropped. `wait` keeps it for short comments."""

    text: str
    rank: int
    used: tuple[str, ...] = ()
    step: Step | None = None
    wait: bool = False


def comments_of(judged: JudgedClass, knowledge: Knowledge, glossary: Glossary | None = None) -> tuple[Comment, ...]:
    """The comments of a class in the order of its entries; entries without any sheet have none."""
    reasoner = Reasoner(knowledge, judged.card.product)
    glossary = glossary or Glossary()
    voice = Voice(glossary.words)
    found = []
    for turn, entry in enumerate(judged.entries):
        if judged.of_entry(entry):
            plan = plan_comment(judged, knowledge, reasoner, entry)
            found.append(_Writer(judged, voice, glossary, plan, turn).write())
    return tuple(found)


class _Writer:
    """Words one comment."""

    def __init__(self, judged: JudgedClass, voice: Voice, glossary: Glossary, plan: CommentPlan, turn: int) -> None:
        self.judged = judged
        self.voice = voice
        self.glossary = glossary
        self.plan = plan
        self.turn = turn
        self.piece = judged.card.piece

    def write(self) -> Comment:
        """The comment, with its wordings noted as used."""
        parts = self._parts()
        waiting = [one for one in parts if one.wait]
        parts = [one for one in parts if not one.wait]
        while waiting and count_words(self._joined(parts)) < ENOUGH:
            parts.insert(1 if parts else 0, waiting.pop(0))
        text = self._joined(parts)
        while count_words(text) > MOST and (droppable := [one for one in parts if one.rank]):
            parts.remove(max(droppable, key=lambda one: one.rank))
            text = self._joined(parts)
        for one in parts:
            for option in one.used:
                self.voice.take(option)
        return Comment(self.plan.entry, text, self.plan, tuple(one.step for one in parts if one.step is not None))

    def _joined(self, parts: Sequence[_Part]) -> str:
        return self.voice.glossed(" ".join(one.text for one in parts))

    def _pick(self, options: Sequence[str], **values: str) -> tuple[str, str]:
        chosen = self.voice.least_used(options, self.turn)
        if " and " in values.get("a", "") + values.get("b", "") and "{a} and {b}" in chosen:
            return capital(chosen.replace("{a} and", "{a}, and").format(piece=self.piece, **values)), chosen
        return capital(chosen.format(piece=self.piece, pieces=f"{self.piece}s", **values)), chosen

    def _part(self, options: Sequence[str], rank: int, *also: str, **values: str) -> _Part:
        text, chosen = self._pick(options, **values)
        return _Part(text, rank, (chosen, *also))

    def _parts(self) -> list[_Part]:
        plan = self.plan
        parts = self._good()
        if plan.kind == "suspect":
            return [*parts, *self._suspect()]
        if plan.kind == "disqualified":
            parts.insert(0, self._part(phrases.OUT_OF_CLASS, 0, rule=small(plan.rule)))
            if not plan.findings.shares:
                parts.append(self._part(phrases.NOT_SCORED, 0))
        if plan.faults:
            parts.append(self._faults())
            parts += [self._part(phrases.DETAIL, 4, one, list=small(one)) for one in plan.details[:1]]
            parts += self._cause()
            parts += self._not_known()
            parts += self._steps()
            parts += [_Part(one, 4) for one in plan.asides[:1]]
        elif plan.kind == "ordinary" and plan.single is None:
            parts.append(self._part(phrases.CLEAN, 0))
        parts += self._single()
        if plan.weakest is not None:
            parts.append(self._share(phrases.WEAKEST, plan.weakest, 2))
        return parts

    def _good(self) -> list[_Part]:
        praised = [one for one in self.plan.good if not (self.plan.kind == "suspect" and one.tasted)]
        said = [self._praise(one) for one in praised[: 1 if self.plan.kind == "suspect" else 4]]
        if len(said) >= 2:
            first = self._part(phrases.GOOD_TWO, 0, said[0], said[1], a=said[0], b=said[1])
        elif said:
            first = self._part(phrases.GOOD_ONE, 0, said[0], a=said[0])
        elif self.plan.best is not None and self.plan.kind != "suspect":
            first = self._share(phrases.BEST_OF_REST, self.plan.best, 0)
        else:
            return []
        more: list[_Part] = []
        for praise in said[2:]:
            left = [each for each in phrases.GOOD_MORE if all(each not in part.used for part in more)]
            more.append(self._part(left, 6, praise, a=praise))
        for one in more:
            one.wait = True
        return [first, *more]

    def _praise(self, criterion: Criterion) -> str:
        return self.voice.least_used(criterion.good, self.turn)

    def _share(self, options: Sequence[str], of: tuple[Criterion, float], rank: int) -> _Part:
        criterion, share = of
        return self._part(options, rank, criterion=small(criterion.title), share=f"{int(share * 100 + 0.5)} per cent")

    def _named(self, told: Told) -> tuple[str, str]:
        """How the comment names a fault: its wording, degree and place; and the wording itself."""
        say = (
            self.voice.least_used(told.fault.say, self.turn)
            if told.fault and told.fault.say
            else small(told.found.title)
        )
        aside = [told.found.how_much or "", " and ".join(at_place(one) for one in told.found.places if one not in say)]
        inside = ", ".join(one for one in aside if one)
        return (f"{say} ({inside})" if inside else say), say

    def _listed(self, faults: Sequence[Told]) -> tuple[str, tuple[str, ...]]:
        named = [self._named(one) for one in faults]
        texts = [text for text, _ in named]
        joined = texts[0] if len(texts) == 1 else f"{', '.join(texts[:-1])} and {texts[-1]}"
        return joined, tuple(say for _, say in named)

    def _faults(self) -> _Part:
        listed, used = self._listed(self.plan.faults)
        options = phrases.FAULTS if len(self.plan.faults) == 1 else phrases.FAULTS_MANY
        return self._part(options, 0, *used, list=listed)

    def _cause(self) -> list[_Part]:
        plan = self.plan
        spoken = plan.named or plan.begin
        if not spoken:
            return []
        said = [self._cause_words(one) for one in spoken]
        a = said[0]
        if plan.kind == "suspect" and spoken[0].chance < EVEN:  # a low chance beside a warning would weaken it
            if len(spoken) > 1:
                return [self._part(phrases.LOOK_INTO_TWO, 1, *said, a=a, b=said[1])]
            return [self._part(phrases.LOOK_INTO, 1, *said, a=a)]
        if not plan.named:
            if len(spoken) > 1:
                part = self._part(phrases.BEGIN_TWO, 1, *said, a=a, b=said[1])
            else:
                part = self._part(phrases.BEGIN_ONE, 1, *said, a=a)
        elif len(spoken) == 2:
            options = phrases.TWO_EVEN if spoken[0].chance >= EVEN else phrases.TWO_WEAK
            part = self._part(options, 0, *said, a=a, b=said[1])
        elif spoken[0].chance >= LIKELY:
            part = self._part(phrases.ONE_LIKELY, 0, *said, a=a, word=likelihood_word(spoken[0].chance))
        else:
            part = self._part(phrases.ONE_EVEN if spoken[0].chance >= EVEN else phrases.ONE_WEAK, 0, *said, a=a)
        listed = len(plan.faults) if plan.kind != "suspect" else plan.explained
        if plan.explained < listed:
            lead, chosen = self._pick(phrases.FIRST_OF.get(plan.explained, phrases.FIRST_OF[1]))
            part.text, part.used = lead + small(part.text), (*part.used, chosen)
        return [part]

    def _cause_words(self, candidate: Candidate) -> str:
        """How the comment names a cause: the glossary's words by turns, else its title."""
        words = self.glossary.causes.get(candidate.cause.id)
        return self.voice.least_used(words, self.turn) if words else title(candidate)

    def _not_known(self) -> list[_Part]:
        plan = self.plan
        parts = []
        if plan.unknowable and all(plan.unknowable):
            options = phrases.NOT_KNOWN_ONE if len(plan.unknowable) == 1 else phrases.NOT_KNOWN_BOTH
            parts.append(self._part(options, 0))
        elif any(plan.unknowable):
            parts.append(self._part(phrases.NOT_KNOWN_PART, 3, which="first" if plan.unknowable[0] else "second"))
        if plan.no_sign_outside:
            parts.append(self._part(phrases.NO_SIGN, 2))
        return parts

    def _steps(self) -> list[_Part]:
        """One step, and a second where there are two causes or there is room; fresh ones before used ones."""
        steps = sorted(self.plan.steps, key=lambda one: (self.voice.uses(one.text), count_words(one.text) > LONG_STEP))
        parts: list[_Part] = []
        for at, one in enumerate(steps[:2]):
            options = {"do": phrases.DO, "supplier": phrases.SUPPLIER, "check": phrases.CHECK}[one.kind]
            if at and one.kind == "do" and steps[0].kind == "do":
                options = phrases.DO_MORE
            part = self._part(options, 1 if at == 0 else 5, one.text, do=small(one.text))
            part.step = one
            parts.append(part)
        return parts

    def _single(self) -> list[_Part]:
        if self.plan.single is None:
            return []
        say, used = self._named(self.plan.single)
        return [self._part(phrases.SINGLE, 3, used, say=say, count=number_word(self.plan.single.found.looked))]

    def _suspect(self) -> list[_Part]:
        plan = self.plan
        bad = [one for one in plan.faults if one.found.dangerous and one.fault is not None]
        if bad:
            listed, used = self._listed(bad)
            parts = [self._part(phrases.NOT_TASTED, 0, *used, list=listed)]
        else:
            parts = [self._part(phrases.NOT_TASTED_WORDS, 0, list=small(plan.reasons[0]).rstrip("."))]
        parts.append(self._part(phrases.HOLD, 0))
        parts += self._cause() + self._not_known()
        parts.append(self._part(phrases.NO_PROMISE, 2))
        return parts
