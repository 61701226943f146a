"""A whole case of each family of defects, played on a real terminal with the knowledge that comes with the program."""

from __future__ import annotations

import os
import re
from dataclasses import dataclass
from pathlib import Path

import pytest

from diagnose.casework.casebook import Casebook
from diagnose.casework.events import Answer, Event, Note, Number, Opened, Retract, Skip
from diagnose.corpus.load import load
from diagnose.corpus.records import Cause, Knowledge, Sign

pytest.importorskip("pexpect")

from player import Player, start
from test_pty import environment

pytestmark = pytest.mark.skipif(os.name != "posix", reason="needs a pseudo-terminal")

MOST_QUESTIONS = 5
REACH = {"judge": "1", "processor": "2", "student": "4"}


@dataclass(frozen=True)
class Play:
    """Who looks at what: marks by number and by misspelt letters, the answers that they know, and what must come first."""

    family: str
    who: str
    by_number: str
    by_search: tuple[str, str]
    knows: dict[str, str]
    first: tuple[str, ...]
    danger: str = ""
    plain: bool = True


PLAYS = (
    Play(
        "holes",
        "student",
        "small-round-holes",
        ("foam on brne", "foam-on-brine"),
        {
            "foam-there-before-injection": "n",
            "holes-worse-at-start-or-end-of-run": "y",
            "bubbles-in-brine-line": "n",
            "brine-sprays-outside-meat": "n?",
        },
        ("brine-returned-with-foam",),
        plain=False,
    ),
    Play(
        "voids",
        "processor",
        "gap-inside-outside-muscle",
        ("smoth glazed walls", "gap-walls-smooth-and-glazed"),
        {"lean-not-tacky-before-netting": "y", "every-piece-in-lot": "ym", "shape-flat-or-loose-in-net": "n"},
        ("tumbling-too-short", "no-massage-after-injection"),
    ),
    Play(
        "outside-colour",
        "processor",
        "dull-outside",
        ("swetted in house", "hams-sweated-in-house"),
        {"surface-wet-when-smoke-began": "y", "whole-load-affected": "y?"},
        ("cold-hams-into-warm-house",),
    ),
    Play(
        "fat",
        "judge",
        "heavy-seam-fat",
        ("seem fat outside lean", "seam-fat-heavy-outside-lean"),
        {"thick-fat-cover": "n", "seam-fat-between-inside-and-outside": "y?"},
        ("seam-fat-inherent",),
    ),
    Play(
        "salt",
        "judge",
        "under-cured-core",
        ("gray patch folows bone", "grey-patch-follows-bone"),
        {"bland-around-bone": "y", "grey-islands-scattered": "n"},
        ("needle-pattern-misses-bone",),
        danger="hold-and-do-not-taste",
    ),
    Play(
        "bone-and-blood",
        "student",
        "abscess-or-old-scar",
        ("pus or chesy core", "pus-or-cheesy-core"),
        {"same-leg-side-every-time": "y", "fault-follows-farm": "ym", "scar-on-inner-groin-side": "n"},
        ("injection-abscess-on-farm",),
        danger="abscess-or-disease",
        plain=False,
    ),
)


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    """The knowledge that comes with the program."""
    return load()


@pytest.fixture(scope="module")
def memory(tmp_path_factory: pytest.TempPathFactory) -> str:
    """A folder in which the program remembers the knowledge that it has read, for all plays."""
    return str(tmp_path_factory.mktemp("memory"))


@pytest.mark.parametrize("play", PLAYS, ids=lambda play: f"{play.family}-{play.who}")
def test_a_whole_case(play: Play, knowledge: Knowledge, memory: str, tmp_path: Path) -> None:
    """From the first question to the saved report, and on again: what matters holds for each family and kind of user."""
    env = environment(DIAGNOSE_CACHE_DIR=memory)
    plain = ["--plain"] if play.plain else []
    person = Player(start(tmp_path, *plain, env=env), knowledge, play.plain)
    person.wait()
    person.must("reach")
    person.type(REACH[play.who])
    person.must("product")
    person.type(person.numbered(knowledge.products["bone-in-ham"].title) or "")
    assert play.family in knowledge.signs[play.by_number].family
    number, search = knowledge.signs[play.by_number], knowledge.signs[play.by_search[1]]
    person.mark_by_number(number)
    person.mark_by_search(search, play.by_search[0])
    person.leave_the_lists()
    _questions(person, play, knowledge)
    case = _report(person, play)
    _before_the_report(person, play, knowledge)
    _the_report(play, knowledge, tmp_path)
    _the_casebook(person, tmp_path, case)

    again = Player(start(tmp_path, "resume", case, *plain, env=env), knowledge, play.plain)
    again.wait()
    again.must("question", "idle")
    for about in dict.fromkeys(event.about for event in person.kept if isinstance(event, Answer)):
        if _standing(person.kept).get(about):
            assert f"-  {_entry(knowledge, about).title}: " in again.said
    if again.kind == "question":
        assert again.question().id not in _standing(person.kept)
    again.child.send("q\r")
    again.child.expect("diagnose resume")


