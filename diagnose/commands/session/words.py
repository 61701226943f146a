"""What a typed line means: a command, an answer, or marks on a numbered list.

Answers are one letter with room for honesty behind it: `y` yes, `y?` yes and fairly sure, `ym` yes from memory, `y slight`.
Nothing here prints or reads; lines go in, plain data comes out.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from diagnose.casework.events import Number
from diagnose.corpus.records import Amount, Sureness, Verdict

from .vocabulary import Command, Word, by_name, command_of


@dataclass(frozen=True, slots=True)
class Reply:
    """An answer as typed."""

    verdict: Verdict
    sure: Sureness = "sure"
    how_much: Amount | None = None


COMMANDS = (
    Word("back", "b", "nothing", "take the last answer back", ("undo",)),
    Word("skip", "s", "nothing", "put this question aside, unanswered", ("pass", "later")),
    Word("why", "w", "nothing", "what this question would tell"),
    Word("how", "h", "perhaps a number", "how to look; in a list: how 3"),
    Word("jot", "j", "text", "write a note into the case: jot second lot this week", ("note",)),
    Word("title", "t", "text", "give the case a title: title lot 412, Monday", ("name",)),
    Word("figure", "f", "figure", "keep a figure of the batch: figure 412 kg green weight", ("number",)),
    Word("add", "a", "text", "tell something unasked, a sign or a cause: add foam", ("find", "search")),
    Word("rank", "r", "nothing", "the ranking in full", ("show", "ranking")),
    Word("links", "l", "perhaps a number", "from cause to defect, link by link: links, or links 2", ("chain",)),
    Word("given", "g", "perhaps a number", "the answers so far, and change one", ("answers", "change")),
    Word("over", "o", "nothing", "go over the lists of signs again", ("lists", "mark")),
    Word("details", "d", "nothing", "the lists of details, which help to tell causes apart", ("detail", "more")),
    Word("ask", "k", "nothing", "to the questions, past the rest of the lists; back to the question", ("questions",)),
    Word("reach", "x", "perhaps a number", "change what you can look at"),
    Word("end", "e", "nothing", "go to the report", ("stop", "report", "done")),
    Word("help", "?", "nothing", "this list", ("commands",)),
    Word("quit", "q", "nothing", "leave, as do Ctrl-C and Ctrl-D; every answer is saved already", ("exit", "leave")),
)

_BY_NAME = by_name(COMMANDS)


def command_in(line: str) -> Command | None:
    """The command of a line; None for anything else, such as an answer, numbers, or words to search for."""
    return command_of(line, _BY_NAME)


_VERDICTS: dict[str, Verdict] = {
    "y": "yes",
    "yes": "yes",
    "n": "no",
    "no": "no",
    "c": "cant-tell",
    "can't tell": "cant-tell",
    "cant tell": "cant-tell",
    "can't say": "cant-tell",
    "cannot tell": "cant-tell",
    "cant-tell": "cant-tell",
    "don't know": "cant-tell",
    "dont know": "cant-tell",
    "unknown": "cant-tell",
}
_SURE: dict[str, Sureness] = {
    "?": "fairly",
    "fairly": "fairly",
    "fairly sure": "fairly",
    "m": "from-memory",
    "memory": "from-memory",
    "from memory": "from-memory",
    "from-memory": "from-memory",
    "sure": "sure",
}
_AMOUNTS: dict[str, Amount] = {"slight": "slight", "a little": "slight", "marked": "marked", "strong": "marked"}


def _either(words: dict[str, Verdict] | dict[str, Sureness] | dict[str, Amount]) -> str:
    return "|".join(re.escape(word) for word in sorted(words, key=len, reverse=True))


_TAIL = rf"(?:\s*(?:(?P<sure>{_either(_SURE)})|(?P<much>{_either(_AMOUNTS)}))(?![^\W\d_]))"
_ONE_TAIL = re.compile(_TAIL)
_REPLY = re.compile(rf"(?P<verdict>{_either(_VERDICTS)})(?P<tails>(?:{_TAIL.replace('?P<', '?P<one_')})*)")
_MARK = re.compile(rf"[\s,;]*(?P<number>\d+)(?P<tails>(?:{_TAIL.replace('?P<', '?P<one_')})*)")


def _plain(line: str) -> str:
    return " ".join(line.replace("\u2019", "'").casefold().split())


def _tails(text: str) -> tuple[Sureness, Amount | None]:
    """The last word on how sure, and on how much, counts."""
    sure: Sureness = "sure"
    how_much: Amount | None = None
    for tail in _ONE_TAIL.finditer(text):
        if tail["sure"]:
            sure = _SURE[tail["sure"]]
        else:
            how_much = _AMOUNTS[tail["much"]]
    return sure, how_much


def reply_in(line: str) -> Reply | None:
    """The answer of a line such as `y`, `n?`, `ym`, `yes fairly sure`, `y slight`, `c`; None for anything else."""
    found = _REPLY.fullmatch(_plain(line))
    if found is None:
        return None
    verdict = _VERDICTS[found["verdict"]]
    sure, how_much = _tails(found["tails"])
    if verdict == "cant-tell":
        return None if found["tails"] else Reply(verdict)
    return None if how_much and verdict == "no" else Reply(verdict, sure, how_much)


def marks_in(line: str) -> list[tuple[int, Reply]] | None:
    """The marks of a line such as `3`, `3?`, `2, 5m`, `4 slight 7`, `no 3 4`; None for anything else."""
    text = _plain(line)
    verdict: Verdict = "yes"
    if text.startswith("no "):
        verdict, text = "no", text.removeprefix("no ")
    marks: list[tuple[int, Reply]] = []
    end = 0
    while found := _MARK.match(text, end):
        sure, how_much = _tails(found["tails"])
        if how_much and verdict == "no":
            return None
        marks.append((int(found["number"]), Reply(verdict, sure, how_much)))
        end = found.end()
    return marks if marks and not text[end:].strip(" ,;") else None


def number_in(line: str, most: int) -> int | None:
    """The number of a choice as typed, from 1 to `most`; None for anything else."""
    if not line.isdecimal() or len(line) > 9:
        return None
    return number if 1 <= (number := int(line)) <= most else None


_WEIGHTS = ("kg", "g", "mg", "t", "lb", "lbs", "oz")
_SHARES = ("%", "ppm", "mg/kg", "\u00b0be", "\u00b0s")
_WARMTH = ("\u00b0c", "\u00b0f", "\u00b0", "c", "f", "k")
_TIMES = ("s", "min", "h", "hr", "hour", "hours", "d", "day", "days")
_VOLUMES = ("l", "ml", "hl", "gal")
_PRESSURES = ("bar", "psi", "kpa", "mpa")
_LENGTHS = ("\u00b5m", "mm", "cm", "m", "in", "ft")
_UNITS = frozenset((*_WEIGHTS, *_SHARES, *_WARMTH, *_TIMES, *_VOLUMES, *_PRESSURES, *_LENGTHS, "rpm", "kw"))
_UNIT = "|".join(re.escape(unit) for unit in sorted(_UNITS, key=len, reverse=True))
_VALUE_FIRST = re.compile(rf"(?P<value>[-+]?\d[\d.,:/]*(?:\s*(?:{_UNIT})(?!\w))?)\s+(?P<name>\S.*)", re.IGNORECASE)
_NAME_FIRST = re.compile(r"(?P<name>[^\W\d_]\D*?)\s*[:=]?\s+(?P<value>[-+]?\d.*)")


def figure_in(text: str) -> Number | None:
    """The figure of a text such as `412 kg green weight` or `green weight 412 kg`; None without a figure or a name."""
    text = " ".join(text.split())
    found = _VALUE_FIRST.fullmatch(text) or _NAME_FIRST.fullmatch(text)
    if found is None or found["name"].casefold() in _UNITS:
        return None
    return Number(found["name"], found["value"])


def in_words(verdict: Verdict, sure: Sureness, how_much: Amount | None) -> str:
    """An answer as a person would say it: "yes, slight, from memory"."""
    parts = [{"yes": "yes", "no": "no", "cant-tell": "can't tell"}[verdict]]
    if how_much:
        parts.append(how_much)
    if sure != "sure" and verdict != "cant-tell":
        parts.append({"fairly": "fairly sure", "from-memory": "from memory"}[sure])
    return ", ".join(parts)
