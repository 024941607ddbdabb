"""A vessel that the request itself gives a size: "a handful (150 ml)", "the wheelbarrow holds 80 litres", "a scoop is 200 ml".

A wheelbarrow or a handful has no set size, so without one it is asked about. Where it is told, so many of them are so
much, and how many of them is asked as packs of that size are.
"""

from __future__ import annotations

from typing import NamedTuple

from ..draft import Draft
from ..phrases import Amount, Measure, Number, Phrase, Said, Share
from ..quantities import factor
from ..said import Mark, Waits, dimension, is_any_goods, is_said, is_sides, phrase_at, single

#: Containers that castings are carried in, and that are asked for by their number: "how many buckets".
_CARRIED_IN = ("bucket", "tote")
#: What this reader waits for.
VESSELS: Waits = (frozenset[Mark]({"loose-measure", *(("container", name) for name in _CARRIED_IN)}), frozenset({Amount}))
#: Vessels that are measured by their three sides.
_BOXES = ("pickup-load", "wheelbarrow")


class _Told(NamedTuple):
    """The size of one, from which phrase to which it is told, and whether the vessel is used there and then."""

    size: Measure
    start: int
    end: int
    used: float  # how many of them stand there; 0 where only the size is told


def find_holders(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with so much in place of vessels whose size is told; what one holds is said with the answer."""
    names = {name for phrase in phrases if (name := _vessel(phrase, phrases))}
    if len(names) != 1:
        return phrases  # several are parts of one another
    name = names.pop()
    told = next((found for at, phrase in enumerate(phrases) if _vessel(phrase, phrases) and (found := _told(phrases, at))), None)
    if told is None:
        return phrases
    elsewhere = [at for at, phrase in enumerate(phrases) if _vessel(phrase, phrases) and not told.start <= at < told.end]
    if not told.used and not elsewhere:
        return phrases
    said = draft.text[told.size.start : told.size.end].strip()
    if told.used != 1 or elsewhere:
        draft.flags.append(("holder", f"a {name.replace('-', ' ')} holds {said}"))
    made: list[Phrase] = []
    for at, phrase in enumerate(phrases):
        if told.start <= at < told.end:
            if at == told.start and told.used and not (elsewhere and told.used == 1 and _how_many(phrases, elsewhere)):
                made.append(_times(told.size, told.used, told.size.start, told.size.end))
        elif at not in elsewhere:
            made.append(phrase)
        elif is_said(phrases[at - 1] if at else None, "ask", "how-many"):
            made += [Amount((told.size,), told.size.start, told.size.end), Said("pack", "pack", name, phrase.start, phrase.end)]
        else:
            one = single(phrase)
            many = one.low if type(one) is Measure else 1.0
            made.append(_times(told.size, many, phrase.start, phrase.end, one if type(one) is Measure else None))
    return made


def _how_many(phrases: list[Phrase], elsewhere: list[int]) -> bool:
    return any(at and is_said(phrases[at - 1], "ask", "how-many") for at in elsewhere)


def _times(size: Measure, many: float, start: int, end: int, use: Measure | None = None) -> Amount:
    per = use.per if use is not None else None
    return Amount((size._replace(low=size.low * many, high=size.high * many, start=start, end=end, per=per, role="", article=False),), start, end)


def _vessel(phrase: Phrase, phrases: list[Phrase]) -> str:
    """The name of the vessel that a phrase speaks of, or an empty string."""
    one = single(phrase)
    if type(one) is Measure and one.kind == "loose-measure":
        return one.unit
    if type(phrase) is not Said:
        return ""
    if phrase.kind == "loose-measure":
        return phrase.id
    if is_said(phrase, "container", *_CARRIED_IN) and not any(type(p) is Share for p in phrases) and any(
        is_said(asked, "ask", "how-many") and is_said(noun, "container", phrase.id) for asked, noun in zip(phrases, phrases[1:], strict=False)
    ):  # fmt: skip
        return phrase.id  # "the bucket holds 12 litres, how many buckets"
    return ""


def _size(phrase: Phrase | None) -> Measure | None:
    one = single(phrase)
    if type(one) is not Measure or one.per is not None or one.role or one.low != one.high or one.low <= 0:
        return None
    if one.unit == "yard":
        return one._replace(unit="cubic_yard", kind="unit")
    return one if dimension(one) == "volume" else None


def _told(phrases: list[Phrase], at: int) -> _Told | None:
    """The size of the vessel at an index, where it is told beside it."""
    vessel = single(phrases[at])
    many = vessel.low if type(vessel) is Measure and vessel.low == vessel.high else 0.0
    before = _size(phrase_at(phrases, at - 1))
    if before is not None and type(phrases[at]) is Said and not is_said(phrases[at], "container"):
        return _told_before(phrases, at, before)
    after = phrase_at(phrases, at + 1)
    box = _box(after) if (phrases[at].id if isinstance(phrases[at], Said) else getattr(vessel, "unit", "")) in _BOXES else None  # type: ignore[union-attr]
    if box is not None:
        return _Told(box, at, at + 2, 1.0)
    beside = _size(after)
    if beside is not None and _ends(phrases, at + 2) and many == 1:
        return _Told(beside, at, at + 2, 1.0)  # "a handful 150 ml"
    linked = is_said(after, "link", "volume-word", "is", "of") or is_said(after, "is")
    where = at + 3 if is_said(phrase_at(phrases, at + 2), "about") else at + 2  # "a shovel is about 3 litres"
    size = _size(phrase_at(phrases, where)) if linked else None
    if size is not None and not _goods(phrase_at(phrases, where + 1)) and many <= 1:
        named = is_said(phrase_at(phrases, where + 1), "link", "of")
        if named and not is_said(phrase_at(phrases, where + 2), "castings"):
            return None
        if named or (is_said(after, "link", "of") and not is_said(phrase_at(phrases, at - 1), "ask", "how-many")):
            return _Told(size, at, where + 1, 1.0)  # "a barrow of 90 litres"
        end = where + 2 if is_said(phrase_at(phrases, where + 1), "stop") else where + 1
        start = at - 1 if is_said(phrase_at(phrases, at - 1), "link", "each") else at
        return _Told(size, start, end, 0.0)  # "the wheelbarrow holds 80 litres"
    return _after_comma(phrases, at, many)


def _told_before(phrases: list[Phrase], at: int, size: Measure) -> _Told:
    """ "a 6 cu ft wheelbarrow", "3 80-litre barrows"."""
    if is_said(phrase_at(phrases, at - 2), "ask", "how-many"):
        return _Told(size, at - 1, at - 1, 0.0)  # "how many 80 litre barrows": read as packs of that size below
    count = single(phrase_at(phrases, at - 2))
    if type(count) is Number and not count.role and count.low == count.high == int(count.low):
        return _Told(size, at - 2, at + 1, count.low)
    return _Told(size, at - 1, at + 1, 1.0)


def _after_comma(phrases: list[Phrase], at: int, many: float) -> _Told | None:
    """ "a bucketful, 12 litres, of castings", "3 barrows of castings, 80 litres each"."""
    here = at + 1
    while is_said(phrase_at(phrases, here), "link", "of") or is_said(phrase_at(phrases, here), "castings"):
        here += 1
    if not is_said(phrase_at(phrases, here), "stop", "comma") or many <= 0:
        return None
    size = _size(phrase_at(phrases, here + 1))
    if size is None:
        return None
    each = is_said(phrase_at(phrases, here + 2), "link", "each")
    if each and many >= 1:
        return _Told(size, at, here + 3, many)
    if many == 1 and here == at + 1 and _ends(phrases, here + 2):
        return _Told(size, at, here + 3 if is_said(phrase_at(phrases, here + 2), "stop", "comma") else here + 2, 1.0)
    return None


def _ends(phrases: list[Phrase], at: int) -> bool:
    """Whether a size is told to its end: no noun follows that it might be the size of."""
    after = phrase_at(phrases, at)
    return after is None or is_said(after, "stop") or is_said(after, "link", "of", "for", "on", "into", "at", "each") or is_said(after, "ask")


def _goods(phrase: Phrase | None) -> bool:
    return is_any_goods(phrase) or is_said(phrase, "container") or is_said(phrase, "pack") or is_said(phrase, "component")


def _box(phrase: Phrase | None) -> Measure | None:
    """The volume of three sides: "pickup bed 8 ft x 5 ft x 18 in"."""
    if type(phrase) is not Amount or len(phrase.dims) != 3 or not is_sides(phrase):
        return None
    sides = [dim for dim in phrase.dims if type(dim) is Measure and dim.kind == "unit" and dim.low == dim.high]
    if len(sides) != 3:
        return None
    unit = "cubic_metre" if any("metre" in side.unit for side in sides) else "cubic_foot"
    across = "metre" if unit == "cubic_metre" else "foot"
    volume = 1.0
    for side in sides:
        volume *= side.low * factor(side.unit) / factor(across)
    return Measure(volume, volume, unit, "unit", phrase.start, phrase.end)
