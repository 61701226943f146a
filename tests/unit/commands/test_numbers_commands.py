"""The commands of the numbers: a batch record on one page, one computation, a record in a case."""

import json
from html.parser import HTMLParser
from pathlib import Path

import pytest

EXAMPLES = Path(__file__).parents[3] / "docs" / "examples"


@pytest.mark.parametrize(
    ("name", "cautions"),
    [("good-batch", []), ("scaling-error", ["nitrite-over-limit"]), ("slow-chill", ["slow-chill-hold"])],
)
def test_the_examples_give_results_and_their_cautions(run, name: str, cautions: list[str]) -> None:
    """The JSON of each invented record, with the keys that programs rely on."""
    found = run("batch", EXAMPLES / f"{name}.yaml", "--format", "json", small=False)
    assert found.code == 0, found.err
    page = json.loads(found.out)
    assert [one["id"] for one in page["cautions"]] == cautions
    assert len(page["results"]) > 40
    for one in page["results"]:
        assert {"name", "value", "unit", "limit", "verdict", "source"} <= set(one)
        if one["verdict"]:
            assert one["source"]
            assert one["limit_detail"]["date"]
    assert len({one["name"] for one in page["results"]}) == len(page["results"])


def test_the_page_puts_cautions_before_every_figure(run) -> None:
    """Nobody reads a number before the danger."""
    out = run("batch", EXAMPLES / "slow-chill.yaml", small=False).out
    assert out.index("!! DANGER !!") < out.index("Weights and yield")
    assert "over the published figure (Cured, 54.4 to 26.7 °C (130 to 80 °F) in 5 h" in " ".join(out.split())
    assert "text of 1999-06" in out
    assert out.rstrip().endswith("decide.")
    assert max(map(len, out.splitlines())) <= 80


def test_charts_are_drawn_with_their_limit(run) -> None:
    """The text page has both charts, the limit named in the legend."""
    out = run("batch", EXAMPLES / "slow-chill.yaml", small=False).out
    assert "Chill chart (°C over hours)" in out
    assert "slowest within: cured, 100 ppm nitrite (limit)" in out


def test_recalled_figures_are_marked_on_the_page(run) -> None:
    """A limit that nobody has seen says so where it is used."""
    assert "RECALLED, NOT SEEN" in run("batch", EXAMPLES / "good-batch.yaml", small=False).out


class Page(HTMLParser):
    """Counts what stands in a page and where it would load anything from."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.loads: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.loads += [value or "" for name, value in attrs if name in ("src", "srcset", "data", "xlink:href")]


def test_the_html_page_is_one_file_with_pictures(run, tmp_path: Path) -> None:
    """SVG inside, no script, nothing loaded from anywhere; the suffix chooses the format."""
    target = tmp_path / "page.html"
    assert run("batch", EXAMPLES / "slow-chill.yaml", "--save", target, small=False).code == 0
    page = Page()
    page.feed(target.read_text(encoding="utf-8"))
    assert page.tags.count("polyline") >= 7
    assert not {"script", "link", "img", "iframe", "object"} & set(page.tags)
    assert page.loads == []


def test_hostile_words_stay_words(run, tmp_path: Path) -> None:
    """A title with markup is shown as it was written, in every form."""
    record = tmp_path / "r.yaml"
    record.write_text(
        'product: bone-in-ham\ntitle: "<script>alert(1)</script> [red]x"\nnumbers: {green-weight: 4 kg}\n',
        encoding="utf-8",
    )
    assert "<script>" not in run("batch", record, "--format", "html", small=False).out
    assert "\\<script\\>" in run("batch", record, "--format", "markdown", small=False).out
    assert "[red]x" in run("batch", record, small=False).out


def test_a_wrong_record_is_bad_input_with_its_lines(run, tmp_path: Path) -> None:
    """Exit code 3, nothing on stdout, all problems on stderr."""
    record = tmp_path / "r.yaml"
    record.write_text(
        "product: bone-in-ham\nnumbers:\n  green-weight: 400 kg\n  injected-weight: 380 kg\n  salt: lots\n",
        encoding="utf-8",
    )
    found = run("batch", record, small=False)
    assert (found.code, found.out) == (3, "")
    assert f"{record}:5:9:" in found.err


def test_rank_takes_the_record_that_a_case_names(run) -> None:
    """The salty hams: the tank's own record puts the weighing error first and shows the value among the reasons."""
    found = run("rank", EXAMPLES / "salty-hams.yaml", "--format", "json", small=False)
    assert found.code == 0, found.err
    page = json.loads(found.out)
    assert page["ranking"][0]["id"] == "brine-weighing-error-salt-high"
    assert page["cautions"][0]["id"] == "nitrite-over-limit"
    assert any(reason["computed"] for reason in page["ranking"][0]["reasons"])
    text = run("rank", EXAMPLES / "salty-hams.yaml", small=False).out
    assert "computed: 7 degrees" in text
    assert "(band -2 to 2" in text


