"""The part of a bag that was used on a place: "the bag says 1 cubic foot but I only used half of it over 12 sq ft, how deep is that"."""

from __future__ import annotations

import re

from ...draft import Draft
from ...later import later
from ...phrases import Amount, Measure, Number, Phrase, Said
from ...said import Waits, dimension, is_said, single
from ...things import is_ground_size

#: What this reader waits for: a part, a bag's size and the ground it went over, of which a layer is asked.
USED_PART: Waits = (frozenset({Number}), frozenset({Measure}), frozenset({("ask", "how-deep")}))
_USED = later(r"\b(?:used?|put|spread|emptied)(?: up)?(?: only| just| about| roughly)*(?: a| one)?\s+$", re.IGNORECASE)


def find_used_part(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with that part of the bag as the castings there are; what is left in the bag went over no ground."""
    if not any(is_said(p, "ask", "how-deep") for p in phrases) or not any(is_ground_size(p) for p in phrases):
        return phrases
    bags = [at for at, p in enumerate(phrases) if _is_bag(phrases, at, draft)]
    for at, phrase in enumerate(phrases):
        part = single(phrase)
        if type(part) is not Number or not 0 < part.low == part.high < 1 or not _USED.search(draft.text[: part.start]) or len(bags) != 1:
            continue
        end = at + 1
        while end < len(phrases) and end != bags[0] and is_said(phrases[end], "link", "of"):
            end += 1
        over = end + 2 if end == bags[0] else end
        if over + 1 >= len(phrases) or not is_said(phrases[over], "link", "on") or not is_ground_size(phrases[over + 1]):
            continue
        size = single(phrases[bags[0]])
        assert type(size) is Measure
        used = Amount((size._replace(low=size.low * part.low, high=size.high * part.low),), part.start, size.end)
        draft.flags.append(("part-at-hand", f"{draft.text[part.start : part.end]} of {draft.text[size.start : size.end]}: {size.low * part.low:g}"))
        gone = {bags[0], *range(at, end)}
        if bags[0] + 1 < len(phrases) and is_said(phrases[bags[0] + 1], "pack"):
            gone.add(bags[0] + 1)
        start = part.start
        have: list[Phrase] = [Said("link", "on-hand", "have", start, start), used, Said("link", "of", "of", start, start), Said("castings", "castings", "castings", start, start)]
        made: list[Phrase] = []
        for i, p in enumerate(phrases):
            if i == at:
                made += have
            if i not in gone and not is_said(p, "other-person", "advice"):
                made.append(p)
        return made
    return phrases


def _is_bag(phrases: list[Phrase], at: int, draft: Draft) -> bool:
    one = single(phrases[at])
    if type(one) is not Measure or one.per is not None or one.low != one.high or dimension(one) not in ("volume", "weight"):
        return False
    after = phrases[at + 1] if at + 1 < len(phrases) else None
    return is_said(after, "pack") or re.search(r"\b(?:bag|sack)s?(?: says| is| was| holds| of)?\s+$", draft.text[: one.start], re.IGNORECASE) is not None
