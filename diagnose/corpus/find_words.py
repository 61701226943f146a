"""Words as people type them: which are noise, which are one word in two spellings, and how far a slip is from a word."""

from __future__ import annotations

import re
import unicodedata

NOISE = frozenset(
    """a an and any are around as at be been being between but by came can come comes could did do does down find for form
    forms from get gets getting given got happen happens had has have how i if in into is it its just like made make makes me
    my of off on one or our seem seems so some that the their them then there these they this those to up very was we
    were what when where which who why will with you your""".split()  # noqa: SIM905  read as a text
)
"""Words that say nothing about ham; left out of a search unless it has no others."""

_SPELLING = {
    "haem": "hem",
    "anaem": "anem",
    "faec": "fec",
    "oedem": "edem",
    "æ": "e",
    "œ": "e",
    "colour": "color",
    "odour": "odor",
    "flavour": "flavor",
    "savour": "savor",
    "mould": "mold",
    "grey": "gray",
    "centre": "center",
    "fibre": "fiber",
    "sulph": "sulf",
    "aluminium": "aluminum",
    "labour": "labor",
    "plough": "plow",
    "draught": "draft",
    "isation": "ization",
    "ising": "izing",
    "ised": "ized",
    "catalogue": "catalog",
    "smelt": "smell",
    "burnt": "burned",
    "oxidise": "oxidize",
    "equalise": "equalize",
    "stabilise": "stabilize",
}
_SPELLINGS = re.compile("|".join(sorted(_SPELLING, key=len, reverse=True)))
_WORD = re.compile(r"[^\W_]+")
_KNOWN: dict[str, str] = {}
"""Words that were met, as they are compared. The same few thousand make up all of the knowledge."""

_MOST_KNOWN = 50_000

_SAME = (
    ("outside", "surface", "exterior"),
    ("inside", "interior"),
    ("middle", "center", "core"),
    ("smell", "odor", "smelly"),
    ("taste", "flavor"),
    ("piece", "ham"),
    ("differ", "vary", "varies", "uneven"),
    ("cooler", "chiller", "fridge", "refrigerator", "refrigeration", "coldroom"),
    ("broke", "broken", "break", "cracked", "crack", "split"),
    ("tore", "torn", "tear"),
    ("stuck", "stick", "sticky", "tacky"),
    ("shrank", "shrunk", "shrink", "shrunken"),
    ("froze", "frozen", "freeze"),
    ("blew", "blown", "blow"),
    ("swollen", "swelling", "swell", "bloated", "puffed"),
    ("stain", "spot", "fleck", "speck", "dot", "mark"),
    ("mildew", "mold", "moldy"),
    ("gland", "kernel"),
    ("femur", "thighbone"),
    ("rind", "skin"),
    ("void", "gap", "crevice", "opening"),
    ("pickle", "brine"),
    ("wet", "damp", "moist"),
    ("light", "pale", "blond"),
)
_ENDINGS = ("ing", "ed", "er", "ness", "y", "e")
_SHORTEST_STEM = 3


def plain(text: str) -> str:
    """The text in small letters without accents, British and American spellings made one."""
    text = text.casefold()
    if not text.isascii():
        text = "".join(each for each in unicodedata.normalize("NFKD", text) if not unicodedata.combining(each))
    return _SPELLINGS.sub(lambda match: _SPELLING[match.group()], text)


def words_in(text: str) -> list[str]:
    """The plain words of a text in order, plurals as singulars."""
    return [_KNOWN.get(word) or _learnt(word) for word in _WORD.findall(text.casefold())]


def distinct_words(text: str) -> set[str]:
    """As `words_in`, each word once and in no order; the quicker way for a long text."""
    return {_KNOWN.get(word) or _learnt(word) for word in set(_WORD.findall(text.casefold()))}


def _learnt(word: str) -> str:
    found = single(plain(word))
    if len(_KNOWN) < _MOST_KNOWN:
        _KNOWN[word] = found
    return found


def single(word: str) -> str:
    """A plural as its singular, roughly; used on both sides, so it need not be right, only the same."""
    if len(word) > 4 and word.endswith("ies"):
        return word[:-3] + "y"
    if len(word) > 4 and word.endswith(("shes", "ches", "xes", "sses")):
        return word[:-2]
    return word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us")) else word


def telling(words: list[str]) -> list[str]:
    """The words without the noise; all of them where nothing else is left."""
    return [word for word in words if word not in NOISE] or words


def stem(word: str) -> str:
    """What `streak`, `streaked`, `streaky` and `streaking` share. Rough, like `single`, and the same on both sides."""
    for ending in _ENDINGS:
        if word.endswith(ending) and len(word) - len(ending) >= _SHORTEST_STEM:
            word = word[: -len(ending)]
            break
    if len(word) > _SHORTEST_STEM and word[-1] == word[-2]:
        word = word[:-1]
    return word


def alike(word: str) -> tuple[str, ...]:
    """Other words that mean much the same to somebody who looks at a ham."""
    return _ALIKE.get(word, ())


_ALIKE = {
    single(plain(word)): tuple(dict.fromkeys(single(plain(other)) for other in words if other != word))
    for words in _SAME
    for word in words
}


def slips_allowed(word: str) -> int:
    """How many slips a typist is forgiven in a word of this length."""
    if len(word) < 3:
        return 0
    return 1 if len(word) < 8 else 2


def slips_between(one: str, other: str) -> int:
    """Letters added, dropped, changed, or swapped with the next, to come from one word to the other."""
    before: list[int] = []
    row = list(range(len(other) + 1))
    for i, a in enumerate(one, 1):
        last, before, row = before, row, [i]
        for j, b in enumerate(other, 1):
            value = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (a != b))
            if i > 1 and j > 1 and a == other[j - 2] and one[i - 2] == b:
                value = min(value, last[j - 2] + 1)
            row.append(value)
    return row[-1]
