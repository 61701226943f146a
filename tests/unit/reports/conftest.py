"""A finished diagnosis made by hand, with every part that a report can show, on the small knowledge of the tests."""

from __future__ import annotations

import dataclasses
import os
from collections.abc import Callable
from pathlib import Path

import pytest

from diagnose.casework.diagnosis import (
    ChainLink,
    Diagnosis,
    Fit,
    Hinge,
    NextQuestion,
    Plan,
    PlanStep,
    Ranked,
    Reason,
    Robustness,
    Seen,
    Suspicion,
    Warned,
)
from diagnose.casework.events import Answer
from diagnose.corpus.load import load
from diagnose.corpus.records import Basis, Knowledge

SMALL = Path(__file__).parents[2] / "small"

NOTES = Basis(
    source="plant-notes", at="whole text", says="Air taken in by the pump went into the meat.", bears="same-product"
)
OTHER = Basis(source="second-notes", at="", says="Wet hams took little smoke.", bears="relative")

GOLDEN = Path(__file__).parents[2] / "golden"


@pytest.fixture(scope="session")
def same_as_golden() -> Callable[[str, str], None]:
    """Asserts that a text is the one in a file of tests/golden.

    To accept new texts, run the tests with DIAGNOSE_NEW_GOLDEN=1 and read the difference before it is kept.
    """

    def same(text: str, name: str) -> None:
        path = GOLDEN / name
        if os.environ.get("DIAGNOSE_NEW_GOLDEN"):
            path.parent.mkdir(exist_ok=True)
            path.write_text(text, encoding="utf-8")
        assert text.splitlines() == path.read_text(encoding="utf-8").splitlines()

    return same


@pytest.fixture(scope="session")
def small() -> Knowledge:
    """The small knowledge with a version that does not change with its files."""
    return dataclasses.replace(load(SMALL, remember=False), version="for-the-tests")


