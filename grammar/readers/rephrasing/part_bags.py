"""What is left of a bag: "half of a 40 litre bag", "half a bag left of a 40 litre one", "3 bags left, enough for 12 roses?"."""

from __future__ import annotations

import re

from ...draft import Draft
from ...later import later
from ...phrases import Measure, Number, Phrase, Said
from ...said import dimension, is_said, single

#: What was taken out of a bag is no more in it.
_TAKEN = later(
    r"\b(?:used|spread|emptied|finished|gone|went|put|gave|lost|spilt|spilled|tipped|after|without|minus|less|sold|took)\b[^.;!?]*$", re.IGNORECASE
)
#: A part of one bag: "half of a 40 litre bag", not "half of the 40 litre bags".
_OF_ONE = later(r"\s*of\s+(?:a|an|one|my|the|our|that|this|his|her|their)\s+(?:\w+\s+)?$", re.IGNORECASE)
#: Between a bag that is part empty and its size.
_ITS_SIZE = later(
    r"[\s,;:(-]*(?:(?:of|from|out of|in|was|is|it|its|it's|it was|which|that|the|a|an|my|one|bag|sack|size|full|holds|held|originally|started|as|at|left|"
    r"remaining|over)\b[\s,;:(-]*)*",
    re.IGNORECASE,
)

_ONLY_IS = later(r"\s*(?:(?:is|are|still|that|which|'s|have|i)\s+)*", re.IGNORECASE)
_LEFT = later(r"\b(?:left|remaining|remains|over)\b", re.IGNORECASE)
_LEFT_OF = later(r"\s*(?:left|remaining|left over)\s+of\s+", re.IGNORECASE)


def find_part_bags(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with a part of a bag told as "half a 40 litre bag", and with bags that are left told as what there is."""
    return _still_there(_half_of_one(_told_after(phrases, draft), draft), draft)


def _part(phrase: Phrase | None) -> bool:
    one = single(phrase)
    return type(one) is Number and not one.role and 0 < one.low == one.high < 1


def _bag_size(phrase: Phrase | None) -> bool:
    one = single(phrase)
    return type(one) is Measure and one.per is None and not one.role and one.low == one.high and dimension(one) in ("volume", "weight")


def _half_of_one(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "half of a 40 litre bag": half a bag of that size."""
    for at in range(len(phrases) - 3):
        part, of, size, bag = phrases[at : at + 4]
        if not _part(part) or not is_said(of, "link", "of") or not _bag_size(size) or not is_said(bag, "pack"):
            continue
        if bag.text.lower().endswith("s") or not _OF_ONE.search(draft.text[of.start - 1 : size.start]):  # type: ignore[union-attr]
            continue
        if not _TAKEN.search(draft.text[: part.start]):
            return [*phrases[: at + 1], *phrases[at + 2 :]]
    return phrases


def _told_after(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "half a bag left of a 40 litre one", "3 bags left of 20 L": the size of the bag comes after what is left of it."""
    for at in range(len(phrases) - 2):
        count, bag = single(phrases[at]), phrases[at + 1]
        if type(count) is not Number or count.role or count.low != count.high or not is_said(bag, "pack") or _TAKEN.search(draft.text[: count.start]):
            continue
        here = at + 2
        while here < len(phrases) and not _bag_size(phrases[here]):
            here += 1
        if here >= len(phrases):
            continue
        between = draft.text[bag.end : phrases[here].start]
        told = _ITS_SIZE.fullmatch(between) and _LEFT.search(between) if count.low < 1 else _LEFT_OF.fullmatch(between)
        if not told or is_said(phrases[here + 1] if here + 1 < len(phrases) else None, "link", "each"):
            continue
        end = here + 1
        while end < len(phrases) and (is_said(phrases[end], "pack") or _is_one(phrases[end], draft)):
            end += 1
        return [*phrases[:at], phrases[at], phrases[here], bag, *phrases[end:]]
    return phrases


def _is_one(phrase: Phrase, draft: Draft) -> bool:
    """ "one", in the stead of the bag: "a 40 litre one"."""
    return type(single(phrase)) is Number and draft.text[phrase.start : phrase.end].lower() == "one"


def _still_there(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "3 bags left, enough for 12 roses?": the bags that are left are there; how much will be left is not asked."""
    for at in range(2, len(phrases)):
        left = phrases[at]
        last = at - 1
        while last and is_said(phrases[last], "link", "is"):
            last -= 1
        if not is_said(left, "ask", "left-over") or not _ONLY_IS.fullmatch(draft.text[phrases[last].end : left.start]):
            continue
        count = last
        while count and (_bag_size(phrases[count]) or is_said(phrases[count], "pack") or is_said(phrases[count], "link", "of")):
            count -= 1
        if not any(is_said(p, "pack") for p in phrases[count:at]):
            continue
        number = single(phrases[count])
        after = draft.text[left.end :].lstrip()[:1]
        if type(number) is not Number or number.low <= 0 or after == "?" or (count and is_said(phrases[count - 1], "ask")):
            continue
        have = Said("link", "on-hand", left.text, left.start, left.end)  # type: ignore[union-attr]
        return [*phrases[:at], have, *phrases[at + 1 :]]
    return phrases

