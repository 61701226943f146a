"""Each command does its work, in the three forms, with the exit codes that the help promises."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from diagnose.corpus.load import load

SMALL = Path(__file__).parents[2] / "small"
CASE = SMALL / "cases" / "air-at-the-pump.yaml"
BROKEN = Path(__file__).parents[2] / "broken"
Run = Callable[..., object]


def test_rank_prints_the_report_of_a_case(run) -> None:
    """The text report of a case file goes to stdout, and nothing else does."""
    found = run("rank", CASE)
    assert (found.code, found.err) == (0, "")
    assert found.out.startswith("Diagnosis: Pinholes and a foaming tank\n")
    assert " 1. Injector takes in air with the brine (Injection)" in found.out
    assert "Nothing here declares a product safe." in found.out


def test_rank_json_is_one_object_with_the_ranking_in_order(run) -> None:
    """The machine's way in prints valid JSON, best cause first."""
    found = json.loads(run("rank", CASE, "--format", "json").out)
    assert found["ranking"][0]["id"] == "injector-draws-air"
    values = [one["responsible"] for one in found["ranking"]]
    assert values == sorted(values, reverse=True)


def test_rank_markdown_has_its_table(run) -> None:
    """The Markdown form is Markdown."""
    assert (
        "\n| 1\\. | Injector takes in air with the brine | Injection |" in run("rank", CASE, "--format", "markdown").out
    )


def test_hours_bound_the_plan(run) -> None:
    """No step is planned that asks for more work than allowed."""
    free, bound = (
        json.loads(run("rank", CASE, "--format", "json", *more).out)["plan"]["steps"]
        for more in ((), ("--hours", "0.1"))
    )
    assert free
    assert bound == []


def test_options_may_stand_before_the_command(run) -> None:
    """`diagnose --format json rank` and `diagnose rank --format json` are the same."""
    assert run("--format", "json", "rank", CASE).out == run("rank", CASE, "--format", "json").out


def test_a_wrong_case_file_names_every_slip_with_its_place(run, tmp_path: Path) -> None:
    """All problems are told at once, each with line and column, and the exit code is 3."""
    path = tmp_path / "case.yaml"
    path.write_text("product: bone-in-hm\nanswers:\n  small-round-hole: yes\n  gas-holes: maybe\n", encoding="utf-8")
    found = run("rank", path)
    assert found.code == 3
    assert found.out == ""
    assert f'{path}:1:10: no product has the id "bone-in-hm"; did you mean "bone-in-ham"?' in found.err
    assert f"{path}:3:3:" in found.err
    assert f"{path}:4:" in found.err


def test_a_missing_file_is_bad_input_without_traceback(run) -> None:
    """A file that is not there gives one line and exit code 3."""
    found = run("rank", "nowhere.yaml")
    assert found.code == 3
    assert found.err.count("\n") == 1
    assert "No such file" in found.err


def test_answers_that_cannot_be_weighed_exactly_are_refused_in_words(run, monkeypatch: pytest.MonkeyPatch) -> None:
    """Too entangled a case is said to be that; no inexact number and no traceback comes out."""
    from diagnose.casework import assess
    from diagnose.inference.elimination import TooEntangledError

    def refuse(*_: object, **__: object) -> None:
        raise TooEntangledError("2^40 numbers")

    monkeypatch.setattr(assess, "assess", refuse)
    found = run("rank", CASE)
    assert (found.code, found.out) == (3, "")
    assert "exact result does not fit in memory" in found.err
    assert "Traceback" not in found.err


def test_a_fault_of_the_program_is_owned_up_to(run, monkeypatch: pytest.MonkeyPatch) -> None:
    """An error nobody foresaw gives a message and exit code 70, never a traceback."""
    from diagnose.casework import assess

    def stumble(*_: object, **__: object) -> None:
        raise ZeroDivisionError("by \x1b[31mzero")

    monkeypatch.setattr(assess, "assess", stumble)
    found = run("rank", CASE)
    assert found.code == 70
    assert "fault of the program" in found.err
    assert "Traceback" not in found.err
    assert "\x1b" not in found.err


