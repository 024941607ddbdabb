"""What is chosen for all that follows, and what is remembered, shown."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from grammar.gather import gather
from grammar.reads import many_of
from grammar.reads import span as span_text
from grammar.words import spoken

from ..answer import Answer, Assumed
from ..say import Spoken
from ..season import MONTHS, spoken_day

if TYPE_CHECKING:
    pass

from .desk import lines
from .places import Places

#: More places than this are counted and not named on the bottom line.
_PLACES_SHOWN = 4


class Settings(Places):
    """The part of a talk that concerns a chosen density and unit, and shows what is remembered."""

    def _as_set(self, answer: Answer, line: str) -> Answer:
        """The answer with the chosen density and unit put in, where the line did not say its own."""
        settings = self.notebook.settings()
        density, unit = settings.get("density", ""), settings.get("unit", "")
        if density and any(note.code == "default-density" for note in answer.assumed):
            said = self.conversation.say(f"castings weigh {density}")
            if said.status == "answered":
                chosen = Assumed(code="set-density", text=f"castings weigh {density}, as chosen for all that follows")
                answer = said.model_copy(update={"request": line, "assumed": (*said.assumed, chosen)})
        asked = answer.answer.of if answer.answer else ""
        if unit and asked in ("castings", "mix", "soil", "water") and not gather(line).asked_unit:
            said = self.conversation.say(f"in {spoken('unit', unit)}")
            if said.status == "answered":
                answer = said.model_copy(update={"request": line, "assumed": answer.assumed})
        return answer

    def _on_set(self, rest: str) -> str | None:
        if not rest:
            return None
        draft = gather(f"castings weigh {rest}") if not re.search(r"weigh", rest) else gather(rest)
        if draft.density is not None:
            shown = span_text(draft.density)
            self.notebook.keep_settings({"density": shown})
            return self._put(f"From now on castings weigh {shown}, unless a request says otherwise.")
        unit = gather(rest).asked_unit or gather(f"in {rest}").asked_unit
        if unit:
            self.notebook.keep_settings({"unit": unit})
            return self._put(f"From now on volumes are given in {many_of(unit)}.")
        return None

    def _on_unset(self, rest: str) -> str:
        self.notebook.keep_settings({"density": "", "unit": ""})
        return self._put("Density and units are the usual ones again.")

    def _on_remembered(self, rest: str) -> str:
        page = Spoken(self.look)
        places = self.notebook.places()
        for name, reads in places.items():
            page.put(f"{name}: {reads}", "", "  ")
        for name, value in self.notebook.settings().items():
            page.put(_setting(name, value))
        order, log = self.notebook.order(), self.notebook.applied()
        if order:
            page.put(f"On the order: {len(order)} {lines(len(order))}.")
        if log:
            page.put(f"In the log: {len(log)} {'entry' if len(log) == 1 else 'entries'}, the last on {spoken_day(log[-1].day)}.")
        if self.shop is not None:
            page.put(f"Packs and prices are those of {self.shop.shop.name}.")
        if self.notebook.path is not None:
            page.put(f"Kept in {self.notebook.path}.")
        if not page.lines:
            page.put("Nothing yet. After an answer, “call it the long bed” gives the place a name.")
        return str(page)

    def _look_up(self) -> None:
        """Takes note of what is remembered, so that showing it needs no file."""
        self.places = self.notebook.places()
        parts = []
        if self.places:
            shown = list(self.places)[:_PLACES_SHOWN]
            more = len(self.places) - len(shown)
            parts.append("places: " + ", ".join(shown) + (f" and {more} more" if more else ""))
        settings = self.notebook.settings()
        parts += [many_of(settings[name]) if name == "unit" else settings[name] for name in ("density", "unit") if name in settings]
        if order := self.notebook.order():
            parts.append(f"order: {len(order)} {lines(len(order))}")
        if self.shop is not None:
            parts.append(f"catalogue: {self.shop.shop.name}")
        if self.notebook.path is not None:
            parts.append(f"notebook: {self.notebook.path.name}")
        self.status = " | ".join(parts)


def _setting(name: str, value: str) -> str:
    """A setting in words."""
    if name == "density":
        return f"Castings weigh {value}."
    if name == "unit":
        return f"Volumes are given in {many_of(value)}."
    month, day = (int(part) for part in value.split("-"))
    return f"Seasons are counted from {day} {MONTHS[month - 1]} on."
