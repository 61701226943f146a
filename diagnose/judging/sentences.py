"""The sentences of one comment: from the plan of what to say to wordings by turns, each with how readily it is left out.

The words for chances are those of the approximate probability scale, and no cause is called more certain than the ranking
from the piece alone allows.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from diagnose.corpus.glossary import Glossary
from diagnose.corpus.scorecards import Criterion
from diagnose.reports.words import likelihood_word

from . import phrases
from .causes import LIKELY, Candidate
from .comment_plan import CommentPlan, Step, Told
from .voice import Voice
from .wording import capital, count_words, degree, number_word, ordinal, place_words, small, title

MOST_PRAISE = 4
"""Criteria that a comment praises; the third and fourth only in a short one."""

LONG_STEP, SHORT_STEP = 22, 14
"""Words of a step above which a shorter one is tried first; the second where it stands behind a check."""

EVEN = 0.33
"""From here on the scale says about as likely as not."""

LEADS = {"do": phrases.DO, "supplier": phrases.SUPPLIER, "check": phrases.CHECK}
"""How a step of each kind is led in."""


@dataclass(slots=True)
class Part:
    """One sentence. The lower `rank`, the later it is dropped; 0 is never dropped. `wait` keeps it for short comments."""

    text: str
    rank: int
    used: tuple[str, ...] = ()
    step: Step | None = None
    wait: bool = False
    missed: bool = False
    """Whether the comment says so where there is no room for it."""
    asks: bool = False
    """Whether it says that there is more to ask about."""


class Sentences:
    """Makes the sentences of one comment. `turn` is its place in the class, `piece` what the scorecard calls an entry."""

    def __init__(self, piece: str, voice: Voice, glossary: Glossary, plan: CommentPlan, turn: int) -> None:
        self.voice = voice
        self.glossary = glossary
        self.plan = plan
        self.turn = turn
        self.piece = piece
        self.most_praise = MOST_PRAISE

    def _pick(self, options: Sequence[str], **values: str) -> tuple[str, str]:
        chosen = self.voice.least_used(options, self.turn)
        if " and " in values.get("a", "") + values.get("b", "") and "{a} and {b}" in chosen:
            return capital(chosen.replace("{a} and", "{a}, and").format(piece=self.piece, **values)), chosen
        return capital(chosen.format(piece=self.piece, pieces=f"{self.piece}s", **values)), chosen

    def part(self, options: Sequence[str], rank: int, *also: str, **values: str) -> Part:
        """A sentence in the form used least so far; `also` are other wordings in it, `values` fill its braces."""
        text, chosen = self._pick(options, **values)
        return Part(text, rank, (chosen, *also))

    def parts(self) -> list[Part]:
        """All that could be said, in the order of saying."""
        plan = self.plan
        if plan.kind == "suspect":
            return self._suspect()
        parts = self._good()
        if plan.kind == "disqualified":
            parts.insert(0, self.part(phrases.OUT_OF_CLASS, 0, rule=small(plan.rule)))
            if not plan.findings.shares:
                parts.append(self.part(phrases.NOT_SCORED, 0))
        if plan.faults:
            parts.append(self._faults())
            parts += [self.part(phrases.DETAIL, 4, one, list=small(one)) for one in plan.details[:1]]
            parts += self._cause()
            parts += self._not_known()
            parts += self._steps()
            parts += self._others()
            parts += [Part(one, 4) for one in plan.asides[:1]]
        elif plan.kind == "ordinary" and plan.single is None:
            parts.append(self.part(phrases.CLEAN, 0))
        parts += self._single()
        if plan.unmarked is not None and plan.unmarked != plan.weakest:
            parts.append(self._share(phrases.UNMARKED, plan.unmarked, 2))
        if plan.weakest is not None:
            parts.append(self._share(phrases.WEAKEST, plan.weakest, 2))
        return parts

    def _good(self) -> list[Part]:
        said = [self._praise(one) for one in self.plan.good[: self.most_praise]]
        if len(said) >= 2:
            first = self.part(phrases.GOOD_TWO, 0, said[0], said[1], a=said[0], b=said[1])
        elif said:
            first = self.part(phrases.GOOD_ONE, 0, said[0], a=said[0])
        elif self.plan.best is not None:
            first = self._share(phrases.BEST_OF_REST, self.plan.best, 0)
        else:
            return []
        more: list[Part] = []
        for praise in said[2:]:
            left = [each for each in phrases.GOOD_MORE if all(each not in part.used for part in more)]
            more.append(self.part(left, 6, praise, a=praise))
        for one in more:
            one.wait = True
        return [first, *more]

    def _praise(self, criterion: Criterion) -> str:
        return self.voice.least_used(criterion.good, self.turn)

    def _share(self, options: Sequence[str], of: tuple[Criterion, float], rank: int) -> Part:
        criterion, share = of
        return self.part(options, rank, criterion=small(criterion.title), share=f"{int(share * 100 + 0.5)} per cent")

    def _named(self, told: Told, *, counted: bool = False) -> tuple[str, str]:
        """How the comment names a fault: its wording, degree and place, `counted` by how many; and the wording itself."""
        say = (
            self.voice.least_used(told.fault.say, self.turn)
            if told.fault and told.fault.say
            else small(told.found.title)
        )
        # A place that the wording names already, such as the bone of a split thigh bone, is not said twice.
        there = all(one.rsplit(maxsplit=1)[-1] in say.split() for one in told.found.places)
        aside = [degree(told.found), "" if there else place_words(told.found)]
        if counted:
            aside.append(f"seen by {number_word(told.found.judges)} of {number_word(told.found.looked)} judges")
        inside = ", ".join(one for one in aside if one)
        return (f"{say} ({inside})" if inside else say), say

    def _listed(self, faults: Sequence[Told], *, counted: bool = False) -> tuple[str, tuple[str, ...]]:
        named = [self._named(one, counted=counted) for one in faults]
        texts = [text for text, _ in named]
        joined = texts[0] if len(texts) == 1 else f"{', '.join(texts[:-1])} and {texts[-1]}"
        return joined, tuple(say for _, say in named)

    def _faults(self) -> Part:
        listed, used = self._listed(self.plan.faults)
        options = phrases.FAULTS if len(self.plan.faults) == 1 else phrases.FAULTS_MANY
        return self.part(options, 0, *used, list=listed)

    def _cause(self) -> list[Part]:
        plan = self.plan
        spoken = plan.named or plan.begin
        if not spoken:
            return []
        said = [self._cause_words(one) for one in spoken]
        a = said[0]
        # A low chance beside a warning would weaken it; a high one would say more than some of the judges saw.
        if plan.kind == "suspect" and self._seen_by_few():
            return [self.part(phrases.LOOK_INTO_IF, 1, said[0], a=a)]
        if plan.kind == "suspect" and spoken[0].chance < EVEN:
            if len(spoken) > 1:
                return [self.part(phrases.LOOK_INTO_TWO, 1, *said, a=a, b=said[1])]
            return [self.part(phrases.LOOK_INTO, 1, *said, a=a)]
        if not plan.named:
            if len(spoken) > 1:
                part = self.part(phrases.BEGIN_TWO, 1, *said, a=a, b=said[1])
            else:
                part = self.part(phrases.BEGIN_ONE, 1, *said, a=a)
        elif len(spoken) == 2:
            options = phrases.TWO_EVEN if spoken[0].chance >= EVEN else phrases.TWO_WEAK
            part = self.part(options, 0, *said, a=a, b=said[1])
        elif spoken[0].chance >= LIKELY:
            part = self.part(phrases.ONE_LIKELY, 0, *said, a=a, word=likelihood_word(spoken[0].chance))
        else:
            part = self.part(phrases.ONE_EVEN if spoken[0].chance >= EVEN else phrases.ONE_WEAK, 0, *said, a=a)
        listed = len(plan.faults) if plan.kind != "suspect" else plan.explained
        if plan.explained < listed:
            lead, chosen = self._pick(phrases.FIRST_OF.get(plan.explained, phrases.FIRST_OF[1]))
            part.text, part.used = lead + small(part.text), (*part.used, chosen)
        return [part]

    def _cause_words(self, candidate: Candidate) -> str:
        """How the comment names a cause: the glossary's words by turns, else its title."""
        words = self.glossary.causes.get(candidate.cause.id)
        return self.voice.least_used(words, self.turn) if words else title(candidate)

    def _not_known(self) -> list[Part]:
        plan = self.plan
        parts = []
        if plan.unknowable and all(plan.unknowable):
            options = phrases.NOT_KNOWN_ONE if len(plan.unknowable) == 1 else phrases.NOT_KNOWN_BOTH
            parts.append(self.part(options, 0))
            if sum(one.chance for one in plan.named) < LIKELY:
                parts.append(self.part(phrases.OR_ELSE, 2))
        elif any(plan.unknowable):
            parts.append(self.part(phrases.NOT_KNOWN_PART, 3, which="first" if plan.unknowable[0] else "second"))
        if plan.no_sign_outside:
            parts.append(self.part(phrases.NO_SIGN, 2))
        return parts

    def _steps(self) -> list[Part]:
        """One step, and a second where there are two causes or there is room; fresh ones before used ones."""
        if first := self._check_first():
            return first
        steps = sorted(self.plan.steps, key=lambda one: (self.voice.uses(one.text), count_words(one.text) > LONG_STEP))
        parts: list[Part] = []
        for at, one in enumerate(steps[:2]):
            options = LEADS[one.kind]
            if at and one.kind == "do" and steps[0].kind == "do":
                options = phrases.DO_MORE
            part = self.part(options, 1 if at == 0 else 5, one.text, do=small(one.text))
            part.step = one
            parts.append(part)
        return parts

    def _check_first(self) -> list[Part]:
        """Where no cause is likely: how the maker finds out whether it was the first one, and what to do then."""
        plan = self.plan
        spoken = plan.named or plan.begin
        if not spoken or spoken[0].chance >= EVEN:
            return []
        of_first = [one for one in plan.steps if one.cause == spoken[0].cause.id]
        check = next((one for one in of_first if one.kind == "check"), None)
        if check is None:
            return []
        changes = sorted(
            (one for one in of_first if one.kind != "check"),
            key=lambda one: (self.voice.uses(one.text), count_words(one.text) > SHORT_STEP),
        )
        parts = []
        for one, options, rank in zip((check, *changes[:1]), (phrases.CHECK, phrases.IF_SO), (1, 2), strict=False):
            part = self.part(options, rank, one.text, do=small(one.text))
            part.step = one
            parts.append(part)
        return parts

    def _others(self) -> list[Part]:
        """Where to look for the faults whose cause was not told; where that does not fit, that the maker may ask."""
        parts: list[Part] = []
        for one in self.plan.others:
            nth = ordinal(one.place + 1) if len(self.plan.faults) > 1 else "fault"
            if one.cause is not None:
                said = self._cause_words(one.cause)
                part = self.part(phrases.OTHER, 4, said, nth=nth, a=said)
            elif one.try_this:
                part = self.part(phrases.OTHER_DO, 4, one.try_this, nth=nth, do=small(one.try_this))
            else:
                part = self.part(phrases.OTHER_ASK, 4, nth=nth)
            part.missed = True
            parts.append(part)
        return parts

    def _seen_by_few(self) -> bool:
        """Whether all that makes the piece suspect was seen by fewer than half of the judges who looked."""
        bad = [one.found for one in self.plan.faults if one.found.dangerous]
        return bool(bad) and all(2 * one.judges < one.looked for one in bad)

    def _single(self) -> list[Part]:
        if self.plan.single is None:
            return []
        say, used = self._named(self.plan.single)
        return [self.part(phrases.SINGLE, 3, used, say=say, count=number_word(self.plan.single.found.looked))]

    def _suspect(self) -> list[Part]:
        plan = self.plan
        bad = [one for one in plan.faults if one.found.dangerous and one.fault is not None]
        parts = [self.part(phrases.HOLD, 0)]
        most = max((one.found for one in bad), key=lambda one: one.judges, default=None)
        alike = len({(one.found.judges, one.found.looked) for one in bad}) == 1
        if most is not None and most.judges < most.looked and alike:
            listed, used = self._listed(bad)
            count = f"{capital(number_word(most.judges))} of the {number_word(most.looked)} judges"
            parts.append(self.part(phrases.NOT_TASTED_SOME, 0, *used, list=listed, count=count))
            if self._seen_by_few():
                parts.append(self.part(phrases.NOT_ALL_SAW_IT, 2))
        elif bad:
            listed, used = self._listed(bad, counted=not alike)
            parts.append(self.part(phrases.NOT_TASTED, 0, *used, list=listed))
        else:
            parts.append(self.part(phrases.NOT_TASTED_WORDS, 0, list=small(plan.reasons[0]).rstrip(".")))
        parts += self._cause() + self._not_known()
        parts.append(self.part(phrases.NO_PROMISE, 2))
        return parts
