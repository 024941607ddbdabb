"""One place worked out: from its sizes and its way to the castings it takes."""

from __future__ import annotations

from functools import lru_cache

from grammar.query import Place, Query

from .beside import along_a_row, put_row_rate, put_strip, relations_of_strip, strip_of
from .dimensions import check_left, put_shape
from .knowledge import facts
from .relations import (
    FORMS,
    STRAIGHT,
    TAPERED,
    TREATED_AREA,
    TREATED_VOLUME,
    WAYS,
    WEIGHT,
    WHOLE_AREA,
    WHOLE_VOLUME,
    Relation,
    Sum,
    Value,
)
from .sheet import Sheet
from .worked import Density, Unworkable, Worked, base, default_span, said, share_of, source

_MIX_OF_VOLUME = Sum("mix-is-volume", "finished mix", (("whole volume", 1),), "algebra")
_SOIL_OF_VOLUME = Sum("soil-is-volume", "soil", (("whole volume", 1),), "algebra")
#: Steps that only give another name to a value are not shown.
RENAMING = frozenset({_MIX_OF_VOLUME.id, _SOIL_OF_VOLUME.id})


def relations_for(place: Place, way: str) -> tuple[Relation, ...]:
    """Every relation that can bear on a place of this form, used this way."""
    shape = place.shape
    return _relations_for(shape.form, way, tapered=shape.form == "pot" and "bottom" in shape.dims)


@lru_cache(maxsize=256)
def _relations_for(form: str, way: str, *, tapered: bool) -> tuple[Relation, ...]:
    if way in ("ring", "band"):
        return (*relations_of_strip(way), WEIGHT)
    volume: tuple[Relation, ...] = (TAPERED if tapered else STRAIGHT,)
    if form in ("volume", "class", "cells", "pot", "named"):
        whole: tuple[Relation, ...] = (*volume, WHOLE_VOLUME, WHOLE_AREA, TREATED_AREA)
    else:
        whole = (WHOLE_AREA, TREATED_AREA, TREATED_VOLUME)
    ways = (_SOIL_OF_VOLUME, *WAYS[way]) if way in ("incorporate", "layer-dug-in") else (_MIX_OF_VOLUME, *WAYS[way])
    return (*FORMS[form], *whole, *ways, WEIGHT)


def layers_of(worked: Worked, place: Place) -> Value:
    """The layer of a place: what was said, applications added up, or the usual one, noted as assumed."""
    if place.layer:
        low = sum(base(layer)[0] for layer in place.layer)
        high = sum(base(layer)[1] for layer in place.layer)
        if len(place.layer) > 1:
            worked.notes.append("season")
        return low, high
    if place.noun == "lawn":
        raise Unworkable("layer", f"how thick a layer? On a lawn {said('lawn.layer')} is usual, so that the grass shows through", "layer")
    indoors = place.kind == "container" and ("houseplant" in place.hints or place.crop == "houseplant")
    fact_id = "houseplant.layer" if indoors else "top-dress.layer"
    what = "the usual dressing of a pot indoors" if indoors else "the usual top-dressing"
    worked.assumed.append(("default-layer", f"a layer of {said(fact_id)}, {what} ({source(fact_id)})"))
    return base(default_span(fact_id))


def share_said(worked: Worked, place: Place) -> Value:
    """The share of a place as a fraction: what was said, the recipe's, or the usual one, noted as assumed."""
    if place.share is not None:
        return share_of(place.share)
    if place.recipe:
        part = sum(share for name, share in place.recipe if name == "castings")
        return part, part
    fact_id = "seed-mix.share" if place.way == "seed-mix" else "blend.share"
    fact = facts().rate(fact_id)
    value = fact.single / 100
    worked.assumed.append(("default-share", f"{fact.single:g} % castings, the usual share ({source(fact_id)})"))
    return value, value


