"""Scorecards: how a class is judged, as typed records.

A scorecard is data. It says what is looked at, in which order, for how many points, what each level means in words, what a
fault usually costs, and what puts an entry out of the class. A show that judges otherwise writes its own.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from diagnose.corpus.records import Basis, said


@dataclass(frozen=True, slots=True)
class Anchor:
    """What a number of points means in words."""

    points: int = said("Points of this level.", lowest=0)
    says: str = said("What a piece of this level is like.", longest=400)


@dataclass(frozen=True, slots=True)
class Fault:
    """Something that costs points in a criterion: a sign of the knowledge, or a fault of this scorecard's own."""

    marked: int = said("Points that it usually costs where there is much of it, or where it is simply there.", lowest=0)
    sign: str | None = said("Id of the sign of the knowledge.", refers="sign", default=None)
    own: str | None = said(
        "Id of a fault that the knowledge has no sign for; it is marked down, no cause is named.", default=None
    )
    title: str | None = said("What is seen, in plain words; needed for a fault of its own.", longest=90, default=None)
    say: tuple[str, ...] = said(
        "How a comment names it in the middle of a sentence; several wordings, used by turns.", longest=140, default=()
    )
    slight: int | None = said(
        "Points that a slight one usually costs; left out where slight and marked are not told apart.",
        lowest=0,
        default=None,
    )
    aside: str | None = said("What a fair judge adds when it is slight, as a sentence.", longest=200, default=None)
    try_this: str | None = said(
        "For a fault of its own: what the maker might try, as a sentence.", key="try", longest=240, default=None
    )

    @property
    def id(self) -> str:
        """The id by which a sheet names it."""
        return self.sign or self.own or ""


@dataclass(frozen=True, slots=True)
class Criterion:
    """One thing that is judged."""

    id: str = said("Id, kebab-case.")
    title: str = said("Name of the criterion.", longest=60)
    points: int = said("Most points.", lowest=1)
    what: str = said("What is looked at, and what the class wants.")
    anchors: tuple[Anchor, ...] = said("The levels in words, the highest first, down to 0.", at_least=3)
    good: tuple[str, ...] = said(
        "How a comment praises a piece of the highest level, as words that follow 'The judges liked'; several, used by turns.",
        longest=140,
        at_least=2,
    )
    faults: tuple[Fault, ...] = said("What costs points here.", default=())
    tasted: bool = said("true where something must be put into the mouth; skipped for a suspect piece.", default=False)


@dataclass(frozen=True, slots=True)
class Look:
    """One step of the order of evaluation."""

    title: str = said("Name of the step.", longest=60)
    do: str = said("What the judge does.")
    criteria: tuple[str, ...] = said("Ids of the criteria scored at this step, in order.", at_least=1)


@dataclass(frozen=True, slots=True)
class Disqualification:
    """What puts an entry out of the class."""

    id: str = said("Id, kebab-case.")
    title: str = said("The reason in a few words.", longest=90)
    kind: Literal["unsafe", "wrong-product", "rules"] = said(
        "unsafe: must not be tasted. wrong-product: belongs to another class. rules: a rule of the show is broken."
    )
    do: str = said("What the judge and the steward do.")
    signs: tuple[str, ...] = said("Signs that call for it as soon as one is marked.", refers="sign", default=())
    own: tuple[str, ...] = said("Faults of this scorecard's own that call for it.", default=())


@dataclass(frozen=True, slots=True)
class Scorecard:
    """How one class is judged."""

    scorecard: str = said("Id, the same as the file's name.")
    title: str = said("Name of the class.", longest=80)
    what: str = said("What belongs to the class, and what the scorecard rests on.")
    total: int = said("Most points of all criteria together.", lowest=1)
    basis: tuple[Basis, ...] = said("A list of sources, or the words common-practice.")
    order: tuple[Look, ...] = said("The order of evaluation; whatever is tasted comes last.", at_least=1)
    criteria: tuple[Criterion, ...] = said("The criteria.", at_least=1)
    ties: tuple[str, ...] = said("Ids of the criteria that break a tie, the first of them first.", at_least=1)
    disqualify: tuple[Disqualification, ...] = said("What puts an entry out of the class.", at_least=1)
    places: tuple[str, ...] = said(
        "Words for places on the piece, offered when a fault is marked.", longest=60, default=()
    )
    piece: str = said("What a comment calls one entry: ham, bacon, sausage.", longest=30, default="entry")
    product: str | None = said(
        "Id of the product in the knowledge; left out while the knowledge has none, and then no cause is named.",
        refers="product",
        default=None,
    )

    def criterion(self, wanted: str) -> Criterion:
        """The criterion of an id; KeyError if there is none."""
        for one in self.criteria:
            if one.id == wanted:
                return one
        raise KeyError(wanted)

    def fault(self, wanted: str) -> Fault | None:
        """The first fault of an id, whichever criterion it stands in."""
        return next((fault for one in self.criteria for fault in one.faults if fault.id == wanted), None)

    def in_order(self) -> tuple[Criterion, ...]:
        """The criteria in the order of evaluation."""
        return tuple(self.criterion(name) for look in self.order for name in look.criteria)
