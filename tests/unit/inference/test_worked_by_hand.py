"""The case that docs/model.md works out by hand."""

from __future__ import annotations

import pytest

from diagnose.inference.evidence import Observed
from diagnose.inference.network import YES, Network, Node
from diagnose.inference.posterior import posterior

NET = Network(
    [
        Node("pump", "root", 0.03),
        Node("mixing", "root", 0.03),
        Node("holes", "any", 0.006, (("pump", 0.5), ("mixing", 0.25))),
        Node("foam", "any", 0.02, (("mixing", 0.75),)),
    ]
)


@pytest.mark.parametrize(
    ("seen", "pump_present", "pump_responsible", "mixing_present", "mixing_responsible"),
    [
        (("holes",), 0.54, 0.52, 0.28, 0.26),
        (("holes", "foam"), 0.11, 0.08, 0.94, 0.86),
        (("holes", "pump", "mixing"), 1.0, 0.59, 1.0, 0.20),
    ],
)
def test_the_page_says_what_the_program_finds(
    seen: tuple[str, ...],
    pump_present: float,
    pump_responsible: float,
    mixing_present: float,
    mixing_responsible: float,
) -> None:
    """A reader who follows the sums on the page must arrive at the program's numbers."""
    found = posterior(Observed(NET, dict.fromkeys(seen, YES)), ["holes"])
    assert found.present["pump"] == pytest.approx(pump_present, abs=0.005)
    assert found.responsible["pump"] == pytest.approx(pump_responsible, abs=0.005)
    assert found.present["mixing"] == pytest.approx(mixing_present, abs=0.005)
    assert found.responsible["mixing"] == pytest.approx(mixing_responsible, abs=0.005)
