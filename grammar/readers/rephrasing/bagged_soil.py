"""Bags of soil, and not of castings: "three 40 litre bags of compost", "5 bags of potting soil, 2 cubic feet each", "…, bags are 40 L"."""

from __future__ import annotations

from ...draft import Draft
from ...phrases import Amount, Measure, Phrase, Said
from ...said import dimension, is_said, single
from ...things import whole


def find_bagged_soil(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with so many bags of a soil made one amount of it; what was multiplied is said on the draft."""
    for at in range(len(phrases) - 3):
        many = whole(phrases[at])
        if not many:
            continue
        size = single(phrases[at + 1])
        bags = at + 2 if type(size) is Measure else at + 1
        if not is_said(phrases[bags], "pack") or bags + 1 >= len(phrases) or not is_said(phrases[bags + 1], "link", "of", "budget"):
            continue
        soil = bags + 2
        while soil < len(phrases) and is_said(phrases[soil], "unknown"):
            soil += 1
        if soil >= len(phrases) or not (is_said(phrases[soil], "component") or is_said(phrases[soil], "mix")):
            continue
        end = soil + 1
        told = (size, end, end) if type(size) is Measure else _size_told(phrases, end)
        if told is None or (end == told[2] and told[0].kind != "unit"):
            continue  # a gallon before its bag may be liquid or dry: that is read with the bag
        size, first, last = told
        if size.per is not None or size.role or size.low != size.high or dimension(size) != "volume":
            continue
        start, stop = phrases[at].start, phrases[end - 1].end
        total = many * size.low
        beside = all(is_said(phrase, "stop", "comma") or is_said(phrase, "link", "at") for phrase in phrases[end:first])
        if beside and (first == last or is_said(phrases[last - 1], "link", "each")):
            end, stop = last, phrases[last - 1].end
            draft.flags.append(("so-many-times", f"{draft.text[start:stop]}: {total:g} in all"))
        else:
            said = f"{draft.text[start:stop]}, {draft.text[size.start : size.end]} each"
            draft.flags.append(("bags-of-soil", f"{said}, all of them together"))
        made = Amount((size._replace(low=total, high=total, start=start, end=stop),), start, stop)
        between = [] if end == last else phrases[end:first]
        return [*phrases[:at], made, Said("link", "of", "of", stop, stop), phrases[soil], *between, *phrases[last:]]
    return phrases


def _size_told(phrases: list[Phrase], start: int) -> tuple[Measure, int, int] | None:
    """The size of one bag and where it is told: "…, 2 cubic feet each", "…, each 2 cubic feet", "bags are 2 cubic feet", "… of 40 litres"."""
    for at in range(start, len(phrases)):
        size = single(phrases[at])
        if type(size) is not Measure or size.per is not None or size.role or dimension(size) != "volume":
            continue
        before, after = phrases[at - 1], phrases[at + 1] if at + 1 < len(phrases) else None
        if is_said(after, "link", "each"):
            return size, at, at + 2
        if is_said(before, "link", "each"):
            return size, at - 1, at + 1
        if at == start + 1 and is_said(before, "link", "of", "at"):
            return size, start, at + 1
        if is_said(before, "link", "is") and is_said(phrases[at - 2], "pack") and not is_said(phrases[at - 3], "castings"):
            return size, at - 2, at + 1
        return None
    return None
