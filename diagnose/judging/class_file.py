"""Class files: the entries, judges and scorecard of a class, and the sheets of judges who wrote them into the file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from diagnose.corpus.reader import read_record
from diagnose.corpus.records import Knowledge, said
from diagnose.corpus.scalars import guess, kind_name, read_whole
from diagnose.corpus.scorecard_file import find_scorecard
from diagnose.corpus.scorecards import Scorecard
from diagnose.corpus.yamltree import ListNode, MapNode, Node, place_of, read_file
from diagnose.errors import CaseError, Problem

from .sheet import JudgedClass, Mark, Points, Sheet
from .suggesting import suggested, suspect_marks

MOST_ENTRIES = 2000


@dataclass(frozen=True, slots=True)
class MarkEntry:
    """One mark on a sheet."""

    fault: str = said("Id of a sign, or of a fault of the scorecard's own.")
    verdict: Literal["yes", "no"] = said("no: looked for and not there.", key="is", default="yes")
    how_much: Literal["slight", "marked"] | None = said(
        "How much of it there is, where that is told apart.", default=None
    )
    where: str = said("Where on the piece.", longest=60, default="")


@dataclass(frozen=True, slots=True)
class PointsEntry:
    """Points that differ from the suggestion, with the reason."""

    give: int = said("The points.", lowest=0)
    reason: str = said("Why not what the marks suggest.", longest=300, default="")


@dataclass(frozen=True, slots=True)
class SheetHead:
    """One entry on a judge's list, without its points, which are a mapping by criterion."""

    entry: int = said("Number of the entry.", lowest=1)
    marks: tuple[MarkEntry, ...] = said("What was seen.", default=())
    notes: tuple[str, ...] = said("Free words of the judge.", longest=500, default=())
    suspect: str = said("Why nobody may taste it; left out if it may be tasted.", longest=300, default="")
    disqualified: str = said("Id of the scorecard's disqualification; left out if it stays in the class.", default="")


@dataclass(frozen=True, slots=True)
class JudgeHead:
    """One judge's sheets, without the sheets themselves."""

    judge: str = said("The judge, as named in `judges`.", longest=40)


@dataclass(frozen=True, slots=True)
class ClassHead:
    """A class file, without the sheets."""

    id: str = said("Id of the class, kebab-case.", key="class")
    title: str = said("Name of the class.", longest=120)
    scorecard: str = said("Id of a scorecard of the knowledge, or the name of a file beside this one.", longest=200)
    judges: tuple[str, ...] = said("The judges; a letter or a name each.", longest=40, at_least=1)
    entries: tuple[int, ...] = said("Numbers of the entries; nothing else is known of them here.", at_least=1, lowest=1)
    date: str = said("Day of the judging, in quotes.", longest=40, default="")
    trimmed: bool = said("true: the mean leaves out each entry's highest and lowest total.", default=False)


def load_class(knowledge: Knowledge, path: Path, folders: Sequence[Path]) -> JudgedClass:
    """The class in a file. Raises CaseError with everything that is wrong, UsageError if there is no such scorecard."""
    problems: list[Problem] = []
    shown = path.as_posix()
    root = read_file(path, shown, problems)
    if isinstance(root, MapNode) and not problems:
        found = _Reader(knowledge, path, folders, problems).read(root)
        if found is not None and not problems:
            return found
    elif root is not None and not problems:
        problems.append(root.place.problem(f"a class is a mapping (class: ..., entries: ...), not {kind_name(root)}"))
    raise CaseError(sorted(set(problems)))


