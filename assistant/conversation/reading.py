"""A line read as one of a conversation: what goes unsaid put into its words, and the draft of them."""

from __future__ import annotations

from grammar.draft import Draft
from grammar.gather import gather

from .. import orders, units_meant
from ..followup.told_apart import some_of_them
from ..pointing import by_number, pointed
from ..unsaid import in_full, sides_in_full
from . import whole_lines
from .remembered import Remembered


def numbered_in_full(talk: Remembered, line: str) -> str:
    """The line with a unit, a measure or the number of a place that goes unsaid put into its words."""
    told = sides_in_full(in_full(orders.removing(line), talk.now.draft), talk.now.draft)
    drafts = [*([talk.now.draft] if talk.now.draft is not None else []), *talk.finished]
    return by_number(told, [place for draft in drafts for place in draft.places])


def places_in_full(talk: Remembered, told: str) -> str:
    """The line with the places that it only points at called by name."""
    return told if talk.now.draft is None else pointed(told, talk.now.draft.places)


def drafted(old: Draft | None, rest: str, line: str) -> Draft:
    """The draft of a line's words, where `old` is being spoken of; `line` is what was typed."""
    new = gather(rest, leaning=old is not None)
    if new.by_weight and old is not None and not any(p.share for p in new.places) and not (new.recipe or new.parts_share):
        new.by_weight, new.asked, new.asks = False, "weight", [one for one in new.asks if one != "what-is"]  # "how much is that by weight"
    if new.asked == "cost" and new.asked_unit and not new.price and old is not None:
        new.asked = ""  # "what's the total in cubic feet"
    if new.asked_unit and not new.topics and whole_lines.IN_UNITS.search(line):
        new.asks = [one for one in new.asks if one != "what-is"]  # "what's that in gallons?"
    units_meant.carried(old, new)
    some_of_them(old, new)
    return new
