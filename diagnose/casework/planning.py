"""What to do, and in which order: the set of corrections that most raises the chance of a clean next batch.

The next batch is taken to be this one made again: the same causes there, the same links acting, but for what the steps
take away. So a step on a cause helps just as far as that cause did what was seen. The test of a change is the next batch,
days away, and several causes may be at work; so single steps are not tried one after the other but chosen as a set. The
set is built one correction at a time, each time the one that adds most, and then improved by exchanging single members;
that is not proven to be the best of all sets, but no single exchange betters it.

What a set is chosen by is the expected share of the defects seen that would be gone. The chance that all of them are gone
is shown too, but could not guide the choice: with two unrelated complaints no single step brings it off zero.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from diagnose.corpus.records import Cause, Correction
from diagnose.inference.evidence import Observed
from diagnose.inference.posterior import Posterior, Removal, gone_chances

from .asking import question_on
from .case import Case
from .diagnosis import NextQuestion, Plan, PlanStep
from .model import Model

WORTH_TREATING = 0.03
"""A cause this likely to be responsible, or likelier, has its corrections considered."""

MOST_CANDIDATES = 18
FEW_CANDIDATES = 6
WIDEST = 2**22
"""Numbers in one row's largest table above which only a few corrections are considered, to keep the wait short."""

MOST_STEPS = 6
LEAST_GAIN = 0.01
"""A step that adds less to the expected share of defects gone is left out."""

FOR_THIS_LOT = 0.20
"""A cause this likely to be responsible has its instructions for the present lot shown."""

WHEN = ("this-lot", "now", "next-batch", "supplier")
"""In the order in which things are done."""

ASSUMPTIONS = (
    "The next batch is this one made again: the same conditions, with the same effects, but for the steps taken.",
    "A step keeps its stated share of what its cause does from happening; steps on the same cause work side by side.",
    "What came from a cause that is not listed here comes again, whatever is done.",
    "Only the defects seen here count; another batch may bring others.",
)


def plan_for(
    model: Model,
    case: Case,
    observed: Observed,
    found: Posterior,
    defects: tuple[str, ...],
    hours: float | None,
    *,
    danger: bool = False,
) -> Plan:
    """The plan for a case. `hours` bounds the summed effort of the steps; None leaves it open.

    Where there is danger no check of the plan has anybody taste.
    """
    ranked = sorted(found.responsible, key=lambda name: -found.responsible[name])
    treated = [model.causes[name] for name in ranked if found.responsible[name] >= WORTH_TREATING]
    pool = _Pool(model, observed, defects, treated)
    chosen = pool.ordered(pool.choose(hours))
    shares = pool.shares([chosen[:count] for count in range(len(chosen) + 1)])
    steps = tuple(
        pool.step(correction, after - before)
        for correction, before, after in zip(chosen, shares, shares[1:], strict=False)
    )
    urgent = [cause for cause in treated if found.responsible[cause.id] >= FOR_THIS_LOT]
    to_confirm = [
        cause for cause in treated if pool.works_on(cause, chosen) and not (danger and cause.check.by_tasting)
    ]
    return Plan(
        this_lot=_this_lot(pool, urgent),
        confirm_first=_confirm(case, found, to_confirm),
        steps=steps,
        gone_after_all=shares[-1],
        free_after_all=pool.all_gone(chosen),
        assumptions=ASSUMPTIONS,
    )


