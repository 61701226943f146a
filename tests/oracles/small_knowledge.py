"""Small made-up knowledge, built from records, for tests of what casework makes of it."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from diagnose.corpus.load import load
from diagnose.corpus.records import (
    Cause,
    Caution,
    Check,
    Correction,
    Knowledge,
    Link,
    Mechanism,
    Product,
    Scale,
    Sign,
    Stage,
)


def scales() -> Mapping[str, Scale]:
    """The scales of the small knowledge of the tests, so that a shipped word may move without moving these."""
    return load(Path(__file__).parent.parent / "small").scales


def check(needs: str = "product", minutes: int = 2, reliability: str = "good") -> Check:
    return Check("Is it there?", "Look.", needs, minutes, reliability)  # type: ignore[arg-type]


def links(**to: str) -> tuple[Link, ...]:
    """Links by target (an underscore stands for a hyphen) and strength."""
    return tuple(Link(name.replace("_", "-"), strength, ()) for name, strength in to.items())


def correction(name: str, removes: str = "nearly-all", effort: str = "hours", **more: Any) -> Correction:
    return Correction(name, f"Do {name}.", more.pop("when", "next-batch"), effort, removes, "Look again.", (), **more)


def cause(name: str, frequency: str, leads_to: tuple[Link, ...], **more: Any) -> Cause:
    fixes = more.pop("corrections", (correction(f"fix-{name}"),))
    looked_for = more.pop("check", check("process"))
    title = name.capitalize()
    return Cause(name, title, "What it is.", frequency, "plainly", leads_to, looked_for, fixes, stage="stage", **more)


def mechanism(name: str, leads_to: tuple[Link, ...], background: str = "very-low", combine: str = "any") -> Mechanism:
    return Mechanism(name, name.capitalize(), "What happens.", background, leads_to, combine)  # type: ignore[arg-type]


def sign(name: str, background: str = "low", kind: str = "defect", **more: Any) -> Sign:
    looked_for = more.pop("check", check())
    return Sign(name, name.capitalize(), kind, "What is seen.", background, looked_for, ("family",), **more)  # type: ignore[arg-type]


def knowledge(
    *,
    causes: tuple[Cause, ...],
    signs: tuple[Sign, ...],
    mechanisms: tuple[Mechanism, ...] = (),
    cautions: tuple[Caution, ...] = (),
    version: str = "made-up",
) -> Knowledge:
    """Knowledge of two products, `ham` and `loin`."""
    fixes = {one.id: one for each in causes for one in each.corrections}
    return Knowledge(
        version=version,
        stages=(Stage("stage", "Stage", "What is done.", causes),),
        causes={one.id: one for one in causes},
        mechanisms={one.id: one for one in mechanisms},
        signs={one.id: one for one in signs},
        corrections=fixes,
        products={name: Product(name, name.capitalize(), "What counts.") for name in ("ham", "loin")},
        families={},
        scales=scales(),
        cautions={one.id: one for one in cautions},
        sources={},
    )