def test_ctrl_c_gives_130(run, monkeypatch: pytest.MonkeyPatch) -> None:
    """Stopping a command is told in one word, with the shell's usual code."""
    from diagnose.casework import assess

    def stop(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(assess, "assess", stop)
    found = run("rank", CASE)
    assert (found.code, found.out, found.err) == (130, "", "\nStopped.\n")


@pytest.mark.parametrize("name", ["injector-draws-air", "air-in-brine", "small-round-holes", "smoke-longer"])
@pytest.mark.parametrize("form", ["text", "markdown", "json"])
def test_explain_tells_of_every_kind_of_entry(run, name: str, form: str) -> None:
    """A cause, a mechanism, a sign and a correction can be explained in each form."""
    found = run("explain", name, "--format", form)
    assert found.code == 0
    assert name in found.out
    if form == "json":
        assert json.loads(found.out)["id"] == name


def test_an_unknown_id_names_the_nearest(run) -> None:
    """A slip in an id is answered with what was meant, exit code 2."""
    found = run("explain", "pale-outsid")
    assert found.code == 2
    assert 'did you mean "pale-outside"?' in found.err


def test_a_trade_word_in_the_place_of_an_id_finds_the_id(run) -> None:
    """Who types a word of the trade is told the id."""
    found = run("explain", "pinholes")
    assert found.code == 2
    assert 'did you mean "small-round-holes"?' in found.err
    assert "Small round holes scattered through the lean" in found.out
    assert run("explain", "pinholes", "--format", "json").out == ""


def test_several_words_in_the_place_of_an_id_are_searched_for(run) -> None:
    """A trade name of two words need not be quoted."""
    assert "small-round-holes" in run("explain", "air", "pockets").out


def test_an_unknown_id_is_taken_by_its_sense(run) -> None:
    """Words that mean an entry lead to it, though another id is spelt more alike."""
    assert 'did you mean "streaked-outside"?' in run("explain", "runs-outside").err
    assert 'did you mean "small-round-holes"?' in run("trace", "injector-draws-air", "pinholes-lean").err


def test_what_is_no_cause_or_sign_can_be_explained_too(run) -> None:
    """A stage, a family, a caution, a product and a source are told in a paragraph, with the ids that belong to them."""
    small = load(SMALL, remember=False)
    stage = next(one for one in small.stages if one.causes)
    family, caution = next(iter(small.families)), next(iter(small.cautions))
    product, source = next(iter(small.products)), next(iter(small.sources))
    for name in (stage.stage, family, caution, product, source):
        told = run("explain", name)
        assert told.code == 0, name
        data = json.loads(run("explain", name, "--format", "json").out)
        assert data["id"] == name
        assert data["title"].split()[0] in told.out
        for group in data["holds"]:
            assert all(one["id"] in told.out for one in group["entries"])
    assert stage.causes[0].id in run("explain", stage.stage).out


def test_explain_and_find_keep_to_a_product(run) -> None:
    """What cannot matter in the product that is asked for is left out, and an unknown product is refused."""
    for command in (("explain", "small-round-holes"), ("find", "holes")):
        assert run(*command, "--product", "bone-in-ham").code == 0
        wrong = run(*command, "--product", "boneinham")
        assert wrong.code == 2
        assert 'did you mean "bone-in-ham"?' in wrong.err


def test_trace_shows_the_chain(run) -> None:
    """Chains from a cause to a sign are printed with the product of their strengths."""
    found = run("trace", "surface-not-dried", "pale-outside")
    assert found.code == 0
    assert "Chain 1: 38 % (about as likely as not, 33–66 %)" in found.out
    assert "Disputed:" in found.out


def test_trace_the_wrong_way_round_says_how(run) -> None:
    """Sign before cause is answered with the right order."""
    found = run("trace", "pale-outside", "surface-not-dried")
    assert found.code == 2
    assert "diagnose trace surface-not-dried pale-outside" in found.err


@pytest.mark.parametrize("pair", [("nothing", "pale-outside"), ("surface-not-dried", "nothing")])
def test_trace_of_unknown_ids_is_a_usage_error(run, pair: tuple[str, str]) -> None:
    """Both ids are looked up."""
    assert run("trace", *pair).code == 2


def test_find_searches_with_several_words(run) -> None:
    """The words need no quotes; the ids to go on with are printed."""
    found = run("find", "air", "pockets")
    assert found.code == 0
    assert "small-round-holes" in found.out


def test_find_keeps_to_its_limit(run) -> None:
    """--limit bounds the list."""
    assert len(json.loads(run("find", "hams", "--limit", "2", "--format", "json").out)["found"]) == 2


def test_find_of_blanks_is_a_usage_error(run) -> None:
    """Nothing to search for is said."""
    assert run("find", " ").code == 2


def test_demo_tells_the_case_and_then_the_report(run) -> None:
    """The demo runs on the knowledge that comes with the program and says that it is made up."""
    found = run("demo", small=False)
    assert found.code == 0
    assert found.out.index("made up") < found.out.index("Diagnosis: ")


def test_demo_as_a_file_can_be_ranked(run, tmp_path: Path) -> None:
    """The printed case file is one that `rank` takes."""
    path = tmp_path / "my.yaml"
    path.write_text(run("demo", "--as-file", small=False).out, encoding="utf-8")
    assert run("rank", path, small=False).code == 0


def test_the_demo_case_finds_both_complaints(run) -> None:
    """The holes and the pale, dry outside each have their cause among the first, since both are at work."""
    found = json.loads(run("demo", "--format", "json", small=False).out)
    stages = {one["stage"] for one in found["ranking"][:4]}
    assert {"injection", "smoking"} <= stages


def test_knowledge_check_is_content_with_good_knowledge(run) -> None:
    """Knowledge in order gives code 0 and what it holds."""
    found = run("knowledge", "check", SMALL)
    assert found.code == 0
    assert "in order: 3 stages, 6 causes" in found.out


def test_knowledge_check_prints_findings_with_code_1(run) -> None:
    """Problems are results: on stdout, one a line, with exit code 1."""
    found = run("knowledge", "check", BROKEN / "dangling-id", small=False)
    assert found.code == 1
    lines = found.out.splitlines()
    assert all(line.count(":") >= 3 for line in lines[:-1])
    assert lines[-1] == f"{len(lines) - 1} problem{'' if len(lines) == 2 else 's'}"


def test_knowledge_check_as_json(run) -> None:
    """Programs get the problems as a list with places."""
    found = run("knowledge", "check", BROKEN / "dangling-id", "--format", "json", small=False)
    assert found.code == 1
    assert {"path", "line", "column", "message"} == set(json.loads(found.out)["problems"][0])


def test_knowledge_schema_writes_and_then_is_content(run, tmp_path: Path) -> None:
    """Missing schemas are a finding; written ones are none."""
    import shutil

    folder = tmp_path / "knowledge"
    shutil.copytree(SMALL, folder)
    assert run("knowledge", "schema", folder, small=False).code == 1
    assert run("knowledge", "schema", folder, "--write", small=False).code == 0
    found = run("knowledge", "schema", folder, small=False)
    assert (found.code, found.out) == (0, "The schemas are up to date.\n")


def test_broken_knowledge_stops_a_command_with_code_3(run) -> None:
    """A report never rests on knowledge that is not in order."""
    found = run("--knowledge", BROKEN / "dangling-id", "explain", "pale-outside", small=False)
    assert (found.code, found.out) == (3, "")


def test_a_plants_own_knowledge_is_laid_over(run, tmp_path: Path) -> None:
    """--also adds what a plant has written itself."""
    folder = tmp_path / "plant" / "chain"
    folder.mkdir(parents=True)
    text = (SMALL / "chain" / "08-injection.yaml").read_text(encoding="utf-8")
    own = text[text.index("- id: injector-draws-air") : text.index("- id: injection-pressure-too-high")]
    own = own.replace("injector-draws-air", "own-cause").replace("keep-suction-under-brine", "own-step")
    own = own.replace("Injector takes in air with the brine", "A cause of this plant alone")
    own = own.replace("strength: often", "strength: seldom")
    (folder / "08-injection.yaml").write_text(f"stage: injection\ncauses:\n{own}", encoding="utf-8")
    found = run("--also", tmp_path / "plant", "explain", "own-cause")
    assert found.code == 0, found.err
    assert found.out.startswith("A cause of this plant alone\n")


def test_resume_and_no_command_need_a_terminal(run) -> None:
    """Without a terminal nothing is asked: the error names what to use instead, exit code 2."""
    for arguments in ((), ("resume",), ("--no-input",), ("resume", "--no-input")):
        found = run(*arguments)
        assert found.code == 2
        assert "diagnose rank CASE.yaml" in found.err


def test_a_mistyped_command_names_the_nearest(run) -> None:
    """A slip in a command is answered with what was meant; a file name with the command that takes it."""
    assert "'rank'" in run("rnk").err
    found = run("case.yaml")
    assert found.code == 2
    assert "diagnose rank case.yaml" in found.err
