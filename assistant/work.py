"""One place worked out: from its sizes and its way to the castings it takes."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache
from typing import TYPE_CHECKING

from grammar.quantities import Span, factor, unit
from grammar.query import Place, Query

from .beside import along_a_row, put_row_rate, put_strip, relations_of_strip, strip_of
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

if TYPE_CHECKING:
    from .knowledge.containers import Container

#: How the dimensions of a shape are called on the sheet.
_DIM_NAMES = {"rise": "height of triangle", "inner": "inner radius", "outer": "outer radius", "bottom": "bottom diameter", "height": "depth",
              "flats": "across the flats", "corners": "across the corners"}

_MIX_OF_VOLUME = Sum("mix-is-volume", "finished mix", (("whole volume", 1),), "algebra")
_SOIL_OF_VOLUME = Sum("soil-is-volume", "soil", (("whole volume", 1),), "algebra")
#: Steps that only give another name to a value are not shown.
RENAMING = frozenset({_MIX_OF_VOLUME.id, _SOIL_OF_VOLUME.id})


class Unworkable(Exception):
    """A question that only the engine can find: `code`, a sentence, and what is needed."""

    def __init__(self, code: str, text: str, needs: str = "") -> None:
        super().__init__(text)
        self.code, self.text, self.needs = code, text, needs


@dataclass
class Density:
    """The density in force: low and high are equal, with the span of the trade beside them."""

    value: Value
    said: bool
    span: Value | None = None


@dataclass
class Worked:
    """What is known of one place after it was worked out."""

    place: Place
    sheet: Sheet
    relations: tuple[Relation, ...]
    castings: Value | None = None
    weight: Value | None = None
    share: Value | None = None
    layer: Value | None = None
    mix: Value | None = None
    target: str = "castings"
    assumed: list[tuple[str, str]] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)


def as_aside(note: str) -> str:
    """A note as it stands behind a semicolon: "baskets differ in depth"."""
    return f"{note[:1].lower()}{note[1:].rstrip('.')}"


def base(span: Span) -> Value:
    """A span in coherent SI units."""
    low, high, name = span
    size = unit(name).factor
    return low * size, high * size


def share_of(span: Span) -> Value:
    return span.low / 100, span.high / 100


@lru_cache(maxsize=64)
def _say(fact_id: str) -> str:
    return facts().rate(fact_id).said


@lru_cache(maxsize=64)
def _source(fact_id: str) -> str:
    return facts().footing(facts().rate(fact_id))


@lru_cache(maxsize=64)
def default_span(fact_id: str) -> Span:
    """A fact's span in its own unit."""
    fact = facts().rate(fact_id)
    return Span(fact.low, fact.high, fact.unit)


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


def put_shape(worked: Worked, place: Place) -> None:
    """Puts the dimensions of a place on its sheet. Raises Unworkable for sizes that contradict or are out of scale."""
    sheet = worked.sheet
    shape = place.shape
    _sane_dims(place, sheet.get("density"))
    for name, span in shape.dims.items():
        sheet.give(_DIM_NAMES.get(name, name), *base(span))
    if shape.form == "ring":
        if "inner" not in shape.dims:
            clear = facts().rate("tree.trunk-clear")
            sheet.give("inner radius", *base(Span(clear.low, clear.low, clear.unit)))
            worked.assumed.append(("trunk-clear", f"{_say('tree.trunk-clear')} kept clear around the trunk"))
        if "outer" in shape.dims and "inner" in shape.dims and base(shape.dims["outer"])[0] <= base(shape.dims["inner"])[1]:
            raise Unworkable("contradiction", "the outer edge lies inside the part kept clear; which of the two is right?", "size")
        if "across" in shape.dims and "inner" in shape.dims and base(shape.dims["across"])[0] <= 2 * base(shape.dims["inner"])[1]:
            raise Unworkable("contradiction", "the outer edge lies inside the part kept clear; which of the two is right?", "size")
        if "outer" not in shape.dims and "across" not in shape.dims:
            raise Unworkable("size", "how far out does it go from the trunk?", "outer")
    if shape.form == "class":
        _nursery(worked, place)
    elif shape.form == "cells":
        _cells(worked, place)
    elif shape.form == "named":
        _named(worked, place)
    elif shape.form == "pot":
        _pot(worked, place)
    if place.depth is not None and "depth" not in sheet.values:
        sheet.give("depth", *base(place.depth))
    count = 1.0 if place.altogether or place.count is None else place.count
    high = 1.0 if place.altogether else (place.count_high or count)
    sheet.give("count", count, high)
    sheet.give("portion", place.portion if place.portion is not None else 1.0)
    left = 0.0
    for corner in place.minus:
        part = Sheet()
        for name, span in corner.dims.items():
            part.give(_DIM_NAMES.get(name, name), *base(span))
        area = part.reach("area", FORMS[corner.form])
        if area is None:
            raise Unworkable("size", "how big is the part that is left out?", "size")
        left += area[1]
    sheet.give("left out", left)


