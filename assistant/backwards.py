"""From castings at hand to what they do: how far, how thick, what share, how many, how much mix."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from grammar.quantities import factor, unit
from grammar.query import Place, Query, Shape

from .dimensions import put_shape
from .knowledge import facts
from .relations import (
    FINISHED_MIX,
    MIXED_DEPTH,
    RECTANGLE,
    SHARE_OF_DEPTHS,
    SHARE_OF_PARTS,
    TEA_FOR_AREA,
    WAYS,
    WHOLE_ONES,
    Relation,
    Rule,
    Value,
)
from .sheet import Sheet
from .teas import tea_for_area
from .units import printed, span_text, symbol
from .work import layers_of, relations_for, share_said, work
from .worked import Density, Unworkable, Worked, base, default_span

ASKED = frozenset({"area", "plants", "containers", "beds", "layer", "share", "mix", "soil", "length"})
_LITRE = factor("litre")

class Part(NamedTuple):
    """A named amount of a step, in coherent SI units; `unit` where it was spoken of in one of its own."""

    name: str
    value: Value
    dimension: str
    unit: str = ""


class Extra(NamedTuple):
    """A step that stands on no sheet: the rule, what was put in, and what it gives."""

    rule: Rule
    used: tuple[Part, ...]
    gave: Part


@dataclass
class Result:
    """What a backwards question gives, in the unit of the machine output."""

    of: str
    value: Value
    unit: str
    castings: Value | None = None
    share: Value | None = None
    layer: Value | None = None
    way: str | None = None
    sheet: Sheet | None = None
    target: str = ""
    worked: Worked | None = None
    assumed: list[tuple[str, str]] = field(default_factory=list)
    extra: list[Extra] = field(default_factory=list)
    #: steps that come before those of the sheet
    before: list[Extra] = field(default_factory=list)
    #: what the figure does not say by itself: how long a strip of the area is
    length: str = ""


def solve(query: Query, have: Value | None, density: Density) -> Result:
    """The answer to a backwards question. Raises Unworkable where something is missing."""
    place = query.places[0] if query.places else Place()
    asked = query.asked
    if have is not None and len(query.places) > 1 and (asked == "layer" or (asked == "share" and not is_layer_in_depth(query))):
        return _of_all(query, have, density)
    if asked == "share":
        return _share(place, query, have, density)
    if have is None:
        raise Unworkable("have", "how much castings is there to go by?", "have")
    if asked in ("area", "length"):
        return _area(place, query, have, density)
    if asked == "layer":
        return _layer(place, query, have, density)
    if asked in ("mix", "soil"):
        return _mix(place, query, have)
    return _count(_counted(query, place), query, have, density)


def _of_all(query: Query, have: Value, density: Density) -> Result:
    """How thick a layer, or what share, where the castings at hand go over several places together."""
    from .spread_over import together

    asked: Literal["layer", "share"] = "layer" if query.asked == "layer" else "share"
    found = together(query, asked, density)
    name, dimension = ("treated area", "area") if asked == "layer" else ("whole volume", "volume")
    added = Extra(found.rule, tuple(Part(name, size, dimension) for size in found.each), Part(name, found.whole, dimension))
    result = (_layer if asked == "layer" else _share)(found.place, query, have, density)
    result.before.append(added)
    return result


#: What is counted, by the kind of its place.
_KINDS = {"plants": ("plant", "hole"), "containers": ("container",), "beds": ("ground",)}


def _counted(query: Query, first: Place) -> Place:
    """The place of which so many are asked. Raises Unworkable where another of the request takes castings too: they may come off first."""
    place = next((one for one in query.places if one.kind in _KINDS.get(query.asked, ())), first)
    others = [one for one in query.places if one is not place and one.kind and (one.share or one.layer or (one.rate and one.count)) and one.shape.form != "none"]
    others += [one for one in query.places if one is not place and one.kind in ("plant", "hole") and one.rate and one.count]
    if others:
        noun = others[0].printed or others[0].noun
        raise Unworkable("one-at-a-time", f"is that of all the castings there are, or of what the {noun} leaves? Ask for one at a time, please", "one")
    return place


def _opened(place: Place, density: Density, way: str) -> Worked:
    worked = Worked(place, Sheet(), relations_for(place, way))
    put_shape(worked, place)
    worked.sheet.give("density", *density.value)
    return worked


def _along_a_row(place: Place, query: Query, have: Value, density: Density) -> None:
    """ "how far do 40 lb go along a row at a cup a foot": a length, of which there is no area until a width is told.

    Raises Unworkable with the length in its text: the figure is known, and only what an area needs is asked for.
    """
    rate, per = place.rate, place.rate_per
    usual = ""
    if rate is None:
        fact = facts().rate("side-dress.per-row-length")
        if not (place.noun in ("row", "trench") and place.way == "side-dress"):
            return
        size = unit(fact.unit).factor
        low, high, usual = fact.low * size, fact.high * size, f", the usual rate ({facts().footing(fact)})"
        said = fact.said
    elif per is not None and per.dimension == "length":
        low, high = base(rate)
        if rate.dimension == "weight":
            low, high = low / density.value[1], high / density.value[0]
        low, high = low / base(per)[1], high / base(per)[0]
        said = f"{span_text(rate)} per {symbol(per.unit) if per.low == per.high == 1 else span_text(per)}"
    else:
        return
    names = ("metre", "foot") if query.metric or (per is not None and "metre" in per.unit) else ("foot", "metre")
    texts = [printed(have[0] / high / factor(name), have[1] / low / factor(name), name) for name in names]
    weighed = any(span.dimension == "weight" for span in query.have) != (rate is not None and rate.dimension == "weight")
    rests = f", at {printed(density.value[0] / 1000, density.value[1] / 1000, 'kilogram / litre')}" if weighed and not density.said else ""
    raise Unworkable("width", f"at {said}{usual} that does a row of {texts[0]} ({texts[1]}){rests}. How wide a strip of it do the castings "
                     "cover, if you want its area too?", "width")  # fmt: skip


def _area_of_tea(place: Place, have: Value) -> Result:
    """How far a tea goes, poured on soil: by the rate that is said for an area, else by the usual one, noted as assumed."""
    worked = Worked(place.model_copy(update={"shape": Shape(form="area")}), Sheet(), (TEA_FOR_AREA,))
    if place.rate is not None and place.rate_per is not None and place.rate.dimension == "volume" and place.rate_per.dimension == "area":
        low, high = base(place.rate)
        per = base(place.rate_per)
        worked.sheet.give("tea for an area", low / per[1], high / per[0])
    elif place.rate is not None or place.layer:
        raise Unworkable("rate", "a tea is poured, so much for an area: how much for 1000 square feet, or for a square metre?", "amount")
    else:
        (low, high), assumed = tea_for_area()
        worked.sheet.give("tea for an area", low, high)
        worked.assumed.append(assumed)
    worked.sheet.give("water", *have)
    area = worked.sheet.reach("treated area", worked.relations)
    assert area is not None
    return Result("area", area, "m2", way="tea", sheet=worked.sheet, target="treated area", worked=worked, assumed=worked.assumed)


def _area(place: Place, query: Query, have: Value, density: Density) -> Result:
    if query.have_is_tea:
        return _area_of_tea(place, have)
    if "width" not in place.shape.dims:
        _along_a_row(place, query, have, density)
    way = place.way or ("blend" if place.share is not None else "top-dress")
    plain = place.model_copy(update={"shape": Shape(form="area"), "way": way, "minus": (), "portion": None})
    along = place.rate_per is not None and place.rate_per.dimension == "length" and "width" in place.shape.dims
    if place.rate is not None and place.rate_per is not None and (place.rate_per.dimension == "area" or along):
        low, high = base(place.rate)
        per = base(place.rate_per)
        if along:  # the rate for a length of a strip so wide
            across = base(place.shape.dims["width"])
            per = (per[0] * across[0], per[1] * across[1])
        if place.rate.dimension == "weight":
            low, high = low / density.value[1], high / density.value[0]
        sheet = Sheet()
        sheet.give("rate for an area", low / per[1], high / per[0])
        sheet.give("castings", *have)
        relations: tuple[Relation, ...] = WAYS["by-area"]
        target = "treated area"
        area = sheet.reach(target, relations)
        worked = Worked(plain, sheet, relations)
    else:
        if way not in WAYS:
            raise Unworkable("way", "castings that go to each plant cover no area; how thick a layer, or how many plants?", "layer")
        worked = _opened(plain.model_copy(update={"count": None}), density, way)
        if way == "top-dress":
            worked.layer = layers_of(worked, plain)
            worked.sheet.give("layer", *worked.layer)
        else:
            if place.depth is None:
                raise Unworkable("depth", "how deep is the soil?", "depth")
            worked.share = share_said(worked, plain)
            worked.sheet.give("share", *worked.share)
        worked.sheet.give("castings", *have)
        target = "treated area"
        area = worked.sheet.reach(target, worked.relations)
    if area is None:
        raise Unworkable("layer", "how thick a layer, or what share of what depth?", "layer")
    extra = []
    text = ""
    if query.asked == "length" or "width" in place.shape.dims:
        width = place.shape.dims.get("width")
        if width is not None:
            low, high = base(width)
            length = (area[0] / high, area[1] / low)
            name = "metre" if query.metric else "foot"
            text = printed(length[0] / factor(name), length[1] / factor(name), name)
            extra.append(Extra(RECTANGLE, (Part("area", area, "area"), Part("width", (low, high), "length", width.unit)),
                               Part("length", length, "length", name)))  # fmt: skip
    return Result("area", area, "m2", castings=have, share=worked.share, layer=worked.layer, way=way, sheet=worked.sheet, target=target,
                  worked=worked, assumed=worked.assumed, extra=extra, length=text)  # fmt: skip


def _layer(place: Place, query: Query, have: Value, density: Density) -> Result:
    worked = _opened(place, density, "top-dress")
    worked.sheet.give("castings", *have)
    layer = worked.sheet.reach("layer", worked.relations)
    if layer is None:
        raise Unworkable("size", "over what area?", "area")
    return Result("layer", (layer[0] * 1000, layer[1] * 1000), "mm", castings=have, layer=layer, way="top-dress", sheet=worked.sheet,
                  target="layer", worked=worked, assumed=worked.assumed)  # fmt: skip


def is_layer_in_depth(query: Query) -> bool:
    """Whether the share is asked of a layer that was mixed into a depth, which needs neither an area nor an amount."""
    place = query.places[0] if query.places else None
    at_hand = query.have or query.loads or query.budget is not None or (query.pack is not None and query.pack.size is not None)
    return query.asked == "share" and place is not None and bool(place.layer) and place.depth is not None and not at_hand


def _share(place: Place, query: Query, have: Value | None, density: Density) -> Result:
    if place.recipe and have is None:
        part = sum(share for name, share in place.recipe if name == "castings")
        used = tuple(Part(name, (share, share), "share") for name, share in place.recipe)
        extra = [Extra(SHARE_OF_PARTS, used, Part("share", (part, part), "share"))]
        return Result("share", (part, part), "fraction", share=(part, part), way="blend", extra=extra)
    if is_layer_in_depth(query):
        one = None if place.shape.form == "none" else work(place.model_copy(update={"way": "top-dress"}), query, density)
        assert place.depth is not None
        depth = base(place.depth)
        bare = Worked(place, Sheet(), ())
        layer = layers_of(bare, place) if one is None else one.layer
        assert layer is not None
        share = (layer[0] / (depth[1] + layer[0]), layer[1] / (depth[0] + layer[1]))
        mixed = (depth[0] + layer[0], depth[1] + layer[1])
        spoken = Part("layer", layer, "length", place.layer[0].unit)
        whole = Part("mixed depth", mixed, "length", place.depth.unit)
        extra = [Extra(MIXED_DEPTH, (Part("depth", depth, "length", place.depth.unit), spoken), whole),
                 Extra(SHARE_OF_DEPTHS, (spoken, whole), Part("share", share, "share"))]  # fmt: skip
        return Result("share", share, "fraction", castings=one.castings if one is not None else None, share=share, layer=layer, way="incorporate", extra=extra)
    if have is None:
        raise Unworkable("have", "how much castings goes in?", "have")
    added = place.way == "incorporate" or place.soil is not None or bool({"existing-soil"} & place.hints)
    if place.soil is not None and place.shape.form == "none":
        sheet = Sheet()
        sheet.give("soil", *base(place.soil))
        sheet.give("castings", *have)
        relations: tuple[Relation, ...] = (FINISHED_MIX, *WAYS["blend"])
        share_found = sheet.reach("share", relations)
        worked = Worked(place, sheet, relations)
    else:
        way = "incorporate" if added else "blend"
        worked = _opened(place, density, way)
        worked.sheet.give("castings", *have)
        share_found = worked.sheet.reach("share", worked.relations)
    if share_found is None:
        raise Unworkable("mix", "in how much soil or mix?", "mix")
    if share_found[1] > 1 + 1e-9:
        raise Unworkable("contradiction", "that is more castings than the whole holds; which amount is right?", "have")
    return Result("share", share_found, "fraction", castings=have, share=share_found, way="incorporate" if added else "blend",
                  sheet=worked.sheet, target="share", worked=worked, assumed=worked.assumed)  # fmt: skip


def _mix(place: Place, query: Query, have: Value) -> Result:
    worked = Worked(place, Sheet(), ())
    share = share_said(worked, place)
    sheet = worked.sheet
    sheet.give("share", *share)
    sheet.give("castings", *have)
    worked.relations = (FINISHED_MIX, *WAYS["blend"])
    target = "finished mix" if query.asked == "mix" else "soil"
    found = sheet.reach(target, worked.relations)
    if found is None:
        raise Unworkable("share", "what share of castings should it have?", "share")
    return Result(query.asked, (found[0] / _LITRE, found[1] / _LITRE), "L", castings=have, share=share, way="blend", sheet=sheet,
                  target=target, worked=worked, assumed=worked.assumed)  # fmt: skip


def _count(place: Place, query: Query, have: Value, density: Density) -> Result:
    one_place = place.model_copy(update={"count": 1.0, "count_high": None, "altogether": False})
    if query.asked == "plants" and place.rate is None and place.way not in ("side-dress", "planting-hole"):
        one_place = one_place.model_copy(update={"way": "side-dress", "kind": "plant"})
    if query.asked == "plants" and query.have_is_tea and place.rate is None:
        one_place = one_place.model_copy(update={"rate": default_span("tea.drench-per-plant")})
    one = work(one_place, query, density)
    need = one.castings
    assert need is not None
    exact = place.rate is not None and place.rate.dimension == "weight" and query.have and query.have[0].dimension == "weight"
    if exact:
        assert place.rate is not None
        low, high = base(place.rate)
        total = base(query.have[0])
        counts = WHOLE_ONES.counts(total, (low, high))
        used = (Part("castings", total, "weight", query.have[0].unit), Part("castings for one", (low, high), "weight", place.rate.unit))
    else:
        counts = WHOLE_ONES.counts(have, need)
        spoken = place.rate.unit if place.rate is not None and place.rate_per is None and place.rate.dimension == "volume" else ""
        at_hand = query.have[0].unit if len(query.have) == 1 and query.have[0].dimension == "volume" else ""
        used = (Part("castings", have, "volume", at_hand), Part("castings for one", need, "volume", spoken))
    extra = [Extra(WHOLE_ONES, used, Part(query.asked, (float(counts[0]), float(counts[1])), "number"))]
    way = "tea" if query.have_is_tea else one_place.way
    return Result(query.asked, (float(counts[0]), float(counts[1])), "count", castings=None if query.have_is_tea else have,
                  share=one.share, layer=one.layer, way=way, sheet=one.sheet, target=one.target, worked=one, assumed=one.assumed,
                  extra=extra)  # fmt: skip
