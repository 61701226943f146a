"""Reading a batch record: what is taken, and what is refused with its line."""

from pathlib import Path

import pytest

from diagnose.casework.batch_record import Written, load_record, record_of_case
from diagnose.casework.record_fields import FIELDS
from diagnose.corpus.yamltree import Place
from diagnose.errors import CaseError

EXAMPLES = Path(__file__).parents[3] / "docs" / "examples"


def test_figures_come_in_one_unit(record) -> None:
    """Whatever unit was written, a figure is in the unit of its kind."""
    found = record("green-weight: 908 lb\ndeep-leg: 36 F\ncure-time: 2 days")
    assert found.get("green-weight") == pytest.approx(411.86, abs=0.01)
    assert found.get("deep-leg") == pytest.approx(2.222, abs=0.001)
    assert found.get("cure-time") == 2880
    assert found.written["green-weight"] == "908 lb"


def test_missing_values_are_allowed(record) -> None:
    """Left out, left blank, or written as not recorded."""
    found = record("green-weight: 412 kg\ninjected-weight:\nfat: not recorded\nsalt: n/a")
    assert set(found.values) == {"green-weight"}


@pytest.mark.parametrize(
    ("figures", "line"),
    [
        (
            "green-weight: 412 kg\ninjected-weight: 400 kg",
            "record.yaml:4:20: the injected weight (400 kg) is below the green",
        ),
        ("injected-weight: 480 kg\ndrained-weight: 490 kg", "record.yaml:4:19: the drained weight"),
        ("injected-weight: 480 kg\ncooked-weight: 500 kg", "record.yaml:4:18: the cooked weight"),
        ("cooked-weight: 400 kg\nfinished-weight: 410 kg", "record.yaml:4:20: the finished weight"),
        (
            "cure-mix-nitrite: 6.25 %\ncure-mix-salt: 98 %",
            "record.yaml:4:18: the shares of the curing mix sum to 104.25 %",
        ),
        (
            "salt: 3 %\nmoisture: 75 %\nprotein: 20 %\nfat: 8 %",
            "record.yaml:6:8: salt, moisture, protein, fat sum to 106 %",
        ),
        ("salt: 2 %\nmoisture: 60 %\nprotein: 18 %\nfat: 5 %", "sum to only 85 %"),
        ("colour-from: 2 h\ncolour-to: 1 h", "record.yaml:4:14: colour development ends before it begins"),
        ("brine-water: 0 kg\nbrine-salt: 20 kg", "record.yaml:3:16: a brine without water"),
        (
            "green-weight: 100 kg\ninjected-weight: 400 kg",
            "record.yaml:4:20: the injected weight (400 kg) is over 3 times",
        ),
        ("green-weight: 412", 'record.yaml:3:17: "green-weight": the unit is missing'),
        ("green-wieght: 412 kg", 'no figure goes by the name "green-wieght"; did you mean "green-weight"?'),
        ("deep-leg: 90 C", '"deep-leg" is 90 C; it lies from -5 °C to 45 °C'),
        ("cure-method: sprayed", '"cure-method" must be one of pumped, immersed, dry-rubbed'),
        ("cook-chart: nowhere.csv", '"cook-chart": there is no file'),
        ("salt: [2 %]", '"salt" takes a number with its unit, not a list'),
    ],
)
def test_what_cannot_be_is_refused_with_its_line(refused, figures: str, line: str) -> None:
    """Each impossible or unreadable value is named at its place."""
    found = refused(figures)
    assert len(found) == 1
    assert line in found[0]


def test_all_problems_are_told_at_once(refused) -> None:
    """Nobody mends a record one run at a time."""
    assert len(refused("green-weight: 412\ninjected-weight: 5 C\nno-such-thing: 1 kg")) == 3


