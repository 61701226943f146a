"""Does the first place hang on a single word of the knowledge?

Every word that the answers touch (a frequency, a strength, a background, the reliability of an unsure answer) is moved one
step down and one step up its scale, one at a time, and the causes that come near the first are ranked again.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from diagnose.corpus.records import Cause, Link, Mechanism, Scale, Sign
from diagnose.inference.evidence import Observed
from diagnose.inference.sensitivity import Variation, responsible_if

from .case import Case
from .diagnosis import Hinge, Ranked, Robustness
from .model import Model

NEAR = 0.25
"""Causes at least this share as likely as the first could come to stand before it."""

MOST_CONTENDERS = 4

WIDEST = 2**22
"""Numbers in one row's largest table above which moving every word would take minutes."""

MOST_HINGES = 5


@dataclass(frozen=True, slots=True)
class _Move:
    where: str
    word: str
    instead: str
    variation: Variation


def robustness_of(
    model: Model, case: Case, observed: Observed, defects: tuple[str, ...], ranking: Sequence[Ranked]
) -> Robustness | None:
    """Whether the first place holds under every move of one word by one step, and if not, under which it falls.

    None if so many unsure answers hang together that it would take minutes to find out.
    """
    if observed.structure.largest_table(lambda _: 3) > WIDEST:
        return None
    if not ranking or ranking[0].responsible <= 0.0:
        return Robustness(True, 0, ())
    near = [one for one in ranking[:MOST_CONTENDERS] if one.responsible >= NEAR * ranking[0].responsible]
    moves = list(_moves(model, case, observed))
    if len(near) < 2 or not moves:
        return Robustness(True, len(moves), ())
    after = responsible_if(observed, defects, [one.id for one in near], [move.variation for move in moves])
    fallen = [(row, at) for at, row in enumerate(after) if row.argmax() != 0]
    fallen.sort(key=lambda pair: float(pair[0][0] - pair[0].max()))
    hinges = tuple(
        Hinge(moves[at].where, moves[at].word, moves[at].instead, near[int(row.argmax())].title)
        for row, at in fallen[:MOST_HINGES]
    )
    return Robustness(not fallen, len(moves), hinges)


def _moves(model: Model, case: Case, observed: Observed) -> Iterator[_Move]:
    scales = model.knowledge.scales
    touched = set(observed.structure.number) | set(observed.evidence)
    # Only what hangs together with the answers through a yes can change the order; a scale word of another corner cannot.
    for name, cause in model.causes.items():
        if name in touched:
            for word, value in _steps(scales["frequency"], cause.frequency):
                yield _Move(f"how often: {cause.title}", cause.frequency, word, Variation(name, chance=value))
    parents: list[Cause | Mechanism] = [*model.causes.values(), *model.mechanisms.values()]
    for parent in parents:
        for link in parent.leads_to:
            if parent.id in touched and link.to in touched and link.to in model.network.nodes:
                yield from _link_moves(model, scales["strength"], parent.id, parent.title, link)
    followers: list[Mechanism | Sign] = [*model.mechanisms.values(), *model.signs.values()]
    for one in followers:
        if one.id in touched:
            for word, value in _steps(scales["background"], one.background):
                yield _Move(f"background of: {one.title}", one.background, word, Variation(one.id, chance=value))
    for name in observed.evidence:
        yield from _answer_moves(model, case, name, scales["reliability"])


def _link_moves(model: Model, scale: Scale, parent: str, title: str, link: Link) -> Iterator[_Move]:
    signs, mechanisms = model.signs, model.mechanisms
    to = signs[link.to].title if link.to in signs else mechanisms[link.to].title
    for word, value in _steps(scale, link.strength):
        variation = Variation(link.to, parent=parent, strength=value)
        yield _Move(f"how often {title} gives: {to}", link.strength, word, variation)


def _answer_moves(model: Model, case: Case, name: str, scale: Scale) -> Iterator[_Move]:
    answer = case.answers.get(name)
    if answer is None or answer.sure == "sure":  # without an answer, a value of a batch record; its word is not moved
        return
    known = model.causes.get(name) or model.signs[name]
    for word, _ in _steps(scale, known.check.reliability):
        variation = Variation(name, answer=model.likelihood(answer, word))
        yield _Move(f"reliability of the answer on: {known.title}", known.check.reliability, word, variation)


def _steps(scale: Scale, word: str) -> list[tuple[str, float]]:
    """The words one step below and above, with their numbers."""
    return [(step.word, step.value) for step in (scale.beside(word, -1), scale.beside(word, 1)) if step is not None]
