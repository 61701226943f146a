"""From words to numbers: what an answer says, and what a product's network holds."""

from __future__ import annotations

import pytest
from oracles.small_knowledge import cause, knowledge, links, mechanism, sign

from diagnose.casework.events import Answer
from diagnose.casework.model import Model
from diagnose.inference.network import NO, YES, Likelihood

PLAIN = knowledge(
    causes=(cause("a", "common", links(s="often", t="usually")), cause("b", "rare", links(s="usually"))),
    signs=(sign("s", graded=True), sign("t", kind="detail")),
)


@pytest.mark.parametrize(
    ("answer", "expected"),
    [
        (Answer("s", "yes"), YES),
        (Answer("s", "no"), NO),
        (Answer("s", "yes", "fairly"), Likelihood(0.1, 0.9)),
        (Answer("s", "no", "fairly"), Likelihood(0.9, 0.1)),
        (Answer("s", "yes", "from-memory"), Likelihood(0.2, 0.8)),
        (Answer("s", "no", "from-memory"), Likelihood(0.8, 0.2)),
        (Answer("s", "yes", how_much="marked"), YES),
        (Answer("s", "yes", how_much="slight"), Likelihood(0.25, 1.0)),
        (Answer("s", "yes", "fairly", "slight"), Likelihood(0.9 * 0.25 + 0.1, 0.9 + 0.1 * 0.25)),
    ],
)
def test_what_an_answer_says(answer: Answer, expected: Likelihood) -> None:
    """A sure answer is taken as it stands, others with the check's reliability, from memory one step lower; a slight
    sign may be ordinary variation."""
    assert Model(PLAIN, "ham").likelihood(answer) == pytest.approx(expected)


def test_cant_tell_is_no_evidence() -> None:
    """Can't tell leaves no trace in the evidence, and answers about what the product does not have are passed over."""
    model = Model(PLAIN, "ham")
    answers = {
        name: Answer(name, verdict) for name, verdict in (("s", "cant-tell"), ("t", "yes"), ("elsewhere", "yes"))
    }  # type: ignore[arg-type]
    assert model.likelihood(answers["s"]) is None
    assert model.evidence(answers) == {"t": YES}


def test_evidence_keeps_the_order_of_the_answers() -> None:
    """The weights of evidence depend on the order, so it must be that of the answers."""
    answers = {name: Answer(name, "yes") for name in ("t", "a", "s")}
    assert list(Model(PLAIN, "ham").evidence(answers)) == ["t", "a", "s"]


def test_defects_count_before_details() -> None:
    """What is to be explained are the defects answered yes, and only where there is none the details."""
    model = Model(PLAIN, "ham")
    yes = {name: Answer(name, "yes") for name in ("s", "t")}
    assert model.defects_seen(yes) == ("s",)
    assert model.defects_seen({"t": yes["t"], "s": Answer("s", "no")}) == ("t",)


def test_what_a_product_leaves_out() -> None:
    """Causes and signs of other products are not in the network, nor mechanisms that no cause here starts; the
    background of what stays is as written, since it speaks of what no listed cause of the product did."""
    whole = knowledge(
        causes=(
            cause("a", "common", links(s="often", m="often")),
            cause("b", "frequent", links(s="usually", m="sometimes", n="often"), products=("loin",)),
        ),
        signs=(sign("s"), sign("only-loin", products=("loin",))),
        mechanisms=(
            mechanism("m", links(s="often", only_loin="often", after="often")),
            mechanism("n", links(s="often")),
            mechanism("after", links(s="seldom")),
        ),
    )
    ham, loin = Model(whole, "ham").network, Model(whole, "loin").network
    assert set(ham.nodes) == {"a", "m", "after", "s"}
    assert set(loin.nodes) == {"a", "b", "m", "n", "after", "s", "only-loin"}
    assert ham.nodes["s"].chance == loin.nodes["s"].chance == 0.012
    assert dict(ham.nodes["s"].parents) == {"a": 0.5, "m": 0.5, "after": 0.1}
    assert dict(ham.nodes["m"].parents) == {"a": 0.5}
