"""What a follow-up says of packs: another number of them, others, or those told so far side by side."""

from __future__ import annotations

import re
from collections.abc import Sequence

from grammar.draft import Draft
from grammar.quantities import Span, measures

from ..replies import bare_number
from .asked import BACKWARDS, asked_enough
from .joining import stands_instead

#: "2 bags of that", of castings at hand
_OF_THAT = re.compile(r"\b(?:of|like) (?:that|those|them|it|this|these)\b", re.IGNORECASE)
#: "and if I have three", of bags at hand
_HELD = re.compile(r"\b(?:i|we)(?: only| just)? (?:have|had|got|buy|bought|take|use)\b|\b(?:i|we)['’]ve\b", re.IGNORECASE)


def told_of_packs(merged: Draft, old: Draft, new: Draft) -> None:
    """Another number of packs, others in the stead of those before, so many times what there is, or what that weighs."""
    if asked_enough(old) and old.places and old.packs_count and old.pack is None and new.packs_count is None:
        _another_number(merged, new)
    elif not (merged.places or new.places) and merged.pack is not None and merged.price is not None:
        _other_packs(merged, new)
    elif old.packs_count and old.pack is not None and old.asked in BACKWARDS and new.packs_count is None:
        _so_many_held(merged, new)
    if new.asked == "weight":
        _weighed(merged, old, new)
    if new.pack is not None and merged.asked in BACKWARDS and merged.have is not None and stands_instead(new.text) and not (
        new.have or new.asked or new.places or new.price
    ):  # fmt: skip
        merged.have, merged.more_have = None, []  # "what about a 25 litre bag": that instead of what was there
    if new.packs_count and merged.have is not None and new.have is None and merged.pack is None and merged.question is None:
        merged.question = ("pack", f"how big is one of the {new.packs_count:g} {new.pack_noun or 'bag'}s, by weight or by volume?")
    if new.packs_count and new.pack is None and merged.have is not None and merged.pack is None and not new.have and _OF_THAT.search(new.text):
        merged.have = Span(merged.have.low * new.packs_count, merged.have.high * new.packs_count, merged.have.unit)
        merged.flags.append(("packs", f"{new.packs_count:g} times what was there"))
        merged.packs_count, merged.figures = None, [one for one in merged.figures if one[0] != new.packs_count]
    if "per-pack" in new.hints and merged.pack is not None:
        merged.packs_count = None


def _weighed(merged: Draft, old: Draft, new: Draft) -> None:
    """ "how much garden at half an inch", then "how much would it weigh": what there is."""
    at_hand = old.asked in BACKWARDS and (old.have is not None or old.packs_count)
    if at_hand and not new.places and not any(place.has_size or place.count for place in old.places):
        merged.places = []
    if merged.have is not None and not merged.figures and not new.unsure:
        merged.figures = [(merged.have.low, f"{merged.have.low:g}")]  # told before, and no example of what is asked in words


def _lone_number(new: Draft) -> float | None:
    """The one number of a line that names no place and no measure."""
    return bare_number(new.stray[0][0]) if len(new.stray) == 1 and not (new.places or new.unsure) else None


def _another_number(merged: Draft, new: Draft) -> None:
    """After "would two bags do?": "what about three?" asks it again, and any other line leaves the two bags behind."""
    number = _lone_number(new)
    if number is not None:
        merged.packs_count, merged.enough, merged.stray = number, True, []
    elif not new.enough and new.asked != "left-over":
        merged.packs_count, merged.enough = None, False


def _so_many_held(merged: Draft, new: Draft) -> None:
    """ "and if I have three", after how far two bags go: three of them."""
    number = _lone_number(new)
    if number is not None and number >= 1 and number == int(number) and _HELD.search(new.text):
        merged.packs_count, merged.stray = number, []


def _other_packs(merged: Draft, new: Draft) -> None:
    """After "how much are 3 bags?": "and 7?" asks it of seven, "what does 90 litres come to?" of castings and no more of three bags."""
    number = bare_number(new.stray[0][0]) if len(new.stray) == 1 and not new.unsure else None
    before = merged.packs_count
    if new.packs_count is not None:
        merged.have = new.have
    elif number is not None and merged.budget is not None and "budget" in new.text.lower():
        merged.budget, merged.stray = (number, merged.budget[1]), []  # "and a budget of 150", in the money of the one before
    elif number is not None and number >= 1 and number == int(number) and merged.have is None:
        merged.packs_count, merged.stray = number, []
    elif len(new.unsure) == 1 and measures(new.unsure[0].span) in ("volume", "weight"):
        merged.packs_count, merged.have = None, new.unsure[0].span
        new.unsure = []
    if merged.asked in ("", "castings") and (merged.packs_count != before or new.packs_count is not None):
        merged.asked = "cost"  # so many bags at a price: what is left to ask is the money


def packs_told(new: Draft, told: Sequence[Draft]) -> Draft | None:
    """ "which is cheaper" after packs of two sizes were told with their prices: those side by side. None where fewer were."""
    if new.offers or new.pack is not None or new.pack_noun or new.price is not None or new.places:
        return None
    found = {(draft.pack, *draft.price): None for draft in told if draft.pack is not None and draft.price is not None}
    if len(found) < 2:
        return None
    draft = new.copy()
    draft.offers, draft.pack_noun = [(size, price, currency) for size, price, currency in found], "bag"
    return draft
