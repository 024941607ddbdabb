"""What the chat does with the log: noting what was put down, and answering from it when a place may have more.

A day is asked of the clock only where a line leaves it open.
"""

from __future__ import annotations

import re
from datetime import date

from grammar.gather import gather

from ..conversation import Conversation
from ..notebook import Application, application, order_line
from ..say import Spoken, say
from ..season import judge_again, spoken_day
from ..units import both_systems
from .commands import folded
from .days import UnclearDay, find_day, without_day
from .naming import the
from .settings import Settings

_AGAIN = re.compile(r"\b(again|once more|another time|a second time|yet|already|due|next)\b")
_IT = re.compile(r"^(?:it|that|this|there)?(?: (?:was|is|were|last|done|be))*$")
_PLACE_WORD = re.compile(r"\b(?:it|that|there)\b")
_DONE = re.compile(r"\b(?:last|done|dressed|fed|given|treated|top-dressed|side-dressed)\b")
_AMOUNT = re.compile(r"\d|\b(?:an?|half|quarter|one|two|three|four)\b.*\b(?:inch|inches|cm|mm|cups?|litres?|liters?|gallons?)\b", re.IGNORECASE)
_FILLER = re.compile(
    r"\b(?:the|my|our|to|at|on|for|of|with|and|was|were|is|last|done|did|get|got|it|that|this|a|an|as|in|again|time|we|i|down"
    r"|had|has|have|been|given|put|so|far|season|year|already|castings|all|altogether|total)\b"
)
_METRIC = re.compile(r"\b(?:metres?|centimetres?|millimetres?|litres?|mm|cm|m|kg)\b")
#: Stands for the name of a place while the rest of a line is looked at.
_MARK = "\x00"


