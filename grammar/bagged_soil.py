"""Bags of soil, and not of castings, whose size is told apart: "5 bags of potting soil, 2 cubic feet each"."""

from __future__ import annotations

from .draft import Draft
from .phrases import Amount, Measure, Number, Phrase, Said
from .said import dimension, is_said, single


def find_bagged_soil(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with so many bags of a soil made one amount of it; what was multiplied is said on the draft."""
    for at in range(len(phrases) - 3):
        count, soil = single(phrases[at]), phrases[at + 3]
        if type(count) is not Number or count.low != count.high or not is_said(phrases[at + 1], "pack"):
            continue
        if not is_said(phrases[at + 2], "link", "of", "budget") or not is_said(soil, "component"):
            continue
        found = _size_told(phrases, at + 4)
        if found is None:
            return phrases
        size, first, last = found
        said = f"{draft.text[count.start : soil.end]}, {draft.text[size.start : size.end]} each"
        whole = size._replace(low=size.low * count.low, high=size.high * count.low, start=count.start, end=count.end)
        draft.flags.append(("bags-of-soil", f"{said}, all of them together"))
        of = Said("link", "of", "of", phrases[at + 2].start, phrases[at + 2].end)
        return [*phrases[:at], Amount((whole,), count.start, count.end), of, *phrases[at + 3 : first], *phrases[last:]]
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
