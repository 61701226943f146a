"""How the program behaves towards shells, pipes, files and terminals."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

SMALL = Path(__file__).parents[2] / "small"
CASE = SMALL / "cases" / "air-at-the-pump.yaml"
ROOT = Path(__file__).parents[3]


def test_version_loads_nothing_heavy() -> None:
    """`diagnose --version` answers without click, numpy, networkx, rich, prompt_toolkit, yaml or jinja2."""
    program = (
        "import sys; from diagnose.commands.main import call; code = call(['--version']);"
        "heavy = {'click','numpy','networkx','rich','prompt_toolkit','jinja2','yaml','sqlite3'} & set(sys.modules);"
        "sys.exit(1 if heavy or code else 0)"
    )
    done = subprocess.run([sys.executable, "-c", program], cwd=ROOT, capture_output=True, check=False, timeout=30)
    assert done.returncode == 0
    assert done.stdout.startswith(b"diagnose ")


def test_find_and_explain_load_no_numbers() -> None:
    """Looking something up does not wait for the numerical packages."""
    program = (
        "import sys; from diagnose.commands.main import call;"
        f"call(['--knowledge', {str(SMALL)!r}, 'explain', 'pale-outside']);"
        "sys.exit(1 if {'numpy','networkx','rich','prompt_toolkit'} & set(sys.modules) else 0)"
    )
    done = subprocess.run([sys.executable, "-c", program], cwd=ROOT, capture_output=True, check=False, timeout=30)
    assert done.returncode == 0, done.stderr


@pytest.mark.parametrize("form", ["text", "markdown", "json"])
def test_a_pipe_gets_no_colour(process, form: str) -> None:
    """Escape sequences never go into a pipe, whatever the environment says."""
    done = process("--knowledge", SMALL, "rank", CASE, "--format", form, env={"TERM": "xterm-256color"})
    assert done.returncode == 0
    assert b"\x1b" not in done.stdout
    assert done.stderr == b""


def test_a_pipe_gets_eighty_columns(process) -> None:
    """Text in a pipe does not depend on the window it was started from."""
    done = process("--knowledge", SMALL, "rank", CASE, env={"COLUMNS": "200"})
    assert max(map(len, done.stdout.decode().splitlines())) <= 80


def test_a_reader_that_stops_early_is_no_error() -> None:
    """`diagnose demo | head` ends quietly."""
    command = f"{sys.executable} -m diagnose.commands.main --knowledge {SMALL} rank {CASE} | head -n 1"
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    done = subprocess.run(["bash", "-o", "pipefail", "-c", command], env=environment, capture_output=True, check=False)
    assert done.returncode == 0
    assert done.stderr == b""


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_a_full_disk_is_told_in_one_line(process) -> None:
    """An output that cannot be written gives a message and code 3, no traceback."""
    with Path("/dev/full").open("wb") as full:
        done = process("--knowledge", SMALL, "rank", CASE, stdout=full)
    assert done.returncode == 3
    assert done.stderr == b"No space left on device\n"


def test_a_poor_encoding_gets_plain_characters(process) -> None:
    """Where the terminal knows ASCII only, bars and rules become simple characters and nothing breaks."""
    done = process("--knowledge", SMALL, "rank", CASE, env={"PYTHONIOENCODING": "ascii"})
    assert done.returncode == 0
    assert b"#####" in done.stdout
    assert b"?????" not in done.stdout


def test_json_is_utf8_whatever_the_encoding_of_the_terminal(process) -> None:
    """Programs can rely on UTF-8."""
    done = process("--knowledge", SMALL, "rank", CASE, "--format", "json", env={"PYTHONIOENCODING": "latin-1"})
    assert done.returncode == 0
    done.stdout.decode("utf-8")


def test_rank_reads_standard_input(process) -> None:
    """`rank -` takes the case from a pipe, and problems in it are placed in "standard input"."""
    done = process("--knowledge", SMALL, "rank", "-", stdin=None, input=CASE.read_bytes())
    assert done.returncode == 0
    assert b"Injector takes in air with the brine" in done.stdout
    done = process("--knowledge", SMALL, "rank", "-", stdin=None, input=b"product: ham\n")
    assert done.returncode == 3
    assert done.stderr.startswith(b"standard input:1:10: ")


def test_closed_streams_do_no_harm() -> None:
    """A caller that closed stdout gets an exit code and no noise."""
    command = f"{sys.executable} -m diagnose.commands.main --knowledge {SMALL} rank {CASE} >&-"
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    done = subprocess.run(["bash", "-c", command], env=environment, capture_output=True, check=False)
    assert (done.returncode, done.stderr) == (0, b"")


def test_save_writes_the_form_that_the_name_suggests(run, tmp_path: Path) -> None:
    """.md becomes Markdown, .json JSON, anything else text; stdout stays empty."""
    for name, start in (("a.md", "# Diagnosis"), ("a.json", "{"), ("a.txt", "Diagnosis: ")):
        found = run("rank", CASE, "--save", tmp_path / name)
        assert (found.code, found.out) == (0, "")
        assert (tmp_path / name).read_text(encoding="utf-8").startswith(start)
    assert sorted(path.name for path in tmp_path.iterdir() if path.is_file()) == ["a.json", "a.md", "a.txt"]


def test_save_never_replaces_a_file_without_force(run, tmp_path: Path) -> None:
    """What is there stays there, unless --force says otherwise."""
    path = tmp_path / "report.md"
    path.write_text("mine", encoding="utf-8")
    found = run("rank", CASE, "--save", path)
    assert found.code == 2
    assert "--force" in found.err
    assert path.read_text(encoding="utf-8") == "mine"
    assert run("rank", CASE, "--save", path, "--force").code == 0
    assert path.read_text(encoding="utf-8").startswith("# Diagnosis")


def test_a_file_that_appears_meanwhile_is_not_replaced(tmp_path: Path) -> None:
    """Even between the look and the writing nobody's file is lost."""
    from diagnose.commands.output import save
    from diagnose.errors import UsageError

    path = tmp_path / "report.txt"
    path.write_text("mine", encoding="utf-8")
    with pytest.raises(UsageError):
        save(path, "other", force=False)
    assert path.read_text(encoding="utf-8") == "mine"
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_failed_write_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str) -> None:
    """Whatever step fails, the old file is whole and no part file is left."""
    from diagnose.commands.output import save

    path = tmp_path / "report.md"
    path.write_text("old")

    def fail(*_: object) -> None:
        raise OSError("no room")

    monkeypatch.setattr(*((os, "fsync") if step == "fsync" else (Path, "replace")), fail)
    with pytest.raises(OSError, match="no room"):
        save(path, "new", force=True)
    assert [(each.name, each.read_text()) for each in tmp_path.iterdir()] == [("report.md", "old")]


