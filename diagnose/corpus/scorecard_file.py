"""Reading a scorecard and saying everything that is wrong with it, each with its place."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from diagnose.corpus.checks.ids import is_id
from diagnose.corpus.reader import read_record
from diagnose.corpus.records import Knowledge
from diagnose.corpus.references import broken_references, sources_without_place
from diagnose.corpus.scalars import guess
from diagnose.corpus.scorecards import Criterion, Fault, Scorecard
from diagnose.corpus.yamltree import MapNode, Node, Step, place_of, read_file
from diagnose.errors import CaseError, Problem, UsageError

FOLDER = "scorecards"


def load_scorecard(knowledge: Knowledge, path: Path) -> Scorecard:
    """The scorecard in a file. Raises CaseError with everything that is wrong."""
    problems: list[Problem] = []
    card = read_scorecard(knowledge, path, path.as_posix(), problems)
    if problems or card is None:
        raise CaseError(sorted(set(problems)))
    return card


def find_scorecard(knowledge: Knowledge, name: str, near: Path, folders: Sequence[Path]) -> Scorecard:
    """The scorecard that a class names: a file beside the class file, or one of the folders' scorecards by its id.

    A folder laid over another comes first. Raises UsageError if there is none, CaseError if it is not in order.
    """
    if name.endswith((".yaml", ".yml")):
        path = near / name
        if not path.is_file():
            raise UsageError(f"there is no scorecard {path}")
        return load_scorecard(knowledge, path)
    known: list[str] = []
    for folder in reversed(folders):
        path = folder / FOLDER / f"{name}.yaml"
        if path.is_file():
            return load_scorecard(knowledge, path)
        known += [one.stem for one in sorted((folder / FOLDER).glob("*.yaml"))]
    raise UsageError(
        f'no scorecard has the id "{name}"{guess(name, known)}; there are: {", ".join(known) or "none"}. '
        "A show's own is named as a file: scorecard: our-card.yaml"
    )


def scorecard_problems(knowledge: Knowledge, folder: Path, shown: str) -> list[Problem]:
    """Everything wrong with the scorecards of a folder, which may be missing."""
    problems: list[Problem] = []
    for path in sorted(folder.glob("*.yaml")):
        name = f"{shown}/{path.name}"
        card = read_scorecard(knowledge, path, name, problems)
        if card is not None and card.scorecard != path.stem:
            message = f'a scorecard bears the name of its file: scorecard: "{path.stem}"'
            problems.append(Problem(name, 1, 1, message))
    return sorted(set(problems))


def read_scorecard(knowledge: Knowledge, path: Path, shown: str, problems: list[Problem]) -> Scorecard | None:
    """The scorecard in a file, adding what is wrong to `problems` under the name `shown`; None if it has no usable form."""
    root = read_file(path, shown, problems)
    if root is None:
        return None
    before = len(problems)
    card: Scorecard | None = read_record(root, Scorecard, problems)
    if card is None or not isinstance(root, MapNode):
        return None
    problems.extend(broken_references(knowledge, card, root))
    problems.extend(sources_without_place(knowledge, card, root))
    check = _Checker(knowledge, card, root)
    if len(problems) == before:  # one slip in the form would otherwise look like many
        for one in check.all():
            problems.extend(one())
    return card


class _Checker:
    """Looks one scorecard through. Every method gives the problems of one kind."""

    def __init__(self, knowledge: Knowledge, card: Scorecard, root: Node) -> None:
        self.knowledge = knowledge
        self.card = card
        self.root = root

    def all(self) -> tuple[Callable[[], Iterator[Problem]], ...]:
        """The checks that need a scorecard of sound form."""
        return (self.style, self.points, self.faults, self.order, self.ties, self.disqualified, self.safety)

    def _at(self, message: str, *path: Step) -> Problem:
        return place_of(self.root, *path).problem(message)

    def style(self) -> Iterator[Problem]:
        """Ids are kebab-case, and each stands for one thing."""
        found: list[tuple[str, tuple[Step, ...]]] = [(self.card.scorecard, ("scorecard",))]
        seen: set[str] = set()
        for number, one in enumerate(self.card.criteria):
            found.append((one.id, ("criteria", number, "id")))
            if one.id in seen:
                yield self._at(f'the criterion "{one.id}" stands twice', "criteria", number, "id")
            seen.add(one.id)
            found += [
                (fault.own, ("criteria", number, "faults", at, "own"))
                for at, fault in enumerate(one.faults)
                if fault.own
            ]
        for number, out in enumerate(self.card.disqualify):
            found.append((out.id, ("disqualify", number, "id")))
        for name, path in found:
            if not is_id(name):
                yield self._at(f'the id "{name}" must be small letters, digits and single hyphens', *path)

    def points(self) -> Iterator[Problem]:
        """The criteria make up the total; the levels go down from all points to none."""
        summed = sum(one.points for one in self.card.criteria)
        if summed != self.card.total:
            yield self._at(f"the criteria have {summed} points together, not {self.card.total}", "total")
        for number, one in enumerate(self.card.criteria):
            levels = [anchor.points for anchor in one.anchors]
            if levels[0] != one.points:
                message = f"the highest level has {levels[0]} points, the criterion {one.points}"
                yield self._at(message, "criteria", number, "anchors", 0, "points")
            if levels[-1] != 0:
                message = "the last level must be that of 0 points"
                yield self._at(message, "criteria", number, "anchors", len(levels) - 1, "points")
            for at in range(1, len(levels)):
                if levels[at] >= levels[at - 1]:
                    message = "the points must fall from level to level"
                    yield self._at(message, "criteria", number, "anchors", at, "points")

    def faults(self) -> Iterator[Problem]:
        """A fault is a sign or one of the scorecard's own, and its costs fit its criterion and its sign."""
        for number, one in enumerate(self.card.criteria):
            seen: set[str] = set()
            for at, fault in enumerate(one.faults):
                path = ("criteria", number, "faults", at)
                if fault.id in seen:
                    yield self._at(f'"{fault.id}" stands twice in this criterion', *path)
                seen.add(fault.id)
                for message, key in self._fault(one, fault):
                    yield self._at(message, *path, key)

    def _fault(self, one: Criterion, fault: Fault) -> Iterator[tuple[str, str]]:
        if (fault.sign is None) == (fault.own is None):
            yield "a fault names either a sign or an id of its own", "sign"
            return
        if fault.own is not None:
            if fault.title is None:
                yield 'a fault of its own needs "title"', "own"
            if fault.own in self.knowledge.signs:
                yield f'the knowledge has a sign "{fault.own}"; write sign: {fault.own}', "own"
        else:
            sign = self.knowledge.signs[fault.id]
            if sign.graded and fault.slight is None:
                yield f'"{fault.id}" is graded, so it needs "slight" too', "sign"
            if not sign.graded and fault.slight is not None:
                yield f'"{fault.id}" is not graded, so it takes no "slight"', "slight"
            if fault.try_this is not None:
                yield '"try" goes with a fault of its own; for a sign the knowledge has the corrections', "try"
            if self.card.product and sign.products and self.card.product not in sign.products:
                yield f'"{fault.id}" is not a sign of the product {self.card.product}', "sign"
        if fault.marked > one.points:
            yield f"it costs more than the {one.points} points of the criterion", "marked"
        if fault.slight is not None and fault.slight > fault.marked:
            yield "a slight one costs more than a marked one", "slight"

    def order(self) -> Iterator[Problem]:
        """Every criterion is scored at one step, and nothing is tasted before all the rest is scored."""
        placed: set[str] = set()
        tasted = ""
        by_id = {one.id: one for one in self.card.criteria}
        for number, look in enumerate(self.card.order):
            for at, name in enumerate(look.criteria):
                path = ("order", number, "criteria", at)
                if name not in by_id:
                    yield self._at(f'there is no criterion "{name}"{guess(name, by_id)}', *path)
                    continue
                if name in placed:
                    yield self._at(f'"{name}" is scored at two steps', *path)
                placed.add(name)
                if by_id[name].tasted:
                    tasted = name
                elif tasted:
                    yield self._at(f'"{name}" comes after "{tasted}", which is tasted; taste last', *path)
        for number, one in enumerate(self.card.criteria):
            if one.id not in placed:
                yield self._at(f'"{one.id}" is scored at no step of the order', "criteria", number, "id")

    def ties(self) -> Iterator[Problem]:
        """The criteria that break a tie are there, each once."""
        known = [one.id for one in self.card.criteria]
        for number, name in enumerate(self.card.ties):
            if name not in known:
                yield self._at(f'there is no criterion "{name}"{guess(name, known)}', "ties", number)
            elif name in self.card.ties[:number]:
                yield self._at(f'"{name}" stands twice', "ties", number)

    def disqualified(self) -> Iterator[Problem]:
        """There is a rule for what is unsafe and one for what does not belong here."""
        kinds = {one.kind for one in self.card.disqualify}
        for kind in ("unsafe", "wrong-product"):
            if kind not in kinds:
                yield self._at(f"a scorecard needs a disqualification of the kind {kind}", "disqualify")
        own = {fault.own for one in self.card.criteria for fault in one.faults if fault.own}
        for number, one in enumerate(self.card.disqualify):
            for at, name in enumerate(one.own):
                if name not in own:
                    message = f'no fault of this scorecard has the id "{name}"{guess(name, own)}'
                    yield self._at(message, "disqualify", number, "own", at)

    def safety(self) -> Iterator[Problem]:
        """A sign of danger on the scorecard must put the entry out of the tasting."""
        unsafe = {name for one in self.card.disqualify if one.kind == "unsafe" for name in one.signs}
        for number, one in enumerate(self.card.criteria):
            for at, fault in enumerate(one.faults):
                sign = self.knowledge.signs.get(fault.sign or "")
                if sign is None or sign.id in unsafe:
                    continue
                dangers = [name for name in sign.caution if self.knowledge.cautions[name].weight == "danger"]
                if dangers:
                    message = (
                        f'"{sign.id}" carries the caution {dangers[0]}, so a disqualification of the kind unsafe '
                        "must list it"
                    )
                    yield self._at(message, "criteria", number, "faults", at, "sign")
