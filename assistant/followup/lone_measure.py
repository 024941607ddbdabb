"""A measure of a follow-up that nothing is said of: the value of its kind takes it."""

from __future__ import annotations

import re

from grammar.draft import Draft, PlaceDraft, Unsure
from grammar.quantities import DOUBTFUL, Span

from ..at_hand import in_all, slot_by_size, would_do
from ..spoken_of import which
from .asked import BACKWARDS
from .joining import of_the_others
from .laid_over import lay_over
from .landing import ANYWHERE, alike_or_touched, says_all, the_others
from .leaning import Leaning

#: What a question may ask for that a bare measure answers.
MEASURES = frozenset({"depth", "layer", "height", "width", "length", "diameter", "size", "volume", "have", "water", "pack", "mix", "area"})
#: A bare length above this is no layer and no depth of soil, in metres (five feet).
_TOO_DEEP = 1.524 - 1e-9
#: A bare length up to this is rather a layer than a depth of soil, in metres (two inches).
THIN = 0.0508 + 1e-9
#: What comes on top of what there was.
_ANOTHER = re.compile(r"\b(?:another|extra|in addition|as well)\b", re.IGNORECASE)
#: Measures that one plant is given, and no heap of castings is told in.
_OF_A_PLANT = frozenset({"us_cup", "imperial_cup", "metric_cup", "tablespoon", "teaspoon", "millilitre", "fluid_ounce"})


def place_measure(draft: Draft, leaning: Leaning) -> tuple[str, str]:
    """A bare measure in a follow-up takes the place of the value of its kind; gives the slot it took and its unit."""
    set_ = ("", "")
    if leaning.awaiting in MEASURES:
        return set_
    left: list[Unsure] = []
    for unsure in draft.unsure:
        if not draft.places:
            if not _of_the_whole(draft, unsure):
                left.append(unsure)
            continue
        at = unsure.place if 0 <= unsure.place < len(draft.places) else _last_with(draft, unsure)
        slot = _slot_of(draft, draft.places[at], unsure)
        if not slot and draft.places[at].size and unsure.span.unit not in DOUBTFUL and unsure.span.dimension == "length" and unsure.span.base[0] > _TOO_DEEP and draft.question is None:
            draft.question = ("which-side", f"Is “{unsure.text}” how long it is, or how wide? Say it as “{unsure.text} long”.")
        if slot == "either" and draft.question is None:
            draft.question = ("which-amount", f"Is “{unsure.text}” what there is in all, or what each gets? Say it as “{unsure.text} in all” or “{unsure.text} each”.")
        if slot == "either":
            left.append(unsure)
        elif slot == "have":
            _held(draft, unsure.span)
            draft.enough = draft.enough or would_do(draft)
        elif slot == "soil":
            draft.soil = unsure.span
        elif slot == "water":
            draft.water = unsure.span
        elif slot:
            set_ = (slot, unsure.span.unit)
            for one in _where(draft, slot, unsure, leaning, at):
                set_slot(draft.places[one], slot, unsure.span)
                if slot == "rate" and in_all(draft.text) and (draft.places[one].count or 1) > 1:
                    draft.places[one].rate_whole = True
        else:
            left.append(unsure)
    draft.unsure = left
    return set_


def _last_with(draft: Draft, unsure: Unsure) -> int:
    """The last place; where that is plants and a length is said, the last before them that has a depth or a layer."""
    last = len(draft.places) - 1
    if draft.places[last].kind == "plant" and draft.places[last].has_size:
        return last
    if unsure.span.unit in DOUBTFUL or unsure.span.dimension != "length" or draft.places[last].kind not in ("plant", "hole"):
        return last
    return next((at for at in reversed(range(last)) if draft.places[at].layer or draft.places[at].depth or draft.places[at].fill), last)


def _held(draft: Draft, span: Span) -> None:
    """So much at hand: in the stead of what there was, or on top of it, as in "I found another cubic foot"."""
    if draft.have is not None and _ANOTHER.search(draft.text):
        draft.more_have = [*draft.more_have, span]
    else:
        draft.have, draft.more_have = span, []


def _of_the_whole(draft: Draft, unsure: Unsure) -> bool:
    """A bare measure where no place is spoken of: the castings at hand, or a tea's water."""
    measures = unsure.span.dimension if unsure.span.unit not in DOUBTFUL else "volume"
    if draft.have is not None and measures == "length" and draft.asked in BACKWARDS:
        draft.places.append(PlaceDraft(layer=[unsure.span]))  # "60 lb as a top dressing", "a quarter inch"
        return True
    if draft.have is not None and measures in ("volume", "weight"):
        _held(draft, unsure.span)
        return True
    if draft.water is not None and unsure.span.unit in (draft.water.unit, "gallon", "litre"):
        draft.water = unsure.span  # "5 gallons of tea at 1:10", "10 gallons"
        return True
    return False


