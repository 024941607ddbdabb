"""Plants counted by how far apart they stand: "a bed 4 by 8 ft, lettuce 12 inches apart, a quarter cup per plant"."""

from __future__ import annotations

import math

from ..draft import Draft
from ..phrases import Amount, Measure, Number, Phrase, Price, Said, Share
from ..quantities import factor
from ..said import Waits, dimension, is_said, single
from ..things import is_ground_size, sides_of

#: A plant, and how far it stands from the next.
SPACED: Waits = (frozenset({"plant"}), frozenset({("role", "apart"), ("link", "each")}))


def find_spacing(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with the number of plants in place of their distance and the place they stand in."""
    plants = [at for at, phrase in enumerate(phrases) if is_said(phrase, "plant")]
    spaced = _spacings(phrases) if len(plants) == 1 else []
    if not 1 <= len(spaced) <= 2 or not _each(phrases):
        return phrases
    plant = plants[0]
    if plant and type(single(phrases[plant - 1])) is Number and not single(phrases[plant - 1]).article:  # type: ignore[union-attr]
        return phrases
    if any(type(p) in (Share, Price) for p in phrases):
        return phrases
    apart = [one for _, one in spaced]
    if any(one.low != one.high for one in apart):
        return phrases
    used = {at for at, _ in spaced}
    for at, _ in spaced:
        if at + 1 < len(phrases) and is_said(phrases[at + 1], "role", "per-side"):
            used.add(at + 1)
        if is_said(phrases[at - 1], "link", "each"):
            used.add(at - 1)
    ground = _bed(phrases, apart, used) or _rows(phrases, apart, used)
    if ground is None:
        return phrases
    count, taken, how = ground
    said = ", ".join(draft.text[one.start : one.end].strip() for one in apart)
    if count < 1:
        draft.question = ("count", f"“{said}” leaves no room for one; how many plants are there?")
        return phrases
    draft.flags.append(("spaced", f"{said}: {how}, {count:g} plants; say the number if it is another"))
    draft.noted.extend((draft.text[phrases[at].start : phrases[at].end].strip(), "the place where the plants stand")
                       for at in sorted(taken) if type(phrases[at]) is Amount and type(single(phrases[at])) is not Number)  # fmt: skip
    made: list[Phrase] = []
    for at, phrase in enumerate(phrases):
        if at == plant:
            made.append(Amount((Number(count, count, phrase.start, phrase.start),), phrase.start, phrase.start))
        if at not in taken and at not in used:
            made.append(phrase)
    return made


def _spacings(phrases: list[Phrase]) -> list[tuple[int, Measure]]:
    found = []
    for at, phrase in enumerate(phrases):
        one = single(phrase)
        if type(one) is not Measure or one.per is not None or dimension(one) != "length":
            continue
        every = one.role == "" and at > 1 and is_said(phrases[at - 1], "link", "each") and is_said(phrases[at - 2], "plant")
        if one.role == "apart" or every:
            found.append((at, one))
    return found


def _each(phrases: list[Phrase]) -> bool:
    """Whether so much is said for each plant."""
    for at, phrase in enumerate(phrases):
        one = single(phrase)
        if type(one) is Measure and dimension(one) in ("volume", "weight"):
            if type(one.per) is Said and one.per.kind in ("plant", "hole"):
                return True
            after = phrases[at + 1] if at + 1 < len(phrases) else None
            if one.per is None and is_said(after, "link", "each"):
                return True
        elif is_said(phrase, "unit") and at + 1 < len(phrases) and is_said(phrases[at + 1], "link", "each"):
            return True
    return False


def _metres(one: Measure) -> float:
    return one.low * factor(one.unit)


def _bed(phrases: list[Phrase], apart: list[Measure], used: set[int]) -> tuple[float, set[int], str] | None:
    """Plants in a bed of known sides, both ways apart."""
    sizes = [at for at, phrase in enumerate(phrases) if is_ground_size(phrase) and len(phrase.dims) == 2]  # type: ignore[union-attr]
    rows = [phrase for phrase in phrases if is_said(phrase, "ground", "row", "trench")]
    if len(sizes) != 1 or rows or any(d.low != d.high for d in phrases[sizes[0]].dims):  # type: ignore[union-attr]
        return None
    at = sizes[0]
    size = phrases[at]
    assert type(size) is Amount
    sides = sides_of(size)
    gaps = sorted(_metres(one) for one in apart)
    one, two = _fit(sides[0], gaps[0]), _fit(sides[1], gaps[-1])
    if len(apart) == 2 and gaps[0] != gaps[1]:
        one, two = max(((_fit(sides[0], a), _fit(sides[1], b)) for a, b in (gaps, gaps[::-1])), key=lambda pair: pair[0] * pair[1])
    taken = {at}
    times = 1.0
    for near in (at - 1, at + 1):
        if 0 <= near < len(phrases) and is_said(phrases[near], "ground"):
            taken.add(near)
    first = min(taken) - 1
    if first >= 0 and is_said(phrases[first], "link", "of"):
        first -= 1
    if first >= 0 and is_said(phrases[first], "ground"):
        taken |= {first, first + 1}
        first -= 1
    number = single(phrases[first]) if first >= 0 else None
    if type(number) is Number and number.low == number.high == int(number.low):
        taken.add(first)
        times = number.low
    return one * two * times, taken, f"{one} by {two} of them" + (f" in each of {times:g}" if times > 1 else "")


def _rows(phrases: list[Phrase], apart: list[Measure], used: set[int]) -> tuple[float, set[int], str] | None:
    """Plants along one row or more of known length."""
    rows = [at for at, phrase in enumerate(phrases) if is_said(phrase, "ground", "row", "trench")]
    if len(rows) != 1 or len(apart) != 1:
        return None
    lengths = [
        at for at, phrase in enumerate(phrases)
        if at not in used and type(one := single(phrase)) is Measure and one.per is None and dimension(one) == "length" and one.role in ("", "length") and one.low == one.high
    ]  # fmt: skip
    if len(lengths) != 1 or any(is_ground_size(phrase) for phrase in phrases):
        return None
    row, at = rows[0], lengths[0]
    length = single(phrases[at])
    assert type(length) is Measure
    taken = {row, at}
    first, last = min(taken), max(taken)
    for between in range(first + 1, last):
        if is_said(phrases[between], "link", "of", "is", "each"):
            taken.add(between)
        elif not is_said(phrases[between], "hint"):
            return None
    times = 1.0
    number = single(phrases[first - 1]) if first else None
    if type(number) is Number and number.low == number.high == int(number.low) and not number.article:
        taken.add(first - 1)
        times = number.low
    many = _fit(_metres(length), _metres(apart[0]))
    return many * times, taken, f"{many} along the row" + (f" in each of {times:g}" if times > 1 else "") + ", half a space at each end"


def _fit(side: float, gap: float) -> int:
    return math.floor(side / gap + 1e-9)
