"""Loading, laying folders over each other, and remembering."""

import json
import os
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from diagnose.corpus import remembered
from diagnose.corpus.load import check, default_folder, load
from diagnose.corpus.records import Knowledge
from diagnose.errors import KnowledgeError

SMALL = Path(__file__).parents[2] / "small"
Lines = Callable[..., list[str]]


@pytest.fixture
def plant(tmp_path: Path) -> Path:
    """A plant's own folder, with one cause of its own and some changes."""
    folder = tmp_path / "plant"
    (folder / "chain").mkdir(parents=True)
    (folder / "chain" / "08-injection.yaml").write_text(
        """stage: injection
causes:
- id: worn-piston
  title: Piston of the old pump is worn
  what: Air gets past it into the brine.
  frequency: common
  maker-could-know: with-a-check
  leads-to:
  - to: air-in-brine
    strength: often
    basis: common-practice
  check:
    ask: Does the old pump knock?
    how: Listen at the pump.
    needs: process
    minutes: 1
    reliability: fair
  corrections:
  - id: new-piston
    do: Fit a new piston.
    when: next-batch
    effort: hours
    removes: nearly-all
    verify: The pump runs quietly.
    basis: common-practice
""",
        encoding="utf-8",
    )
    (folder / "changes.yaml").write_text(
        """links:
- from: injector-draws-air
  to: foam-on-brine
  strength: sometimes
  basis: common-practice
- from: injection-pressure-too-high
  to: foam-on-brine
  strength: seldom
  basis: common-practice
frequency:
- cause: hams-touch-on-truck
  frequency: rare
  basis: common-practice
background:
- sign: pale-outside
  background: low
  basis: common-practice
""",
        encoding="utf-8",
    )
    return folder


def test_the_small_knowledge_comes_out_whole(small: Knowledge) -> None:
    """Stages are in order, causes know their stage, signs their region, and a basis of common practice is empty."""
    assert [stage.stage for stage in small.stages] == ["injection", "curing-hold", "smoking"]
    assert small.causes["smoke-too-short"].stage == "smoking"
    assert small.signs["foam-on-brine"].region == "batch-pattern"
    assert small.stages[0].causes[0] is small.causes["injector-draws-air"]
    assert small.causes["injector-draws-air"].leads_to[1].basis == ()
    assert small.corrections["dry-before-smoke"].also_removes == ("smoke-too-short",)
    assert small.scales["strength"].value("usually") == 0.75
    with pytest.raises(KeyError):
        small.scales["strength"].value("always")


def test_a_plant_adds_and_changes(plant: Path, small: Knowledge) -> None:
    """A folder laid over adds causes to a stage, adds and replaces links, and changes frequencies and backgrounds."""
    knowledge = load(SMALL, [plant], remember=False)
    assert [cause.id for cause in knowledge.stages[0].causes][-1] == "worn-piston"
    assert knowledge.stages[0].title == small.stages[0].title
    air = {link.to: link.strength for link in knowledge.causes["injector-draws-air"].leads_to}
    assert air == {"air-in-brine": "usually", "foam-on-brine": "sometimes"}
    assert knowledge.causes["injection-pressure-too-high"].leads_to[-1].to == "foam-on-brine"
    assert small.causes["hams-touch-on-truck"].rates
    assert (knowledge.causes["hams-touch-on-truck"].frequency, knowledge.causes["hams-touch-on-truck"].rates) == (
        "rare",
        (),
    )
    assert knowledge.signs["pale-outside"].background == "low"
    assert knowledge.version != small.version
    assert small.causes["hams-touch-on-truck"].frequency == "common"


def test_problems_of_a_plant_name_its_files(plant: Path, problems_of: Lines) -> None:
    """Whoever reads the message must know which of the two folders to open."""
    changes = plant / "changes.yaml"
    text = changes.read_text(encoding="utf-8")
    text = text.replace("strength: seldom", "strength: seldomly").replace("cause: hams-touch", "cause: ham-touch")
    changes.write_text(text.replace("sign: pale-outside", "sign: pale-outsides"), encoding="utf-8")
    (plant / "chain" / "09-tumbling.yaml").write_text("stage: tumbling\n", encoding="utf-8")
    assert problems_of(SMALL, plant) == [
        'plant/chain/09-tumbling.yaml:1:1: "tumbling" is a new stage, so "title" and "what" are needed',
        'plant/changes.yaml:8:13: "seldomly" is not on the scale strength '
        '(hardly-ever, seldom, sometimes, often, usually, nearly-always); did you mean "seldom"?',
        'plant/changes.yaml:11:10: no cause has the id "ham-touch-on-truck"; did you mean "hams-touch-on-truck"?',
        'plant/changes.yaml:15:9: no sign has the id "pale-outsides"; did you mean "pale-outside"?',
    ]


def test_the_same_change_twice_is_a_problem(plant: Path, problems_of: Lines) -> None:
    """Two words for one link leave open which is meant."""
    with (plant / "changes.yaml").open("a", encoding="utf-8") as file:
        file.write("- sign: pale-outside\n  background: high\n  basis: common-practice\n")
    assert problems_of(SMALL, plant) == ["plant/changes.yaml:18:9: changed twice; the first is on line 15"]


def test_a_plant_cannot_take_an_id_that_is_taken(plant: Path, problems_of: Lines) -> None:
    """Ids stay unique over all folders."""
    path = plant / "chain" / "08-injection.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("worn-piston", "smoke-too-short"), encoding="utf-8")
    lines = problems_of(SMALL, plant)
    assert len(lines) == 1
    assert 'plant/chain/08-injection.yaml:3:7: the id "smoke-too-short" is already that of a cause at' in lines[0]