def _slot_of(draft: Draft, place: PlaceDraft, unsure: Unsure) -> str:
    """Which value a bare measure takes the place of; empty where there is none of its kind."""
    kind = unsure.span.dimension if unsure.span.unit not in DOUBTFUL else "volume"
    if kind == "length" and _along(place, unsure):
        return "length"
    if kind == "length" and "before:way:incorporate" in unsure.cues:
        return "depth"  # "till it in 6 inches"
    if kind == "length" and unsure.span.base[0] > _TOO_DEEP:
        return ""  # no layer, and no depth of a bed: it is asked which side it is
    if kind == "length":
        if place.diameter is not None and unsure.span.unit == place.diameter.unit and (
            place.depth is None or place.depth.unit != unsure.span.unit
        ):  # fmt: skip
            return "diameter"
        if place.kind == "plant" and place.has_size and unsure.span.base[1] <= THIN:
            return "layer"  # round a tree
        if place.depth is not None and not place.layer and unsure.span.base[1] <= THIN and unsure.span.base[1] * 3 < place.depth.base[0]:
            return "layer" if place.share is None else ""  # "line it with an inch", of a trench a foot deep
        slot = "layer" if place.layer or draft.way == "top-dress" else "depth" if place.depth else "fill" if place.fill else ""
        return "layer" if slot == "" and place.area and not place.share else slot
    if kind not in ("volume", "weight"):
        return ""
    if draft.asked == "share" and draft.have is not None and place.volume is not None and unsure.cues & {"before:link:in", "before:link:into", "before:link:of"}:
        return "volume"  # "in 60 litres?", of what 6 litres are a share of
    if draft.asked == "plants" and draft.have is not None and not unsure.cues & {"before:link:on-hand", "before:link:with"} and (
        "before:link:at" in unsure.cues or (unsure.span.unit in _OF_A_PLANT and unsure.span.unit != draft.have.unit)
    ):  # fmt: skip
        return "rate"
    if draft.have is not None and (
        unsure.cues & {"before:link:on-hand", "before:link:with"}
        or (draft.asked in BACKWARDS and (re.search(r"\b(?:had|have|got)\b", draft.text.lower()) or (
            unsure.span.unit == draft.have.unit and (place.rate is None or place.rate.unit != unsure.span.unit))))
    ):  # fmt: skip
        return "have"
    if (draft.have is not None or would_do(draft)) and (by_size := slot_by_size(draft, place, unsure)):
        return by_size
    if place.rate is not None or (place.kind in ("plant", "hole") and draft.have is None):
        return "rate"
    if draft.have is not None:
        return "have"
    if draft.water is not None:
        return "water"
    if draft.soil is not None and place.volume is None and not place.has_size:
        return "soil"
    return "volume" if place.volume is not None and kind == "volume" else ""


def _along(place: PlaceDraft, unsure: Unsure) -> bool:
    """Whether a bare length is how long a row is: "only 25 feet"."""
    long = place.noun in ("row", "trench") or place.length is not None
    return long and unsure.span.base[0] > _TOO_DEEP


def _where(draft: Draft, slot: str, unsure: Unsure, leaning: Leaning, at: int) -> list[int]:
    """The places that a bare measure is for: the one it was said of, else all that have the value alike."""
    if unsure.place != ANYWHERE or len(draft.places) == 1:
        return [at]
    have = [i for i, place in enumerate(draft.places) if getattr(place, slot)]
    if of_the_others(draft.text):
        return the_others(draft, leaning.touched)
    if len(have) < 2 or slot in ("volume", "diameter"):
        return have or [at]
    if slot == "rate" and leaning.touched:
        return [i for i in have if i in leaning.touched] or [at]
    found = have if says_all(draft.text) else alike_or_touched(draft, have, slot, leaning.touched)
    if not found and draft.question is None:
        draft.question = ("which", which([draft.places[i] for i in have]))
    return found


def set_slot(place: PlaceDraft, slot: str, span: Span) -> None:
    """Gives a place a value; a layer takes the place of a share, a length that of the longer side."""
    if slot == "length" and place.size:
        lay_over(place, PlaceDraft(length=span))
    elif slot == "layer":
        place.layer = [span]
        place.share = None
    else:
        setattr(place, slot, span)
