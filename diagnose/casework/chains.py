"""The strongest chain of links from a cause to each defect seen."""

from __future__ import annotations

from collections.abc import Iterable

from diagnose.corpus.records import Link

from .diagnosis import ChainLink
from .model import Model


def chains_to(model: Model, cause: str, defects: Iterable[str]) -> tuple[tuple[ChainLink, ...], ...]:
    """For each defect that the cause reaches, the chain whose strengths multiply to the most."""
    best = _best_chains(model, cause)
    return tuple(best[defect][1] for defect in defects if defect in best)


def _best_chains(model: Model, cause: str) -> dict[str, tuple[float, tuple[ChainLink, ...]]]:
    best: dict[str, tuple[float, tuple[ChainLink, ...]]] = {cause: (1.0, ())}
    # Parents come before children in the network's order, so every chain is complete when its end is reached.
    for name in model.network.nodes:
        if name in best and (name == cause or name in model.mechanisms):
            product, chain = best[name]
            for link in _links(model, name):
                reached = product * model.strength(link)
                if link.to in model.network.nodes and reached > best.get(link.to, (0.0, ()))[0]:
                    best[link.to] = (reached, (*chain, _step(model, name, link)))
    return best


def _links(model: Model, name: str) -> tuple[Link, ...]:
    return (model.causes[name] if name in model.causes else model.mechanisms[name]).leads_to


def _title(model: Model, name: str) -> str:
    if name in model.causes:
        return model.causes[name].title
    return model.mechanisms[name].title if name in model.mechanisms else model.signs[name].title


def _step(model: Model, name: str, link: Link) -> ChainLink:
    return ChainLink(
        name, _title(model, name), link.to, _title(model, link.to), link.strength, link.basis, link.disputed
    )
