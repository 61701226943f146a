"""Searching the knowledge with the words of the trade, as they come: misspelt, half typed, with or without accents.

Every entry is a few names (title, other names, id) and some running text (description, question). A query is cut into
words and the noise among them dropped. Each word is compared with the words that occur in the knowledge: equal words
first, then other forms of them, words that begin with it, and words within a slip or two of the typist. An entry whose
title or other name is the query comes first; every other scores by how many of the words it holds, the telling ones more
than the common ones, and by whether one of its names holds them together. Of two that fit alike, what lowers quality comes
before what only tells causes apart, and that before a correction.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from diagnose.corpus.find_words import alike, distinct_words, slips_allowed, slips_between, stem, telling, words_in
from diagnose.corpus.graph import belonging
from diagnose.corpus.records import Knowledge
from diagnose.text import clean

Kind = Literal["cause", "mechanism", "sign", "correction", "caution", "stage", "family", "product"]

EVERYTHING: tuple[Kind, ...] = (
    "sign",
    "cause",
    "mechanism",
    "correction",
    "caution",
    "stage",
    "family",
    "product",
)

_CHAIN = {"cause", "mechanism", "sign"}
_TITLE, _NAME, _ID, _TEXT = 1.0, 0.95, 0.85, 0.4  # what a word counts, by where it stands
_FORM, _SENSE, _PREFIX, _SLIP = (
    0.95,
    0.8,
    0.75,
    0.65,
)  # another form, another word for it, a half-typed, a misspelt word
_BY_KIND = {
    "defect": 1.0,
    "cause": 0.94,
    "detail": 0.93,
    "mechanism": 0.92,
    "stage": 0.92,
    "family": 0.92,
    "product": 0.9,
    "caution": 0.84,
    "correction": 0.8,
}
_NOT_AT_HOME = 0.95  # an entry that the first product does not know, when no product was named
_WORTH_SHOWING = 0.15
_LONGEST_QUERY = 200
_SHORTEST_PART = 3  # letters of each half of a compound that is written as one


@dataclass(frozen=True, slots=True)
class Hit:
    """One entry found. `score` lies between 0 and 1; `why` is the name or the word that matched."""

    id: str
    kind: Kind
    title: str
    score: float
    why: str


@dataclass(frozen=True, slots=True)
class Searched:
    """One entry as the search sees it. `names` holds the title first; `rank` is a key of the weights by kind.

    `products` are those that it belongs to; None means all of them.
    """

    id: str
    kind: Kind
    rank: str
    names: tuple[str, ...]
    texts: tuple[str, ...] = ()
    region: str = ""
    products: frozenset[str] | None = None


def find(
    knowledge: Knowledge,
    words: str,
    limit: int = 20,
    *,
    kinds: Collection[Kind] = ("cause", "mechanism", "sign"),
    region: str | None = None,
    product: str | None = None,
) -> list[Hit]:
    """The entries that fit the words best, best first.

    With `region`, signs of that region only; with `product`, only what belongs to it. Without `product`, a word such as
    ham or sausage among the words keeps out what belongs to other products only. The first call for a knowledge builds an
    index (some 50 ms, half of that where only causes, mechanisms and signs are looked for); further calls take a few
    milliseconds.
    """
    index = _index(knowledge, wide=not set(kinds) <= _CHAIN)
    asked = clean(words, _LONGEST_QUERY)
    products = {product} if product else index.products_named(asked)
    return index.find(asked, limit, kinds, region, products)


_last: tuple[Knowledge, dict[bool, Index]] | None = None


def _index(knowledge: Knowledge, *, wide: bool) -> Index:
    """The index of causes, mechanisms and signs; if `wide`, of everything else as well."""
    global _last  # noqa: PLW0603  the indexes of one knowledge are kept, since one is open
    if _last is None or _last[0] is not knowledge:
        _last = (knowledge, {})
    if wide not in _last[1]:
        home = belonging(knowledge)
        entries = [*_chain(knowledge, home), *(_beside(knowledge, home) if wide else ())]
        _last[1][wide] = Index(entries, {one.id: one.title for one in knowledge.products.values()})
    return _last[1][wide]


Home = Mapping[str, frozenset[str] | None]


def _chain(knowledge: Knowledge, home: Home) -> Iterable[Searched]:
    for sign in knowledge.signs.values():
        names = (sign.title, *sign.also_called)
        texts = (sign.what, sign.check.ask)
        yield Searched(sign.id, "sign", sign.kind, names, texts, sign.region, home[sign.id])
    for cause in knowledge.causes.values():
        names = (cause.title, *cause.also_called)
        yield Searched(cause.id, "cause", "cause", names, (cause.what, cause.check.ask), "", home[cause.id])
    for mechanism in knowledge.mechanisms.values():
        names = (mechanism.title, *mechanism.also_called)
        yield Searched(mechanism.id, "mechanism", "mechanism", names, (mechanism.what,), "", home[mechanism.id])


def _beside(knowledge: Knowledge, home: Home) -> Iterable[Searched]:
    for cause in knowledge.causes.values():
        for one in cause.corrections:
            products = frozenset(one.products) or home[cause.id]
            yield Searched(one.id, "correction", "correction", (one.do,), (one.verify,), "", products)
    for caution in knowledge.cautions.values():
        yield Searched(caution.id, "caution", "caution", (caution.title,), (caution.say,))
    for stage in knowledge.stages:
        yield Searched(stage.stage, "stage", "stage", (stage.title,))
    for family in knowledge.families.values():
        yield Searched(family.id, "family", "family", (family.title,))
    for product in knowledge.products.values():
        names = (product.title, product.id.replace("-", " "), *product.also_called)
        yield Searched(product.id, "product", "product", names, (), "", frozenset((product.id,)))


@dataclass(frozen=True, slots=True)
class _Name:
    joined: str  # plain form without blanks
    short: str  # the words that are no noise, in order of the alphabet
    telling: int  # words that are no noise


class Index:
    """Words of some entries with the entries that hold them. `products` are their titles by id, the usual one first."""

    def __init__(self, entries: Iterable[Searched], products: dict[str, str] | None = None) -> None:
        self.rows: list[Searched] = []
        self.names: list[list[_Name]] = []
        self.holds: dict[str, dict[int, float]] = defaultdict(dict)
        self.named: dict[str, list[tuple[int, int]]] = defaultdict(list)
        for entry in entries:
            self._add(entry)
        self.vocabulary = sorted(self.holds)
        self.beginnings = sorted((name.joined, row) for row, names in enumerate(self.names) for name in names)
        self.shortened: dict[str, set[int]] = defaultdict(set)
        for row, names in enumerate(self.names):
            for name in names:
                self.shortened[name.short].add(row)
        self.forms: dict[str, list[str]] = defaultdict(list)
        for word in self.vocabulary:
            self.forms[stem(word)].append(word)
        self.nouns: dict[str, set[str]] = defaultdict(set)
        for product, title in (products or {}).items():
            self.nouns[words_in(title)[-1]].add(product)
        self.usual = next(iter(products or {}), None)

    def _add(self, row: Searched) -> None:
        number = len(self.rows)
        self.rows.append(row)
        holds = self.holds
        for word in distinct_words("\n".join(row.texts)):
            holds[word][number] = _TEXT
        for word in words_in(row.id.replace("-", " ")):
            holds[word][number] = _ID
        names = []
        for place, written in reversed(list(enumerate(row.names))):
            words = words_in(written)
            short = telling(words)
            names.append(_Name("".join(words), "".join(sorted(short)), len(short)))
            counts = _NAME if place else _TITLE
            for word in set(words):
                holds[word][number] = counts
                self.named[word].append((number, place))
        self.names.append(names[::-1])

    def products_named(self, query: str) -> set[str]:
        """The products whose kind (ham, bacon, sausage) is among the words; none if no word is such a kind."""
        return {product for word in words_in(query) for product in self.nouns.get(word, ())}

    def find(
        self,
        query: str,
        limit: int,
        kinds: Collection[Kind] | None = None,
        region: str | None = None,
        products: Collection[str] = (),
    ) -> list[Hit]:
        """The entries that fit the words best, best first; `kinds` None means all."""
        written = words_in(query)
        asked = self._taken_apart(telling([word for word in written if word not in self.nouns] or written))
        likely = [found for word in asked if (found := self._like(word))]
        joined, short = "".join(written), "".join(sorted(telling(written)))
        weights = [self._weight(found) for found in likely]
        whole = sum(weights) or 1.0
        total: dict[int, float] = defaultdict(float)
        held: dict[int, float] = defaultdict(float)
        together: dict[tuple[int, int], list[float]] = {}
        meant: dict[int, str] = {}
        for found, weight in zip(likely, weights, strict=True):
            best: dict[int, tuple[float, str]] = {}
            best_named: dict[tuple[int, int], float] = {}
            for known, fit in found.items():
                for number, counts in self.holds[known].items():
                    if (value := fit * counts) > best.get(number, (0.0, ""))[0]:
                        best[number] = (value, known)
                for at in self.named.get(known, ()):
                    if fit > best_named.get(at, 0.0):
                        best_named[at] = fit
            for number, (value, known) in best.items():
                total[number] += weight * value / whole
                held[number] += weight / whole
                meant.setdefault(number, known)
            for at, fit in best_named.items():
                share = together.setdefault(at, [0.0, 0.0])
                share[0] += weight * fit / whole
                share[1] += 1
        best_name = self._best_names(together)
        hits: list[tuple[tuple[float, ...], Hit]] = []
        whole_names = self._beginning(joined, short)
        for number in whole_names.union(total):
            row = self.rows[number]
            if (kinds is not None and row.kind not in kinds) or (region is not None and row.region != region):
                continue
            if products and row.products is not None and row.products.isdisjoint(products):
                continue
            value, place = best_name.get(number, (0.0, -1))
            score = (0.5 * total.get(number, 0.0) + 0.46 * value) * held.get(number, 0.0)
            if number in whole_names:
                score, place = self._as_a_whole(number, joined, short, score, place)
            exact = score >= 1.0
            away = not products and row.products is not None and self.usual not in row.products
            if not exact:
                score *= _BY_KIND[row.rank] * (_NOT_AT_HOME if away else 1.0)
            if score < _WORTH_SHOWING:
                continue
            why = row.names[place] if place >= 0 else meant.get(number, "")
            hit = Hit(row.id, row.kind, row.names[0], round(score, 4), why)
            order = (-score, *((-_BY_KIND[row.rank], away, place) if exact else (0.0, 0, 0)))
            hits.append((order, hit))
        hits.sort(key=lambda pair: (*pair[0], len(pair[1].title), pair[1].id))
        return [hit for _, hit in hits[:limit]]

    def _weight(self, found: dict[str, float]) -> float:
        """What a word is worth: much if few entries hold it, little if nearly all do, as with `ham`."""
        known = max(found, key=lambda each: (found[each], len(self.holds[each])))
        return math.log1p(len(self.rows) / (1 + len(self.holds[known])))

    def _best_names(self, together: dict[tuple[int, int], list[float]]) -> dict[int, tuple[float, int]]:
        """For each row the name that holds most of the words and little else, with how well (0 to 1)."""
        found: dict[int, tuple[float, int]] = {}
        for (number, place), (share, count) in together.items():
            cover = min(1.0, count / self.names[number][place].telling)
            value = share * (0.65 + 0.35 * cover) - (0.02 if place else 0.0)
            if value > found.get(number, (0.0, -1))[0]:
                found[number] = (value, place)
        return found

    def _as_a_whole(self, number: int, joined: str, short: str, score: float, place: int) -> tuple[float, int]:
        """The score and the name, if the query without its blanks is a name or the beginning of one."""
        for at, name in enumerate(self.names[number]):
            if joined == name.joined or (short == name.short and short):
                return 1.0, at
            if len(joined) > 1 and name.joined.startswith(joined):
                value = 0.72 + 0.2 * len(joined) / len(name.joined) - (0.02 if at else 0.0)
                if value > score:
                    score, place = value, at
        return min(score, 0.99), place

    def _beginning(self, joined: str, short: str) -> set[int]:
        """Rows of which a name is the query, or begins with it, once blanks are left out: `pin holes` and `pinholes`."""
        found = set(self.shortened.get(short, ()))
        if len(joined) > 1:
            for at in range(bisect_left(self.beginnings, (joined, 0)), len(self.beginnings)):
                name, row = self.beginnings[at]
                if not name.startswith(joined):
                    break
                found.add(row)
        return found

    def _taken_apart(self, words: Sequence[str]) -> list[str]:
        """The words, with compounds written as the knowledge writes them: `aitchbone` as two, `pin hole` as one."""
        found: list[str] = []
        for word in words:
            if (
                found
                and word in self.holds
                and (pair := found[-1] + word) in self.named
                and found[-1] not in self.named
            ):
                found[-1] = pair
                continue
            cuts = range(_SHORTEST_PART, len(word) - _SHORTEST_PART + 1) if word not in self.named else ()
            halves = next(((word[:at], word[at:]) for at in cuts if {word[:at], word[at:]} <= self.named.keys()), None)
            found.extend(halves or (word,))
        return found

    def _like(self, word: str) -> dict[str, float]:
        """Known words that may be meant, with how well they fit (0 to 1)."""
        found: dict[str, float] = {}
        if word in self.holds:
            found[word] = 1.0
        for known in self.forms.get(stem(word), ()):
            found.setdefault(known, _FORM)
        for known in alike(word):
            if known in self.holds:
                found.setdefault(known, _SENSE)
        if len(word) > 1:
            for at in range(bisect_left(self.vocabulary, word), len(self.vocabulary)):
                known = self.vocabulary[at]
                if not known.startswith(word):
                    break
                found.setdefault(known, _PREFIX + 0.15 * len(word) / len(known))
        slips = slips_allowed(word)
        if slips and not found:
            for known in self._candidates(word, slips):
                if (distance := slips_between(word, known)) <= slips:
                    found[known] = _SLIP + 0.2 * (1 - distance / len(word)) + (0.05 if known[0] == word[0] else 0.0)
        return found

    def _candidates(self, word: str, slips: int) -> Iterable[str]:
        """Words of about that length that begin or end alike and share most of the letters: the few worth comparing."""
        first, last, letters = word[0], word[-1], set(word)
        return (
            known
            for known in self.vocabulary
            if abs(len(known) - len(word)) <= slips
            and (known[0] == first or known[-1] == last)
            and len(letters.symmetric_difference(known)) <= 2 * slips
        )


def nearest(index: Index, written: str, known: Collection[str], most: int = 2) -> list[str]:
    """The ids among `known` that an unknown id most likely stands for: by its letters if it is a slip, else by its sense."""
    import difflib

    slip = difflib.get_close_matches(written, known, n=1, cutoff=0.88)
    if slip:
        return slip
    hits = [hit for hit in index.find(written.replace("-", " "), 40) if hit.id in known]
    meant = [hit.id for hit in hits if hit.score >= max(0.45, 0.85 * hits[0].score)][:most]
    return meant or difflib.get_close_matches(written, known, n=1, cutoff=0.6)


def did_you_mean(knowledge: Knowledge, written: str, known: Collection[str]) -> str:
    """The end of a message about an id that is not there: what was perhaps meant, or nothing."""
    return as_question(nearest(_index(knowledge, wide=True), written, known))


def as_question(ids: Sequence[str]) -> str:
    """`; did you mean "one" or "other"?`, or nothing."""
    quoted = " or ".join(f'"{one}"' for one in ids)
    return f"; did you mean {quoted}?" if ids else ""
