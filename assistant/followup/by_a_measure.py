"""More or less by a measure: "10 square metres more", "2 inches deeper", "half a cup less each"."""

from __future__ import annotations

import re

from grammar.draft import Draft, PlaceDraft
from grammar.quantities import DOUBTFUL, Span
from grammar.settling.common import is_metric_unit

from ..spoken_of import which
from .leaning import cleared
from .meant import refers

#: Which value a word of comparing is of; "more" and "less" leave that to what the measure measures.
_WORDS = {
    "deeper": "depth", "shallower": "depth", "thicker": "layer", "thinner": "layer", "longer": "length", "shorter": "length",
    "wider": "width", "narrower": "width",
}  # fmt: skip
_LESS = frozenset({"shorter", "less", "fewer"})
#: Whose measure it is where only so much more is said, in the order in which they are looked for.
_OF = {"area": ("area",), "length": ("layer", "depth", "fill"), "volume": ("rate", "volume"), "weight": ("rate",)}


def by_a_measure(old: Draft, new: Draft, index: int | None) -> Draft | str | None:
    """The draft with one value of a place changed by the measure that a line tells; None where it is not told of which value.

    A question where several places have such a value and none is named, or where nothing would be left.
    """
    amount = _amount(new)
    if amount is None or index is None:
        return None
    kind = amount.unit if amount.unit in DOUBTFUL else amount.dimension
    word = next((slot for word, slot in _WORDS.items() if re.search(rf"\b{word}\b", new.text, re.IGNORECASE)), "")
    slots = ("depth", "fill") if word == "depth" else (word,) if word else _OF.get("volume" if kind in DOUBTFUL else kind, ())
    having = [at for at, place in enumerate(old.places) if _slot(place, slots)]
    if not refers(new) and len(having) > 1:
        return which([old.places[at] for at in having])
    at = index if refers(new) else having[0] if having else index
    slot = _slot(old.places[at], slots)
    if not slot:
        return None
    draft = old.copy()
    was = _value(draft.places[at], slot)
    changed = _changed(was, amount, less=new.by_so_much in _LESS)
    if changed is None:
        return None
    if changed.low <= 0:
        return f"That leaves nothing of the {was.low:g} {was.unit.replace('_', ' ')}; how much is it now?"
    _put(draft.places[at], slot, changed)
    return cleared(draft, new)


def _amount(new: Draft) -> Span | None:
    """The one measure that a line tells, and nothing else of an amount."""
    told = [one.span for one in new.unsure] + [place.area for place in new.places if place.area is not None]
    others = any(place.size or place.volume or place.share or place.layer or place.rate or place.depth or place.count for place in new.places)
    return told[0] if len(told) == 1 and not (others or new.stray or new.have or new.price) else None


def _slot(place: PlaceDraft, slots: tuple[str, ...]) -> str:
    """The first of some values that a place has as one amount; empty where it has none."""
    for slot in slots:
        if slot in ("length", "width"):
            if getattr(place, slot) is not None or (len(place.size) == 2 and place.size_unit_said and place.size[0].unit == place.size[1].unit):
                return slot
        elif slot == "layer":
            if len(place.layer) == 1:
                return slot
        elif getattr(place, slot) is not None and not (slot == "rate" and place.rate_per is not None):
            return slot
    return ""


def _side(place: PlaceDraft, slot: str) -> int:
    """Which of two sides is the length, and which the width."""
    longer = 0 if place.size[0].low >= place.size[1].low else 1
    return longer if slot == "length" else 1 - longer


def _value(place: PlaceDraft, slot: str) -> Span:
    found = place.layer[0] if slot == "layer" else getattr(place, slot)
    return found if found is not None else place.size[_side(place, slot)]


def _put(place: PlaceDraft, slot: str, span: Span) -> None:
    if slot == "layer":
        place.layer = [span]
    elif getattr(place, slot) is None:
        at = _side(place, slot)
        place.size = tuple(span if i == at else side for i, side in enumerate(place.size))
    else:
        setattr(place, slot, span)


def _changed(was: Span, amount: Span, *, less: bool) -> Span | None:
    """The value with the amount added or taken off, in the unit it was told in; None where the two are not of one kind."""
    if was.unit != amount.unit:
        if was.unit in DOUBTFUL or amount.unit in DOUBTFUL or not was.unit or was.dimension != amount.dimension:
            return None
        if is_metric_unit(was.unit) != is_metric_unit(amount.unit):
            return None  # what it is then is asked, and not told to nine digits
        amount = amount.to(was.unit)
    by = -1 if less else 1
    return Span(round(was.low + by * amount.low, 9), round(was.high + by * amount.high, 9), was.unit)
