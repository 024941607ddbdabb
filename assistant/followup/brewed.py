"""What a follow-up says of a tea: its strength, its vessels, and how many of them."""

from __future__ import annotations

from grammar.draft import Draft
from grammar.quantities import DOUBTFUL, Span


def told_of_tea(merged: Draft, new: Draft, adding: bool) -> None:
    """In a talk about a tea a line's parts and its cups a gallon are the tea's strength, in the stead of the one before."""
    if merged.way != "tea" and merged.ratio is None:
        return
    _brewed(new, merged, adding=adding)
    if new.per_volume is not None:
        new.ratio_spans, new.per_volume = new.per_volume, None  # "2 cups a gallon instead"
    if new.ratio is not None or new.ratio_spans is not None:
        merged.ratio = merged.ratio_spans = None


def _brewed(new: Draft, merged: Draft, *, adding: bool) -> None:
    """In a talk about a tea a ratio is castings to water, and what vessels hold is its water.

    "just one bucket" is one of those that were told; "and a 10 litre can" comes on top.
    """
    if new.parts_share is not None:
        share = new.parts_share.low
        new.ratio, new.parts_share = (1.0, round((100 - share) / share, 9)), None
    for place in list(new.places):
        if place.kind not in ("container", "mix", ""):
            continue
        one = place.volume
        if one is None and place.kind == "container" and place.count and not place.has_size:
            one = merged.vessel
            if one is None and new.question is None and not (place.rate or place.share or place.layer):
                new.question = ("volume", f"how much does one {place.printed.removesuffix('s') or place.noun} hold?")
        if one is None:
            continue
        many = place.count or 1.0
        water: Span | None = Span(one.low * many, one.high * many, one.unit)
        if adding and merged.water is not None and place.volume is not None:
            water = _added(merged.water, Span(one.low * many, one.high * many, one.unit))
        if water is None:
            new.question = ("unit", "how much water is there in all? Say it in one unit")
            return
        new.water, new.vessel = water, one if not adding else None
        used = {many, *((one.low, one.high) if many != 1 or adding else ())}
        new.figures = [(value, said) for value, said in new.figures if value not in used]
        new.places.remove(place)
    if new.water is not None:
        merged.vessel = new.vessel


def _added(water: Span, more: Span) -> Span | None:
    """Both together, in the unit of the first; None where that is not plain."""
    name = more.unit
    if name in DOUBTFUL:
        name = next((f"{family}_{name}" for family in ("us", "imperial") if water.unit == f"{family}_{name}"), name)
    if name != water.unit:
        return None
    return Span(water.low + more.low, water.high + more.high, water.unit)
