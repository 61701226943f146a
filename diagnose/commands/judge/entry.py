"""One entry on the desk: step by step through the order of evaluation, marks first and points after."""

from __future__ import annotations

from diagnose.commands.session.vocabulary import Command
from diagnose.commands.session.words import number_in
from diagnose.corpus.scorecards import Criterion, Look
from diagnose.judging.sheet import SET_ASIDE
from diagnose.judging.suggesting import far_from, fault_title, suggested, suspect_marks

from .bench import Bench, Leave, ToEntry
from .marking import mark_faults
from .orders import looks_like_an_order, order_in, points_in

DO_NOT_TASTE = "Do not taste it. Score what can be seen and smelled, change knife and gloves, keep it apart and cold."


_NO_REASON = ("off", "no", "none", "not", "lift")
"""Words behind the command suspect that mean that it is to be taken back."""


class Back(Exception):  # noqa: N818  a way out, no error
    """The judge goes back to the criterion before."""


class EntryDesk:
    """Goes through the criteria of the entry on the desk."""

    def __init__(self, bench: Bench) -> None:
        self.bench = bench
        self.talk = bench.talk
        self.card = bench.card
        self.criterion: Criterion | None = None
        self.places_shown = False

    def go_through(self) -> None:
        """Ask until the sheet is complete. Raises ToEntry or Leave when the judge wants to go elsewhere."""
        bench = self.bench
        done = len(bench.order) - len(bench.waiting())
        self.show_status()
        self.talk.heading(f"Entry {bench.entry} ({bench.place + 1} of {len(bench.order)}; {done} complete)")
        self._warn_of_others()
        criteria = self.card.in_order()
        opening = bench.sheet.open_criteria(self.card)
        at = criteria.index(opening[0]) if opening else 0
        shown: Look | None = None
        while at < len(criteria) and not bench.sheet.disqualified:
            criterion = criteria[at]
            if self._not_tasted(criterion):
                at += 1
                continue
            look = next(one for one in self.card.order if criterion.id in one.criteria)
            if look is not shown:
                self.talk.heading(look.title)
                self.talk.say(look.do)
                shown = look
            try:
                self._score(criterion)
                at += 1
            except Back:
                at, shown = max((one for one in range(at) if not self._not_tasted(criteria[one])), default=at), None
        self._sum_up()

    def _not_tasted(self, criterion: Criterion) -> bool:
        """Whether it is passed over, because it is tasted and the piece is suspect."""
        return criterion.tasted and bool(self.bench.sheet.suspect)

    def _warn_of_others(self) -> None:
        """A piece that another judge holds suspect is not tasted by anybody; why is not told, so that nobody is led."""
        sheet = self.bench.sheet
        if sheet.suspect and sheet.suspect != SET_ASIDE:
            self.talk.say(f"You have set this piece aside: {sheet.suspect}. {DO_NOT_TASTE}", lead="!!! ")
        elif sheet.suspect or self.bench.aside():
            self.talk.say(f"Another judge has set this piece aside. {DO_NOT_TASTE}", lead="!!! ")
            if not sheet.suspect:
                self.bench.keep("suspect", why=SET_ASIDE)
                self.show_status()

    def show_status(self) -> None:
        """The line at the foot: entry and commands, as many as the width holds."""
        bench = self.bench
        line = f"{bench.judged.id} | judge {bench.judge} | entry {bench.entry}"
        if bench.sheet.suspect:
            line += " | SET ASIDE, do not taste"
        for more in ("? help", "q leave", "b back", "n next", "x suspect", "l list"):
            if len(line) + len(more) + 3 < self.talk.console.width:
                line += f" | {more}"
        self.talk.status = line

    def _score(self, criterion: Criterion) -> None:
        bench = self.bench
        self.criterion = criterion
        self.talk.heading(f"{criterion.title}, {criterion.points} points")
        self.talk.say(criterion.what)
        mark_faults(self, criterion)
        if bench.sheet.disqualified or self._not_tasted(criterion):
            return
        suggestion = suggested(criterion, bench.sheet.marks)
        standing = bench.sheet.points.get(criterion.id)
        seen = any(mark.verdict == "yes" and self._is_of(criterion, mark.fault) for mark in bench.sheet.marks)
        offered = standing.points if standing else suggestion if seen else None
        if standing is None:
            self._levels()
        prompt = f"{criterion.title}: points 0 to {criterion.points}"
        if offered is not None:
            prompt += f", Enter = {offered} ({'as you gave' if standing else 'suggested by the marks'})"
        while True:
            line = self.hear(prompt)
            if bench.sheet.disqualified or self._not_tasted(criterion):
                return
            points = points_in(line, criterion.points) if line else offered
            if points is not None:
                break
            if line:
                self.talk.say(f"Please type a whole number from 0 to {criterion.points}.")
            else:
                self.talk.say("Nothing is marked here, so no points are suggested. Please type them.")
        reason = standing.reason if standing and points == standing.points else ""
        bench.keep("points", criterion=criterion.id, points=points, suggested=suggestion, reason=reason)
        if far_from(criterion, points, suggestion) and not reason:
            said = f"The marks suggest {suggestion}." if seen else "Nothing is marked here."
            reason = self._reason(f"{said} Why {points}? Enter = no reason")
            if reason:
                bench.keep("points", criterion=criterion.id, points=points, suggested=suggestion, reason=reason)

    def _is_of(self, criterion: Criterion, fault: str) -> bool:
        return any(one.id == fault for one in criterion.faults)

    def _reason(self, prompt: str) -> str:
        """Words for a reason; what belongs to a list of faults is refused, since it would be kept as one."""
        while True:
            line = self.hear(prompt)
            if not looks_like_an_order(line):
                return line
            self.talk.say("Here only a reason in words; the list comes next. Enter = no reason.")

    def hear(self, prompt: str) -> str:
        """A line that is no command; commands are done on the spot, and an empty line comes back after one that ends this."""
        while True:
            line = self.talk.ask(prompt)
            order = order_in(line)
            if order is None:
                return line
            if self._do(order):
                return ""

    def _do(self, order: Command) -> bool:
        """Do a command; true if the criterion on the desk is over by it."""
        bench, talk = self.bench, self.talk
        match order.word:
            case "back":
                raise Back
            case "next":
                raise ToEntry((bench.place + 1) % len(bench.order))
            case "previous":
                raise ToEntry((bench.place - 1) % len(bench.order))
            case "go":
                if (place := bench.place_of(order.rest)) is not None:
                    raise ToEntry(place)
                talk.say(f"There is no entry {order.rest} in this class.")
            case "levels":
                self._levels()
            case "jot":
                text = order.rest or talk.ask("Words, Enter = none", remember=True)
                if text:
                    bench.keep("note", text=text)
                    talk.say("Noted.")
            case "suspect":
                if order.rest.casefold() in _NO_REASON:
                    self._lift("")
                    return False
                why = order.rest or talk.ask("Why? A few words", remember=True)
                if bench.sheet.suspect and bench.sheet.suspect != SET_ASIDE:
                    bench.keep("suspect", why=why or bench.sheet.suspect)
                    talk.say("It is set aside already; the reason is kept.", lead="!!! ")
                else:
                    self.suspect(why or "suspected by the judge")
                return self.criterion is not None and self._not_tasted(self.criterion)
            case "lift":
                self._lift(order.rest)
            case "out":
                return self._out()
            case "list":
                self._list()
            case "close":
                talk.say("Close comes when every entry is scored." if bench.waiting() else "Finish this entry first.")
            case "help":
                from .hold import show_help

                show_help(bench)
            case _:
                raise Leave
        return False

    def suspect(self, why: str, do: str = "") -> bool:
        """Set the piece aside, at once and for everybody, and ask whether that was meant; false if it was a slip.

        It is kept before the question, so that nobody tastes the piece whatever happens meanwhile. `do` is what the
        scorecard says is to be done.
        """
        self.bench.keep("suspect", why=why)
        self.show_status()
        self.talk.say(do or f"{DO_NOT_TASTE} Tell the superintendent, and write down why.", lead="!!! ")
        self.talk.say("The other judges are told not to taste it.", lead="!!! ")
        while True:
            line = self.talk.ask(f"Entry {self.bench.entry} is set aside: {why}. Enter = right, n = a slip").casefold()
            if line in ("", "y", "yes"):
                return True
            if line in ("n", "no", "slip"):
                self.bench.keep("lifted", why="a slip, taken back at once")
                self.show_status()
                self.talk.say("You have not set it aside.")
                self._warn_of_others()
                return False
            self.talk.say("Please press Enter, or type n if you did not mean it.")

    def _lift(self, why: str) -> None:
        """Take this judge's own setting-aside back, with a reason; it and the reason stay in the record."""
        bench, talk = self.bench, self.talk
        if not bench.sheet.suspect:
            talk.say("This piece is not set aside.")
            return
        if bench.sheet.suspect == SET_ASIDE:
            talk.say("Another judge has set it aside; only that judge can take it back.")
            return
        calling = suspect_marks(self.card, bench.sheet.marks)
        titles = "; ".join(fault_title(self.card, bench.knowledge, one) for one in calling)
        talk.say("Take it back only if it was a slip, or if the superintendent has looked at the piece with you.")
        if titles:
            talk.say(f"These marks go, too: {titles}.")
        why = why or self._reason("Why may it be tasted after all? Enter = it stays set aside")
        if not why:
            talk.say("It stays set aside.", lead="!!! ")
            return
        for fault in calling:
            bench.keep("no-mark", fault=fault)
        bench.keep("lifted", why=why)
        self.show_status()
        talk.say("It is no longer set aside by you; the record keeps that it was, and why it is not.")
        self._warn_of_others()

    def _levels(self) -> None:
        if self.criterion is not None:
            for anchor in self.criterion.anchors:
                self.talk.say(anchor.says, lead=f"{anchor.points:>5}  ")

    def _out(self) -> bool:
        rules = [one for one in self.card.disqualify if one.kind != "unsafe"]
        self.talk.say("Why is it out? (For a suspect piece use: suspect.)")
        self.talk.choices([f"{one.title}. {one.do}" for one in rules])
        while line := self.talk.ask("Number, Enter = it stays in"):
            if number := number_in(line, len(rules)):
                self.bench.keep("disqualified", rule=rules[number - 1].id)
                return True
            self.talk.say(f"Please type a number from 1 to {len(rules)}, or press Enter.")
        return False

    def _list(self) -> None:
        sheets = self.bench.sheets
        for place, entry in enumerate(self.bench.order, 1):
            sheet = sheets.get(entry)
            if sheet is None:
                state = "waits"
            elif sheet.disqualified:
                state = "out of the class"
            elif sheet.complete(self.card):
                state = f"{sheet.total} points"
            else:
                state = f"begun, {len(sheet.open_criteria(self.card))} criteria open"
            if sheet is not None and sheet.suspect:
                state = f"SET ASIDE, do not taste; {state}"
            self.talk.say(f"entry {entry}: {state}", lead=f"{place:>4}  ")

    def _sum_up(self) -> None:
        sheet = self.bench.sheet
        if sheet.disqualified:
            self.talk.say(f"Entry {sheet.entry} is out of the class.")
        elif sheet.suspect:
            self.talk.say(f"Entry {sheet.entry}: set aside, not tasted. It gets no place.")
        else:
            self.talk.say(f"Entry {sheet.entry}: {sheet.total} of {self.card.total} points.")
