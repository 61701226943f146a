"""One entry on the desk: step by step through the order of evaluation, marks first and points after."""

from __future__ import annotations

from diagnose.corpus.scorecards import Criterion, Look
from diagnose.judging.sheet import SET_ASIDE
from diagnose.judging.suggesting import far_from, suggested

from .bench import Bench, Leave, ToEntry
from .marking import mark_faults
from .orders import Order, order_in, points_in

DO_NOT_TASTE = "Do not taste it. Score what can be seen and smelled, change knife and gloves, keep it apart and cold."


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
        self.talk.heading(f"Entry {bench.entry} ({bench.place + 1} of {len(bench.order)}; {done} complete)")
        self._warn_of_others()
        criteria = self.card.in_order()
        opening = bench.sheet.open_criteria(self.card)
        at = criteria.index(opening[0]) if opening else 0
        shown: Look | None = None
        while at < len(criteria) and not bench.sheet.disqualified:
            criterion = criteria[at]
            if criterion.tasted and bench.sheet.suspect:
                break
            look = next(one for one in self.card.order if criterion.id in one.criteria)
            if look is not shown:
                self.talk.heading(look.title)
                self.talk.say(look.do)
                shown = look
            try:
                self._score(criterion)
                at += 1
            except Back:
                at, shown = max(0, at - 1), None
        self._sum_up()

    def _warn_of_others(self) -> None:
        """A piece that another judge holds suspect is not tasted by anybody; why is not told, so that nobody is led."""
        if self.bench.aside() and not self.bench.sheet.suspect:
            self.talk.say(f"Another judge has set this piece aside. {DO_NOT_TASTE}", lead="!!! ")
            self.bench.keep("suspect", why=SET_ASIDE)

    def _score(self, criterion: Criterion) -> None:
        bench = self.bench
        self.criterion = criterion
        self.talk.heading(f"{criterion.title}, {criterion.points} points")
        self.talk.say(criterion.what)
        mark_faults(self, criterion)
        if bench.sheet.disqualified or (criterion.tasted and bench.sheet.suspect):
            return
        suggestion = suggested(criterion, bench.sheet.marks)
        standing = bench.sheet.points.get(criterion.id)
        offered = standing.points if standing else suggestion
        why = "as you gave" if standing else "suggested by the marks"
        while True:
            line = self.hear(f"Points 0 to {criterion.points}, Enter = {offered} ({why})")
            if bench.sheet.disqualified or (criterion.tasted and bench.sheet.suspect):
                return
            points = points_in(line, criterion.points) if line else offered
            if points is not None:
                break
            self.talk.say(f"Please type a whole number from 0 to {criterion.points}.")
        reason = standing.reason if standing and points == standing.points else ""
        bench.keep("points", criterion=criterion.id, points=points, suggested=suggestion, reason=reason)
        if far_from(criterion, points, suggestion) and not reason:
            reason = self.talk.ask(f"The marks suggest {suggestion}. Why {points}? Enter = no reason", remember=True)
            if reason:
                bench.keep("points", criterion=criterion.id, points=points, suggested=suggestion, reason=reason)

    def hear(self, prompt: str) -> str:
        """A line that is no command; commands are done on the spot, and an empty line comes back after one that ends this."""
        while True:
            line = self.talk.ask(prompt)
            order = order_in(line)
            if order is None:
                return line
            if self._do(order):
                return ""

    def _do(self, order: Order) -> bool:
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
                if int(order.rest[:9]) in bench.order:
                    raise ToEntry(bench.order.index(int(order.rest)))
                talk.say(f"There is no entry {order.rest} in this class.")
            case "levels":
                self._levels()
            case "jot":
                text = order.rest or talk.ask("Words, Enter = none", remember=True)
                if text:
                    bench.keep("note", text=text)
                    talk.say("Noted.")
            case "suspect":
                self.suspect(order.rest or talk.ask("Why? A few words", remember=True) or "suspected by the judge")
                return self.criterion is not None and self.criterion.tasted
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

    def suspect(self, why: str) -> None:
        """Set the piece aside, at once and for everybody."""
        self.bench.keep("suspect", why=why)
        self.talk.say(DO_NOT_TASTE, lead="!!! ")
        self.talk.say(
            "Tell the superintendent, and write down why. The other judges are told not to taste it.", lead="!!! "
        )

    def _levels(self) -> None:
        if self.criterion is not None:
            for anchor in self.criterion.anchors:
                self.talk.say(anchor.says, lead=f"{anchor.points:>5}  ")

    def _out(self) -> bool:
        rules = [one for one in self.card.disqualify if one.kind != "unsafe"]
        self.talk.say("Why is it out? (For a suspect piece use: suspect.)")
        self.talk.choices([f"{one.title}. {one.do}" for one in rules])
        line = self.talk.ask("Number, Enter = it stays in")
        if line.isdecimal() and 1 <= int(line[:6]) <= len(rules):
            self.bench.keep("disqualified", rule=rules[int(line) - 1].id)
            return True
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
                state = f"{sheet.total} points" + (", not tasted" if sheet.suspect else "")
            else:
                state = f"begun, {len(sheet.open_criteria(self.card))} criteria open"
            self.talk.say(f"entry {entry}: {state}", lead=f"{place:>4}  ")

    def _sum_up(self) -> None:
        sheet = self.bench.sheet
        if sheet.disqualified:
            self.talk.say(f"Entry {sheet.entry} is out of the class.")
        elif sheet.suspect:
            self.talk.say(f"Entry {sheet.entry}: set aside, not tasted. It gets no place.")
        else:
            self.talk.say(f"Entry {sheet.entry}: {sheet.total} of {self.card.total} points.")
