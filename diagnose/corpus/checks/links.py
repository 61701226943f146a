"""Checks of the links between causes, mechanisms and signs that are written."""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.corpus.checks import walk
from diagnose.corpus.draft import Draft, Entry
from diagnose.errors import Problem


def same_target_twice(draft: Draft) -> Iterator[Problem]:
    """One parent has one link to one child."""
    for entry in draft.live("cause", "mechanism"):
        seen: dict[str, int] = {}
        for number, link in enumerate(entry.record.leads_to):
            if link.to and link.to in seen:
                first = entry.place("leads-to", seen[link.to], "to")
                place = entry.place("leads-to", number, "to")
                yield place.problem(f'a link to "{link.to}" is already on line {first.line}')
            seen.setdefault(link.to, number)


def circles(draft: Draft) -> Iterator[Problem]:
    """Mechanisms must not lead back to themselves."""
    mechanisms = {entry.id: entry for entry in draft.live("mechanism")}
    done: set[str] = set()
    for start in mechanisms:
        if start not in done:
            yield from _circles_from(start, [], done, mechanisms)


def _circles_from(at: str, trail: list[str], done: set[str], mechanisms: dict[str, Entry]) -> Iterator[Problem]:
    trail.append(at)
    for number, link in enumerate(mechanisms[at].record.leads_to):
        if link.to in trail:
            way = " -> ".join([*trail[trail.index(link.to) :], link.to])
            place = mechanisms[at].place("leads-to", number, "to")
            yield place.problem(f"this link closes a circle: {way}")
        elif link.to in mechanisms and link.to not in done:
            yield from _circles_from(link.to, trail, done, mechanisms)
    trail.pop()
    done.add(at)


def backgrounds(draft: Draft) -> Iterator[Problem]:
    """What shows as often by chance as by its strongest link cannot speak for anything."""
    scales = {entry.id: {step.word: step.value for step in entry.record.steps} for entry in draft.live("scale")}
    strengths, chances = scales.get("strength", {}), scales.get("background", {})
    parents = walk.parents(draft)
    for entry in draft.live("mechanism", "sign"):
        into = [strengths[link.strength] for _, link, _ in parents.get(entry.id, ()) if link.strength in strengths]
        chance = chances.get(entry.record.background)
        if into and chance is not None and chance >= max(into):
            message = (
                f"the background {chance:g} is not lower than the strongest link into it ({max(into):g}), "
                "so it could not speak for any cause"
            )
            yield entry.place("background").problem(message)
