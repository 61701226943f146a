"""The knowledge that is shipped with the program."""

import re
from pathlib import Path

import pytest
from test_schema import files, wrong

from diagnose.corpus.case_file import load_cases
from diagnose.corpus.find import find
from diagnose.corpus.load import check, default_folder, load
from diagnose.corpus.records import Knowledge
from diagnose.corpus.schema import out_of_date, schemas

SHIPPED = default_folder()


@pytest.fixture(scope="module")
def shipped() -> Knowledge:
    return load(remember=False)


def test_it_is_in_order() -> None:
    """No reader of the program ever meets a problem in its own knowledge."""
    assert [str(problem) for problem in check()] == []


def test_its_schemas_are_up_to_date(shipped: Knowledge) -> None:
    """Editors show the rules of today; `write_schemas` makes them anew."""
    assert list(out_of_date(SHIPPED / "schema", shipped.scales)) == []


def test_every_file_passes_its_schema(shipped: Knowledge) -> None:
    """An author's editor shows no mark in a file of ours."""
    made = schemas(shipped.scales)
    known = [
        path
        for path in files(SHIPPED)
        if path.parent.name in ("chain", "signs", "cases", "tables") or path.stem in made
    ]
    assert [line for path in known for line in wrong(path, made)] == []


def test_every_file_says_which_schema_it_follows() -> None:
    """The first line lets an editor complete and explain, and points to a schema that is there."""
    for path in files(SHIPPED):
        first = path.read_text(encoding="utf-8").partition("\n")[0]
        named = re.fullmatch(r"# yaml-language-server: \$schema=(\S+)", first)
        shared = ("limits", "measures", "mechanisms", "sources", "scales")
        if path.parent.name in ("chain", "signs", "cases", "tables") or path.stem in shared:
            assert named is not None, path
            assert (path.parent / named[1]).is_file(), path


def test_the_worked_cases_can_be_read(shipped: Knowledge) -> None:
    """Each names known signs, causes and sources."""
    assert len(load_cases(shipped, Path(SHIPPED / "cases"))) > 50


def test_every_cause_is_found_by_its_own_title(shipped: Knowledge) -> None:
    """Whoever reads a title aloud finds the entry."""
    lost = [
        cause.id
        for cause in shipped.causes.values()
        if cause.id not in [hit.id for hit in find(shipped, cause.title, limit=3)]
    ]
    assert lost == []
