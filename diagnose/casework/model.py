"""From knowledge to numbers: the network of one product, and what an answer says.

Authors write words; here the scales turn them into chances. A cause that does not belong to the product is left out, and
the background of what it leads to rises by what it would have done, so that leaving it out never makes the rest look
more certain than it is.
"""

from __future__ import annotations

from collections.abc import Mapping

from diagnose.corpus.records import Cause, Knowledge, Link, Mechanism, Sign
from diagnose.inference.network import Likelihood, Network, Node

from .events import Answer


class Model:
    """The network of a product. `network` holds causes as roots, mechanisms and signs as noisy-OR nodes."""

    def __init__(self, knowledge: Knowledge, product: str) -> None:
        self.knowledge = knowledge
        self.product = product
        self.causes: dict[str, Cause] = {c.id: c for c in knowledge.causes.values() if _belongs(c, product)}
        self.signs: dict[str, Sign] = {s.id: s for s in knowledge.signs.values() if _belongs(s, product)}
        self.mechanisms: dict[str, Mechanism] = {m.id: m for m in knowledge.mechanisms.values() if m.retired is None}
        self.network = Network(self._nodes())

    def _nodes(self) -> list[Node]:
        background = self.knowledge.scales["background"]
        kept: dict[str, list[tuple[str, float]]] = {name: [] for name in [*self.mechanisms, *self.signs]}
        left_out: dict[str, list[float]] = {name: [] for name in kept}
        for cause in self.knowledge.causes.values():
            if cause.retired is not None:
                continue
            here = cause.id in self.causes
            for link in cause.leads_to:
                if link.to in kept and here:
                    kept[link.to].append((cause.id, self.strength(link)))
                elif link.to in kept:
                    left_out[link.to].append(self.frequency(cause) * self.strength(link))
        for mechanism in self.mechanisms.values():
            for link in mechanism.leads_to:
                if link.to in kept:
                    kept[link.to].append((mechanism.id, self.strength(link)))
        nodes = [Node(cause.id, "root", self.frequency(cause)) for cause in self.causes.values()]
        nodes += [
            _node(one.id, one.combine, background.value(one.background), kept[one.id], left_out[one.id])
            for one in self.mechanisms.values()
        ]
        nodes += [
            _node(one.id, "any", background.value(one.background), kept[one.id], left_out[one.id])
            for one in self.signs.values()
        ]
        return nodes

    def frequency(self, cause: Cause) -> float:
        """Prior chance of a cause."""
        return self.knowledge.scales["frequency"].value(cause.frequency)

    def strength(self, link: Link) -> float:
        """Chance that what a link leaves turns on by itself what it leads to."""
        return self.knowledge.scales["strength"].value(link.strength)

    def right(self, answer: Answer) -> float:
        """Chance that the answer is right: 1 if it is sure, else the check's reliability, one step less from memory."""
        if answer.sure == "sure":
            return 1.0
        known = self.causes.get(answer.about) or self.signs[answer.about]
        steps = self.knowledge.scales["reliability"].steps
        at = next(at for at, step in enumerate(steps) if step.word == known.check.reliability)
        return steps[max(0, at - 1) if answer.sure == "from-memory" else at].value

    def likelihood(self, answer: Answer) -> Likelihood | None:
        """What the answer says of its node; None if it says nothing (can't tell)."""
        if answer.verdict == "cant-tell":
            return None
        right = self.right(answer)
        if answer.verdict == "no":
            return Likelihood(right, 1.0 - right)
        # What is called slight may be ordinary variation.
        if_absent = self.knowledge.scales["amount"].value("slight") if answer.how_much == "slight" else 0.0
        return Likelihood(right * if_absent + 1.0 - right, right + (1.0 - right) * if_absent)

    def evidence(self, answers: Mapping[str, Answer]) -> dict[str, Likelihood]:
        """The answers that bear on this product's network, in their order."""
        found: dict[str, Likelihood] = {}
        for answer in answers.values():
            if answer.about in self.causes or answer.about in self.signs:
                likelihood = self.likelihood(answer)
                if likelihood is not None:
                    found[answer.about] = likelihood
        return found

    def defects_seen(self, answers: Mapping[str, Answer]) -> tuple[str, ...]:
        """The defects answered yes; where there is none, every sign answered yes."""
        yes = [a.about for a in answers.values() if a.verdict == "yes" and a.about in self.signs]
        return tuple(name for name in yes if self.signs[name].kind == "defect") or tuple(yes)


def _belongs(one: Cause | Sign, product: str) -> bool:
    return one.retired is None and (not one.products or product in one.products)


def _node(name: str, combine: str, background: float, kept: list[tuple[str, float]], left_out: list[float]) -> Node:
    if combine == "all":
        # A needed parent that is left out is there as often as it is in general.
        for chance in left_out:
            if kept:
                parent, strength = kept[0]
                kept[0] = (parent, strength * chance)
        return Node(name, "all", background, tuple(kept))
    quiet = 1.0 - background
    for chance in left_out:
        quiet *= 1.0 - chance
    return Node(name, "any", 1.0 - quiet, tuple(kept))


_models: dict[tuple[str, str], Model] = {}


def model_of(knowledge: Knowledge, product: str) -> Model:
    """The model of a product, kept for the next call with the same version of the knowledge."""
    key = (knowledge.version, product)
    if key not in _models:
        _models.clear()
        _models[key] = Model(knowledge, product)
    return _models[key]
