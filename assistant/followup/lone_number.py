"""A number of a follow-up that has no unit: how many, or a value in the unit that goes with it."""

from __future__ import annotations

import re
from collections.abc import Sequence

from grammar.draft import Draft, PlaceDraft
from grammar.quantities import Span

from ..bare_numbers import ends_the_line
from ..replies import bare_number
from ..spoken_of import which
from .joining import says_only
from .leaning import Leaning
from .left_out import BACK_TO
from .lone_measure import set_slot
from .part import part_of_it

#: A bare ratio in a follow-up.
_RATIO = re.compile(r"(\d+)\s*(?:to|:)\s*(\d+)")
_OF_THEM = re.compile(r"\b(?:of (?:them|those|these)|like (?:that|those|it|this))\b|\bqty\b|^\W*x\s*\d", re.IGNORECASE)
#: Before a bare number that goes with the measure before it: "1 m 05", "2 ft 14".
_AFTER_UNIT = re.compile(r"(?:\d\s*(?:m|met(?:re|er)s?|ft|feet|foot|in|inch(?:es)?|cm|mm|yards?|yd)|\d['\"])\s*$", re.IGNORECASE)
#: A number that is rather a price than a measure: "at 9.50 each".
_PRICED = re.compile(r"\b\d+\.\d\d\b|\b\d+ (?:each|a bag|per bag|a sack|apiece)\b")
#: A number that is for some of them only, or for a measure that cannot be a count: "two for the big ones", "fill to 14".
_FOR_SOME = re.compile(r"\bfor (?:the|my|those|all) \w+|\bfill|\bget|\bat \d|\b(?:bags?|sacks?)\b", re.IGNORECASE)


def place_number(draft: Draft, leaning: Leaning, awaiting: str) -> None:
    """A bare number in a follow-up: how many, or the depth in the unit that goes with the sides."""
    if len(draft.stray) != 1 or _as_ratio(draft):
        return
    value = bare_number(draft.stray[0][0])
    if value is None or not draft.places or _AFTER_UNIT.search(draft.text[: draft.stray[0][1]]):
        return
    place = draft.places[-1]
    if value < 1 and awaiting == "layer" and not draft.unsure and not any("metre" in side.unit for side in place.size):
        place.layer, draft.stray = [Span(value, value, "inch")], []  # "1/4", of how thick a layer
        draft.flags.append(("bare-number", f"{value:g} inch"))
        return
    if value < 1:
        part_of_it(draft, place, value)
        return
    if BACK_TO.search(draft.text) and as_before(draft, place, value, leaning.past):
        return
    if value == 1 and says_only(draft.text) and draft.text.lower().rstrip(" .!").endswith("one"):
        place.count, draft.stray = 1.0, []
        return
    of_them = _OF_THEM.search(draft.text) is not None
    held = bool(getattr(draft if leaning.slot in ("have", "water", "soil") else place, leaning.slot)) if leaning.slot else False
    if held and not leaning.awaiting and place.count is None and not of_them:
        if leaning.slot == "volume" and place.share is not None and value <= 100:
            return  # "go down to 5": litres, or percent
        set_slot(place, leaning.slot, Span(value, value, leaning.unit))
        draft.flags.append(("bare-number", f"{value:g} {leaning.unit.replace('_', ' ')}, the unit spoken before"))
        draft.stray = []
        return
    if awaiting in ("depth", "layer") and _PRICED.search(draft.text):
        draft.question = ("price", f"“{draft.stray[0][0]}”: in which money? Say it as “${draft.stray[0][0]} each”")
        return
    if awaiting in ("depth", "layer"):
        metric = any("metre" in span.unit for span in place.size)
        set_slot(place, awaiting, Span(value, value, "centimetre" if metric else "inch"))
        draft.flags.append(("bare-number", f"{value:g} {'cm' if metric else 'inches'}"))
        draft.stray = []
    elif (awaiting == "count" or of_them) and value == int(value) and value > 0 and not _FOR_SOME.search(draft.text) and not (draft.unread and len(draft.places) > 1) and (
        of_them or ends_the_line(draft.text[draft.stray[0][2] :], draft.stray[0][0])
    ) and (
        place.count is not None or place.kind in ("plant", "hole", "container") or leaning.awaiting == "count" or of_them
    ):  # fmt: skip
        counted = [i for i, one in enumerate(draft.places) if (one.count or 1) > 1]
        lately = [i for i in counted if i in leaning.touched]
        open_to = counted if len(counted) > 1 else [] if counted else [*range(len(draft.places))]
        if len(open_to) > 1 and not [i for i in leaning.touched if i in open_to] and awaiting == "count" and not leaning.awaiting and draft.question is None:
            draft.question = ("which", which([draft.places[i] for i in open_to]))
            return
        draft.places[lately[0] if len(counted) > 1 and len(lately) == 1 else -1].count = value
        draft.stray = []


def as_before(draft: Draft, place: PlaceDraft, value: float, past: Sequence[Draft]) -> bool:
    """ "back to one", "back to 10": the value that stood there in an earlier turn, where only one fits."""
    found: dict[str, object] = {}
    for before in past:
        if len(before.places) != len(draft.places):
            continue
        earlier = before.places[-1]
        if (earlier.count or 1) == value != (place.count or 1):
            found["count"] = earlier.count
        for name in ("depth", "share", "rate", "volume", "diameter", "fill"):
            span = getattr(earlier, name)
            if span is not None and span.low == span.high == value and span != getattr(place, name):
                found[name] = span
        if earlier.layer and earlier.layer[0].low == value and earlier.layer != place.layer:
            found["layer"] = list(earlier.layer)
    if len(found) != 1:
        return False
    for name, one in found.items():
        setattr(place, name, one)
    draft.stray, draft.figures = [], []
    return True


def _as_ratio(draft: Draft) -> bool:
    """ "1:4" after a mix: the smaller part is castings."""
    ratio = _RATIO.fullmatch(draft.stray[0][0].strip())
    if ratio is None or not (draft.parts_share is not None or draft.recipe):
        return False
    parts = sorted(float(one) for one in ratio.groups())
    share = 100 * parts[0] / sum(parts)
    others = [name for name, _ in draft.recipe if name != "castings"]
    if len(others) == 1 and len(draft.recipe) == 2:
        draft.recipe, draft.stray = [("castings", share / 100), (others[0], 1 - share / 100)], []
    else:
        draft.parts_share, draft.recipe, draft.stray = Span(share, share, "percent"), [], []
    draft.flags.append(("ratio-order", f"the smaller part of {ratio.group(0)} is taken as castings"))
    draft.figures = []
    return True
