"""What leads to what: everything above and below some entries, and the links on the way from some to others."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from diagnose.corpus.records import Cause, Knowledge, Link, Mechanism


class Ways:
    """The links of a knowledge. `links` are those that start at each cause and mechanism, by its id."""

    def __init__(self, knowledge: Knowledge) -> None:
        starts: list[Cause | Mechanism] = [*knowledge.causes.values(), *knowledge.mechanisms.values()]
        self.links: Mapping[str, tuple[Link, ...]] = {one.id: one.leads_to for one in starts}
        self._down = {name: [link.to for link in links] for name, links in self.links.items()}
        self._up: dict[str, list[str]] = {}
        for name, ends in self._down.items():
            for end in ends:
                self._up.setdefault(end, []).append(name)

    def below(self, ids: Iterable[str]) -> set[str]:
        """The entries themselves and everything that they lead to."""
        return reached(ids, self._down)

    def above(self, ids: Iterable[str]) -> set[str]:
        """The entries themselves and everything that leads to them."""
        return reached(ids, self._up)

    def between(self, starts: Iterable[str], ends: Iterable[str]) -> list[Link]:
        """The links on some chain from one of `starts` to one of `ends`."""
        below, above = self.below(starts), self.above(ends)
        return [link for name, links in self.links.items() if name in below for link in links if link.to in above]


def reached(ids: Iterable[str], steps: Mapping[str, list[str]]) -> set[str]:
    """The ids themselves and all to which one or more steps lead from them; circles do no harm."""
    found: set[str] = set()
    waiting = list(ids)
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            waiting.extend(steps.get(name, ()))
    return found
