"""The outcome of a case, as plain data that every report can be made from."""

from __future__ import annotations

from dataclasses import dataclass

from diagnose.corpus.records import Basis

from .batch_outcome import Result
from .events import Answer
from .measuring import Measured


@dataclass(frozen=True, slots=True)
class Seen:
    """One answer, with the title of what it is about. `kind` is defect, detail or cause."""

    answer: Answer
    title: str
    kind: str
    where: str
    """The region of a sign (exterior, cut-face, ...) or the stage of a cause."""


@dataclass(frozen=True, slots=True)
class Warned:
    """A caution that applies, and the titles of what called for it."""

    id: str
    title: str
    weight: str
    say: str
    because: tuple[str, ...]
    basis: tuple[Basis, ...]


@dataclass(frozen=True, slots=True)
class Suspicion:
    """A dangerous cause that nobody has found, but that is likely enough to be ruled out before anything else."""

    caution: str
    """Id of the caution that would apply."""
    title: str
    """The caution in a few words."""
    cause: str
    chance: float
    """Chance that the cause is responsible."""
    ask: str
    how: str


@dataclass(frozen=True, slots=True)
class Reason:
    """What one answer did to the odds of one cause, in decibans: +10 multiplied the odds by ten."""

    about: str
    title: str
    verdict: str
    decibans: float
    computed: Measured | None = None
    """The value computed from the batch record, where it bears on the same; it counts only if nobody answered."""


@dataclass(frozen=True, slots=True)
class SeenByNumbers:
    """A computed value that bears on a sign or cause of the product, and the person's own answer on it, if any."""

    measured: Measured
    title: str
    where: str
    own: str | None
    """The verdict of the person's own answer, which then counts in the value's place; None where there is none."""


@dataclass(frozen=True, slots=True)
class ChainLink:
    """One link on the way from a cause to what was seen."""

    from_id: str
    from_title: str
    to_id: str
    to_title: str
    strength: str
    basis: tuple[Basis, ...]
    disputed: str | None


@dataclass(frozen=True, slots=True)
class Ranked:
    """A cause with its probabilities. `present`: it is there. `responsible`: it did some of what was seen."""

    id: str
    title: str
    what: str
    stage: str
    stage_title: str
    present: float
    responsible: float
    maker_could_know: str
    reasons: tuple[Reason, ...]
    """Strongest first, for and against together; empty where they were not asked for."""
    chains: tuple[tuple[ChainLink, ...], ...]
    """For each defect seen that it reaches, the strongest chain of links to it."""


@dataclass(frozen=True, slots=True)
class Fit:
    """Do the answers go together, and with what is known?

    `conflict` is Jensen's measure in natural-log units (above 0: the answers contradict each other or the case is rare);
    `explained_by` is the id of a cause that would account for it. `at_odds` are the ids of the answers that fit worst.
    """

    fits: bool
    conflict: float
    unlisted: float
    explained_by: str | None
    at_odds: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NextQuestion:
    """A question that is still open, and what it is worth. `about` is the id of a sign or a cause."""

    about: str
    kind: str
    title: str
    ask: str
    how: str
    what: str
    needs: str
    minutes: int
    reliability: str
    graded: bool
    bits: float
    yes: float
    """Chance that the answer is yes."""
    speaks_for: str | None
    """Title of the cause that a yes raises most."""
    speaks_against: str | None
    """Title of the cause that a yes lowers most (or, where none falls, the strongest one that it leaves where it is)."""


@dataclass(frozen=True, slots=True)
class PlanStep:
    """One correction of the plan. `gain` is what it adds to the expected share of the defects seen that would be gone."""

    correction: str
    do: str
    when: str
    effort: str
    verify: str
    causes: tuple[str, ...]
    """Titles of the causes that it works on."""
    gain: float
    basis: tuple[Basis, ...]
    cautions: tuple[str, ...] = ()
    """Ids of the cautions to show with it."""
    holds: bool = False
    """Whether it keeps the lot back."""


@dataclass(frozen=True, slots=True)
class Plan:
    """What to do, and what it should bring if this batch were made again with the steps and all else the same:
    `gone_after_all` is the expected share of the defects seen that would be gone, `free_after_all` the chance of none."""

    this_lot: tuple[PlanStep, ...]
    confirm_first: tuple[NextQuestion, ...]
    """Cheap checks that would confirm the causes the steps work on, before any work is spent."""
    steps: tuple[PlanStep, ...]
    gone_after_all: float
    free_after_all: float
    assumptions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Hinge:
    """A word of the knowledge on which the first place hangs: moved from `word` to `instead`, `first` comes first."""

    where: str
    word: str
    instead: str
    first: str


@dataclass(frozen=True, slots=True)
class Robustness:
    """Whether the first place holds when each word that matters moves one step on its scale."""

    holds: bool
    words_moved: int
    hinges: tuple[Hinge, ...]


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """Everything a report shows. The last three are None, and reasons and chains empty, in a quick step of a session."""

    product: str
    product_title: str
    title: str
    have: tuple[str, ...]
    seen: tuple[Seen, ...]
    notes: tuple[str, ...]
    numbers: tuple[tuple[str, str], ...]
    cautions: tuple[Warned, ...]
    ranking: tuple[Ranked, ...]
    unlisted: float
    fit: Fit
    next: tuple[NextQuestion, ...]
    worth_asking: bool
    """Whether the best open question is still worth its time."""
    plan: Plan | None
    robustness: Robustness | None
    knowledge: str
    """Version of the knowledge."""
    measured: tuple[SeenByNumbers, ...] = ()
    """What the batch record says, in the order of the measures."""
    off: tuple[Result, ...] = ()
    """Computed results that are not within their published figure."""
    rule_out: tuple[Suspicion, ...] = ()
    """Dangerous causes that nobody has found but that are possible, the likeliest first."""
    elsewhere: tuple[NextQuestion, ...] = ()
    """Questions that would tell much but need what this person does not have; empty in a quick step."""