@pytest.mark.parametrize(
    ("chart", "line"),
    [
        (
            "time (min),core (F),dry bulb (F),wet bulb (F)\n0,40,120,100\n10,41,125,130\n",
            "c.csv:3:1: the wet bulb (54.4 °C) is above",
        ),
        ("time (min),core (C)\n0,4\n0,5\n", "c.csv:3:1: time does not rise"),
        ("time (min),core (C)\n0,4\nx,5\n", 'c.csv:3:1: "x" is no time'),
        ("time (min),core (C)\n0,4\n5,warm\n", 'c.csv:3:1: "warm" is no temperature for core'),
        ("time (min),core (C)\n0,4\n5,900\n", "c.csv:3:1: core 900 is no temperature of a plant"),
        ("time (min),core\n0,4\n5,6\n", 'c.csv:1:1: the column "core" needs its unit'),
        ("time,core (C)\n0,4\n5,6\n", "c.csv:2:1: the column of times needs its unit"),
        ("core (C)\n4\n5\n", "c.csv:1:1: there is no column for the time"),
        ("time (min),core (C)\n0,4\n14:05,5\n", "c.csv:3:1: clock times and numbers stand in one column"),
        ("time (min),core (C)\n0,4\n" + "9" * 400 + ",5\n", '" is no time'),
        ("time (min),core (C)\n0,4\n5," + "6" * 200_000 + "\n", "c.csv:3:1: a line of a chart has at most"),
        ("time (min),coer (C)\n0,4\n5,6\n", 'unknown column "coer (C)"; did you mean "core"?'),
        ("time (min),core (C)\n0,4\n", "names its columns and at least two readings"),
        ("time (min),dry bulb (C)\n0,4\n5,6\n", "the chart needs a column core"),
        ("", "names its columns and at least two readings"),
    ],
)
def test_a_faulty_chart_is_refused_with_its_line(refused, chart: str, line: str) -> None:
    """Problems of a logger's file carry the file's own line."""
    assert any(line in one for one in refused("cook-chart: c.csv", c=chart))


@pytest.mark.parametrize(
    ("chart", "minutes", "celsius"),
    [
        ("time (h);core (C)\n0;4,5\n0,5;6\n", (0, 30), (4.5, 6)),
        ("time,core (C)\n23:50,70\n00:10,60\n00:30,50\n", (0, 20, 40), (70, 60, 50)),
        ("time,core (F)\n2026-03-02 23:00,158\n2026-03-03 01:00,140\n", (0, 120), (70, 60)),
        ("# a remark\n\ntime (min),internal temperature [°C],remark\n0,4,on\n10,,\n20,8,off\n", (0, 20), (4, 8)),
    ],
)
def test_loggers_differ_and_are_understood(record, chart: str, minutes: tuple, celsius: tuple) -> None:
    """Semicolons with decimal commas, clock times past midnight, dates, remarks and blank cells."""
    core = record("chill-chart: c.csv", c=chart).charts["chill-chart"].core
    assert core.minutes == pytest.approx(minutes)
    assert core.celsius == pytest.approx(celsius)


def test_a_case_may_name_a_record_and_add_to_it(shipped) -> None:
    """`numbers: {record: file}` reads the file beside the case, and further figures are laid over it."""
    place = Place("case.yaml", 5, 3)
    found = record_of_case(
        shipped,
        "bone-in-ham",
        [Written("record", "good-batch.yaml", place), Written("surface-temperature", "40 F", place)],
        EXAMPLES,
    )
    assert found is not None
    assert found.get("green-weight") == 412
    assert found.get("surface-temperature") == pytest.approx(4.444, abs=0.001)


@pytest.mark.parametrize(
    ("numbers", "product", "says"),
    [
        ([("record", "none.yaml")], "bone-in-ham", "there is no file"),
        ([("record", "good-batch.yaml")], "bacon", 'the record is of "bone-in-ham", the case of "bacon"'),
        (
            [("record", "good-batch.yaml"), ("green-weight", "1 kg")],
            "bone-in-ham",
            "stands in the record good-batch as well",
        ),
        (
            [("green-weight", "400 kg"), ("injected-weight", "300 kg")],
            "bone-in-ham",
            "case.yaml:5:3: the injected weight",
        ),
    ],
)
def test_a_case_with_a_wrong_record_is_refused(shipped, numbers: list, product: str, says: str) -> None:
    """The problem is told at the place in the case."""
    written = [Written(key, text, Place("case.yaml", 5, 3)) for key, text in numbers]
    with pytest.raises(CaseError, match=says):
        record_of_case(shipped, product, written, EXAMPLES)


def test_a_case_without_numbers_has_no_record(shipped) -> None:
    """Nothing is made of nothing."""
    assert record_of_case(shipped, "bone-in-ham", [], EXAMPLES) is None


@pytest.mark.parametrize(
    "text",
    ["- a list\n", "product: bone-in-ham\n", "product: no-such\nnumbers: {}\n", "product: bone-in-ham\nnumbers: 5\n"],
)
def test_a_record_of_another_form_is_refused(shipped, tmp_path: Path, text: str) -> None:
    """A list, a record without numbers, an unknown product."""
    path = tmp_path / "r.yaml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(CaseError):
        load_record(shipped, path)


def test_the_handbook_lists_every_figure() -> None:
    """Each key of the format stands in docs/numbers.md."""
    page = (EXAMPLES.parent / "numbers.md").read_text(encoding="utf-8")
    assert [key for key in FIELDS if f"`{key}`" not in page] == []
