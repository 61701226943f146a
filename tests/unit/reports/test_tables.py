"""Tables in the two layouts."""

from diagnose.reports import laid_out
from diagnose.reports.document import Document, Table

PLACES = Document(
    [Table(("stage", "causes", "missed"), (("Trimming | cutting", "3", ""), ("Cooking", "12", "1")))], (), ()
)


def test_text_names_each_value_and_leaves_out_empty_ones() -> None:
    """Nobody has to count columns: each value stands behind the name of its column."""
    assert laid_out(PLACES, "text") == (
        "  - Trimming | cutting\n    causes: 3\n  - Cooking\n    causes: 12; missed: 1\n"
    )


def test_text_keeps_to_the_width() -> None:
    """Long rows go on in further lines."""
    wide = Document(
        [
            Table(
                ("", *(f"column-{at}" for at in range(20))),
                (
                    (
                        "Row",
                        *("1" * 20),
                    ),
                ),
            )
        ],
        (),
        (),
    )
    lines = laid_out(wide, "text", width=40).splitlines()
    assert len(lines) > 5
    assert max(map(len, lines)) <= 40


def test_markdown_is_a_table_with_its_bars_escaped() -> None:
    """A bar inside a cell does not open another one."""
    assert laid_out(PLACES, "markdown").startswith(
        "| stage | causes | missed |\n|---|---|---|\n| Trimming \\| cutting | 3 |  |\n| Cooking | 12 | 1 |\n"
    )
