"""Knowledge, figures and ways to write a batch record for the tests of this folder."""

from collections.abc import Callable
from pathlib import Path

import pytest

from diagnose.casework.batch_outcome import BatchOutcome
from diagnose.casework.batch_record import BatchRecord, load_record
from diagnose.casework.batch_results import results_of
from diagnose.corpus.figures import Figures
from diagnose.corpus.figures_file import load_figures
from diagnose.corpus.load import default_folder, load
from diagnose.corpus.records import Knowledge
from diagnose.errors import CaseError

EXAMPLES = Path(__file__).parents[3] / "docs" / "examples"


@pytest.fixture(scope="session")
def shipped() -> Knowledge:
    """The knowledge that comes with the program."""
    return load(remember=False)


@pytest.fixture(scope="session")
def figures(shipped: Knowledge) -> Figures:
    """Its published figures."""
    return load_figures(shipped, [default_folder()])


@pytest.fixture
def record(shipped: Knowledge, tmp_path: Path) -> Callable[..., BatchRecord]:
    """A record of these figures; files are given by name and content."""

    def written(figures: str, product: str = "bone-in-ham", **files: str) -> BatchRecord:
        for name, content in files.items():
            (tmp_path / f"{name}.csv").write_text(content, encoding="utf-8")
        path = tmp_path / "record.yaml"
        lines = "".join(f"  {line}\n" for line in figures.strip().splitlines())
        path.write_text(f"product: {product}\nnumbers:\n{lines}", encoding="utf-8")
        return load_record(shipped, path)

    return written


@pytest.fixture
def refused(record: Callable[..., BatchRecord], tmp_path: Path) -> Callable[..., list[str]]:
    """The lines with which a record is refused, without the folder's name."""

    def lines(figures: str, **files: str) -> list[str]:
        with pytest.raises(CaseError) as caught:
            record(figures, **files)
        return str(caught.value).replace(f"{tmp_path.as_posix()}/", "").splitlines()

    return lines


@pytest.fixture
def outcome(shipped: Knowledge, figures: Figures, record: Callable[..., BatchRecord]) -> Callable[..., BatchOutcome]:
    """The results of a record of these figures."""

    def computed(text: str, rules: str = "us", product: str = "bone-in-ham", **files: str) -> BatchOutcome:
        return results_of(shipped, figures, record(text, product, **files), rules)

    return computed