def _something_left(worked: Worked) -> None:
    """Raises Unworkable where as much is taken off an area as there is of it."""
    whole, left = worked.sheet.reach("whole area", worked.relations), worked.sheet.get("left out")
    if whole is not None and left is not None and left[1] >= whole[0] * (1 - 1e-9):
        raise Unworkable("contradiction", "what is left out is as big as the whole or bigger; which of the two sizes is right?", "size")


def _nursery(worked: Worked, place: Place) -> None:
    number = place.shape.number
    container = facts().container(f"nursery-{number}")
    if container is None or container.volume is None:
        raise Unworkable("class", f"#{number} is no nursery class that is known here; how much does the pot hold?", "volume")
    volume = container.volume
    worked.sheet.give("volume", *base(Span(volume.low, volume.high, volume.unit)))
    litres = base(Span(volume.low, volume.high, volume.unit))
    worked.assumed.append(("nursery-class", f"a #{number} nursery pot holds {litres[0] * 1000:.1f} to {litres[1] * 1000:.1f} L "
                           f"({facts().cite(container)}{'; sources differ' if volume.disputed else ''}); the class is not a size in gallons"))  # fmt: skip


def _named(worked: Worked, place: Place) -> None:
    """A size that is known by its name: its volume is a fact of the trade."""
    container = facts().container(place.shape.name)
    if container is None or container.volume is None:
        raise Unworkable("size", f"how much does one {place.shape.name.replace('-', ' ')} hold?", "volume")
    worked.sheet.give("volume", *container.volume.span.base)
    worked.assumed.append(("known-size", f"a {container.name} holds {container.volume.said} ({facts().cite(container)})"))


def _cells(worked: Worked, place: Place) -> None:
    number = place.shape.number
    worked.sheet.give("cells", float(number or 0))
    if place.cell is not None:
        worked.sheet.give("one cell", *base(place.cell))
        return
    if place.rate is not None:
        return  # so much for each: the size of a cell does not matter
    container = facts().container(f"tray-{number}")
    if container is None or container.volume is None:
        raise Unworkable("cells", f"how much does one cell of a {number}-cell tray hold?", "volume")
    volume = container.volume
    worked.sheet.give("one cell", *base(Span(volume.low, volume.high, volume.unit)))
    worked.assumed.append(("cells", f"one cell of a {number}-cell tray holds {volume.said} ({facts().cite(container)})"))


def _pot(worked: Worked, place: Place) -> None:
    dims = place.shape.dims
    if place.way == "top-dress":
        return
    if "height" in dims:
        if place.depth is not None and place.depth.base[1] + 1e-9 < dims["height"].base[0]:
            if "bottom" in dims:
                raise Unworkable("size", "it widens towards the rim: how wide is it at the height that it is filled to?", "size")
            worked.sheet.give("depth", *base(place.depth))
            worked.assumed.append(("straight-sides", "straight sides; a tapered pot holds less"))
        elif "bottom" not in dims:
            worked.assumed.append(("straight-sides", "straight sides, filled to the rim; a tapered pot holds less"))
        return
    if "diameter" in dims and place.depth is None:
        basket = _basket(place)
        if basket is not None:
            assert basket.volume is not None
            worked.sheet.give("volume", *basket.volume.span.base)
            worked.assumed.append(("known-size", f"a {basket.name} holds {basket.volume.said} ({facts().cite(basket)}); {as_aside(basket.note)}"))
            return
        standard = facts().container(place.noun)
        if standard is None or standard.height is None:
            standard = facts().container("pot-standard")
        assert standard is not None and standard.height is not None
        low, high = base(dims["diameter"])
        fill = facts().rate("container.fill")
        filled = fill.single * factor(fill.unit)
        worked.sheet.give("depth", low * standard.height * filled, high * standard.height * filled)
        taper = facts().rate("container.taper").single
        worked.sheet.give("bottom diameter", low * taper, high * taper)
        worked.relations = tuple(TAPERED if r is STRAIGHT else r for r in worked.relations)
        tall = "as tall as it is wide" if standard.height == 1 else f"{standard.height:g} times as tall as it is wide"
        article = "an" if standard.name[0] in "aeiou" else "a"
        worked.assumed.append(("pot-proportions", f"{article} {standard.name}, {tall} and tapering to "
                               f"{taper:g} of that at the bottom, filled to {filled * 100:g} % ({facts().cite(standard)})"))  # fmt: skip