class _Reader:
    """Reads one class file against the knowledge and its scorecard."""

    def __init__(self, knowledge: Knowledge, path: Path, folders: Sequence[Path], problems: list[Problem]) -> None:
        self.knowledge = knowledge
        self.path = path
        self.folders = folders
        self.problems = problems

    def read(self, root: MapNode) -> JudgedClass | None:
        top = MapNode(root.place, dict(root.items), root.keys)
        sheets_node = top.items.pop("sheets", None)
        head: ClassHead = read_record(top, ClassHead, self.problems)
        self._once(root, "judges", head.judges)
        self._once(root, "entries", head.entries)
        if len(head.entries) > MOST_ENTRIES:
            self._say(root, f"more than {MOST_ENTRIES} entries", "entries")
        if not (head.scorecard and head.judges and head.entries):
            return None  # without these nothing below can be judged
        try:
            card = find_scorecard(self.knowledge, head.scorecard, self.path.parent, self.folders)
        except CaseError as error:
            self.problems += error.problems
            return None
        sheets = self._judges(sheets_node, head, card)
        return JudgedClass(
            id=head.id,
            title=head.title,
            card=card,
            entries=head.entries,
            judges=head.judges,
            sheets=sheets,
            closed=frozenset(sheets),
            trimmed=head.trimmed,
            date=head.date,
        )

    def _say(self, node: Node, message: str, *path: str | int) -> None:
        self.problems.append(place_of(node, *path).problem(message))

    def _once(self, root: MapNode, key: str, values: Sequence[object]) -> None:
        for at, value in enumerate(values):
            if value in values[:at]:
                self._say(root, f'"{value}" stands twice', key, at)

    def _list(self, node: Node | None, name: str) -> list[Node]:
        if node is None:
            return []
        if not isinstance(node, ListNode):
            self._say(node, f'"{name}" takes a list, not {kind_name(node)}')
            return []
        return node.items

    def _judges(self, node: Node | None, head: ClassHead, card: Scorecard) -> dict[str, tuple[Sheet, ...]]:
        found: dict[str, tuple[Sheet, ...]] = {}
        for below in self._list(node, "sheets"):
            if not isinstance(below, MapNode):
                self._say(below, f"expected judge: and entries:, not {kind_name(below)}")
                continue
            top = MapNode(below.place, dict(below.items), below.keys)
            entries = top.items.pop("entries", None)
            who: JudgeHead = read_record(top, JudgeHead, self.problems)
            if who.judge and who.judge not in head.judges:
                self._say(below, f'"{who.judge}" is not among the judges{guess(who.judge, head.judges)}', "judge")
            elif who.judge in found:
                self._say(below, f'the sheets of "{who.judge}" stand twice', "judge")
            sheets: dict[int, Sheet] = {}
            for one in self._list(entries, "entries"):
                sheet = self._sheet(one, who.judge, head, card)
                if sheet is None:
                    continue
                if sheet.entry in sheets:
                    self._say(one, f"entry {sheet.entry} stands twice", "entry")
                sheets[sheet.entry] = sheet
            found[who.judge] = tuple(sheets.values())
        return found

    def _sheet(self, node: Node, judge: str, head: ClassHead, card: Scorecard) -> Sheet | None:
        if not isinstance(node, MapNode):
            self._say(node, f"expected entry: and points:, not {kind_name(node)}")
            return None
        top = MapNode(node.place, dict(node.items), node.keys)
        points_node = top.items.pop("points", None)
        one: SheetHead = read_record(top, SheetHead, self.problems)
        if one.entry and one.entry not in head.entries:
            self._say(node, f"there is no entry {one.entry} in this class", "entry")
        rules = [out.id for out in card.disqualify]
        if one.disqualified and one.disqualified not in rules:
            self._say(
                node,
                f'no disqualification has the id "{one.disqualified}"{guess(one.disqualified, rules)}',
                "disqualified",
            )
        marks = tuple(self._mark(node, at, mark, card) for at, mark in enumerate(one.marks))
        bad = suspect_marks(card, marks)
        points = self._points(points_node, card, marks)
        suspect = one.suspect or ("; ".join(bad) if bad else "")
        if suspect:
            for criterion in card.criteria:
                if criterion.tasted and criterion.id in points:
                    message = f'entry {one.entry} is suspect, so nobody tastes it: take out "{criterion.id}"'
                    self._say(node, message, "points", criterion.id)
        return Sheet(judge, one.entry, points, marks, one.notes, suspect, one.disqualified)

    def _mark(self, node: Node, at: int, mark: MarkEntry, card: Scorecard) -> Mark:
        fault = card.fault(mark.fault)
        sign = self.knowledge.signs.get(mark.fault)
        if mark.fault and fault is None and sign is None:
            known = [one.id for criterion in card.criteria for one in criterion.faults]
            near = guess(mark.fault, [*known, *self.knowledge.signs])
            self._say(node, f'no sign or fault of the scorecard has the id "{mark.fault}"{near}', "marks", at, "fault")
        elif fault is None and sign is not None and sign.check.needs != "product":
            self._say(node, f'"{mark.fault}" cannot be seen on the piece itself', "marks", at, "fault")
        told_apart = fault.slight is not None if fault else bool(sign and sign.graded)
        if mark.how_much and not told_apart and mark.fault:
            self._say(node, f'"{mark.fault}" is not graded, so it takes no "how-much"', "marks", at, "how-much")
        return Mark(mark.fault, mark.verdict or "yes", mark.how_much, mark.where)

    def _points(self, node: Node | None, card: Scorecard, marks: Sequence[Mark]) -> dict[str, Points]:
        found: dict[str, Points] = {}
        if node is None:
            return found
        if not isinstance(node, MapNode):
            self._say(node, f'"points" takes a mapping (criterion: points), not {kind_name(node)}')
            return found
        known = {one.id: one for one in card.criteria}
        for name, below in node.items.items():
            if name not in known:
                self.problems.append(node.keys[name].problem(f'there is no criterion "{name}"{guess(name, known)}'))
                continue
            if isinstance(below, MapNode):
                detail: PointsEntry = read_record(below, PointsEntry, self.problems)
                value: int | None = detail.give
                reason = detail.reason
            else:
                value, reason = read_whole(below, name, 0, self.problems), ""
            if value is None:
                continue
            if value > known[name].points:
                self._say(below, f'"{name}" has at most {known[name].points} points')
            found[name] = Points(value, suggested(known[name], marks), reason)
        return found
