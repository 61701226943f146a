"""Searching the knowledge with the words of the trade, as they come: misspelt, half typed, with or without accents.

Every entry is a few phrases (title, other names, id) and some running text (description, question). A query is cut into
words; each is compared with the words that occur in the knowledge, equal words first, then words that begin with it, then
words within a slip or two of the typist; an entry scores by how well, and how prominently, it holds all of them.
"""

from __future__ import annotations

import re
import unicodedata
from collections import defaultdict
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from typing import Literal

from diagnose.corpus.records import Knowledge
from diagnose.text import clean

Kind = Literal["cause", "mechanism", "sign", "correction", "caution"]

_TITLE, _NAME, _ID, _TEXT = 1.0, 0.95, 0.9, 0.45  # what a word counts, by where it stands
_PREFIX, _SLIP = 0.8, 0.7  # what a half-typed and a misspelt word count
_WORTH_SHOWING = 0.35
_LONGEST_QUERY = 200
_SMALL_WORDS = frozenset(("a", "an", "and", "at", "by", "for", "from", "in", "is", "it", "of", "on", "or", "the", "to"))


@dataclass(frozen=True, slots=True)
class Hit:
    """One entry found. `score` lies between 0 and 1; `why` is the name or the word that matched."""

    id: str
    kind: Kind
    title: str
    score: float
    why: str


@dataclass(frozen=True, slots=True)
class _Name:
    written: str
    joined: str  # plain form without blanks
    words: frozenset[str]


@dataclass(frozen=True, slots=True)
class _Row:
    id: str
    kind: Kind
    region: str
    names: tuple[_Name, ...]  # the title first


def find(
    knowledge: Knowledge,
    words: str,
    limit: int = 20,
    *,
    kinds: Collection[Kind] = ("cause", "mechanism", "sign"),
    region: str | None = None,
) -> list[Hit]:
    """The entries that fit the words best, best first; with `region`, signs of that region only.

    The first call for a knowledge builds an index (some 20 ms); further calls take a few milliseconds.
    """
    return _index(knowledge).find(clean(words, _LONGEST_QUERY), limit, kinds, region)


_last: tuple[Knowledge, _Index] | None = None


def _index(knowledge: Knowledge) -> _Index:
    global _last  # noqa: PLW0603  one index is kept, since one knowledge is open
    if _last is None or _last[0] is not knowledge:
        _last = (knowledge, _Index(knowledge))
    return _last[1]


def plain(text: str) -> str:
    """The text in small letters without accents, British and American spellings made one."""
    text = text.casefold()
    if not text.isascii():
        text = "".join(each for each in unicodedata.normalize("NFKD", text) if not unicodedata.combining(each))
    return _SPELLINGS.sub(lambda match: _SPELLING[match.group()], text)


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
    "mould": "mold",
    "grey": "gray",
    "centre": "center",
    "fibre": "fiber",
}
_SPELLINGS = re.compile("|".join(sorted(_SPELLING, key=len, reverse=True)))
_WORD = re.compile(r"[^\W_]+")


def _words(text: str) -> list[str]:
    return [_single(word) for word in _WORD.findall(plain(text))]


def _single(word: str) -> str:
    """A plural as its singular, roughly; used on both sides, so it need not be right, only the same."""
    if len(word) > 4 and word.endswith("ies"):
        return word[:-3] + "y"
    if len(word) > 4 and word.endswith(("shes", "ches", "xes", "sses")):
        return word[:-2]
    return word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us")) else word


def _row(found: str, kind: Kind, names: tuple[str, ...], region: str = "") -> _Row:
    return _Row(found, kind, region, tuple(map(_name, names)))


def _name(written: str) -> _Name:
    words = _words(written)
    return _Name(written, "".join(words), frozenset(words))


