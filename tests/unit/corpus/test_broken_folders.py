"""Every folder of tests/broken holds what differs from tests/small, and the exact lines that must be said about it."""

import shutil
from pathlib import Path

import pytest
import yaml

from diagnose.corpus.checks import checked
from diagnose.corpus.draft import read_folders
from diagnose.corpus.folder import Folder
from diagnose.corpus.load import check, load
from diagnose.errors import KnowledgeError, Problem

TESTS = Path(__file__).parents[2]
SMALL = TESTS / "small"
BROKEN = sorted(folder for folder in (TESTS / "broken").iterdir() if folder.is_dir())


@pytest.mark.skipif(not yaml.__with_libyaml__, reason="the Python parser words its syntax errors in another way")
@pytest.mark.parametrize("folder", BROKEN, ids=lambda folder: folder.name)
def test_a_broken_folder_is_refused_with_these_lines(folder: Path, copied: Path) -> None:
    """Each mistake is reported at its file, line and column, with words that help, and without echoes elsewhere."""
    shutil.copytree(folder, copied, dirs_exist_ok=True)
    said = "\n".join(map(str, check(copied))).replace(f"{copied.as_posix()}/", "")
    assert said == (folder / "expected.txt").read_text(encoding="utf-8").strip()


def test_the_folder_they_differ_from_is_in_order() -> None:
    """If the base itself had problems, every expectation above would be worth nothing."""
    assert check(SMALL) == []


def test_load_raises_with_all_problems_at_once(copied: Path) -> None:
    """An author sees every mistake in one run, not one per run."""
    shutil.copytree(TESTS / "broken" / "yes-no-trap", copied, dirs_exist_ok=True)
    shutil.copytree(TESTS / "broken" / "unknown-product", copied, dirs_exist_ok=True)
    with pytest.raises(KnowledgeError) as caught:
        load(copied)
    assert len(caught.value.problems) == 3
    assert caught.value.exit_code == 3
    assert str(caught.value).count("\n") == 2


def test_a_file_over_the_limit_is_refused_unread(copied: Path) -> None:
    """A file of gigabytes must not be drawn into memory."""
    with (copied / "families.yaml").open("a", encoding="utf-8") as file:
        file.write("# padding\n" * 220_000)
    assert [problem.message for problem in check(copied)] == ["the file is larger than 2 MB or cannot be read"]


def test_a_missing_file_and_a_missing_folder_are_named(copied: Path, tmp_path: Path) -> None:
    """What is not there at all is a problem too, and not a crash."""
    (copied / "cautions.yaml").unlink()
    assert [str(problem) for problem in check(copied)] == [
        f"{copied.as_posix()}/cautions.yaml:1:1: this file is missing"
    ]
    assert "there is no such folder" in {problem.message for problem in check(tmp_path / "nowhere")}


def test_names_that_differ_in_capitals_only_clash() -> None:
    """On many machines the two files would be one; so the names are given here and not written to a disk."""
    files: dict[str, bytes | None] = dict.fromkeys(("signs/Exterior.yaml", "signs/exterior.yaml"), b"signs: []\n")
    found = checked(read_folders([Folder(SMALL, ".", files)]))
    message = "this name differs from signs/Exterior.yaml only in capitals"
    assert Problem("signs/exterior.yaml", 1, 1, message) in found


@pytest.mark.parametrize(
    ("name", "message"),
    [
        ("mechanism.yaml", 'unknown name "mechanism.yaml"; did you mean "mechanisms.yaml"?'),
        ("chain/08-injection.yml", "the name must end in .yaml"),
        ("chain/more/09-tumbling.yaml", "files lie directly in chain, not in a folder inside it"),
        ("changes.yaml", "changes.yaml belongs into a folder that is laid over another"),
        ("chain/tumbling.yaml", "a stage's file is named with its two-digit number and id, such as 08-injection.yaml"),
    ],
)
def test_a_file_that_would_be_passed_over_is_named(copied: Path, name: str, message: str) -> None:
    """A slip in a file's name must not make its entries vanish in silence."""
    (copied / name).parent.mkdir(exist_ok=True)
    (copied / name).write_text("stage: tumbling\ntitle: Tumbling\nwhat: The hams are turned.\n", encoding="utf-8")
    assert message in {problem.message for problem in check(copied)}
