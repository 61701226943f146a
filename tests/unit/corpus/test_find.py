"""Searching with the words of the trade."""

import time
from dataclasses import replace

import pytest

from diagnose.corpus.find import find
from diagnose.corpus.find_words import plain, slips_between
from diagnose.corpus.records import Knowledge


@pytest.fixture(scope="module")
def blood(small: Knowledge) -> Knowledge:
    """The small knowledge with a sign for spelling variants."""
    sign = replace(
        small.signs["sour-smell"],
        id="blood-specks",
        title="Blood specks in the lean",
        also_called=("haemorrhage", "blood splash"),
        what="Pinhead spots of blood.",
        region="cut-face",
    )
    return replace(small, signs={**small.signs, sign.id: sign})


@pytest.mark.parametrize(
    ("words", "first"),
    [
        ("pinholes", "small-round-holes"),
        ("pin holes", "small-round-holes"),
        ("Pinhoels", "small-round-holes"),
        ("pinh", "small-round-holes"),
        ("bone sour", "sour-smell"),
        ("bone-sour", "sour-smell"),
        ("hemorrhage", "blood-specks"),
        ("haemorrhages", "blood-specks"),
        ("hemorrage", "blood-specks"),
        ("splash", "blood-specks"),
        ("PALE OUTSIDE", "pale-outside"),
        ("cavitation", "injector-draws-air"),
        ("pressure", "injection-pressure-too-high"),
        ("streaks", "streaked-outside"),
        ("\x07foam\u202e", "foam-on-brine"),
        ("why do the pinholes form in it", "small-round-holes"),
        ("bone-sours", "sour-smell"),
        ("streaking", "streaked-outside"),
        ("airpockets", "small-round-holes"),
        ("surface pale", "pale-outside"),
        ("pael", "pale-outside"),
        ("foan", "foam-on-brine"),
    ],
)
def test_trade_words_find_their_entry_first(blood: Knowledge, words: str, first: str) -> None:
    """Synonyms, half words, slips of the finger and both spellings lead to the same place."""
    assert find(blood, words)[0].id == first


def test_an_exact_other_name_beats_a_part_of_a_title(blood: Knowledge) -> None:
    """Who types the trade's name for a thing gets that thing."""
    hits = find(blood, "air pockets")
    assert hits[0].id == "small-round-holes"
    assert hits[0].score == 1.0
    assert hits[0].why == "air pockets"
    assert all(hit.score < 1 for hit in hits[1:])


def test_of_two_that_fit_alike_the_defect_comes_first(small: Knowledge) -> None:
    """A fault of the ham comes before a detail, a detail before a correction, where all are called alike."""
    defect = replace(small.signs["pale-outside"], id="one", title="Zebra face", also_called=("zebra",), kind="defect")
    detail = replace(defect, id="two", title="Zebra", also_called=(), kind="detail")
    cause = small.causes["injector-draws-air"]
    step = replace(cause.corrections[0], id="three", do="Zebra.")
    known = replace(
        small,
        causes={**small.causes, cause.id: replace(cause, corrections=(step,))},
        signs={"two": detail, "one": defect},
    )
    assert [hit.id for hit in find(known, "zebra", kinds=("correction", "sign"))] == ["one", "two", "three"]


def test_every_word_counts(blood: Knowledge) -> None:
    """Who types two words wants the entry that holds both, not the one that is full of the first."""
    hits = find(blood, "blood lean")
    assert hits[0].id == "blood-specks"
    assert all(hit.score < hits[0].score for hit in hits[1:])


def test_what_belongs_to_other_products_stays_out(small: Knowledge) -> None:
    """A search for one product, or with a word for it, gives no sign of another; the usual product comes first."""
    ham = next(iter(small.products.values()))
    sausage = replace(ham, id="sausage", title="Smoked sausage", also_called=())
    here = small.signs["small-round-holes"]
    there = replace(here, id="sausage-holes", title="Holes in it", products=("sausage",))
    known = replace(
        small,
        products={ham.id: ham, "sausage": sausage},
        signs={there.id: there, here.id: replace(here, products=(ham.id,))},
    )

    def found(words: str, product: str | None = None) -> list[str]:
        return [hit.id for hit in find(known, words, kinds=("sign",), product=product)]

    assert found("pinholes") == [here.id, there.id]
    assert found("pinholes", ham.id) == found("pinholes in the ham") == [here.id]
    assert found("pinholes", "sausage") == found("sausage pinholes") == [there.id]


def test_kinds_region_and_limit_narrow_the_search(blood: Knowledge) -> None:
    """A prompt that asks for a sign at the cut face offers nothing else."""
    assert {hit.kind for hit in find(blood, "holes", kinds=("sign",))} == {"sign"}
    assert {hit.id for hit in find(blood, "holes", kinds=("sign",), region="exterior")} == set()
    assert len(find(blood, "the lean holes", limit=2)) == 2
    assert [hit.kind for hit in find(blood, "lower the pressure", kinds=("correction",))] == ["correction"]


@pytest.mark.parametrize("words", ["", "   ", "?!", "\x1b", "zzzzqqqq"])
def test_nothing_to_go_by_finds_nothing(blood: Knowledge, words: str) -> None:
    """An empty or hopeless query is answered with an empty list."""
    assert find(blood, words) == []


def test_spellings_and_accents_fall_together() -> None:
    """Both sides of the ocean, and keyboards without accents, are served."""
    assert plain("Colour Grey MOULD œdema jamón") == plain("color gray mold edema jamon")


@pytest.mark.parametrize(
    ("one", "other", "slips"), [("pinhoels", "pinholes", 1), ("ham", "ham", 0), ("ham", "", 3), ("gas", "gash", 1)]
)
def test_slips_are_counted(one: str, other: str, slips: int) -> None:
    """Two letters swapped are one slip."""
    assert slips_between(one, other) == slips


def test_search_keeps_up_with_typing(small: Knowledge) -> None:
    """With four hundred entries an answer comes within ten milliseconds."""
    signs = {}
    for number in range(400):
        for sign in list(small.signs.values())[number % 8 : number % 8 + 1]:
            signs[f"{sign.id}-{number}"] = replace(
                sign, id=f"{sign.id}-{number}", title=f"{sign.title} {number * 7919:x}"
            )
    many = replace(small, signs=signs)
    find(many, "warm up")
    queries = ["p", "pinhoels", "small round holes in the lean", "sour smell at bone", "zzzzqqqq"]
    best = []
    for query in queries:
        times = []
        for _ in range(3):
            start = time.perf_counter()
            find(many, query)
            times.append(time.perf_counter() - start)
        best.append(min(times))
    assert max(best) < 0.010
