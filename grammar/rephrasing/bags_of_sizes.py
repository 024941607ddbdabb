"""Bags of several sizes at hand, which are so much castings in all."""

from __future__ import annotations

from ..draft import Draft
from ..phrases import Amount, Measure, Number, Phrase, Price, Said
from ..said import dimension, is_said, single
from ..things import whole


def find_bags_of_sizes(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "got 2 bags 25 lb and one bag 40 lb": bags of several sizes at hand are so much castings in all."""
    if not any(is_said(p, "link", "on-hand") for p in phrases) or any(type(p) is Price for p in phrases):
        return phrases
    found: list[tuple[int, int, float, Measure]] = []
    at = 0
    while at < len(phrases) - 2:
        many = whole(phrases[at])
        if not many and type(number := single(phrases[at])) is Number and number.article and number.low == 1:
            many = 1.0
        first, second = phrases[at + 1], phrases[at + 2]
        end = at + 3
        if is_said(first, "pack") and is_said(second, "link", "of") and end < len(phrases):
            second, end = phrases[end], end + 1
        size = single(second) if is_said(first, "pack") else single(first) if is_said(second, "pack") else None
        if many and type(size) is Measure and size.per is None and size.low == size.high and dimension(size) in ("weight", "volume") and size.kind == "unit":
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
    total = sum(many * size.low for _, _, many, size in found)
    start, stop = phrases[first_at].start, phrases[last_end - 1].end
    made = found[0][3]._replace(low=total, high=total, start=start, end=stop)
    draft.flags.append(("bags-of-sizes", f"{draft.text[start:stop]}: {total:g} {made.unit.replace('_', ' ')} in all"))
    of = [Said("link", "of", "of", stop, stop), Said("castings", "castings", "castings", stop, stop)]
    return [*phrases[:first_at], Amount((made,), start, stop), *of, *phrases[last_end:]]