@pytest.fixture(scope="session")
def diagnosis() -> Diagnosis:
    """One of everything; the figures are made up and need not follow from each other."""
    first = Ranked(
        id="injector-draws-air",
        title="Injector takes in air with the brine",
        what="The pump takes in air where the level is low or a joint is loose.",
        stage="injection",
        stage_title="Injection",
        present=0.94,
        responsible=0.721,
        maker_could_know="with-a-check",
        reasons=(
            Reason("small-round-holes", "Small round holes scattered through the lean", "yes", 16.4),
            Reason("foam-on-brine", "Foam stands on the brine", "yes", 5.9),
            Reason("holes-in-rows", "Holes stand in rows", "no", -0.4),
        ),
        chains=(
            (
                ChainLink(
                    "injector-draws-air",
                    "Injector takes in air with the brine",
                    "air-in-brine",
                    "Fine air carried in the brine",
                    "usually",
                    (NOTES,),
                    None,
                ),
                ChainLink(
                    "air-in-brine",
                    "Fine air carried in the brine",
                    "small-round-holes",
                    "Small round holes scattered through the lean",
                    "usually",
                    (),
                    None,
                ),
            ),
        ),
    )
    second = Ranked(
        id="surface-not-dried",
        title="Surface was still wet when the smoke began",
        what="Smoke does not hold on a wet surface and runs down in streaks.",
        stage="smoking",
        stage_title="Smoking",
        present=0.30,
        responsible=0.0999,
        maker_could_know="not-at-all",
        reasons=(Reason("pale-outside", "Pale outside", "yes", 21.0),),
        chains=(
            (
                ChainLink(
                    "surface-not-dried",
                    "Surface was still wet when the smoke began",
                    "little-smoke-deposited",
                    "Little smoke reaches the surface",
                    "often",
                    (OTHER, NOTES),
                    "One source saw paler hams, the other saw no difference.",
                ),
            ),
        ),
    )
    faint = dataclasses.replace(
        second, id="smoke-too-short", title="Smoke was too thin or too short", responsible=0.004, present=0.05
    )
    question = NextQuestion(
        about="held-too-warm",
        kind="cause",
        title="Hams were held too warm before cooking",
        ask="Does the chart of the holding room show more than the limit?",
        how="Read the chart for the days in question.",
        what="Bacteria grow where the room or the meat is warm.",
        needs="process",
        minutes=10,
        reliability="very-good",
        graded=False,
        bits=0.4375,
        yes=0.25,
        speaks_for="Hams were held too warm before cooking",
        speaks_against="Injector takes in air with the brine",
    )
    steps = (
        PlanStep(
            "keep-suction-under-brine",
            "Keep the suction of the pump under the brine and tighten its joints.",
            "now",
            "minutes",
            "No bubbles are seen in the clear part of the line.",
            ("Injector takes in air with the brine",),
            0.31,
            (),
        ),
        PlanStep(
            "talk-to-supplier",
            "Agree with the supplier on dry, cold hams.",
            "supplier",
            "days",
            "Three deliveries in a row are as agreed.",
            ("Surface was still wet when the smoke began",),
            0.004,
            (OTHER,),
        ),
        PlanStep(
            "dry-before-smoke",
            "Dry until the surface is tacky before the smoke is turned on.",
            "next-batch",
            "hours",
            "The colour is even over three loads.",
            ("Surface was still wet when the smoke began", "Smoke was too thin or too short"),
            0.12,
            (),
        ),
        PlanStep("later", "Measure the cold room.", "now", "investment", "A week of charts.", (), 0.02, ()),
    )
    hold = PlanStep(
        "hold-the-warm-lot",
        "Hold the lot and call the person in charge of food safety.",
        "this-lot",
        "hours",
        "The lot bears a hold tag.",
        ("Hams were held too warm before cooking",),
        0.0,
        (),
        ("hold-and-do-not-taste",),
    )
    return Diagnosis(
        product="bone-in-ham",
        product_title="Bone-in cured and smoked ham",
        title="Pinholes and a foaming tank",
        have=("product", "process"),
        seen=(
            Seen(
                Answer("small-round-holes", "yes", "sure", "marked"),
                "Small round holes scattered through the lean",
                "defect",
                "cut-face",
            ),
            Seen(Answer("foam-on-brine", "yes", "from-memory"), "Foam stands on the brine", "detail", "batch-pattern"),
            Seen(Answer("gas-holes", "no", "fairly"), "Larger round holes blown up by gas", "defect", "cut-face"),
            Seen(Answer("sour-smell", "cant-tell"), "Sour smell at the bone", "defect", "aroma-flavor"),
        ),
        notes=("The second lot this week.",),
        numbers=(("pump-percent", "18.2 %"),),
        cautions=(
            Warned(
                "hold-and-do-not-taste",
                "Hold the lot and do not taste it",
                "danger",
                "Keep the lot apart, taste nothing, and call the person in charge of food safety.",
                ("Sour smell at the bone",),
                (NOTES,),
            ),
            Warned("label", "Look at the label again", "care", "A change of recipe may change the label.", (), ()),
        ),
        ranking=(first, second, faint),
        unlisted=0.07,
        fit=Fit(False, 1.25, 0.07, "surface-not-dried", ("gas-holes", "foam-on-brine")),
        next=(question,),
        worth_asking=False,
        plan=Plan(
            this_lot=(hold,),
            confirm_first=(question,),
            steps=steps,
            gone_after_all=0.74,
            free_after_all=0.664,
            assumptions=("Only the defects seen here count; another batch may bring others.",),
        ),
        robustness=Robustness(
            False,
            43,
            (
                Hinge(
                    "how often: Injector takes in air with the brine",
                    "occasional",
                    "very-rare",
                    "Surface was still wet when the smoke began",
                ),
            ),
        ),
        knowledge="for-the-tests",
        rule_out=(
            Suspicion(
                "hold-and-do-not-taste",
                "Hold the lot and do not taste it",
                "Hams were held too warm before cooking",
                0.2,
                "Does the chart of the holding room show more than the limit?",
                "Read the chart for the days in question.",
            ),
        ),
        elsewhere=(question,),
    )
