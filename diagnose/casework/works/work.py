"""What one computation is: its parameters, and a function from what was given to the values that come out."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from diagnose.casework.against_limits import Found, plain, with_standing
from diagnose.casework.batch_outcome import RecordCaution, Result
from diagnose.casework.chart_file import Chart, Trace, read_chart
from diagnose.casework.computing.values import Value
from diagnose.casework.quantities import UNITS, Kind, parse, shown
from diagnose.casework.record_fields import FieldKind
from diagnose.corpus.figures import Figures
from diagnose.corpus.records import Knowledge
from diagnose.corpus.scalars import guess
from diagnose.errors import CaseError, Problem, UsageError
from diagnose.text import clean


@dataclass(frozen=True, slots=True)
class Parameter:
    """One thing to give: its kind, what it is, lowest and highest value in the unit of the kind, and what counts if left out.

    A parameter with neither a `default` nor `optional` must be given. `choices` are the words of a choice.
    """

    name: str
    kind: FieldKind
    says: str
    low: float = 0.0
    high: float = 1e6
    default: float | str | None = None
    optional: bool = False
    choices: tuple[str, ...] = ()

    @property
    def needed(self) -> bool:
        """Whether it must be given."""
        return self.default is None and not self.optional


@dataclass(frozen=True, slots=True)
class Given:
    """What was given, in the units of the kinds, with the published figures for the computations that take tables."""

    numbers: Mapping[str, float] = field(default_factory=dict)
    words: Mapping[str, str] = field(default_factory=dict)
    charts: Mapping[str, Chart] = field(default_factory=dict)
    figures: Figures = field(default_factory=Figures)

    def __getitem__(self, name: str) -> float:
        """A number that must be there, or its default."""
        return self.numbers[name]

    def get(self, name: str) -> float | None:
        """A number that may be left out."""
        return self.numbers.get(name)

    def core(self, name: str) -> Trace:
        """The core of a chart. Raises ValueError if it has none."""
        core = self.charts[name].core
        if core is None:
            raise ValueError(f"the chart {self.charts[name].name} has no column core")
        return core


@dataclass(frozen=True, slots=True)
class Work:
    """One computation. `run` may raise ValueError in words for the person."""

    name: str
    title: str
    parameters: tuple[Parameter, ...]
    run: Callable[[Given], Iterable[Value | Found]]
    source: str
    backwards: bool = False


@dataclass(frozen=True, slots=True)
class Done:
    """What came out of a computation: the cautions that it calls for, and its results in order."""

    cautions: tuple[RecordCaution, ...]
    results: tuple[Result, ...]


def done(work: Work, given: Given, knowledge: Knowledge) -> Done:
    """Run a computation. Raises ValueError in words for the person."""
    found = [plain(one) if isinstance(one, Value) else one for one in work.run(given)]
    cautions = dict.fromkeys(one for one in found if isinstance(one, RecordCaution) and one.id in knowledge.cautions)
    results = [with_standing(one, knowledge) for one in found if isinstance(one, Result)]
    return Done(tuple(cautions), tuple(results))


def range_words(one: Parameter) -> str:
    """The range of a parameter in words."""
    if one.kind == "choice":
        return ", ".join(one.choices)
    if one.kind == "chart":
        return "a CSV file"
    unit = UNITS[one.kind]
    return f"{shown(one.low, '')} to {shown(one.high, unit)}"


def read_given(work: Work, arguments: Iterable[str], figures: Figures) -> Given:
    """The arguments `name=value` of a computation. Raises UsageError with all that is wrong, CaseError for a chart."""
    known = {one.name: one for one in work.parameters}
    numbers: dict[str, float] = {one.name: one.default for one in work.parameters if isinstance(one.default, float)}
    words: dict[str, str] = {one.name: one.default for one in work.parameters if isinstance(one.default, str)}
    charts: dict[str, Chart] = {}
    wrong: list[str] = []
    seen: set[str] = set()
    for argument in arguments:
        argument = clean(argument, 500)  # noqa: PLW2901
        name, equals, text = argument.partition("=")
        name = name.strip()
        if not equals:
            wrong.append(f'"{argument}" is not of the form name=value')
        elif name not in known:
            wrong.append(f'{work.name} takes no "{name}"{guess(name, known)}')
        elif name in seen:
            wrong.append(f'"{name}" is given twice')
        else:
            seen.add(name)
            try:
                _take(known[name], text.strip(), numbers, words, charts)
            except ValueError as error:
                wrong.append(f"{name}: {error}")
    missing = [one.name for one in work.parameters if one.needed and one.name not in seen]
    if missing:
        wrong.append(f"still needed: {', '.join(missing)}; see: diagnose work {work.name}")
    if wrong:
        raise UsageError("\n".join(wrong))
    return Given(numbers, words, charts, figures)


def _take(
    one: Parameter, text: str, numbers: dict[str, float], words: dict[str, str], charts: dict[str, Chart]
) -> None:
    if one.kind == "choice":
        if text not in one.choices:
            raise ValueError(f"must be one of {', '.join(one.choices)}{guess(text, one.choices)}")
        words[one.name] = text
    elif one.kind == "chart":
        path = Path(text)
        if not path.is_file():
            raise ValueError(f"there is no file {text}")
        problems: list[Problem] = []
        chart = read_chart(path, text, problems)
        if chart is None:
            raise CaseError(problems)
        charts[one.name] = chart
    else:
        kind: Kind = one.kind
        value = parse(text, kind)
        if not one.low <= value <= one.high:
            raise ValueError(f"{text} is out of range; it lies from {range_words(one)}")
        numbers[one.name] = value
