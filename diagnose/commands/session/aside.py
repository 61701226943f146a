"""The commands that are good at any moment: a note, something to add, the answers so far."""

from __future__ import annotations

from collections.abc import Callable

from diagnose.casework.case import state_of
from diagnose.casework.events import Note, Number, Retract
from diagnose.text import clean

from .answer import Asked, put_entry, put_question, take_answer
from .desk import listen
from .look import change_reach
from .pick import pick, suggestions
from .show import answer_line, links, say_the_rest, whole_ranking
from .sitting import Sitting
from .words import figure_in, number_in

LONGEST_TITLE = 80


def jot(sitting: Sitting, text: str) -> bool:
    """The command `jot`: keep a note."""
    text = text or sitting.talk.ask("Note, Enter = none", remember=True)
    if text:
        sitting.record(Note(text))
        sitting.talk.say("Noted.")
    return False


def title(sitting: Sitting, text: str) -> bool:
    """The command `title`: what the case is called in the list of cases and at the head of the report."""
    text = text or sitting.talk.ask("Title of the case, Enter = leave it", remember=True)
    if text:
        case = sitting.case
        sitting.begin(case.product, case.have, clean(text, LONGEST_TITLE))
        sitting.talk.say(f"This case is now called: {sitting.case.title}")
    return False


def figure(sitting: Sitting, text: str) -> bool:
    """The command `figure`: keep a figure of the batch with its name and unit, or take one away, and say what it does."""
    talk = sitting.talk
    text = text or talk.ask("Figure, its unit and what it is, such as 412 kg green weight; Enter = none", remember=True)
    if not text:
        return False
    if text.startswith("-") and (name := text.lstrip("- ")) in sitting.case.numbers:
        sitting.record(Number(name, ""))
        talk.say(f"Taken away: {name}.")
        return False
    found = figure_in(text)
    if found is None:
        talk.say("Please give the figure, its unit and what it is: figure 412 kg green weight.")
        talk.say("To take one away again: figure - green weight.")
        return False
    sitting.record(found)
    talk.say(
        f"Kept: {found.name}, {found.value}. It stays with the case and is shown in the report; the ranking is not moved."
    )
    talk.say(_where_it_counts(found))
    return False


def _where_it_counts(figure: Number) -> str:
    """How a figure becomes evidence, with the name that a batch record has for it, if it has one."""
    from diagnose.casework.record_fields import FIELDS

    key = "-".join(figure.name.casefold().split())
    under = f" Its name there is {key}." if key in FIELDS else ""
    return f"Figures count as evidence in a batch record: diagnose batch RECORD.yaml (docs/numbers.md).{under}"


def add(sitting: Sitting, words: str) -> bool:
    """The command `add`: something the person wants to tell unasked."""
    words = words or sitting.talk.ask(
        "What? A few letters or words", suggest=lambda typed: suggestions(sitting, typed), remember=True
    )
    found = pick(sitting, words) if words else None
    return put_entry(sitting, found[0]) if found else False


def given(sitting: Sitting, which: str) -> bool:
    """The command `given`: the answers so far; one of them can be given anew or taken back."""
    talk = sitting.talk
    everything = list(sitting.case.answers.values())
    answers = [answer for answer in everything if answer.came != "rest"]
    if not which:
        talk.heading("Answers so far")
        talk.choices([answer_line(sitting, answer) for answer in answers])
        say_the_rest(sitting)
        for about in sorted(state_of(sitting.events).skipped):
            talk.say(f"Put aside: {sitting.title(about)}", lead="  -  ")
        for name, value in sitting.case.numbers.items():
            talk.say(f"Figure: {name}, {value}", lead="  -  ")
        for note in sitting.case.notes:
            talk.say(f"Note: {note}", lead="  -  ")
        if not answers:
            if not everything:
                talk.say("None yet.")
            return False
        heard = listen(sitting, "Number to change, Enter = none", local={"back", "given", "skip"})
        if heard.changed:
            return True
        which = heard.line
    number = number_in(which, len(answers))
    if number is None:
        if which:
            talk.say(f"There is no answer {which}.")
        return False
    return _change(sitting, answers[number - 1].about)


def _change(sitting: Sitting, about: str) -> bool:
    entry = sitting.entry(about)
    assert entry is not None  # the case holds known ids only
    asked = Asked(entry, chosen=True)
    put_question(sitting, asked, "Again")
    sitting.talk.say("Answer anew; back = take the answer back; skip = leave it as it is.")
    outcome = take_answer(sitting, asked)
    if outcome == "back":
        sitting.record(Retract(about))
        sitting.talk.say(f"Taken back: {entry.title}.")
    return outcome != "skipped"


ASIDES: dict[str, Callable[[Sitting, str], bool]] = {
    "jot": jot,
    "title": title,
    "figure": figure,
    "add": add,
    "given": given,
    "rank": whole_ranking,
    "links": links,
    "reach": change_reach,
}