class _Index:
    """Words of the knowledge with the entries that hold them."""

    def __init__(self, knowledge: Knowledge) -> None:
        self.rows: list[_Row] = []
        self.holds: dict[str, dict[int, float]] = defaultdict(dict)
        self.thirds: dict[str, list[str]] = defaultdict(list)
        for cause in knowledge.causes.values():
            names = (cause.title, *cause.also_called)
            self._add(_row(cause.id, "cause", names), (cause.what, cause.check.ask))
        for mechanism in knowledge.mechanisms.values():
            names = (mechanism.title, *mechanism.also_called)
            self._add(_row(mechanism.id, "mechanism", names), (mechanism.what,))
        for sign in knowledge.signs.values():
            names = (sign.title, *sign.also_called)
            self._add(_row(sign.id, "sign", names, sign.region), (sign.what, sign.check.ask))
        for correction in knowledge.corrections.values():
            self._add(_row(correction.id, "correction", (correction.do,)), (correction.verify,))
        for caution in knowledge.cautions.values():
            self._add(_row(caution.id, "caution", (caution.title,)), (caution.say,))
        self.vocabulary = sorted(self.holds)
        for word in self.vocabulary:
            for third in _thirds(word):
                self.thirds[third].append(word)

    def _add(self, row: _Row, texts: Iterable[str]) -> None:
        number = len(self.rows)
        self.rows.append(row)
        for text in texts:
            for word in _words(text):
                self.holds[word][number] = _TEXT
        for word in _words(row.id.replace("-", " ")):
            self.holds[word][number] = _ID
        for name in row.names[1:]:
            for word in name.words:
                self.holds[word][number] = _NAME
        for word in row.names[0].words:
            self.holds[word][number] = _TITLE

    def find(self, query: str, limit: int, kinds: Collection[Kind], region: str | None) -> list[Hit]:
        asked = _words(query)
        asked = [word for word in asked if word not in _SMALL_WORDS] or asked
        if not asked:
            return []
        total: dict[int, float] = defaultdict(float)
        meant: dict[int, list[str]] = defaultdict(list)
        for word in asked:
            best: dict[int, tuple[float, str]] = {}
            for known, fit in self._like(word).items():
                for number, weight in self.holds[known].items():
                    if (value := fit * weight) > best.get(number, (0.0, ""))[0]:
                        best[number] = (value, known)
            for number, (value, known) in best.items():
                total[number] += value / len(asked)
                meant[number].append(known)
        joined = "".join(_words(query))
        hits = []
        for number in set(total).union(self._named(joined)):
            row = self.rows[number]
            if row.kind not in kinds or (region is not None and row.region != region):
                continue
            score, why = _score(row, joined, total.get(number, 0.0), meant.get(number, []), len(asked))
            if score >= _WORTH_SHOWING:
                hits.append(Hit(row.id, row.kind, row.names[0].written, round(score, 4), why))
        hits.sort(key=lambda hit: (-hit.score, len(hit.title), hit.id))
        return hits[:limit]

    def _named(self, joined: str) -> Iterable[int]:
        """Rows of which a name begins with the query once blanks are left out: `pin holes` and `pinholes`."""
        if len(joined) < 2:
            return ()
        return (n for n, row in enumerate(self.rows) if any(name.joined.startswith(joined) for name in row.names))

    def _like(self, word: str) -> dict[str, float]:
        """Known words that may be meant, with how well they fit (0 to 1)."""
        found: dict[str, float] = {}
        if word in self.holds:
            found[word] = 1.0
        if len(word) > 1:
            for known in self.vocabulary:
                if known.startswith(word) and known != word:
                    found[known] = _PREFIX + 0.15 * len(word) / len(known)
        if word not in self.holds and len(word) > 3:
            slips = 1 if len(word) < 8 else 2
            candidates = {known for third in _thirds(word) for known in self.thirds.get(third, ())}
            for known in candidates:
                if abs(len(known) - len(word)) > slips or known in found:
                    continue
                distance = slips_between(word, known)
                if distance <= slips:
                    found[known] = _SLIP + 0.2 * (1 - distance / len(word))
        return found


def _score(row: _Row, joined: str, by_words: float, meant: list[str], asked: int) -> tuple[float, str]:
    """How well an entry fits, from its words and from the one name that fits best.

    `joined` is the query without blanks, `by_words` how well its `asked` words are held (0 to 1), `meant` the known words
    that they were taken for.
    """
    best, why = by_words * 0.85, meant[0] if meant else ""
    for number, name in enumerate(row.names):
        if name.joined == joined:
            return 1.0, name.written
        length = len(joined) / max(len(joined), len(name.joined))
        share = sum(word in name.words for word in meant) / asked
        value = by_words * 0.85 + 0.09 * share + 0.05 * length if share else 0.0
        if len(joined) > 1 and name.joined.startswith(joined):
            value = max(value, 0.86 + 0.1 * length)
        if number == 0 and value:
            value += 0.01  # of two that fit alike, the one with the words in its title
        if value > best:
            best, why = value, name.written
    return best, why


def _thirds(word: str) -> set[str]:
    """Runs of three letters, the ends marked, so that even a short word shares some with its misspelling."""
    marked = f"^{word}$"
    return {marked[i : i + 3] for i in range(len(marked) - 2)}


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
