"""What a bit more or a bit less castings does for the places of an answer, in words: nine more plants, a share of 7.5 %.

Volumes are in cubic metres; a part is a fraction of the castings that the answer needs.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from grammar.words import plural, spoken

from .ends import End, at_end
from .units import Printer
from .worked import Worked

_SLACK = 1e-9
#: A part of the need below this is not worth a word.
_TRIFLE = 0.01


def more_for(left: float, worked: Sequence[Worked], printer: Printer, end: End = "high") -> str:
    """What so much left over would still do: "enough for 9 more tomatoes"; empty where nothing worth a word."""
    if len(worked) != 1 or left <= 0:
        return ""
    one = worked[0]
    castings = one.castings
    if castings is None or at_end(castings, end) <= 0:
        return ""
    part = left / at_end(castings, end)
    if part < _TRIFLE:
        return ""
    count = counted(one)
    if count > 1:
        more = math.floor(count * part + _SLACK)
        return f"enough for {more:,} more {named(one, more)}" if more >= 1 else ""
    if one.layer is not None:
        area = one.sheet.get("treated area")
        if area is not None:
            return f"enough for {printer.show(area[0] * part, area[0] * part, 'area')} more"
    if one.mix is not None:
        mix = at_end(one.mix, end) * part
        return f"enough for {printer.show(mix, mix, 'volume')} more of the mix"
    return ""


def instead(part: float, worked: Sequence[Worked], printer: Printer, end: End = "high") -> str:
    """What only so much of the castings would do: "7.5 % castings in place of 10 %", "a layer of …", "11 of the 14 peppers"."""
    if len(worked) != 1 or not 0 < part < 1:
        return f"{printer.show(part, part, 'share')} of what is needed"
    one = worked[0]
    count = counted(one)
    if one.share is not None:
        share = at_end(one.share, end)
        made = _share_of(part, share, added=one.place.way == "incorporate")
        return f"{printer.show(made, made, 'share')} castings in place of {printer.show(share, share, 'share')}"
    if one.layer is not None:
        layer = at_end(one.layer, end)
        name = "millimetre" if printer.metric else "inch"
        thin = printer.show(layer * part, layer * part, "length", name)
        return f"a layer of {thin} in place of {printer.show(layer, layer, 'length', name)}"
    if count > 1:
        fewer = math.floor(count * part + _SLACK)
        return f"{fewer:,} of the {count:,} {named(one, count)}" if fewer else f"not one of the {count:,} {named(one, count)}"
    return f"{printer.show(part, part, 'share')} of what is needed"


def counted(one: Worked) -> int:
    """How many plants, holes or pots share the castings of a place evenly; 1 where it is one place."""
    place = one.place
    if place.count is None or place.altogether or place.rate_altogether or place.kind not in ("plant", "hole", "container"):
        return 1
    return int(place.count_high or place.count)


def named(one: Worked, count: int) -> str:
    """What is counted, for one or for several."""
    place = one.place
    try:
        noun = spoken(place.kind, place.noun)
    except KeyError:
        noun = "plant"
    return noun if count == 1 else plural(noun)


def _share_of(part: float, share: float, *, added: bool) -> float:
    """The share of the finished mix that `part` of the castings makes: of a mix made up, or on top of soil that is there."""
    if not added:
        return share * part
    ratio = share / (1 - share) * part
    return ratio / (1 + ratio)
