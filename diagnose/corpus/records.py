"""What the knowledge folder says, as typed records.

Each record class is the single description of one kind of YAML entry. The reader builds the records from it, the checker
draws its rules from it, and the JSON Schemas that editors use are made from it. The `says` text of a field is the author's
manual: it is what an editor shows on hover.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import MISSING, dataclass, field
from math import log
from typing import Any, Literal, get_args

Needs = Literal["product", "process", "raw-material", "lab"]
"""Who can look: anyone with the product in hand; the plant; whoever holds the raw-material records; a laboratory."""

ALL_NEEDS: tuple[Needs, ...] = get_args(Needs)

Verdict = Literal["yes", "no", "cant-tell"]
Sureness = Literal["sure", "fairly", "from-memory"]
Amount = Literal["slight", "marked"]
"""The words of an answer: whether it is there, how sure that is, and how much of a graded sign there is."""


def said(
    says: str,
    *,
    default: Any = MISSING,
    scale: str | None = None,
    refers: str | None = None,
    key: str | None = None,
    longest: int = 1500,
    at_least: int = 0,
    lowest: int | None = None,
) -> Any:
    """A field of a record, with what its author needs to know.

    `scale` names the scale whose words are allowed, `refers` the kinds of entry an id may point to (separated by `|`),
    `key` the name in YAML where it is not the field's own in kebab-case, `longest` the most characters of a text,
    `at_least` the fewest items of a list, `lowest` the smallest whole number. A field without a default is required.
    """
    rules = {
        "says": says,
        "scale": scale,
        "refers": refers,
        "key": key,
        "longest": longest,
        "at_least": at_least,
        "lowest": lowest,
    }
    return field(default=default, metadata=rules)


def derived() -> Any:
    """A field that is not written in YAML but filled in from the file's name."""
    return field(default="", metadata={"derived": True})


@dataclass(frozen=True, slots=True)
class Basis:
    """One source behind a claim."""

    source: str = said("Id of an entry of sources.yaml.", refers="source")
    says: str = said("In our own words, what the source says that states this very claim.")
    bears: Literal["same-product", "relative"] = said(
        "same-product: a cured product of a kind that the entry is for. relative: fresh meat (green hams too), other meat or"
        " another product, so indirect evidence."
    )
    at: str = said("Where in the source: page, section, abstract. Needed for a source that was seen.", default="")


@dataclass(frozen=True, slots=True)
class Part:
    """The part of those counted by a rate that matters here; published (`share`) or judged (`how-often`)."""

    why: str = said("Which part of those counted it is, and why.")
    how_often: str | None = said("A judged part, as a word.", scale="strength", default=None)
    share: float | None = said("A published part, in per cent; it needs a basis.", default=None)
    basis: tuple[Basis, ...] = said("The sources of a published part.", default=())


@dataclass(frozen=True, slots=True)
class Rate:
    """A published rate from which the prior of a cause is computed, with what lies between the two."""

    share: float = said("The published share, in per cent; the lower end where a range is given.")
    of: str = said("What it is a share of, so that it reads on after the figure: hams of one plant.", longest=90)
    basis: tuple[Basis, ...] = said("The sources that give it.")
    to: float | None = said("The upper end of a published range, in per cent.", default=None)
    parts: tuple[Part, ...] = said("What part of these counts for this cause; one after the other.", default=())


@dataclass(frozen=True, slots=True)
class Link:
    """What a cause or a mechanism does by itself, when nothing else is wrong."""

    to: str = said("Id of the mechanism or sign that follows.", refers="mechanism|sign")
    strength: str = said("How often it follows if this alone is there.", scale="strength")
    basis: tuple[Basis, ...] = said("A list of sources, or the words common-practice (read as an empty list).")
    disputed: str | None = said("Where sources disagree: both sides, both sources in the basis.", default=None)


@dataclass(frozen=True, slots=True)
class Check:
    """How a person finds out whether a cause or a sign is there."""

    ask: str = said("A question whose yes means that it is there.", longest=220)
    how: str = said("How to look, in one or two sentences that a plant worker can follow.")
    needs: Needs = said("What the person needs in front of them to answer.")
    minutes: int = said("Honest minutes of work, a whole number.", lowest=1)
    reliability: str = said("How often an answer is right.", scale="reliability")
    by_tasting: bool = said(
        "true where looking means that somebody tastes, if only as one of several ways. Such a check is put to nobody once "
        "there is danger.",
        default=False,
    )


