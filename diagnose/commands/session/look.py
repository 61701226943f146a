"""The first questions: what the person can look at, and what product it is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagnose.corpus.records import ALL_NEEDS, Needs

from .desk import choose, listen
from .sitting import Sitting
from .words import number_in

if TYPE_CHECKING:
    from diagnose.corpus.records import Knowledge

REACHES: tuple[tuple[str, tuple[Needs, ...]], ...] = (
    ("Only the ham in front of me", ("product",)),
    ("The ham, and the plant's people and records", ("product", "process")),
    ("The ham, the plant, and the raw-material or slaughter records", ("product", "process", "raw-material")),
    ("Everything, with laboratory results", ALL_NEEDS),
)
_AS_IT_IS = 0
_OWN_CHOICE = "Something else: let me pick"
_PARTS: tuple[tuple[str, Needs], ...] = (
    ("The product", "product"),
    ("The plant's people, process records and charts", "process"),
    ("Raw-material, slaughter and receiving records", "raw-material"),
    ("Laboratory results", "lab"),
)


def what_can_you_look_at(sitting: Sitting, *, again: bool = False) -> tuple[Needs, ...] | None:
    """What the person has; None if they want to go back or, asked `again`, to leave it as it is."""
    titles = [title for title, _ in REACHES]
    prompt = f"1 to {len(titles) + 1}, Enter = {'leave it' if again else '1 (? for help)'}"
    number = choose(
        sitting, "What can you look at?", [*titles, _OWN_CHOICE], prompt=prompt, enter=_AS_IT_IS if again else 1
    )
    return None if number is None or number == _AS_IT_IS else _choice(sitting, number)


def _choice(sitting: Sitting, number: int) -> tuple[Needs, ...] | None:
    return REACHES[number - 1][1] if number <= len(REACHES) else _picked(sitting)


def _picked(sitting: Sitting) -> tuple[Needs, ...] | None:
    talk = sitting.talk
    talk.heading("Which of these?")
    talk.choices([title for title, _ in _PARTS])
    while True:
        heard = listen(sitting, "Numbers, such as 1 3", local={"back"}, reminder="Which of these can you look at?")
        if heard.command == "back":
            return None
        numbers = {int(part) for part in heard.line.replace(",", " ").split() if part in {"1", "2", "3", "4"}}
        if numbers:
            return tuple(have for number, (_, have) in enumerate(_PARTS, 1) if number in numbers)
        talk.say("Please type one or more of the numbers 1 to 4.")


def reach_in_words(have: tuple[Needs, ...]) -> str:
    """What the person can look at, as a line of text."""
    return ", ".join(title[0].lower() + title[1:] for title, part in _PARTS if part in have)


def which_product(sitting: Sitting, knowledge: Knowledge) -> str | None:
    """The id of the product; None if the person wants to go back. Not asked where there is only one."""
    products = list(knowledge.products.values())
    if len(products) == 1:
        sitting.talk.say(f"Product: {products[0].title}. {products[0].what}")
        return products[0].id
    number = choose(
        sitting,
        "What is the product?",
        [product.title for product in products],
        prompt=f"1 to {len(products)}, Enter = 1",
        notes=[product.what for product in products],
    )
    return None if number is None else products[number - 1].id


def open_case(sitting: Sitting) -> None:
    """Ask both, in order and with a way back, and begin the case."""
    while True:
        have = what_can_you_look_at(sitting)
        if have is None:
            sitting.talk.say("This is the first question.")
            continue
        product = which_product(sitting, sitting.knowledge)
        if product is not None:
            sitting.begin(product, have)
            return


def change_reach(sitting: Sitting, which: str) -> bool:
    """The command `reach`: say anew what can be looked at, from the choices or, as in `reach 2`, by number at once."""
    number = number_in(which, len(REACHES) + 1)
    if number is None:
        sitting.talk.say(f"Now: {reach_in_words(sitting.case.have)}.")
        have = what_can_you_look_at(sitting, again=True)
    else:
        have = _choice(sitting, number)
    if have is None:
        return False
    changed = have != sitting.case.have
    if changed:
        sitting.begin(sitting.case.product, have)
    sitting.talk.say(f"You can look at: {reach_in_words(have)}.")
    return changed