class Logbook(Settings):
    """The part of a talk that concerns the log and the season."""

    # ---- noting ----------------------------------------------------------------------------------------

    def _on_applied(self, rest: str, lead: str = "") -> str | None:
        name, marked = self._marked(rest)
        unclear: UnclearDay | None = None
        day, said = None, marked
        try:
            day, said = find_day(marked, self.clock)
        except UnclearDay as problem:
            unclear, said = problem, without_day(marked)
        left = _FILLER.sub(" ", folded(said.replace(_MARK, " "))).strip()
        way = gather(lead).way if lead else ""
        if not name and left:
            if day is not None and way and not re.search(r"\d", left):
                return self._put(f"No place is called “{left}”. Say what it got first, as “{way} 12 tomatoes, 1 cup each”; then “call it …” "
                                 "and “log it” note it.")  # fmt: skip
            return None  # "I did 3 beds of 4 by 8 ft, how much was that?" is a request
        if unclear is not None:
            raise unclear
        if not name and (question := self._still_open()):
            return self._put(f"That is not worked out yet: {question}")
        if name and (reply := self._taken_up(name, way, said, left)) is not None:
            return reply
        if way and self.last is not None and self.last.way != way:
            return self._put(f"How much was it? Ask for the amount first: {the(name) if name else 'the place'} was not read as {way} before.")
        if self.last is None or order_line(self.last) is None:
            return self._put("What was put down? Ask for the amount first, then say “log it on 12 May 2026”.")
        name = name or self.current
        if not name:
            return self._put("Where? Give the place a name first, as “call it the long bed”.")
        day = self._or_today(day, "On which day? Say it as “log it on 12 May 2026”.")
        if self.clock is not None and day > self.clock():
            raise UnclearDay(f"{spoken_day(day)} is still to come; the log holds what was done")
        entry = application(self.last, name, day)
        assert entry is not None
        entry = entry.model_copy(update={"reads": self.place_words or entry.reads})
        self.notebook.log(entry)
        self.current = name
        return self._put(f"Noted: {the(name)}, {spoken_day(day)}, {_amount(entry)} of castings ({entry.reads}).")

    def _taken_up(self, name: str, way: str, said: str, left: str) -> str | None:
        """Makes a named place the one spoken of, with the way and amount of the line; the reply where that cannot be."""
        if way or _AMOUNT.search(left):
            amount = re.sub(r"^(?:with|at)\b", "", said.replace(_MARK, name).strip())
            answer = self.conversation.say(f"{way} {amount}".strip())
            self._keep_names()
        elif name.lower() != self.current.lower():
            answer = self.conversation.say(name)
        else:
            return None
        if answer.status != "answered":
            return say(answer, self.look)
        self.last = answer
        self._note_words()
        return None

    def _on_strike(self, rest: str) -> str:
        entry = self.notebook.strike_last()
        if entry is None:
            return self._put("The log is empty.")
        return self._put(f"Struck out: {the(entry.place)}, {spoken_day(entry.day)} ({entry.reads}).")

    # ---- reading ---------------------------------------------------------------------------------------

    def _on_log(self, rest: str, lead: str = "") -> str | None:
        name, marked = self._marked(rest.replace("?", ""))
        if not name and _PLACE_WORD.search(folded(marked)):
            name = self.current
        left = _FILLER.sub(" ", folded(marked.replace(_MARK, " "))).strip()
        if left and not name:
            return None
        if lead.startswith("how much") and (not name or left):
            return None  # a request, and not a look into the log
        entries = self.notebook.applied(name or None)
        if not entries:
            of_it = f" of {the(name)}" if name else ""
            return self._put(f"Nothing is noted{of_it} yet. After an answer, “log it” notes that it was done.")
        page = Spoken(self.look)
        for entry in entries:
            page.put(f"{spoken_day(entry.day)}, {the(entry.place)}: {_amount(entry)}; {entry.reads}", "", "  ")
        if name:
            start = self._season_start(entries[-1].day if self.clock is None else self.clock())
            season = [entry for entry in entries if entry.day >= start]
            litres = (sum(entry.litres[0] for entry in season), sum(entry.litres[1] for entry in season))
            amount = both_systems(litres, metric=is_metric(entries[-1].reads)) if season else "nothing"
            page.put(f"In the season from {spoken_day(start)}: {amount}.", "", "  ")
        return str(page)

    def _on_last_time(self, rest: str, lead: str = "") -> str | None:
        asked = folded(rest.replace("?", ""))
        name = self._name_in(rest) or (self.current if _IT.match(asked) else "")
        if not name:
            known = self.notebook.applied()
            if not _DONE.search(f"{lead} {asked}") or gather(rest).figures:
                return None
            place = _FILLER.sub(" ", asked).strip()
            others = ", ".join(dict.fromkeys(entry.place for entry in known))
            of_it = f" of “{place}”" if place else ""
            return self._put(f"Nothing is noted{of_it}." + (f" The log knows of: {others}." if others else ""))
        entries = self.notebook.applied(name)
        if not entries:
            return self._put(f"Nothing is noted of {the(name)} yet.")
        last = entries[-1]
        ago = ""
        if self.clock is not None:
            days = (self.clock() - last.day).days
            ago = f", {days} {'day' if days == 1 else 'days'} ago" if days else ", today"
        self.current = name
        return self._put(f"{spoken_day(last.day)}{ago}: {_amount(last)} on {the(name)}; {last.reads}.")

    # ---- the season ------------------------------------------------------------------------------------

    def _on_again(self, rest: str, lead: str = "") -> str | None:
        asked = folded(rest)
        name, marked = self._marked(rest)
        draft = gather(rest)
        if not name and _AGAIN.search(asked) and _PLACE_WORD.search(asked):
            name = self.current
        if not name:
            if _AGAIN.search(asked) and draft.way and not draft.figures:
                return self._put("Which place? Give it a name after an answer, as “call it the long bed”; “log it” then notes what was done.")
            return None
        before = self.notebook.applied(name)
        if not _AGAIN.search(asked) and not (before and draft.way):
            return None  # without "again" it is a request, unless the log has a say in it
        if not before:
            return self._put(f"Nothing is noted of {the(name)} yet, so nothing speaks against it. “log it” notes what was done.")
        day, said = find_day(marked, self.clock, coming=True)
        day = self._or_today(day, f"For which day? Say it as “can I do {the(name)} again on 12 May 2026?”.")
        like = next((one for one in reversed(before) if not draft.way or one.way == draft.way), before[-1])
        planned = self._planned(name, like, draft.way, day, said)
        answer = judge_again(f"{the(name)} again", planned, before, self._season_start(day), request=rest,
                             volume_unit="litre" if is_metric(like.reads) else "cubic_foot")  # fmt: skip
        self.current, self.judged = name, answer
        return say(answer, self.look._replace(pictures=self.look.pictures and answer.share is not None))

    def _planned(self, name: str, like: Application, way: str, day: date, said: str) -> Application:
        """What "again" means: the last of its kind once more or, where a way or an amount is said, the place with that."""
        amount = _AGAIN.sub(" ", said.replace(_MARK, " ")).replace("?", " ")
        if _AMOUNT.search(amount):
            asked = f"{name}, {amount}" if way else f"{like.way}, {name}, {amount}"
        elif not way or like.way == way:
            return like.model_copy(update={"day": day})
        else:
            asked = f"{way}, {self.notebook.places().get(name, '')}"
        answer = Conversation(names={known: draft.copy() for known, draft in self.conversation.names.items()}).say(asked)
        planned = application(answer, name, day)
        if planned is None or planned.way != (way or like.way):
            raise UnclearDay(f"nothing of that kind is noted of {the(name)}: ask for the amount first, then whether it may follow")
        return planned

    def _season_start(self, day: date) -> date:
        """The last beginning of a season on or before a day: 1 January unless another day was set."""
        set_on = self.notebook.settings().get("season", "01-01")
        month, day_of_month = (int(part) for part in set_on.split("-"))
        start = date(day.year, month, day_of_month)
        return start if start <= day else date(day.year - 1, month, day_of_month)

    def _on_season(self, rest: str) -> str | None:
        # the year is of no account: any that has the day will do
        day, left = find_day(f"{rest} 2023" if not re.search(r"\d{4}", rest) else rest, self.clock)
        if day is None or _FILLER.sub(" ", folded(left)).strip():
            return None
        self.notebook.keep_settings({"season": f"{day.month:02}-{day.day:02}"})
        return self._put(f"Seasons are counted from {spoken_day(day).rsplit(' ', 1)[0]} on.")

    # ---- small helps -----------------------------------------------------------------------------------

    def _marked(self, rest: str) -> tuple[str, str]:
        """The name of a place in a text, and the text with a mark in its stead; no name and the text as it is."""
        name = self._name_in(rest)
        return name, re.sub(rf"\b{re.escape(name)}\b", _MARK, rest.replace("’", "'"), count=1, flags=re.IGNORECASE) if name else rest

    def _or_today(self, day: date | None, question: str) -> date:
        if day is not None:
            return day
        if self.clock is None:
            raise UnclearDay(question)
        return self.clock()


def is_metric(reads: str) -> bool:
    """Whether a place was spoken of in metric units."""
    return _METRIC.search(reads) is not None


def _amount(entry: Application) -> str:
    """The castings of an entry in the units that its place was spoken of in, and beside them the others."""
    return both_systems(entry.litres, metric=is_metric(entry.reads))
