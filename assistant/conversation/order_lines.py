"""The order as a talk has it: its total, its lines changed or taken out, and which of them hold a place."""

from __future__ import annotations

from dataclasses import replace

from grammar.draft import Draft
from grammar.gather import gather
from grammar.query import Question

from .. import orders
from ..answer import Answer
from ..followup.by_so_much import by_so_much
from ..followup.leaning import Leaning, cleared
from ..followup.left_out import fewer, without
from ..followup.meant import meant
from ..questions import refuse
from ..spoken_of import by_size, spoken_of, which
from . import whole_lines
from .answers import answered, asks, nothing_changed
from .kinds import asks_of_all
from .line import Line
from .remembered import Remembered, Turn


def total(talk: Remembered, new: Draft, line: str) -> Answer:
    """Everything so far, added up: nothing is changed by it."""
    found = orders.total(talk.finished, new, line, talk.shop)
    if found is None:
        return asks(talk, line, "Nothing has been worked out so far. What are the castings for, and how big is it?")
    if isinstance(found, Question):
        return refuse(found, line)
    talk.totalled = True
    return found


def of_the_total(talk: Remembered, said: Line) -> Answer | None:
    """A line that asks for the total, or after it only in which form it is wanted."""
    if said.after_total and (said.new.asked or said.new.asked_unit) and asks_of_all(said.new):
        return total(talk, said.new, said.text)
    if talk.finished and (asked := orders.asks_total(said.text)):
        return total(talk, gather(asked), said.text)
    return None


def on_line(talk: Remembered, line: str) -> Answer | None:
    """ "remove line 2", "change line 2 to 12 inches deep": lines are counted as the total shows them."""
    said = orders.steered(line)
    if said is None or not talk.finished:
        return None
    shown = orders.shown(talk.finished)
    if not 1 <= said.number <= len(shown):
        count = len(shown)
        return asks(talk, line, f"There {'is one line' if count == 1 else f'are {count} lines'} so far; which one is it?")
    index, at, mixed = shown[said.number - 1]
    if mixed:
        return asks(talk, line, "That line holds several places; say which one by its name, as “take the peppers off”.")
    old = talk.finished[index]
    if said.removes:
        left = None if at is None else old.copy()
        if left is not None and at is not None:
            del left.places[at]
            cleared(left, Draft(text=line))
        return _without_line(talk, index, line, left)
    new = gather(said.rest, leaning=True)
    talk.meant = index
    if at is None:
        return answered(talk, talk.put(old, new, adding=False), line)
    alone = old.copy()
    alone.places = [alone.places[at]]
    changed = talk.put(alone, new, adding=False)
    kept = old.copy().places
    changed.places = [*kept[:at], *changed.places, *kept[at + 1 :]]
    return answered(talk, changed, line)


def _without_line(talk: Remembered, index: int | None, line: str, instead: Draft | None = None) -> Answer:
    """The order without one of its lines, or with less in its place, or without the request in hand that is no line yet: added up."""
    talk.leave()
    if index is not None:
        kept = [] if instead is None else [instead]
        talk.finished = [*talk.finished[:index], *kept, *talk.finished[index + 1 :]]
    last = len(talk.finished) - 1
    if last < 0:
        talk.now = Turn()
        was = "That was all there was" if index is None else "That was the only line"
        return asks(talk, line, f"{was}; nothing is left. What are the castings for?")
    answer = total(talk, Draft(), line)
    talk.now = Turn(talk.finished[last], answer, line=last, order=tuple(talk.finished))
    return answer


def dropped(talk: Remembered, old: Draft, said: Line) -> Answer | None:
    """ "take the peppers off", "drop the second": a place of the line in hand, or of another line of the order."""
    if "drop-place" not in said.replies:
        return None
    new, line = said.new, said.text
    named = [place for place in new.places if place.noun or place.name or place.described or place.has_size]
    if not named:
        return _dropped_unnamed(talk, old, new, line)
    lines = lines_with(talk.finished, new)
    elsewhere = len(lines) == 1 and lines[0] != talk.now.line and not any(spoken_of(place, old.places, to_the_word=True) for place in named)
    here = [] if elsewhere else meant(new, old, talk.leaning().touched)
    if isinstance(here, str):
        return asks(talk, line, here)
    if here:
        less = fewer(old, new, here)
        if less is not None:
            return answered(talk, less, line)
        if len(here) < len(old.places):
            return answered(talk, without(old, new, here), line)
        return _without_line(talk, talk.now.line, line)
    lines = lines or lines_with(talk.finished, new, to_the_word=False)
    if len(lines) > 1:
        return asks(talk, line, "Several lines have that; which one? Say “remove line 2”, counting as they came.")
    if not lines:
        return asks(talk, line, which(old.places))
    draft = talk.finished[lines[0]]
    there = meant(new, draft, ())
    if isinstance(there, str):
        return asks(talk, line, there)
    if not there or len(there) == len(draft.places):
        return _without_line(talk, lines[0], line)
    talk.meant = lines[0]
    return answered(talk, without(draft, new, there), line)


def _dropped_unnamed(talk: Remembered, old: Draft, new: Draft, line: str) -> Answer:
    """ "take two off", "take that off again": so many of the one place there is, or the place spoken of last."""
    if len(old.places) < 2:
        few = by_so_much(old, replace(new, by_so_much="fewer", hints=new.hints | {"by-so-much"}), Leaning()) if new.stray else None
        return answered(talk, few, line) if isinstance(few, Draft) else nothing_changed(talk, new, line)
    gone = talk.leaning().touched
    if new.unread or new.stray or not (gone and whole_lines.THAT.search(line)):
        return asks(talk, line, which(old.places))
    return answered(talk, without(old, new, gone), line)


def lines_with(order: list[Draft], new: Draft, *, to_the_word: bool = True) -> list[int]:
    """The lines of the order that hold all the places a line of the talk names."""
    told = [(at, place) for at, draft in enumerate(order) for place in draft.places]
    places = [place for _, place in told]
    found: set[int] | None = None
    for one in new.places:
        hits = by_size(one, places) if one.has_size else spoken_of(one, places, to_the_word=to_the_word)
        lines = {told[at][0] for at in hits}
        found = lines if found is None else found & lines
    return sorted(found or ())