def test_rank_takes_figures_that_stand_in_the_case(run, tmp_path: Path) -> None:
    """`numbers:` may hold the figures themselves, and a slip in one is told at its place."""
    case = tmp_path / "case.yaml"
    case.write_text(
        "product: bone-in-ham\nanswers: {over-salty: yes}\nnumbers:\n  green-weight: 100 kg\n  injected-weight: 125 kg\n"
        "  target-pump: 18 %\n",
        encoding="utf-8",
    )
    page = json.loads(run("rank", case, "--format", "json", small=False).out)
    assert page["computed"][0]["id"] == "pump-percent-below-target"
    assert {one["id"]: one["is"] for one in page["computed"]}["pump-percent-above-target"] == "yes"
    assert page["ranking"][0]["id"] == "pump-above-target"
    case.write_text(case.read_text(encoding="utf-8").replace("125 kg", "125"), encoding="utf-8")
    found = run("rank", case, small=False)
    assert found.code == 3
    assert f"{case}:5:20:" in found.err


def test_every_computation_is_listed_and_explains_itself(run) -> None:
    """Names, parameters and ranges, as text and for programs."""
    listed = json.loads(run("work", "--format", "json").out)["computations"]
    assert len(listed) > 30
    text = run("work").out
    for one in listed:
        assert f"{one['name']}: " in text
        assert one["parameters"]
        assert run("work", one["name"]).code == 0


GIVEN = {
    "pump": "green=412kg injected=486.2kg",
    "drain": "green=412kg injected=486.2kg drained=480kg",
    "yield": "start=100kg end=88kg",
    "green-for": "finished=500kg yield=102%",
    "cook-loss": "pump=18% yield=102%",
    "pff": "protein=18.6% fat=5.6%",
    "highest-yield": "raw-protein=20% raw-fat=6% pff=18.5%",
    "salometer": "reading=60 temperature=40F",
    "brine-strength": "salt=15.8%",
    "brine-check": "water=134kg ice=30kg salt=22kg mix=2774g sugar=6kg temperature=38F reading=70",
    "design-brine": "pickle=200kg pump=18% salt=2.2% nitrite=156ppm",
    "mend-brine": "brine=200kg now=11% wanted=12.2%",
    "highest-pump": "pickle=200kg mix=2774g",
    "ingoing-pumped": "agent=2774g share=6.25% pickle=200kg pump=18% retained=16%",
    "ingoing-immersed": "agent=500g share=6.25% pickle=100kg green=120kg pick-up=8%",
    "ingoing-on-meat": "agent=1oz green=100lb product=dry-cured-ham",
    "added-eu": "agent=2774g share=6.25% pickle=200kg pump=18%",
    "agent-for-pump": "target=156ppm share=6.25% pickle=200kg pump=18%",
    "convert": "amount=80ppm of=NO2 as=NaNO2",
    "finished-salt": "ingoing=2.2% yield=102%",
    "salt-for-finished": "wanted=2.2% yield=102%",
    "water-activity": "salt=2.2% moisture=71.5%",
    "salt-soak": "thickness=150mm time=30days",
    "cure-days": "thickness=6in weight=8kg",
    "humidity": "dry=149F wet=124F",
    "wet-bulb-for": "dry=65C humidity=48%",
    "surface": "surface=4C dry=46C wet=32C",
    "table-hold": "core=145F",
    "lethality": f"chart={EXAMPLES / 'good-cook.csv'}",
    "time-still-needed": f"chart={EXAMPLES / 'good-cook.csv'} hold=65C",
    "hold-for": "core=62C",
    "cooling": f"chart={EXAMPLES / 'slow-chill-chill.csv'} nitrite=156ppm",
    "chill-time": "thickness=160mm start=70C air=1C target=7C",
    "chill-forecast": f"chart={EXAMPLES / 'good-chill.csv'} air=1C target=3C",
    "trichinae-heating": "core=58C",
    "trichinae-freezing": "room=-25C thickness=20cm",
}


