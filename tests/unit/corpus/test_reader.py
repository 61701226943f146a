"""From tree to records."""

import unicodedata
from dataclasses import dataclass

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from diagnose.corpus.reader import read_record
from diagnose.corpus.records import Basis, said
from diagnose.corpus.scalars import trap
from diagnose.corpus.shape import shape_of
from diagnose.corpus.yamltree import read_bytes
from diagnose.errors import Problem


@dataclass(frozen=True)
class Inner:
    """Something nested."""

    name: str = said("A name.")


@dataclass(frozen=True)
class Outer:
    """One of each kind of field."""

    long_name: str = said("A text.", longest=10)
    share: float = said("A number.", default=0.5)
    inner: Inner | None = said("Something nested.", default=None)
    many: tuple[Inner, ...] = said("More of it.", default=(), at_least=2)
    basis: tuple[Basis, ...] = said("Sources.", default=())


def read(text: str) -> tuple[Outer, list[str]]:
    problems: list[Problem] = []
    node = read_bytes(text.encode(), "f", problems)
    assert node is not None
    return read_record(node, Outer, problems), [str(problem) for problem in problems]


def test_a_whole_record_is_read_with_its_defaults() -> None:
    """Names are kebab-case in YAML, lists become tuples, and what is left out takes its default."""
    record, problems = read("long-name: ham\nmany: [{name: a}, {name: b}]\nbasis: common-practice\n")
    assert problems == []
    assert record == Outer(long_name="ham", share=0.5, inner=None, many=(Inner("a"), Inner("b")), basis=())


def test_all_problems_of_a_record_are_found_at_once() -> None:
    """The reader goes on after a mistake and never raises."""
    record, problems = read("long_name: ham\nshare: 0,5\ninner: [x]\nmany: [{name: a}]\nbasis: []\n")
    assert problems == [
        'f:1:1: the field "long-name" is missing',
        'f:2:8: "share" is 0,5; write the decimal point as a dot',
        "f:3:8: expected an entry of fields (name: value), not a list",
        'f:4:7: "many" needs at least 2 in its list',
        'f:5:8: "basis" needs at least 1 in its list',
        'f:1:1: unknown field "long_name"; did you mean "long-name"?',
    ]
    assert record.long_name == ""


@pytest.mark.parametrize(
    "text",
    [
        *(
            "yes",
            "No",
            "on",
            "OFF",
            "true",
            "y",
            "N",
            "~",
            "null",
            "12:30",
            "1:20:30",
            "010",
            "0x1F",
            "0o17",
            "1_000",
            "1e3",
        ),
        *("-2", "+3.5", ".5", "5.", "2024-01-01", "2024-1-1", "2024-01-01 10:00:00", ".inf", ".NaN", "0b11", "007"),
    ],
)
def test_scalars_that_yaml_may_convert_need_quotes(text: str) -> None:
    """Each trap is refused when plain, with the cure in the message, and taken as it is in quotes."""
    _, problems = read(f"long-name: {text}\n")
    assert f'write it in quotes: "{text}"' in problems[0]
    record, problems = read(f'long-name: "{text[:10]}"\n')
    assert problems == []
    assert record.long_name == text[:10]


@pytest.mark.parametrize("text", ["ham", "12 h", "3,5", "5%", "10-20", "no hole", "v1.2", "1.2.3", "pH 5.8", "e3", "-"])
def test_ordinary_words_are_no_trap(text: str) -> None:
    """Authors need quotes only where they are needed."""
    assert trap(text) is None


@given(st.text(max_size=30))
def test_any_text_is_either_read_or_a_problem(text: str) -> None:
    """No input raises, and no plain scalar that PyYAML's safe loader would turn into something else gets through."""
    problems: list[Problem] = []
    node = read_bytes(f"long-name: {text}".encode("utf-8", "surrogatepass"), "f", problems)
    if node is None or problems:
        return
    record = read_record(node, Outer, problems)
    if not problems:
        text = unicodedata.normalize("NFC", text)
        assert yaml.CSafeLoader(f"long-name: {text}").get_single_data() == {"long-name": record.long_name}


def test_a_field_of_a_type_that_yaml_has_no_form_for_is_refused() -> None:
    """A mistake in a record class shows at once and not as a silent gap."""

    @dataclass(frozen=True)
    class Wrong:
        field: complex = said("Not for YAML.")

    Wrong.__annotations__["field"] = complex
    with pytest.raises(TypeError, match="cannot be read from YAML"):
        shape_of(Wrong)