def test_a_retired_id_leaves_the_knowledge_but_is_remembered(copied: Path) -> None:
    """Old cases can still be read, and nothing works with an entry that is no longer used."""
    path = copied / "signs" / "cut-face.yaml"
    entry = path.read_text(encoding="utf-8").split("- id: torn-openings\n")[1].split("- id: holes-in-rows")[0]
    head = '- id: ripped-lean\n  retired: {since: "2026.1", instead: torn-openings}\n'
    extra = head + entry.replace("Torn openings in", "Ripped places in")
    path.write_text(path.read_text(encoding="utf-8") + extra, encoding="utf-8")
    knowledge = load(copied)
    assert "ripped-lean" not in knowledge.signs
    assert knowledge.retired["ripped-lean"].instead == "torn-openings"
    assert load(copied) == knowledge


def test_what_was_stored_comes_back_equal(own_cache: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The remembered knowledge is the same in every field, order and type, and needs no YAML."""
    fresh = load(SMALL)
    assert len(list(own_cache.glob("knowledge-*.json"))) == 1
    monkeypatch.setattr("diagnose.corpus.assemble.assemble", lambda *_: pytest.fail("read again"))
    again = load(SMALL)
    assert again == fresh
    assert list(again.causes) == list(fresh.causes)
    assert again.stages[0].causes[0] is again.causes[again.stages[0].causes[0].id]
    assert isinstance(again.causes["injector-draws-air"].leads_to[0].basis, tuple)


def test_a_changed_word_is_read_afresh(copied: Path) -> None:
    """The memory never hides an edit."""
    before = load(copied)
    path = copied / "families.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("Holes in the lean", "Openings"), encoding="utf-8")
    after = load(copied)
    assert after.version != before.version
    assert after.families["holes"].title == "Openings"


@pytest.mark.parametrize("damage", ["", "{", "[]", "[1,2]", "null", '["x"]', "[[[[", "\x00\x01"])
def test_a_damaged_memory_is_passed_over(own_cache: Path, damage: str) -> None:
    """Half a file, another form or rubbish costs time and nothing else."""
    fresh = load(SMALL)
    (path,) = own_cache.glob("knowledge-*.json")
    path.write_text(damage, encoding="utf-8")
    assert load(SMALL) == fresh


def test_every_cut_of_a_stored_file_is_passed_over(own_cache: Path) -> None:
    """A write that was broken off anywhere is never taken for knowledge."""
    fresh = load(SMALL)
    (path,) = own_cache.glob("knowledge-*.json")
    whole = path.read_bytes()
    for length in range(0, len(whole), 997):
        path.write_bytes(whole[:length])
        assert remembered.recall(fresh.version) is None


def test_a_record_of_another_shape_is_passed_over(own_cache: Path) -> None:
    """A list with a value too few is not squeezed into a record."""
    fresh = load(SMALL)
    (path,) = own_cache.glob("knowledge-*.json")
    values = json.loads(path.read_bytes())
    values[1][0][3][0].pop()
    path.write_text(json.dumps(values), encoding="utf-8")
    assert remembered.recall(fresh.version) is None


def test_a_folder_that_cannot_be_written_is_no_error(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """On a locked-down machine the program is slower, not broken."""
    blocked = tmp_path / "file"
    blocked.write_text("not a folder", encoding="utf-8")
    monkeypatch.setenv("DIAGNOSE_CACHE_DIR", str(blocked / "below"))
    assert load(SMALL).causes


def test_memory_can_be_turned_off(own_cache: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Neither the argument nor the environment variable leaves a file behind."""
    load(SMALL, remember=False)
    monkeypatch.setenv("DIAGNOSE_NO_CACHE", "1")
    load(SMALL)
    assert not own_cache.exists()


@pytest.mark.skipif(sys.platform == "win32", reason="file modes are those of POSIX")
def test_the_memory_is_private(own_cache: Path) -> None:
    """Nobody else can read it, and a file that others could have written is not trusted."""
    fresh = load(SMALL)
    (path,) = own_cache.glob("knowledge-*.json")
    assert own_cache.stat().st_mode & 0o077 == 0
    assert path.stat().st_mode & 0o077 == 0
    path.chmod(0o666)
    assert remembered.recall(fresh.version) is None


def test_old_files_are_cleared_away(own_cache: Path, copied: Path) -> None:
    """The folder does not grow with every edit an author makes."""
    path = copied / "families.yaml"
    for number in range(remembered.KEPT + 3):
        path.write_text(path.read_text(encoding="utf-8") + f"# {number}\n", encoding="utf-8")
        os.utime(path)
        load(copied)
    assert len(list(own_cache.glob("*"))) == remembered.KEPT


def test_problems_are_never_stored(own_cache: Path, copied: Path) -> None:
    """Only knowledge in order is remembered."""
    (copied / "families.yaml").write_text("families: []\n", encoding="utf-8")
    with pytest.raises(KnowledgeError):
        load(copied)
    assert not own_cache.exists()


def test_the_default_folder_is_the_one_that_is_shipped() -> None:
    """Without an argument the program reads its own knowledge."""
    assert (default_folder() / "scales.yaml").is_file()


def test_check_looks_at_the_worked_cases(copied: Path, problems_of: Lines) -> None:
    """A case that speaks of an unknown id is a problem of the knowledge folder."""
    path = copied / "cases" / "air-at-the-pump.yaml"
    path.rename(path.with_stem("renamed"))
    assert check(SMALL) == []
    assert problems_of(copied) == [
        'knowledge/cases/renamed.yaml:1:1: a worked case bears the name of its file: case: "renamed"'
    ]
