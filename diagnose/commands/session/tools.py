"""What a session works with: the knowledge and the two calculations it calls, handed in from outside.

Tests hand in small ones. The real ones take a moment to load, which happens in the background while the person reads the
first question.
"""

from __future__ import annotations

import contextlib
import threading
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Generic, Protocol, TypeVar

from diagnose.casework.case import Case

if TYPE_CHECKING:
    from diagnose.casework.diagnosis import Diagnosis
    from diagnose.corpus.records import Knowledge
    from diagnose.reports import Format


class Assess(Protocol):
    """Works a case out; with `full`, reasons, chains, plan and robustness too."""

    def __call__(self, knowledge: Knowledge, case: Case, *, full: bool = False) -> Diagnosis:
        """The diagnosis of the case."""
        ...


class Render(Protocol):
    """Makes a report of a diagnosis."""

    def __call__(
        self, diagnosis: Diagnosis, knowledge: Knowledge, format: Format, *, width: int = 80, colour: bool = False
    ) -> str:
        """The report as one text."""
        ...


@dataclass(frozen=True, slots=True)
class Tools:
    """The knowledge and the calculations."""

    knowledge: Knowledge
    assess: Assess
    render: Render


def real_tools(knowledge_loader: Callable[[], Knowledge]) -> Tools:
    """The knowledge from the loader, and the calculations of this program, which are imported when they are called."""
    return Tools(knowledge_loader(), _assess, _render)


def warm_up() -> None:
    """Import the calculations in the background, so that the first call need not."""

    def imports() -> None:
        with contextlib.suppress(Exception):  # whoever needs them meets the error
            import diagnose.casework.assess
            import diagnose.reports  # noqa: F401

    threading.Thread(target=imports, daemon=True).start()


def _assess(knowledge: Knowledge, case: Case, *, full: bool = False) -> Diagnosis:
    from diagnose.casework.assess import assess

    return assess(knowledge, case, full=full)


def _render(
    diagnosis: Diagnosis, knowledge: Knowledge, format: Format, *, width: int = 80, colour: bool = False
) -> str:
    from diagnose.reports import render

    return render(diagnosis, knowledge, format, width=width, colour=colour)


T = TypeVar("T")


class Later(Generic[T]):
    """A value worked out in the background from `begin` on; `result` waits for it, and raises what it raised."""

    def __init__(self, work: Callable[[], T]) -> None:
        self._work = work
        self._value: list[T] = []
        self._error: BaseException | None = None
        self._thread = threading.Thread(target=self._do, daemon=True)

    def begin(self) -> None:
        """Start the work."""
        self._thread.start()

    def result(self) -> T:
        """The value, once it is there."""
        self._thread.join()
        if self._error is not None:
            raise self._error
        return self._value[0]

    def _do(self) -> None:
        try:
            self._value.append(self._work())
        except BaseException as error:  # kept for the one who asks for the result
            self._error = error
