"""Case files: what somebody saw, written down so that a program, a colleague or a test can work through it.

A case file is read against the knowledge, so that a slip in an id is named with its line and the nearest id, and an id that
has been retired since is taken for its successor.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import get_args

from diagnose.corpus.find import did_you_mean
from diagnose.corpus.reader import read_record
from diagnose.corpus.records import ALL_NEEDS, Amount, Basis, Knowledge, Needs, Sureness, Verdict, said
from diagnose.corpus.references import sources_without_place
from diagnose.corpus.scalars import guess, kind_name, read_choice
from diagnose.corpus.shape import shape_of
from diagnose.corpus.yamltree import ListNode, MapNode, Node, Place, TextNode, place_of, read_file
from diagnose.errors import CaseError, Problem

_LONGEST_NUMBER = 100


@dataclass(frozen=True, slots=True)
class CaseAnswer:
    """One answer: the id of a sign or cause, what was said, how sure it is, and how much there was of a graded sign."""

    id: str
    answer: Verdict
    sure: Sureness = "sure"
    how_much: Amount | None = None


@dataclass(frozen=True, slots=True)
class CaseDetail:
    """The long form of an answer."""

    answer: Verdict = said("Whether it is there.", key="is")
    sure: Sureness = said("How sure the answer is.", default="sure")
    how_much: Amount | None = said("How much of it there is, for a sign that is graded.", default=None)


@dataclass(frozen=True, slots=True)
class Expectation:
    """What a worked case says must come out."""

    first: tuple[str, ...] = said("Causes of which one must rank first.", refers="cause", default=())
    within_three: tuple[str, ...] = said("Causes that must be among the first three.", refers="cause", default=())
    not_first: tuple[str, ...] = said("Look-alikes that must not rank first.", refers="cause", default=())
    cautions: tuple[str, ...] = said("Cautions that must be shown.", refers="caution", default=())
    missed: str | None = said(
        "Why the expected cause does not come out. The case is then counted apart, until it does come out: then this must "
        "go. It excuses the ranking only, never a caution.",
        default=None,
    )


@dataclass(frozen=True, slots=True)
class CaseHead:
    """All of a case file but its answers and numbers, which are mappings by id."""

    product: str = said("Id of the product.", refers="product")
    case: str | None = said("Id of the case, the same as the file's name.", default=None)
    title: str | None = said("The case in one line.", longest=150, default=None)
    basis: tuple[Basis, ...] = said("Where the case comes from: sources, or common-practice.", default=())
    have: tuple[Needs, ...] = said("What the person can look at; left out means everything.", default=ALL_NEEDS)
    notes: tuple[str, ...] = said("Remarks, kept but for blanks at their ends.", longest=10_000, default=())
    expect: Expectation | None = said("For worked cases: what must come out.", default=None)


@dataclass(frozen=True, slots=True)
class CaseFile:
    """A case as read. `answers` keeps the order of the file; `numbers` holds the figures of a batch record as written,
    or under `record` the file that holds them; `number_places` says where each stands."""

    product: str
    case: str | None = None
    title: str | None = None
    basis: tuple[Basis, ...] = ()
    have: tuple[Needs, ...] = ALL_NEEDS
    answers: tuple[CaseAnswer, ...] = ()
    numbers: Mapping[str, str] = field(default_factory=dict)
    number_places: Mapping[str, Place] = field(default_factory=dict)
    notes: tuple[str, ...] = ()
    expect: Expectation | None = None


def load_case(knowledge: Knowledge, path: Path) -> CaseFile:
    """The case in a file. Raises CaseError with all problems found."""
    problems: list[Problem] = []
    case = read_case(knowledge, path, path.as_posix(), problems)
    if problems or case is None:
        raise CaseError(sorted(problems))
    return case


def load_cases(knowledge: Knowledge, folder: Path) -> dict[str, CaseFile]:
    """The worked cases of a folder by their ids. Raises CaseError with the problems of all its files."""
    problems: list[Problem] = []
    cases = _read_cases(knowledge, folder, folder.as_posix(), problems)
    if problems:
        raise CaseError(sorted(problems))
    return cases


def load_all_cases(knowledge: Knowledge, folders: Iterable[Path]) -> dict[str, CaseFile]:
    """The worked cases of knowledge folders by their ids; a later folder's case takes the place of an earlier one's.

    Raises CaseError with the problems of the first folder that has any.
    """
    cases: dict[str, CaseFile] = {}
    for folder in folders:
        cases.update(load_cases(knowledge, folder / "cases"))
    return cases


def case_problems(knowledge: Knowledge, folder: Path, shown: str) -> list[Problem]:
    """Everything wrong with the worked cases of a folder, which may be missing."""
    problems: list[Problem] = []
    _read_cases(knowledge, folder, shown, problems)
    return sorted(problems)


def _read_cases(knowledge: Knowledge, folder: Path, shown: str, problems: list[Problem]) -> dict[str, CaseFile]:
    cases: dict[str, CaseFile] = {}
    for path in sorted(folder.glob("*.yaml")):
        name = f"{shown}/{path.name}"
        case = read_case(knowledge, path, name, problems)
        if case is None:
            continue
        if case.case != path.stem:
            problems.append(Problem(name, 1, 1, f'a worked case bears the name of its file: case: "{path.stem}"'))
        if case.expect is None:
            problems.append(Problem(name, 1, 1, 'a worked case needs "expect"'))
        cases[path.stem] = case
    return cases


def read_case(knowledge: Knowledge, path: Path, shown: str, problems: list[Problem]) -> CaseFile | None:
    """The case in a file, adding what is wrong to `problems` under the name `shown`; None if it has no usable form."""
    root = read_file(path, shown, problems)
    if root is None:
        return None
    if not isinstance(root, MapNode):
        problems.append(root.place.problem(f"a case is a mapping (product: ..., answers: ...), not {kind_name(root)}"))
        return None
    return _CaseReader(knowledge, problems).read(root)


class _CaseReader:
    """Reads one case against the knowledge."""

    def __init__(self, knowledge: Knowledge, problems: list[Problem]) -> None:
        self.knowledge = knowledge
        self.problems = problems

    def read(self, root: MapNode) -> CaseFile:
        head_node = MapNode(root.place, dict(root.items), root.keys)
        answers_node = head_node.items.pop("answers", None)
        numbers_node = head_node.items.pop("numbers", None)
        if isinstance(notes := head_node.items.get("notes"), ListNode):
            trimmed = [replace(one, text=one.text.strip()) if isinstance(one, TextNode) else one for one in notes.items]
            head_node.items["notes"] = ListNode(notes.place, trimmed)
        self._misspelt(head_node)
        head: CaseHead = read_record(head_node, CaseHead, self.problems)
        self._references(head, head_node)
        if isinstance(have := head_node.items.get("have"), ListNode) and not have.items:
            self.problems.append(
                have.place.problem(f'"have" is empty; leave it out or list some of {", ".join(ALL_NEEDS)}')
            )
        numbers = self._numbers(numbers_node)
        return CaseFile(
            product=head.product,
            case=head.case,
            title=head.title,
            basis=head.basis,
            have=head.have,
            answers=self._answers(answers_node),
            numbers=numbers,
            number_places={name: place_of(numbers_node, name) for name in numbers} if numbers_node else {},
            notes=head.notes,
            expect=head.expect and self._successors(head.expect),
        )

    def _misspelt(self, node: MapNode) -> None:
        """`answers` and `numbers` are not fields of the head, so a slip in them is named here."""
        known = {shape.key for shape in shape_of(CaseHead)}
        for key in list(node.items):
            near = guess(key, ("answers", "numbers"))
            if near and key not in known:
                self.problems.append(node.keys[key].problem(f'unknown field "{key}"{near}'))
                del node.items[key]

    def _references(self, head: CaseHead, node: MapNode) -> None:
        self._known(head.product, self.knowledge.products, "product", place_of(node, "product"))
        for number, basis in enumerate(head.basis):
            place = place_of(node, "basis", number, "source")
            self._known(basis.source, self.knowledge.sources, "source", place)
        self.problems.extend(sources_without_place(self.knowledge, head, node))
        if head.expect is None:
            return
        if head.expect.missed and not (head.expect.first or head.expect.within_three):
            place = place_of(node, "expect", "missed")
            self.problems.append(
                place.problem('"missed" goes with a cause that is expected; name it in first or within-three')
            )
        for shape in shape_of(Expectation):
            if not shape.refers:
                continue
            known = self.knowledge.cautions if shape.refers == ("caution",) else self.knowledge.causes
            for number, value in enumerate(getattr(head.expect, shape.name)):
                place = place_of(node, "expect", shape.key, number)
                self._known(value, known, shape.refers[0], place)

    def _known(self, value: str, known: Mapping[str, object], kind: str, place: Place) -> None:
        if value and value not in known and self._current(value) not in known:
            self.problems.append(
                place.problem(f'no {kind} has the id "{value}"{did_you_mean(self.knowledge, value, known)}')
            )

    def _current(self, found: str) -> str:
        """The id itself, or its successor if it is retired."""
        retired = self.knowledge.retired.get(found)
        return retired.instead or found if retired else found

    def _successors(self, expect: Expectation) -> Expectation:
        return replace(
            expect,
            first=tuple(map(self._current, expect.first)),
            within_three=tuple(map(self._current, expect.within_three)),
            not_first=tuple(map(self._current, expect.not_first)),
        )

    def _answers(self, node: Node | None) -> tuple[CaseAnswer, ...]:
        if node is None:
            return ()
        if not isinstance(node, MapNode):
            self.problems.append(node.place.problem(f'"answers" takes a mapping (id: yes), not {kind_name(node)}'))
            return ()
        answers: dict[str, CaseAnswer] = {}
        for written, below in node.items.items():
            place = node.keys[written]
            found = self._answered(written, place)
            answer = self._answer(written, found, below)
            if found is None or answer is None:
                continue
            if found in answers:
                self.problems.append(place.problem(f'"{written}" now goes by "{found}", which is answered as well'))
            answers[found] = answer
        return tuple(answers.values())

    def _answered(self, written: str, place: Place) -> str | None:
        """The id in use behind the one written, or None with a problem."""
        found = self._current(written)
        if found in self.knowledge.signs or found in self.knowledge.causes:
            return found
        if written in self.knowledge.retired:
            message = f'"{written}" is retired and has no successor; leave it out'
        elif written in self.knowledge.mechanisms:
            message = f'"{written}" is a mechanism and cannot be seen; answer for a sign or a cause'
        else:
            message = f'no sign or cause has the id "{written}"'
            message += did_you_mean(self.knowledge, written, [*self.knowledge.signs, *self.knowledge.causes])
        self.problems.append(place.problem(message))
        return None

    def _answer(self, written: str, found: str | None, node: Node) -> CaseAnswer | None:
        if not isinstance(node, MapNode):
            written_verdict = read_choice(node, written, get_args(Verdict), self.problems)
            verdict: Verdict | None = next((word for word in get_args(Verdict) if word == written_verdict), None)
            return None if found is None or verdict is None else CaseAnswer(found, verdict)
        detailed: CaseDetail = read_record(node, CaseDetail, self.problems)
        if found is None or not detailed.answer:
            return None
        if detailed.how_much is not None:
            place = place_of(node, "how-much")
            sign = self.knowledge.signs.get(found)
            if sign is None or not sign.graded:
                self.problems.append(place.problem(f'"{found}" is not graded, so it takes no "how-much"'))
            elif detailed.answer != "yes":
                self.problems.append(place.problem(f'"how-much" goes with is: yes, not with {detailed.answer}'))
        return CaseAnswer(found, detailed.answer, detailed.sure or "sure", detailed.how_much)

    def _numbers(self, node: Node | None) -> dict[str, str]:
        if node is None:
            return {}
        if not isinstance(node, MapNode):
            self.problems.append(node.place.problem(f'"numbers" takes a mapping (id: number), not {kind_name(node)}'))
            return {}
        numbers = {}
        for name, below in node.items.items():
            if not isinstance(below, TextNode):
                self.problems.append(below.place.problem(f'"{name}" takes a number, not {kind_name(below)}'))
            elif not below.text.strip():
                self.problems.append(below.place.problem(f'"{name}" is empty'))
            elif len(below.text) > _LONGEST_NUMBER:
                self.problems.append(below.place.problem(f'"{name}" is too long for a number'))
            else:
                numbers[name] = below.text.strip()
        return numbers
