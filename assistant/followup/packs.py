"""What a follow-up says of packs: another number of them, others, or those told so far side by side."""

from __future__ import annotations

import re
from collections.abc import Sequence

from grammar.draft import Draft

from ..replies import bare_number

#: "and if I have three", of bags at hand
_HELD = re.compile(r"\b(?:i|we)(?: only| just)? (?:have|had|got|buy|bought|take|use)\b|\b(?:i|we)['’]ve\b", re.IGNORECASE)


def another_number(merged: Draft, new: Draft) -> None:
    """After "would two bags do?": "what about three?" asks it again, and any other line leaves the two bags behind."""
    number = bare_number(new.stray[0][0]) if len(new.stray) == 1 and not (new.places or new.unsure) else None
    if number is not None:
        merged.packs_count, merged.enough, merged.stray = number, True, []
    elif not new.enough and new.asked != "left-over":
        merged.packs_count, merged.enough = None, False


def so_many_held(merged: Draft, new: Draft) -> None:
    """ "and if I have three", after how far two bags go: three of them."""
    number = bare_number(new.stray[0][0]) if len(new.stray) == 1 and not (new.places or new.unsure) else None
    if number is not None and number >= 1 and number == int(number) and _HELD.search(new.text):
        merged.packs_count, merged.stray = number, []


def other_packs(merged: Draft, new: Draft) -> None:
    """After "how much are 3 bags?": "and 7?" asks it of seven, "what does 90 litres come to?" of castings and no more of three bags."""
    number = bare_number(new.stray[0][0]) if len(new.stray) == 1 and not new.unsure else None
    before = merged.packs_count
    if new.packs_count is not None:
        merged.have = new.have
    elif number is not None and number >= 1 and number == int(number) and merged.have is None:
        merged.packs_count, merged.stray = number, []
    elif len(new.unsure) == 1 and new.unsure[0].span.unit not in ("yard",) and new.unsure[0].span.dimension in ("volume", "weight"):
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
