"""Bags of several sizes at hand, which are so much castings in all."""

from __future__ import annotations

import re

from ...draft import Draft
from ...later import later
from ...phrases import Amount, Measure, Number, Phrase, Price, Said
from ...said import dimension, is_said, single
from ...things import whole

#: Before the size of one bag: "a 20 lb bag".
_ONE = later(r"\b(?:an?|one|another|this|that|the)\s+$", re.IGNORECASE)

#: Between one bag and the next.
_ONLY_AND = later(r"(?:\W|\b(?:and|plus|also|as well as|an?|one|another|then|of|castings|worm|i|have|i've|got|we|we've|there's|bags?)\b)*", re.IGNORECASE)


def _is_size(one: Measure) -> bool:
    """Whether a measure is how much a bag holds."""
    return one.per is None and one.low == one.high and dimension(one) in ("weight", "volume") and one.kind == "unit"


def find_bags_of_sizes(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "got 2 bags 25 lb and one bag 40 lb": bags of several sizes at hand are so much castings in all."""
    if not any(is_said(p, "link", "on-hand") for p in phrases) or any(type(p) is Price for p in phrases):
        return phrases
    found: list[tuple[int, int, float, Measure]] = []
    at = 0
    while at < len(phrases) - 1:
        one = single(phrases[at])
        if type(one) is Measure and is_said(phrases[at + 1], "pack") and _ONE.search(draft.text[: one.start]) and _is_size(one):
            found.append((at, at + 2, 1.0, one))  # "a 20 lb bag"
            at += 2
            continue
        if at >= len(phrases) - 2:
            break
        many = whole(phrases[at])
        if not many and type(number := single(phrases[at])) is Number and number.article and number.low == 1:
            many = 1.0
        first, second = phrases[at + 1], phrases[at + 2]
        end = at + 3
        if is_said(first, "pack") and is_said(second, "link", "of") and end < len(phrases):
            second, end = phrases[end], end + 1
        size = single(second) if is_said(first, "pack") else single(first) if is_said(second, "pack") else None
        if many and type(size) is Measure and _is_size(size):
            found.append((at, end, many, size))
            at = end
        else:
            at += 1
    if len(found) < 2 or len({size.unit for *_, size in found}) != 1:
        return phrases
    first_at, last_end = found[0][0], found[-1][1]
    between = [p for i, p in enumerate(phrases[first_at:last_end], first_at) if not any(a <= i < b for a, b, *_ in found)]
    if not all(is_said(p, "link", "and") or is_said(p, "stop", "comma") or is_said(p, "link", "on-hand") for p in between):
        return phrases
    said = [draft.text[phrases[one[1] - 1].end : phrases[other[0]].start] for one, other in zip(found, found[1:], strict=False)]
    if not all(_ONLY_AND.fullmatch(one) for one in said):
        return phrases  # "I have a 20 lb bag, would a 40 lb bag do"
    total = sum(many * size.low for _, _, many, size in found)
    start, stop = phrases[first_at].start, phrases[last_end - 1].end
    made = found[0][3]._replace(low=total, high=total, start=start, end=stop)
    draft.flags.append(("bags-of-sizes", f"{draft.text[start:stop]}: {total:g} {made.unit.replace('_', ' ')} in all"))
    of = [Said("link", "of", "of", stop, stop), Said("castings", "castings", "castings", stop, stop)]
    return [*phrases[:first_at], Amount((made,), start, stop), *of, *phrases[last_end:]]
