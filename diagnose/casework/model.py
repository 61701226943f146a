"""From knowledge to numbers: the network of one product, and what an answer says.

Authors write words; here the scales turn them into chances. A cause that names other products cannot be at work in this
one and is not in its network. Backgrounds are left as they are: they speak of what no listed cause of the product did.
"""

from __future__ import annotations

from collections.abc import Mapping

from diagnose.corpus.priors import prior
from diagnose.corpus.records import Cause, Knowledge, Link, Mechanism, Sign
from diagnose.corpus.ways import Ways
from diagnose.inference.network import Likelihood, Network, Node

from .events import Answer


class Model:
    """The network of a product. `network` holds causes as roots, mechanisms and signs as noisy-OR nodes."""

    def __init__(self, knowledge: Knowledge, product: str) -> None:
        self.knowledge = knowledge
        self.product = product
        self.causes: dict[str, Cause] = {c.id: c for c in knowledge.causes.values() if _belongs(c, product)}
        self.signs: dict[str, Sign] = {s.id: s for s in knowledge.signs.values() if _belongs(s, product)}
        started = Ways(knowledge).below(self.causes)
        self.mechanisms: dict[str, Mechanism] = {m.id: m for m in knowledge.mechanisms.values() if m.id in started}
        """Those that some cause of the product can start, directly or through others."""
        self.network = Network(self._nodes())

    def _nodes(self) -> list[Node]:
        background = self.knowledge.scales["background"]
        parents: dict[str, list[tuple[str, float]]] = {name: [] for name in [*self.mechanisms, *self.signs]}
        starts: list[Cause | Mechanism] = [*self.causes.values(), *self.mechanisms.values()]
        for start in starts:
            for link in start.leads_to:
                if link.to in parents:
                    parents[link.to].append((start.id, self.strength(link)))
        nodes = [Node(cause.id, "root", self.frequency(cause)) for cause in self.causes.values()]
        for one in self.mechanisms.values():
            needed = self._needed(one)
            # Where one of the conditions that must meet cannot be there in this product, the others never suffice.
            links = parents[one.id] if needed <= len(parents[one.id]) else []
            nodes.append(Node(one.id, one.combine, background.value(one.background), tuple(links)))
        nodes += [
            Node(one.id, "any", background.value(one.background), tuple(parents[one.id])) for one in self.signs.values()
        ]
        return nodes

    def _needed(self, mechanism: Mechanism) -> int:
        """How many parents must be there before it can start."""
        if mechanism.combine == "any":
            return 0
        known: list[Cause | Mechanism] = [*self.knowledge.causes.values(), *self.knowledge.mechanisms.values()]
        return sum(link.to == mechanism.id for one in known for link in one.leads_to)

    def frequency(self, cause: Cause) -> float:
        """Prior chance of a cause."""
        return prior(cause, self.knowledge.scales)

    def strength(self, link: Link) -> float:
        """Chance that what a link leaves turns on by itself what it leads to."""
        return self.knowledge.scales["strength"].value(link.strength)

    def right(self, answer: Answer, reliability: str | None = None) -> float:
        """Chance that the answer is right: 1 if it is sure, else the reliability, one step less from memory.

        `reliability` is a word of its scale; left out, it is that of the check.
        """
        if answer.sure == "sure":
            return 1.0
        known = self.causes.get(answer.about) or self.signs[answer.about]
        scale = self.knowledge.scales["reliability"]
        word = reliability or known.check.reliability
        less = scale.beside(word, -1) if answer.sure == "from-memory" else None
        return scale.value(word) if less is None else less.value

    def likelihood(self, answer: Answer, reliability: str | None = None) -> Likelihood | None:
        """What the answer says of its node; None if it says nothing (can't tell). `reliability` as in `right`."""
        if answer.verdict == "cant-tell":
            return None
        right = self.right(answer, reliability)
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


_models: dict[tuple[str, str], Model] = {}


def model_of(knowledge: Knowledge, product: str) -> Model:
    """The model of a product, kept for the next call with the same version of the knowledge."""
    key = (knowledge.version, product)
    if key not in _models:
        _models.clear()
        _models[key] = Model(knowledge, product)
    return _models[key]
