"""A bed by its walls: how high they are, and the room that is left above the soil already in it.

"sides 12 inches" beside the bed's own size is the height of its walls; "6 inches of soil in it now, top it off" is
filled with what is left up to the rim. A triangle's three sides stand here too: its height follows from them.
"""

from __future__ import annotations

import math
import re

from ..draft import Draft
from ..later import later
from ..less import less
from ..phrases import Amount, Measure, Number, Phrase, Said
from ..quantities import factor
from ..said import Waits, dimension, is_said, single
from ..things import is_ground_size

_SIDES = later(r"\bsides\b", re.IGNORECASE)
#: Words that fill a bed up to its rim.
_TO_THE_RIM = later(
    r"\b(?:top(?:ping)?(?: (?:it|them|the bed))? (?:off|up)|(?:to|up to|level with) the (?:top|rim|brim|edge)|fill(?:ing)? (?:it |the bed )?up|fill(?:ing)? the rest|the rest of it)\b"
)
_THERE = later(r"\b(?:now|already|currently|at the moment|so far|old|existing|has|have|got|there(?:'s| is))\b")


#: Sides of a triangle, or walls and their height.
WALLS: Waits = (frozenset({("form", "triangle"), ("role", "per-side"), ("role", "height")}),)


def find_walls(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with a height for walls called sides, and with the depth that is left above what is there."""
    if any(is_said(phrase, "form", "triangle") for phrase in phrases):
        return _three_sides(phrases, draft)
    if any(is_said(phrase, "form", "other", "hexagon", "octagon") for phrase in phrases) or not any(is_ground_size(phrase) for phrase in phrases):
        return phrases
    made = list(phrases)
    for at, phrase in enumerate(phrases):
        one = _length(phrase)
        if one is not None and one.role == "per-side" and _SIDES.search(draft.text[one.start : one.end]):
            made[at] = Amount((one._replace(role="height"),), one.start, one.end)
    return _above_the_soil(made, draft)


def _length(phrase: Phrase | None) -> Measure | None:
    one = single(phrase)
    return one if type(one) is Measure and one.per is None and dimension(one) == "length" and one.kind == "unit" else None


def _of_soil(phrases: list[Phrase], at: int) -> int:
    """How many phrases after a depth say that soil is there: "of soil", "of soil in it"; 0 where none does."""
    after = phrases[at + 1] if at + 1 < len(phrases) else None
    if is_said(after, "hint", "existing-soil"):
        return 1
    named = phrases[at + 2] if at + 2 < len(phrases) else None
    return 2 if is_said(after, "link", "of") and is_said(named, "component", "soil", "topsoil", "compost") else 0


def _above_the_soil(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "it has 6 inches of soil now, walls 12 inches high, top it off": what is left is filled."""
    text = draft.text.lower()
    if not _TO_THE_RIM.search(text):
        return phrases
    walls = [(at, one) for at, phrase in enumerate(phrases) if (one := _length(phrase)) is not None and one.role == "height"]
    there = [
        (at, one) for at, phrase in enumerate(phrases)
        if (one := _length(phrase)) is not None and one.role in ("", "depth") and _of_soil(phrases, at)
    ]  # fmt: skip
    if len(walls) != 1 or len(there) != 1 or not _THERE.search(text):
        return phrases
    (wall_at, wall), (soil_at, soil) = walls[0], there[0]
    room = less(wall, soil)
    assert room is not None  # `_length` gives clear units only
    if room.low <= 0:
        draft.question = ("contradiction", "the soil that is there is as high as the sides or higher; which of the two is right?")
        return phrases
    said = f"{draft.text[soil.start : soil.end].strip()} of {draft.text[wall.start : wall.end].strip()}"
    draft.flags.append(("room-left", f"{said} is there already: {room.low:g} {room.unit} {'is' if room.low == 1 else 'are'} left to fill"))
    left = Amount((room._replace(role="depth"),), wall.start, wall.end)
    gone = set(range(soil_at, soil_at + 1 + _of_soil(phrases, soil_at)))
    gone |= {at for at, p in enumerate(phrases) if is_said(p, "hint", "existing-soil") or is_said(p, "link", "now")
             or (is_said(p, "way", "top-dress") and p.text.lower().startswith("top"))}  # type: ignore[union-attr]  # fmt: skip
    if soil_at and is_said(phrases[soil_at - 1], "link", "is", "on-hand", "with"):
        gone.add(soil_at - 1)
    made = [left if at == wall_at else p for at, p in enumerate(phrases) if at not in gone]
    return [*made, Said("hint", "new-fill", "fill", wall.end, wall.end)]


def _three_sides(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "a triangle with sides 6, 8 and 10 ft": as high over its longest side as Heron's formula makes it."""
    run: list[int] = []
    for at, phrase in enumerate(phrases):
        one = single(phrase)
        fits = (type(one) is Number and one.role in ("", "per-side") and not one.article) or (
            type(one) is Measure and one.per is None and dimension(one) == "length" and one.role in ("", "per-side")
        )
        if fits and type(one) in (Number, Measure) and one.low == one.high:  # type: ignore[union-attr]
            run.append(at)
            if len(run) == 3:
                break
        elif run and not (is_said(phrase, "link", "and", "of") or is_said(phrase, "stop", "comma", "slash") or is_said(phrase, "role", "per-side")):
            run = []
    if len(run) != 3:
        return phrases
    sides = [single(phrases[at]) for at in run]
    units = [one.unit for one in sides if type(one) is Measure]
    if not units or type(sides[2]) is not Measure:
        return phrases
    scale = [factor(one.unit if type(one) is Measure else units[-1]) / factor(units[-1]) for one in sides]
    a, b, c = sorted(one.low * by for one, by in zip(sides, scale, strict=True))  # type: ignore[union-attr]
    start, end = phrases[run[0]].start, phrases[run[2]].end
    said = draft.text[start:end].strip()
    if a <= 0 or a + b <= c * (1 + 1e-9):
        draft.question = ("shape", f"“{said}”: no triangle has such sides; what are they?")
        return [phrase for at, phrase in enumerate(phrases) if at not in run]
    half = (a + b + c) / 2
    rise = 2 * math.sqrt(half * (half - a) * (half - b) * (half - c)) / c
    draft.flags.append(("three-sides", f"{said}: {rise:.4g} {units[-1]} high over the longest side, by Heron's formula"))
    base = Amount((Measure(c, c, units[-1], "unit", start, end, role="base"),), start, end)
    height = Amount((Measure(rise, rise, units[-1], "unit", start, end, role="height"),), start, end)
    return [*phrases[: run[0]], base, height, *phrases[run[2] + 1 :]]