def work(place: Place, query: Query, density: Density) -> Worked:
    """The castings that one place takes. Raises Unworkable where a detail is out of scale or missing."""
    way = place.way or "blend"
    sheet = Sheet()
    key = _way_key(place, way)
    worked = Worked(place, sheet, relations_for(place, key))
    sheet.give("density", *density.value)
    put_shape(worked, place)
    if place.minus:
        check_left(worked)
    if key in ("ring", "band"):
        worked.layer = put_strip(key, place, sheet, worked.assumed)
    elif key in ("each", "each-weight"):
        _each(worked, place, way)
    elif key == "by-length" and place.rate is None:
        put_row_rate(sheet, worked.assumed)
    elif key.startswith("by-"):
        _by_rate(worked, place)
    elif key == "per-volume":
        assert place.per_volume is not None
        amount, per = place.per_volume
        low, high = base(amount)
        over = base(per)
        sheet.give("castings for a volume", low / over[1], high / over[0])
    elif key in ("top-dress", "layer-dug-in"):
        worked.layer = layers_of(worked, place)
        sheet.give("layer", *worked.layer)
    else:
        worked.share = share_said(worked, place)
        sheet.give("share", *worked.share)
        if place.soil is not None and place.shape.form == "none":
            sheet.give("soil" if way == "incorporate" else "finished mix", *base(place.soil))
    if key.endswith("weight"):
        worked.weight = sheet.reach("weight", worked.relations)
        worked.target = "weight"
        worked.castings = sheet.reach("castings", worked.relations)
    else:
        worked.castings = sheet.reach("castings", worked.relations)
        worked.weight = sheet.reach("weight", worked.relations) if worked.castings else None
    if worked.castings is None:
        raise Unworkable("size", f"how big is the {place.printed or place.noun or 'place'}?", "size")
    if key == "layer-dug-in":
        worked.share = sheet.reach("share", worked.relations)
    worked.mix = sheet.reach("finished mix", worked.relations) if worked.share is not None else None
    if worked.share is None and key == "per-volume" and worked.castings and (mix := sheet.get("finished mix")):
        worked.share = (worked.castings[0] / (mix[0] + worked.castings[0]), worked.castings[1] / (mix[1] + worked.castings[1]))
    if key == "by-area":
        worked.layer = sheet.reach("layer", worked.relations)
    return worked


def _way_key(place: Place, way: str) -> str:
    """Which relations of a way apply: an amount for one, for a length, for an area, or the way's own."""
    if place.rate is not None:
        heavy = "-weight" if place.rate.dimension == "weight" else ""
        if place.rate_per is None:
            return "each" + heavy
        return ("by-length" if place.rate_per.dimension == "length" else "by-area") + heavy
    if place.per_volume is not None:
        return "per-volume"
    if strip := strip_of(place):
        return strip
    if along_a_row(place):
        return "by-length"
    if way == "planting-hole" and place.share is not None and place.shape.form != "none":
        return "blend"  # a share of what goes back into a hole of known size
    if way in ("side-dress", "planting-hole"):
        return "each"
    if way == "incorporate" and place.layer and place.share is None and not place.recipe:
        return "layer-dug-in" if place.depth is not None else "top-dress"  # how deep it is dug is not told: the layer is the amount
    return way


def _each(worked: Worked, place: Place, way: str) -> None:
    """So much for each: what was said, or the usual amount of the way, noted as assumed."""
    sheet = worked.sheet
    if place.rate is not None:
        low, high = base(place.rate)
        if place.rate_altogether:
            sheet.give("count", 1.0)
        elif place.shape.form == "cells" and "per-cell" in place.hints:
            count = sheet.values["count"]
            sheet.give("count", count[0] * (place.shape.number or 1), count[1] * (place.shape.number or 1))
    else:
        fact_id = "planting-hole.per-plant" if way == "planting-hole" else "side-dress.per-plant"
        low, high = base(default_span(fact_id))
        what = "for each hole" if way == "planting-hole" else "for each plant"
        worked.assumed.append(("default-rate", f"{said(fact_id)} {what} ({source(fact_id)})"))
    if place.count is None and not place.rate_altogether:
        worked.assumed.append(("one", "one of them"))
    sheet.give("weight for one" if place.rate is not None and place.rate.dimension == "weight" else "castings for one", low, high)


def _by_rate(worked: Worked, place: Place) -> None:
    """So much for so much ground or length of a row."""
    assert place.rate is not None and place.rate_per is not None
    low, high = base(place.rate)
    per = base(place.rate_per)
    kind = "length" if place.rate_per.dimension == "length" else "area"
    name = f"{'weight' if place.rate.dimension == 'weight' else 'rate'} for {'a length' if kind == 'length' else 'an area'}"
    worked.sheet.give(name, low / per[1], high / per[0])