def test_there_is_an_example_of_every_computation() -> None:
    """A computation that is added is tried too."""
    from diagnose.casework.works.shelf import ALL

    assert set(GIVEN) == set(ALL)


@pytest.mark.parametrize("name", GIVEN)
def test_every_computation_runs(run, name: str) -> None:
    """Each gives at least one number, and the same in all forms."""
    found = run("work", name, *GIVEN[name].split(), "--format", "json", small=False)
    assert found.code == 0, found.err
    results = json.loads(found.out)["results"]
    assert results
    assert all(isinstance(one["value"], float | int) or one["verdict"] == "not shown by the record" for one in results)
    text = run("work", name, *GIVEN[name].split(), small=False).out
    assert all(one["title"].split()[0] in text for one in results)


@pytest.mark.parametrize(
    ("first", "then"),
    [
        ("wet-bulb wet-bulb-for dry=65C humidity=48%", "humidity dry=65C wet={:.6f}C"),
        ("ingoing salt-for-finished wanted=2.2% yield=95%", "finished-salt ingoing={:.6f}% yield=95%"),
        (
            "agent agent-for-pump target=156ppm pickle=200kg pump=18%",
            "ingoing-pumped agent={:.9f}kg pickle=200kg pump=18%",
        ),
    ],
)
def test_backwards_undoes_forwards(run, first: str, then: str) -> None:
    """What was solved for gives back what was wanted."""
    name, *arguments = first.split()
    results = json.loads(run("work", *arguments, "--format", "json", small=False).out)["results"]
    solved = next(one["value"] for one in results if one["name"] == name)
    again = json.loads(run("work", *then.format(solved).split(), "--format", "json", small=False).out)
    wanted = {"wet-bulb": 48, "ingoing": 2.2, "agent": 156}[name]
    assert again["results"][0]["value"] == pytest.approx(wanted, rel=1e-4)


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        ("pmp", 'did you mean "pump"?'),
        ("pump green=412kg", "still needed: injected"),
        ("pump green=412 injected=486kg", "the unit is missing"),
        ("pump green=412kg injcted=4kg", 'did you mean "injected"?'),
        ("pump green=412kg injected=400kg", "pump must lie between"),
        ("pump green=1kg green=2kg injected=3kg", "given twice"),
        ("pump 412kg", "is not of the form name=value"),
        ("humidity dry=65C wet=200C", "out of range"),
        ("convert amount=1ppm of=NO2 as=gold", "must be one of"),
        ("lethality chart=none.csv", "there is no file"),
        ("hold-for core=85C", "may be used from 55 to 70 °C"),
        ("design-brine pickle=100kg pump=5% salt=3%", "no brine can do this"),
    ],
)
def test_what_makes_no_sense_is_a_usage_error_in_words(run, arguments: str, says: str) -> None:
    """Exit code 2 and a sentence; nothing is extrapolated or guessed."""
    found = run("work", *arguments.split(), small=False)
    assert (found.code, found.out) == (2, "")
    assert says in found.err


def test_the_list_of_checks_is_up_to_date(run) -> None:
    """docs/checks.md is what `diagnose knowledge sums --write` makes."""
    found = run("knowledge", "sums", small=False)
    assert (found.code, found.out) == (0, "The list is up to date.\n")
