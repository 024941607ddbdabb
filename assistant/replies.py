"""How a bare reply fills what a question asked for: "1 gallon" of pots is how big they are, "8" of plants how many."""

from __future__ import annotations

import re

from grammar.draft import Draft, PlaceDraft

#: What is grown in a pot wherever it stands.
_IN_A_POT = "houseplant"
#: Where the castings go, for plants and rows of them.
BESIDE = re.compile(r"^\W*(?:(?:put |lay )?(?:it|them) )?(?:beside|besides|next to|along|alongside)(?: (?:the|each|every|my))?"
                     r"(?: (?:plants?|stems?|rows?|them|it))?\W*$", re.I)  # fmt: skip
_OF_THEM = re.compile(r"\b(?:of (?:them|those|these)|there (?:are|is|'s))\b", re.I)

#: What a line of a talk opens with and says nothing by.
_OPENING = re.compile(r"^\W*(?:(?:oh|ok|okay|um|uh|hmm?|ah|er|so|well|right|great|cool|thanks|thank you|yes|yeah|yep|alright|all right|good|perfect|nice|lol|hey|please)\b\W*)+", re.I)


def without_opening(line: str) -> str:
    """A line without "oh", "ok", "hmm" before what it says; a line of nothing else as it is."""
    return _OPENING.sub("", line) or line


def as_asked(old: Draft, new: Draft, awaiting: str) -> str:
    """Puts a bare reply into what the question asked of things to be counted: "1 gallon" is how big a pot is, "8" how many.

    The question to ask back where a bare number might be either; empty else.
    """
    place = old.places[-1] if old.places else None
    if place is not None and BESIDE.match(new.text) and not new.way:
        new.way, new.places, new.unread = "side-dress", [], []
        return ""
    if place is None or place.kind not in ("container", "plant", "hole"):
        return ""
    if len(new.places) == 1 and place.kind == "container" and new.places[0].noun == "cell" and new.places[0].count:
        new.places = [PlaceDraft(cells=int(new.places[0].count))]  # "72 cells", of a tray
    if len(new.places) == 1 and place.noun == _IN_A_POT and new.places[0].kind == "container" and not new.places[0].crop:
        pot = new.places[0]  # "6 inch pots", of houseplants
        pot.count = pot.count or place.count
        old.places[-1], new.places = pot, []
        new.hints.add(_IN_A_POT)
        return ""
    if new.places or new.way or len(new.unsure) + len(new.stray) != 1:
        return ""
    if awaiting in ("volume", "size") and new.unsure and place.kind == "container":
        span = new.unsure[0].span
        if span.unit in ("gallon", "quart", "pint") or span.dimension == "volume":
            new.places, new.unsure, new.figures = [PlaceDraft(volume=span, each=True)], [], []
        return ""
    count = bare_number(new.stray[0][0]) if new.stray and place.count is None else None
    if count is None or count != int(count) or count < 1:
        return ""
    if _OF_THEM.search(new.text) or (awaiting == "way" and place.kind != "container"):
        new.places, new.stray, new.figures = [PlaceDraft(count=count)], [], []
        return ""
    if awaiting in ("volume", "size"):
        return f"“{new.stray[0][0]}” of what? Say a size with its unit, as “5 litres” or “12 inches across”, or a count as “{count:g} of them”."
    return ""


def bare_number(text: str) -> float | None:
    """The number that a text is, where it is nothing else."""
    from grammar.parse import parse
    from grammar.phrases import Amount, Number

    phrases = [p for p in parse(text).phrases if type(p) is Amount]
    if len(phrases) == 1 and len(phrases[0].dims) == 1 and isinstance(phrases[0].dims[0], Number):
        return phrases[0].dims[0].low
    return None