@dataclass(frozen=True, slots=True)
class Correction:
    """Something to do about a cause."""

    id: str = said("Id, unique over all the knowledge.")
    do: str = said("What to do, as an instruction.")
    when: Literal["this-lot", "now", "next-batch", "supplier"] = said("When it is done, or who must do it.")
    effort: str = said("How much work it is.", scale="effort")
    removes: str = said("How far it takes away the effect of its cause.", scale="removal")
    verify: str = said("How to see that it worked.")
    basis: tuple[Basis, ...] = said("A list of sources, or the words common-practice.")
    also_removes: tuple[str, ...] = said("Other causes that it removes as well.", refers="cause", default=())
    caution: tuple[str, ...] = said("Cautions to show with it.", refers="caution", default=())
    products: tuple[str, ...] = said("Products it makes sense for; left out means all.", refers="product", default=())
    holds: bool = said("true where it keeps the lot back until somebody has decided on it.", default=False)

    def suits(self, product: str) -> bool:
        """Whether it makes sense for the product."""
        return not self.products or product in self.products


@dataclass(frozen=True, slots=True)
class Cause:
    """A condition at one stage that a person could change or select against; true or false for a batch."""

    id: str = said("Id, kebab-case, never used again for something else.")
    title: str = said("The condition in plain words.", longest=80)
    what: str = said("What the condition is and how it makes the fault.")
    frequency: str = said(
        "How often it is there in an ordinary batch; with `rates`, the nearest word.", scale="frequency"
    )
    maker_could_know: Literal["plainly", "with-a-check", "not-at-all"] = said(
        "Whether the maker of the finished product could have known."
    )
    leads_to: tuple[Link, ...] = said("The links from this cause.", at_least=1)
    check: Check = said("How to find out whether this cause is there.")
    corrections: tuple[Correction, ...] = said("What to do about it.", at_least=1)
    also_called: tuple[str, ...] = said("Words of the trade that a search should find.", default=())
    products: tuple[str, ...] = said("Products it applies to; left out means all.", refers="product", default=())
    caution: tuple[str, ...] = said("Cautions to show when this cause is in play.", refers="caution", default=())
    frequency_basis: tuple[Basis, ...] = said("Sources behind the word, where they give no rate.", default=())
    rates: tuple[Rate, ...] = said("Published rates; where there are any, the prior is computed from them.", default=())
    retired: Retired | None = said("Set when the id is no longer used.", default=None)
    stage: str = derived()


@dataclass(frozen=True, slots=True)
class Retired:
    """An id that stays so that old cases can still be read."""

    since: str = said("The version of the knowledge that retired it.")
    instead: str | None = said("The id to use instead.", refers="cause|mechanism|sign", default=None)


@dataclass(frozen=True, slots=True)
class Stage:
    """One step of the chain."""

    stage: str = said("Id of the stage.")
    title: str = said("Name of the stage.", longest=60)
    what: str = said("What is done at this stage and what can go wrong.")
    causes: tuple[Cause, ...] = said("The causes that arise at this stage.", default=())


@dataclass(frozen=True, slots=True)
class Mechanism:
    """What happens inside the product between a cause and a sign."""

    id: str = said("Id, kebab-case.")
    title: str = said("Name in plain words.", longest=80)
    what: str = said("What happens inside the product.")
    background: str = said("How often it happens though none of the listed causes is there.", scale="background")
    leads_to: tuple[Link, ...] = said("The links from this mechanism.", at_least=1)
    combine: Literal["any", "all"] = said(
        "any: each parent can start it (noisy-OR). all: every parent is needed (noisy-AND).", default="any"
    )
    also_called: tuple[str, ...] = said("Words of the trade that a search should find.", default=())
    retired: Retired | None = said("Set when the id is no longer used.", default=None)


@dataclass(frozen=True, slots=True)
class TellApart:
    """How to tell a sign from one that looks like it."""

    source: str = said("Id of the look-alike.", refers="sign", key="from")
    by: str = said("The difference, in one sentence.")


