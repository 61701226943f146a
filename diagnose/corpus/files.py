"""Which files the knowledge folder holds, and what stands in each.

The classes here are the top level of the YAML files; the entries inside are in `records`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from diagnose.corpus.records import (
    Basis,
    Cause,
    Caution,
    Family,
    Mechanism,
    Product,
    Scale,
    Sign,
    Source,
    Stage,
    said,
)

REGIONS = ("exterior", "cut-face", "aroma-flavor", "texture", "weight-and-lab", "batch-pattern")
"""The files of the folder `signs`: where on the product, or in whose records, a sign is looked for."""


@dataclass(frozen=True, slots=True)
class StageAddition:
    """A plant's additions to one step of the chain."""

    stage: str = said("Id of the stage that is added to.")
    title: str | None = said("Name of the stage; needed for a new stage only.", longest=60, default=None)
    what: str | None = said("What is done at this stage; needed for a new stage only.", default=None)
    causes: tuple[Cause, ...] = said("The causes that are added.", default=())


@dataclass(frozen=True, slots=True)
class SignsFile:
    """The signs of one region."""

    signs: tuple[Sign, ...] = said("The signs looked for here.")


@dataclass(frozen=True, slots=True)
class MechanismsFile:
    """What happens inside the product."""

    mechanisms: tuple[Mechanism, ...] = said("The mechanisms.")


@dataclass(frozen=True, slots=True)
class ProductsFile:
    """The products that the knowledge speaks of."""

    products: tuple[Product, ...] = said("The products.")


@dataclass(frozen=True, slots=True)
class FamiliesFile:
    """The families of defects."""

    families: tuple[Family, ...] = said("The families.")


@dataclass(frozen=True, slots=True)
class ScalesFile:
    """The words that stand for numbers."""

    scales: tuple[Scale, ...] = said("The scales.")


@dataclass(frozen=True, slots=True)
class CautionsFile:
    """The warnings."""

    cautions: tuple[Caution, ...] = said("The cautions.")


@dataclass(frozen=True, slots=True)
class SourcesFile:
    """The published works."""

    sources: tuple[Source, ...] = said("The sources.")


@dataclass(frozen=True, slots=True)
class AddedLink:
    """A link that a plant adds to an entry, or puts in the place of the one that is there."""

    source: str = said("Id of the cause or mechanism.", refers="cause|mechanism", key="from")
    to: str = said("Id of the mechanism or sign that follows.", refers="mechanism|sign")
    strength: str = said("How often it follows if this alone is there.", scale="strength")
    basis: tuple[Basis, ...] = said("A list of sources, or the words common-practice.")
    disputed: str | None = said("Where sources disagree: both sides, both sources in the basis.", default=None)


@dataclass(frozen=True, slots=True)
class ChangedFrequency:
    """How often a cause is there at this plant."""

    cause: str = said("Id of the cause.", refers="cause")
    frequency: str = said("How often it is there in an ordinary batch.", scale="frequency")
    basis: tuple[Basis, ...] = said("A list of sources, or the words common-practice.")


@dataclass(frozen=True, slots=True)
class ChangedBackground:
    """How often a sign is seen at this plant though no listed cause is there."""

    sign: str = said("Id of the sign.", refers="sign")
    background: str = said("How often it is there though no listed cause is.", scale="background")
    basis: tuple[Basis, ...] = said("A list of sources, or the words common-practice.")


@dataclass(frozen=True, slots=True)
class ChangesFile:
    """What a plant changes in the entries it did not write."""

    links: tuple[AddedLink, ...] = said("Links added, or put in the place of one with the same ends.", default=())
    frequency: tuple[ChangedFrequency, ...] = said("Causes that are rarer or commoner here.", default=())
    background: tuple[ChangedBackground, ...] = said("Signs that are rarer or commoner here.", default=())


@dataclass(frozen=True, slots=True)
class FileKind:
    """One kind of file: the record of its top level, the field that lists its entries, and what these are."""

    name: str
    record: type[Any]
    entries: str
    kind: str


STAGE = FileKind("stage", Stage, "causes", "cause")
STAGE_ADDITION = FileKind("stage", StageAddition, "causes", "cause")
SIGNS = FileKind("signs", SignsFile, "signs", "sign")
CHANGES = FileKind("changes", ChangesFile, "links", "change")

SINGLE_FILES = {
    "mechanisms.yaml": FileKind("mechanisms", MechanismsFile, "mechanisms", "mechanism"),
    "products.yaml": FileKind("products", ProductsFile, "products", "product"),
    "families.yaml": FileKind("families", FamiliesFile, "families", "family"),
    "scales.yaml": FileKind("scales", ScalesFile, "scales", "scale"),
    "cautions.yaml": FileKind("cautions", CautionsFile, "cautions", "caution"),
    "sources.yaml": FileKind("sources", SourcesFile, "sources", "source"),
}
"""Files at the top of a knowledge folder; a folder laid over another may leave any of them out."""

OTHERS = ("changes.yaml", "measures.yaml", "limits.yaml", "glossary.yaml")
"""Further files that may stand at the top of a knowledge folder; other parts of the program read them."""

NAMES = ("chain", "signs", "tables", *SINGLE_FILES, *OTHERS)
"""Names at the top of a knowledge folder; one that is nearly such a name is taken for a slip."""