def test_a_written_file_keeps_its_mode(tmp_path: Path) -> None:
    """A file that only its owner may read stays so, and a new one follows the umask."""
    from diagnose.commands.output import save

    path = tmp_path / "report.md"
    save(path, "one", force=True)
    assert path.stat().st_mode & 0o777 == 0o666 & ~_umask()
    path.chmod(0o600)
    save(path, "two", force=True)
    assert (path.read_text(), path.stat().st_mode & 0o777) == ("two", 0o600)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def test_save_where_no_file_can_be_names_the_file(run, tmp_path: Path) -> None:
    """The message names the file that was asked for, not a working name."""
    found = run("rank", CASE, "--save", tmp_path / "no" / "report.md")
    assert found.code == 3
    assert found.err == f"{tmp_path / 'no' / 'report.md'}: No such file or directory\n"


def test_messages_are_cleaned(run) -> None:
    """An argument with escape sequences comes back without them."""
    for arguments in (("explain", "a\x1b[31mb"), ("a\x1b[31mb",), ("rank", "a\x1b[31mb"), ("--format", "a\x1b[31mb")):
        found = run(*arguments)
        assert found.code in (2, 3)
        assert "\x1b" not in found.err


@pytest.mark.parametrize(
    ("kind", "typed", "expected"),
    [
        ("explain", "injec", ["injector-draws-air", "injection-pressure-too-high", "injection"]),
        ("trace", "smoke", ["smoke-too-short"]),
    ],
)
def test_the_shell_completes_ids(process, kind: str, typed: str, expected: list[str]) -> None:
    """Ids are completed from the knowledge that the command line names."""
    words = f"diagnose {kind} --knowledge {SMALL} {typed}"
    environment = {"_DIAGNOSE_COMPLETE": "bash_complete", "COMP_WORDS": words, "COMP_CWORD": "4"}
    done = process(env=environment)
    assert done.returncode == 0
    assert sorted(line.partition(",")[2] for line in done.stdout.decode().split()) == sorted(expected)


def test_a_long_name_in_a_wide_script_can_be_saved(tmp_path: Path) -> None:
    """Whatever name the file system takes for the report, its working name fits too."""
    from diagnose.commands.output import save

    path = tmp_path / f"{'火' * 80}.txt"
    save(path, "one", force=False)
    assert path.read_text(encoding="utf-8") == "one"