@dataclass(frozen=True, slots=True)
class Sign:
    """Anything that can be observed."""

    id: str = said("Id, kebab-case.")
    title: str = said("What is observed, in plain words.", longest=90)
    kind: Literal["defect", "detail"] = said("defect: lowers quality. detail: asked only to tell causes apart.")
    what: str = said("What one sees, smells or measures; size and place.")
    background: str = said("How often it is there though no listed cause is.", scale="background")
    check: Check = said("How to find out whether it is there.")
    family: tuple[str, ...] = said("The families of defects it belongs to.", refers="family", at_least=1)
    also_called: tuple[str, ...] = said("Words of the trade that a search should find.", default=())
    graded: bool = said("true where the trade tells slight from marked.", default=False)
    only_if: tuple[str, ...] = said(
        "Signs of which one must have been seen before this is asked.", refers="sign", default=()
    )
    tell_apart: tuple[TellApart, ...] = said("Look-alikes and how they differ.", default=())
    caution: tuple[str, ...] = said("Cautions to show when it is seen.", refers="caution", default=())
    products: tuple[str, ...] = said("Products it applies to; left out means all.", refers="product", default=())
    basis: tuple[Basis, ...] = said("Sources of the description.", default=())
    retired: Retired | None = said("Set when the id is no longer used.", default=None)
    region: str = derived()


@dataclass(frozen=True, slots=True)
class Product:
    """A kind of cured product."""

    id: str = said("Id, kebab-case.")
    title: str = said("Name of the product.", longest=60)
    what: str = said("What counts as this product.")
    also_called: tuple[str, ...] = said("Other names.", default=())


@dataclass(frozen=True, slots=True)
class Family:
    """A family of defects that are looked at together."""

    id: str = said("Id, kebab-case.")
    title: str = said("Name of the family.", longest=80)
    what: str = said("What belongs to it.")


@dataclass(frozen=True, slots=True)
class Caution:
    """A warning that comes before any diagnosis."""

    id: str = said("Id, kebab-case.")
    title: str = said("The warning in a few words.", longest=90)
    weight: Literal["danger", "care"] = said("danger: someone may be hurt. care: act with thought.")
    say: str = said("What to do and whom to ask.")
    basis: tuple[Basis, ...] = said("A list of sources, or the words common-practice.")


@dataclass(frozen=True, slots=True)
class Source:
    """A published work, once; everything else refers to its id."""

    id: str = said("Id, kebab-case.")
    title: str = said("Title of the work.")
    kind: Literal["paper", "book", "regulation", "guideline", "standard", "extension", "trade-article", "thesis"] = (
        said("What kind of work it is.")
    )
    read: Literal["seen", "memory"] = said("seen: text of it was read for this knowledge. memory: recalled, not seen.")
    published: str = said("Journal, publisher or issuing body.", key="in")
    authors: str | None = said("Authors as printed.", default=None)
    year: int | None = said("Year of publication.", default=None, lowest=1500)
    seen_part: str | None = said("Which part was seen; needed when read is seen.", default=None)
    url: str | None = said("Where it was seen or can be found.", default=None)
    doi: str | None = said("Digital object identifier.", default=None)


@dataclass(frozen=True, slots=True)
class Step:
    """One word of a scale with its number."""

    word: str = said("The word that authors write.", longest=30)
    value: float = said("The number it stands for.")
    says: str = said("When to use this word.")


@dataclass(frozen=True, slots=True)
class Scale:
    """Words that authors write, in order of their numbers."""

    id: str = said("Id of the scale.")
    says: str = said("What the numbers of this scale mean.")
    steps: tuple[Step, ...] = said("The words, smallest number first.", at_least=1)

    def value(self, word: str) -> float:
        """The number of a word of this scale; KeyError if it has no such word."""
        for step in self.steps:
            if step.word == word:
                return step.value
        raise KeyError(word)

    def beside(self, word: str, steps: int) -> Step | None:
        """The step so many above (or, below 0, under) a word of this scale; None past its ends. Raises KeyError."""
        words = [step.word for step in self.steps]
        if word not in words:
            raise KeyError(word)
        at = words.index(word) + steps
        return self.steps[at] if 0 <= at < len(self.steps) else None

    def nearest(self, value: float) -> Step:
        """The step whose number stands in the smallest ratio to the value, which is above 0."""
        return min(self.steps, key=lambda step: abs(log(step.value / value)))


@dataclass(frozen=True, slots=True)
class Knowledge:
    """All that is known, checked and linked.

    The mappings go by id, in the order of the files, and hold what is in use. Entries that are retired are left out of
    them; `retired` says what became of their ids. `version` changes whenever any word of the folders does.
    """

    version: str
    stages: tuple[Stage, ...]
    causes: Mapping[str, Cause]
    mechanisms: Mapping[str, Mechanism]
    signs: Mapping[str, Sign]
    corrections: Mapping[str, Correction]
    products: Mapping[str, Product]
    families: Mapping[str, Family]
    scales: Mapping[str, Scale]
    cautions: Mapping[str, Caution]
    sources: Mapping[str, Source]
    retired: Mapping[str, Retired] = field(default_factory=dict)