def _entry(knowledge: Knowledge, about: str) -> Sign | Cause:
    return knowledge.signs.get(about) or knowledge.causes[about]


def _standing(kept: list[Event]) -> dict[str, Answer | None]:
    """The last answer of each id; None where it was taken back."""
    standing: dict[str, Answer | None] = {}
    for event in kept:
        if isinstance(event, Answer):
            standing[event.about] = event
        elif isinstance(event, Retract | Skip):
            standing[event.about] = None
    return standing


def _questions(person: Player, play: Play, knowledge: Knowledge) -> None:
    """Every command once, then answers from the table, else can't tell; at last what was not asked is told unasked."""
    assert person.kind in ("question", "idle")
    person.type("title Lot 412, Monday")
    person.type("figure 412 kg green weight")
    person.type("jot seen by two people")
    person.type("rank")
    person.type("links 1")
    if person.kind == "question":
        person.type("why")
        person.type("how")
        person.answer(person.question(), "n?")
        if person.kind == "question":
            person.back_and_skip()
    for _ in range(MOST_QUESTIONS):
        if person.kind != "question":
            break
        entry = person.question()
        person.answer(entry, play.knows.get(entry.id, "c"))
    for about, typed in play.knows.items():
        if not _standing(person.kept).get(about):
            person.add(_entry(knowledge, about), typed)


def _report(person: Player, play: Play) -> str:
    """Reach the report, see it whole, save it; the case's id."""
    person.type("end")
    person.must("whole")
    if play.danger:
        short = person.heard.split("In short")[1]
        assert short.index("DANGER") < short.index("First causes")
    person.type("")
    person.must("file")
    person.child.send("report.md\r")
    person.child.expect(r"diagnose resume (\S+)")
    return str(person.child.match[1])


def _before_the_report(person: Player, play: Play, knowledge: Knowledge) -> None:
    """Cautions come before the ranking; nothing is asked that this person cannot look at; no tasting after a danger."""
    talk = " ".join(person.said.split("In short")[0].split())
    if play.danger:
        assert talk.index(f"DANGER: {knowledge.cautions[play.danger].title}") < talk.index("Most likely at work")
        after = talk.split("DANGER", 1)[1]
        for sign in knowledge.signs.values():
            assert not sign.check.by_tasting or " ".join(sign.check.ask.split()) not in after
    reach = {"judge": {"product"}, "processor": {"product", "process"}}.get(play.who)
    if reach:
        assert {_entry(knowledge, about).check.needs for about in person.asked} <= reach
        for entry in (*knowledge.signs.values(), *knowledge.causes.values()):
            assert entry.check.needs in reach or " ".join(entry.check.ask.split()) not in talk


def _the_report(play: Play, knowledge: Knowledge, folder: Path) -> None:
    """The saved report has the title, the warning before all else, and the leading cause in its first place."""
    report = (folder / "report.md").read_text(encoding="utf-8")
    assert "Lot 412, Monday" in report
    assert "412 kg" in report
    ranking = report.split("## What is behind it")[1].split("\n## ")[0]
    places = {knowledge.causes[cause].title: ranking.find(knowledge.causes[cause].title) for cause in knowledge.causes}
    leading = min((title for title, at in places.items() if at >= 0), key=places.__getitem__)
    assert leading in [knowledge.causes[cause].title for cause in play.first]
    if play.danger:
        assert report.index(knowledge.cautions[play.danger].title) < report.index("## What was seen")


def _the_casebook(person: Player, folder: Path, case: str) -> None:
    """Every answer, retraction and skip is there in order, and so are title, figure and note."""
    with Casebook(folder / "casebook.sqlite") as book:
        events = book.read(case)
    assert [event for event in events if isinstance(event, Answer | Retract | Skip)] == person.kept
    assert Number("green weight", "412 kg") in events
    assert Note("seen by two people") in events
    assert [event.title for event in events if isinstance(event, Opened)][-1] == "Lot 412, Monday"
    assert re.fullmatch(r"\d{4}-\d\d-\d\d-1", case)