class _Pool:
    """The corrections that come into question."""

    def __init__(self, model: Model, observed: Observed, defects: tuple[str, ...], causes: Sequence[Cause]) -> None:
        self.model = model
        self.observed = observed
        self.defects = defects
        self.above = {defect: model.network.ancestors([defect]) for defect in defects}
        self.gone: dict[tuple[str, frozenset[tuple[str, float]]], float] = {}
        self.owner = {c.id: cause for cause in model.causes.values() for c in cause.corrections}
        self.candidates: list[Correction] = []
        wide = observed.structure.largest_table(lambda _: 3) > WIDEST
        most = FEW_CANDIDATES if wide else MOST_CANDIDATES
        for cause in causes:
            for one in cause.corrections:
                fits = one.when != "this-lot" and one.suits(model.product) and self._share(one) > 0.0
                if fits and len(self.candidates) < most:
                    self.candidates.append(one)

    def _share(self, correction: Correction) -> float:
        return self.model.knowledge.scales["removal"].value(correction.removes)

    def effort(self, correction: Correction) -> float:
        """Hours of one person."""
        return self.model.knowledge.scales["effort"].value(correction.effort)

    def targets(self, correction: Correction) -> tuple[str, ...]:
        """Ids of the causes that it works on."""
        also = (name for name in correction.also_removes if name in self.model.causes)
        return (self.owner[correction.id].id, *also)

    def works_on(self, cause: Cause, corrections: Sequence[Correction]) -> bool:
        """Whether any of the corrections works on the cause."""
        return any(cause.id in self.targets(one) for one in corrections)

    def _removal(self, corrections: Sequence[Correction]) -> Removal:
        left: dict[str, float] = {}
        for one in corrections:
            for cause in self.targets(one):
                left[cause] = left.get(cause, 1.0) * (1.0 - self._share(one))
        return {cause: 1.0 - share for cause, share in left.items()}

    def shares(self, sets: Sequence[Sequence[Correction]]) -> list[float]:
        """Expected share of the defects seen that would be gone after each set."""
        removals = [self._removal(corrections) for corrections in sets]
        by_defect = [self._gone(defect, removals) for defect in self.defects]
        return [sum(chances) / len(self.defects) for chances in zip(*by_defect, strict=True)]

    def _gone(self, defect: str, removals: Sequence[Removal]) -> list[float]:
        """Chance that one defect would be gone, for each removal; what does not bear on it is not worked out again."""
        above = self.above[defect]
        keys = [frozenset((name, share) for name, share in removal.items() if name in above) for removal in removals]
        new = list(dict.fromkeys(key for key in keys if (defect, key) not in self.gone))
        if new:
            chances = gone_chances(self.observed, [defect], [dict(key) for key in new])
            self.gone.update({(defect, key): chance for key, chance in zip(new, chances, strict=True)})
        return [self.gone[defect, key] for key in keys]

    def all_gone(self, corrections: Sequence[Correction]) -> float:
        """Chance that every defect seen would be gone."""
        return gone_chances(self.observed, self.defects, [self._removal(corrections)])[0]

    def choose(self, hours: float | None) -> list[Correction]:
        """The set: grown by the best addition, then bettered by single exchanges."""
        chosen: list[Correction] = []
        now = self.shares([chosen])[0]
        while len(chosen) < MOST_STEPS:
            best, value = self._best([[*chosen, one] for one in self._others(chosen)], hours)
            if best is None or value < now + LEAST_GAIN:
                break
            chosen, now = best, value
        swaps = [[*chosen[:at], one, *chosen[at + 1 :]] for at in range(len(chosen)) for one in self._others(chosen)]
        best, value = self._best(swaps, hours)
        return best if best is not None and value > now + LEAST_GAIN else chosen

    def _others(self, chosen: Sequence[Correction]) -> list[Correction]:
        return [one for one in self.candidates if one not in chosen]

    def _best(self, sets: list[list[Correction]], hours: float | None) -> tuple[list[Correction] | None, float]:
        allowed = [one for one in sets if hours is None or sum(map(self.effort, one)) <= hours]
        if not allowed:
            return None, 0.0
        values = self.shares(allowed)
        # Of sets that are as good, the one that costs least.
        at = min(range(len(allowed)), key=lambda i: (-round(values[i], 3), sum(map(self.effort, allowed[i]))))
        return allowed[at], values[at]

    def ordered(self, corrections: Sequence[Correction]) -> list[Correction]:
        """In the order in which they can be done, and within that most gain first, each counted by itself."""
        gains = self.shares([[], *([one] for one in corrections)])
        gain = {one.id: value - gains[0] for one, value in zip(corrections, gains[1:], strict=True)}
        return sorted(corrections, key=lambda one: (WHEN.index(one.when), -gain[one.id]))

    def step(self, correction: Correction, gain: float) -> PlanStep:
        """The correction as a report takes it."""
        return PlanStep(
            correction=correction.id,
            do=correction.do,
            when=correction.when,
            effort=correction.effort,
            verify=correction.verify,
            causes=tuple(self.model.causes[name].title for name in self.targets(correction)),
            gain=gain,
            basis=correction.basis,
            cautions=correction.caution,
            holds=correction.holds,
        )


def _this_lot(pool: _Pool, causes: Sequence[Cause]) -> tuple[PlanStep, ...]:
    """Instructions for the present lot. What holds it comes first; what reads alike under several causes stands once."""
    steps: dict[str, PlanStep] = {}
    for cause in causes:
        for one in cause.corrections:
            if one.when == "this-lot" and one.suits(pool.model.product):
                step = pool.step(one, 0.0)
                before = steps.setdefault(one.do, step)
                together = tuple(dict.fromkeys((*before.causes, *step.causes)))
                cautions = tuple(dict.fromkeys((*before.cautions, *step.cautions)))
                steps[one.do] = replace(before, causes=together, cautions=cautions)
    return tuple(sorted(steps.values(), key=lambda step: not step.holds))


def _confirm(case: Case, found: Posterior, causes: Sequence[Cause]) -> tuple[NextQuestion, ...]:
    """The checks of the causes that the steps work on, where the answer is still open; quickest first."""
    open_checks = [
        question_on(cause, bits=0.0, yes=found.present[cause.id], speaks_for=cause.title, speaks_against=None)
        for cause in causes
        if cause.id not in case.answers and cause.check.needs in case.have
    ]
    return tuple(sorted(open_checks, key=lambda one: one.minutes))
