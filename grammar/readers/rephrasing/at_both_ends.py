"""A place that is wider, or deeper, at one end: it is as big as one that is everywhere as wide as its middle."""

from __future__ import annotations

import re

from ...draft import Draft
from ...later import later
from ...phrases import Amount, Measure, Phrase
from ...quantities import factor
from ...said import Mark, Waits, dimension, is_said, single

#: What this reader waits for.
AT_BOTH_ENDS: Waits = (frozenset[Mark]({"link", ("role", "width"), ("role", "depth"), ("role", "height")}), frozenset[Mark]({("measures", "length")}))
_ONE_END = later(r"\s*(?:wide |deep |tall |high |across )?(?:at|on) (?:the |its )?(?:one|narrow|wide|shallow|deep|near|left|low|lower|high|top) (?:end|side)\b[\s,;]*(?:and |but |to )?(?:only )?$", re.IGNORECASE)
_OTHER_END = later(r"\s*(?:wide |deep |tall |high |across )?(?:at|on) (?:the |its )?(?:other|opposite|far|wide|narrow|deep|shallow|right|upper|high|bottom)\b(?: end| side)?", re.IGNORECASE)


def find_at_both_ends(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with "4 ft wide at one end and 2 ft at the other" as 3 ft wide: the mean of the two."""
    if "end" not in draft.text and "side" not in draft.text:
        return phrases
    for at, phrase in enumerate(phrases[:-1]):
        one = single(phrase)
        if type(one) is not Measure or one.per is not None or dimension(one) != "length" or one.low != one.high:
            continue
        second = next((i for i in range(at + 1, min(at + 4, len(phrases))) if type(phrases[i]) is Amount), -1)
        other = single(phrases[second]) if second > 0 else None
        if type(other) is not Measure or other.per is not None or dimension(other) != "length" or other.low != other.high:
            continue
        if not _ONE_END.fullmatch(draft.text[one.end : other.start]) or not _OTHER_END.match(draft.text, other.end):
            continue
        role = one.role if one.role in ("width", "depth", "height") else other.role if other.role in ("width", "depth", "height") else ""
        if not role:
            return phrases
        mean = (one.low + other.low * factor(other.unit) / factor(one.unit)) / 2
        said = draft.text[one.start : other.end]
        draft.flags.append(("mean", f"“{said}”: {mean:g} {one.unit.replace('_', ' ')} in the middle"))
        made = one._replace(low=mean, high=mean, role=role)
        kept = [p for i, p in enumerate(phrases[at + 1 : second], at + 1) if not (is_said(p, "link", "and", "but") or is_said(p, "stop", "comma") or is_said(p, "role"))]
        return [*phrases[:at], Amount((made,), one.start, one.end), *kept, *phrases[second + 1 :]]
    return phrases