def _basket(place: Place) -> Container | None:
    """The facts of a hanging basket of this width, or None."""
    if place.noun != "hanging-basket":
        return None
    inches = place.shape.dims["diameter"].to("inch")
    return facts().container(f"basket-{inches.low:g}") if inches.is_point else None


def _sane_dims(place: Place, density: Value | None) -> None:
    """Raises Unworkable for a size out of any sane scale; the scale is in the facts."""
    container = place.kind == "container"
    for name, span in place.shape.dims.items():
        low, high = base(span)
        dimension = span.dimension
        if dimension == "length":
            limit = "limits.container-width" if container else "limits.length"
        elif dimension == "area":
            limit = "limits.area"
        else:
            limit = "limits.container-volume" if container else "limits.volume"
        check_scale(limit, low, high, f"the {name}", span)
    if place.depth is not None:
        check_scale("limits.depth", *base(place.depth), "the depth", place.depth)
    for layer in place.layer:
        check_scale("limits.layer", *base(layer), "the layer", layer)
    if place.count is not None:
        most = facts().rate("limits.count-beds" if place.kind == "ground" else "limits.count")
        if not most.low <= place.count <= most.high:
            raise Unworkable("scale", f"{place.count:,.0f} of them is out of any scale known here; is that the number meant?", "count")
        if place.count != int(place.count):
            raise Unworkable("count", f"{place.count:g} of them: how many whole ones?", "count")
    if place.rate is not None and place.rate_per is None and not place.rate_altogether:
        low, high = base(place.rate)
        if place.rate.dimension == "weight" and density is not None:
            low, high = low / density[1], high / density[0]
        if place.rate.dimension == "volume" or density is not None:
            check_scale("limits.per-plant", low, high, "the amount for each", place.rate)


def check_scale(limit_id: str, low: float, high: float, what: str, span: Span) -> None:
    """Raises Unworkable when a value lies outside a declared limit."""
    least, most = _scale(limit_id)
    if low < least or high > most:
        from .units import span_text

        raise Unworkable("scale", f"{what} of {span_text(span)} is out of any scale known here; is that the amount meant?", "size")


@lru_cache(maxsize=64)
def _scale(limit_id: str) -> Value:
    """The ends of a declared limit in coherent SI units, and a hair's breadth beyond."""
    limit = facts().rate(limit_id)
    size = unit(limit.unit).factor
    return limit.low * size * (1 - 1e-9), limit.high * size * (1 + 1e-9)


def check_volume(castings: Value) -> None:
    """Raises Unworkable for an amount of castings beyond any sane scale."""
    limit = facts().rate("limits.volume")
    size = unit(limit.unit).factor
    if castings[1] > limit.high * size or castings[1] <= 0:
        raise Unworkable("scale", f"that would take {castings[1]:.3g} m³ of castings, beyond any scale known here; check the sizes", "size")


def layers_of(worked: Worked, place: Place) -> Value:
    """The layer of a place: what was said, applications added up, or the usual one, noted as assumed."""
    if place.layer:
        low = sum(base(layer)[0] for layer in place.layer)
        high = sum(base(layer)[1] for layer in place.layer)
        if len(place.layer) > 1:
            worked.notes.append("season")
        return low, high
    if place.noun == "lawn":
        raise Unworkable("layer", f"how thick a layer? On a lawn {_say('lawn.layer')} is usual, so that the grass shows through", "layer")
    indoors = place.kind == "container" and ("houseplant" in place.hints or place.crop == "houseplant")
    fact_id = "houseplant.layer" if indoors else "top-dress.layer"
    what = "the usual dressing of a pot indoors" if indoors else "the usual top-dressing"
    worked.assumed.append(("default-layer", f"a layer of {_say(fact_id)}, {what} ({_source(fact_id)})"))
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
    worked.assumed.append(("default-share", f"{fact.single:g} % castings, the usual share ({_source(fact_id)})"))
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
        _something_left(worked)
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
        worked.assumed.append(("default-rate", f"{_say(fact_id)} {what} ({_source(fact_id)})"))
    if place.count is None and not place.rate_altogether:
        worked.assumed.append(("one", "one of them"))
    sheet.give("weight for one" if place.rate is not None and place.rate.dimension == "weight" else "castings for one", low, high)


def _by_rate(worked: Worked, place: Place) -> None:
    assert place.rate is not None and place.rate_per is not None
    low, high = base(place.rate)
    per = base(place.rate_per)
    kind = "length" if place.rate_per.dimension == "length" else "area"
    name = f"{'weight' if place.rate.dimension == 'weight' else 'rate'} for {'a length' if kind == 'length' else 'an area'}"
    worked.sheet.give(name, low / per[1], high / per[0])
