"""The sides of a place put in other words: "5 metres on 3 metres", "the first 10 feet of a 25 x 4 bed", "the 3x5 one"."""

from __future__ import annotations

import re

from ...draft import Draft
from ...later import later
from ...phrases import Amount, Measure, Number, Phrase
from ...quantities import factor
from ...said import dimension, is_said, is_sides, single
from ...things import whole

#: Units of the sides of a bed; "2 cm on 3 m" is a layer on it.
_SIDES = frozenset({"foot", "metre", "yard"})
#: A side of a place is no longer than this many of the other: "1 on 40 ft" is no size.
_LONGEST = 30.0
#: Before a size that tells which one is meant: "the 800 sq ft one".
_THE = later(r"\b(?:the|that|my|our)\s+$", re.IGNORECASE)
#: Before a length of a bed that is only a part of its length.
_END_OF = later(r"\b(?:first|middle|last|end|far|near|front|back|other|left|right)\s+$", re.IGNORECASE)


def _side(phrase: Phrase | None) -> Measure | None:
    one = single(phrase)
    plain = type(one) is Measure and one.per is None and not one.role and one.unit in _SIDES and one.low == one.high
    return one if plain else None  # type: ignore[return-value]


def find_sides_on(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "5 meter on 3 meter", "10 feet into 12 feet", "4 into 10 feet": the two sides of a place."""
    for at in range(len(phrases) - 2):
        first, tie, second = phrases[at], phrases[at + 1], _side(phrases[at + 2])
        if second is None or not is_said(tie, "link", "on", "into") or tie.text.lower() not in ("on", "into", "in to"):  # type: ignore[union-attr]
            continue
        side: Measure | Number | None = _side(first)
        if side is None and is_said(tie, "link", "into") and whole(first):
            number = single(first)
            side = number if type(number) is Number and not number.article else None
        if side is None or is_said(phrases[at + 3] if at + 3 < len(phrases) else None, "ground"):
            continue
        one = side.low * factor(side.unit if type(side) is Measure else second.unit)
        two = second.low * factor(second.unit)
        if max(one, two) > _LONGEST * min(one, two):
            continue
        size = Amount((side, second), side.start, second.end)
        draft.flags.append(("sides", f"“{draft.text[size.start : size.end]}” is taken as its two sides"))
        return [*phrases[:at], size, *phrases[at + 3 :]]
    return phrases


def _numbers(sides: Phrase) -> list[float]:
    return [one.low for one in sides.dims if type(one) in (Number, Measure)]  # type: ignore[union-attr]


def _told_by_size(phrase: Phrase, draft: Draft) -> bool:
    """Whether an area or a volume with "the" before it tells which one is meant: "the 800 sq ft one"."""
    one = single(phrase)
    told = type(one) is Measure and one.per is None and not one.role and dimension(one) in ("area", "volume")
    return told and _THE.search(draft.text[: phrase.start]) is not None


def find_sized_one(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "the 3x5 one, an inch on top", "without the 30 sq ft one": the one that has these sides or that size, and no number."""
    if "one" not in draft.text.lower():
        return phrases
    for at in range(1, len(phrases)):
        one, before, after = single(phrases[at]), is_sides(phrases[at - 1]), phrases[at + 1] if at + 1 < len(phrases) else None
        measure = single(phrases[at - 1])
        if type(one) is Number and draft.text[one.start : one.end].lower() == "one" and type(measure) is Measure and measure.per is None and (
            _THE.search(draft.text[: measure.start]) and not draft.text[measure.end : one.start].strip()
        ):  # fmt: skip
            return [*phrases[:at], *phrases[at + 1 :]]
        named = type(one) is Number and draft.text[one.start : one.end].lower() == "one" and (before or _told_by_size(phrases[at - 1], draft))
        if named and before and any(is_sides(p) and _numbers(p) == _numbers(phrases[at - 1]) for p in phrases[: at - 1]):
            continue  # told before with its size: not a bed of its own
        if named and (after is None or type(after) is Amount or is_said(after, "stop") or is_said(after, "is") or is_said(after, "link", "is", "at", "with")):
            return [*phrases[:at], *phrases[at + 1 :]]
    return phrases


def find_part_of_length(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "the first 10 feet of a 25 x 4 bed": ten by four; asked about where either side may be meant."""
    for at in range(len(phrases) - 2):
        part, sides = single(phrases[at]), phrases[at + 2]
        if type(part) is not Measure or part.role or part.per is not None or part.low != part.high or part.unit not in _SIDES:
            continue
        if not is_said(phrases[at + 1], "link", "of") or not is_sides(sides) or not _END_OF.search(draft.text[: part.start]):
            continue
        assert type(sides) is Amount
        told = [d.low if type(d) is Number else d.low * factor(d.unit) / factor(part.unit) for d in sides.dims]  # type: ignore[union-attr,operator]
        said = draft.text[part.start : sides.end]
        if len(told) != 2 or not min(told) < part.low < max(told):
            draft.question = ("portion", f"“{said}”: how long and how wide is the part that castings go on?")
            return phrases
        short = sides.dims[told.index(min(told))]
        short = part._replace(low=short.low, high=short.high) if type(short) is Number else short
        draft.flags.append(("part-of-length", f"“{said}” is taken as {part.low:g} by {min(told):g} {part.unit}"))
        draft.noted.append((draft.text[sides.start : sides.end], "the size of the whole"))
        return [*phrases[:at], Amount((part, short), part.start, sides.end), *phrases[at + 3 :]]
    return phrases
