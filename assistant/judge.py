"""Judgements: what the worked values say of themselves, and the cautions that the circumstances call for.

Texts, levels and sources are data (`knowledge/judgements.toml`, `cautions.toml`); here stands only when
each is due.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from grammar.quantities import Span, unit
from grammar.query import Place, Query
from grammar.unchecked import unchecked

from .answer import Advice
from .knowledge import facts
from .units import Printer
from .worked import Worked, base

_advice = unchecked(Advice)

#: Shares and layers compare with the limits as they are printed: 20 % exactly is no more than 20 %.
_SLACK = 1e-9


@lru_cache(maxsize=64)
def _limit(fact_id: str) -> float:
    """A figure of the facts in the coherent SI unit."""
    fact = facts().rate(fact_id)
    return fact.single * unit(fact.unit).factor


def judgement(code: str, **values: str) -> Advice:
    """A judgement of the facts with the answer's own figures in it."""
    made = facts().judgement(code)
    text = made.say(**{name: values[name] for name in made.places})
    return _advice(code=code, level=made.level, text=text, source=facts().cite(made))


def judge_tea(parts: tuple[float, float]) -> list[Advice]:
    """What a tea's strength, castings to water, calls for."""
    fact = facts().rate("tea.ratio")
    if parts[1] > 0 and 1 / parts[1] < fact.low - _SLACK:
        return [judgement("tea-strong", water=f"{1 / parts[1]:.3g}")]
    if parts[0] > 0 and 1 / parts[0] > fact.high + _SLACK:
        return [judgement("tea-weak", water=f"{1 / parts[0]:.3g}")]
    return []


def judge(worked: list[Worked], query: Query, printer: Printer) -> list[Advice]:
    """The judgements on every place, warnings first."""
    found: list[Advice] = []
    for one in worked:
        found += _share(one, printer)
        found += _layer(one, printer)
        found += _depth(one, printer)
    if len(found) < 2:
        return found
    order = {"warning": 0, "caution": 1, "note": 2}
    unique = {(a.code, a.text): a for a in found}
    return sorted(unique.values(), key=lambda a: order[a.level])


def _share(one: Worked, printer: Printer) -> list[Advice]:
    if one.share is None:
        return []
    low, high = one.share
    if not _of_share(high):
        return []
    shown = printer.show(low, high, "share")
    typical = facts().rate("blend.share").single / 100
    at_ten = "less"
    if one.mix is not None and one.castings is not None:
        amount = (one.mix[0] * typical, one.mix[1] * typical)
        if one.place.way == "incorporate" and (soil := one.sheet.get("soil")):
            ratio = typical / (1 - typical)
            amount = (soil[0] * ratio, soil[1] * ratio)
        at_ten = printer.show(*amount, "volume")
    return judge_share(low, high, shown, at_ten)


def judge_share(low: float, high: float, shown: str, at_ten: str) -> list[Advice]:
    """What a share by volume calls for: little effect, diminishing, or a warning past the limit."""
    code = _of_share(high)
    return [judgement(code, share=shown, at_ten=at_ten)] if code else []


def _of_share(high: float) -> str:
    """The judgement on a share whose upper end this is, or an empty string."""
    if high > _limit("share.harm") + _SLACK:
        return "share-harm"
    if high > _limit("share.diminishing") + _SLACK:
        return "share-diminishing"
    return "share-little" if high < _limit("share.little") - _SLACK else ""


def _layer(one: Worked, printer: Printer) -> list[Advice]:
    if one.layer is not None and one.place.way == "incorporate" and one.place.depth is None and one.layer[1] > _limit("layer.thick") + _SLACK:
        return [judgement("layer-dug-in-much", layer=printer.show(*one.layer, "length", "millimetre" if printer.metric else "inch"))]
    if one.layer is None or one.place.way not in ("top-dress", None):
        return []
    low, high = one.layer
    if len(one.place.layer) > 1:  # the sum is the season's to judge
        low, high = max(base(layer)[0] for layer in one.place.layer), max(base(layer)[1] for layer in one.place.layer)
    code = _of_layer(one, low, high)
    name = "millimetre" if printer.metric else "inch"
    found = [judgement(code, layer=printer.show(low, high, "length", name))] if code else []
    if "mixed-in" in one.place.hints and (depth := one.place.depth) is not None:
        into = base(depth)
        share = (low / (into[1] + low), high / (into[0] + high))
        text = printer.show(*share, "share")
        found.append(judgement("mixed-in-share", depth=printer.show(*into, "length", depth.unit), share=text))
        found += judge_share(*share, text, "less")
    return found


def _of_layer(one: Worked, low: float, high: float) -> str:
    """The judgement on a layer from low to high, or an empty string."""
    if one.place.noun == "lawn" and high > _limit("lawn.layer-thick") + _SLACK:
        return "lawn-layer-thick"
    if high > _limit("layer.smothering") + _SLACK:
        return "layer-smothering"
    if high > _limit("layer.thick") + _SLACK:
        return "layer-thick"
    if _indoors(one):
        return ""  # a pot indoors has a thinner layer of its own
    if low < _limit("layer.scant") - _SLACK:
        return "layer-scant"
    return "layer-thin" if low < _limit("layer.thin") - _SLACK and one.place.noun != "lawn" else ""


def _indoors(one: Worked) -> bool:
    return one.place.kind == "container" and ("houseplant" in one.place.hints or one.place.crop == "houseplant")


def _depth(one: Worked, printer: Printer) -> list[Advice]:
    place = one.place
    if place.depth is None or place.kind not in ("ground", "") or place.way not in ("blend",) or place.noun in ("row", "trench"):
        return []
    low, high = base(place.depth)
    plant = facts().plant(place.crop) if place.crop else None
    deep = facts().rate("bed.depth-deep-rooted")
    if plant is not None and "deep-rooted" in plant.traits and high < deep.low * unit(deep.unit).factor - _SLACK:
        shown = printer.show(low, high, "length", place.depth.unit)
        return [judgement("bed-shallow-deep-rooted", depth=shown, plant=place.crop.replace("-", " "))]
    usual = facts().rate("bed.depth")
    if high < usual.low * unit(usual.unit).factor - _SLACK:
        return [judgement("bed-shallow", depth=printer.show(low, high, "length", place.depth.unit))]
    return []


def cautions(worked: list[Worked], query: Query, *, left_over: bool = False) -> list[Advice]:
    """The cautions of the trade that hold for what was asked; `left_over` where castings remain to be kept."""
    conditions: set[Any] = {"any-castings", "storage"} if left_over else {"any-castings"}
    for one in worked:
        place = one.place
        if place.way:
            conditions.add(f"way:{place.way}")
        for crop in {place.crop, *(noun for _, noun, _ in place.standing)} - {""}:
            plant = facts().plant(crop)
            if plant is not None:
                conditions |= plant.traits & {"edible", "eaten-raw", "soil-contact", "salt-sensitive", "acid-loving"}
        if place.noun == "lawn":
            conditions.add("lawn")
        if place.shape.form == "ring":
            conditions.add("tree")
        if place.noun == "cell" or place.shape.form == "cells":
            conditions.add("cells")
        if place.kind == "container":
            conditions.add("container")
        if _indoors(one) or place.noun == "houseplant":
            conditions.add("houseplant")
        if place.shape.form == "class":
            conditions.add("nursery-class")
        area = one.sheet.get("treated area")
        if area is not None and area[1] > _limit("cost.large-area") + _SLACK:
            conditions.add("large-area")
        if place.way == "seed-mix" or "seedlings" in place.hints:
            conditions.add("seedlings")
        conditions |= place.hints & {"balcony", "roof"}
        if one.place.noun in ("tree-ring", "tree", "fruit-tree", "apple-tree", "citrus", "avocado", "shrub") and place.way != "planting-hole":
            conditions.add("tree")
        for name, _ in place.recipe:
            component = facts().component(name)
            conditions |= set(component.raises) if component is not None else set()
        if query.asked != "share" and not query.filled and _of_potting_mix(place):
            conditions.add("bagged-media")
    conditions |= _of_the_castings(query, worked)
    if query.tea is not None:
        conditions.add("way:tea")
        for place in query.places:
            plant = facts().plant(place.crop) if place.crop else None
            if plant is not None:
                conditions |= plant.traits & {"edible", "eaten-raw"}
        if "foliar" in query.told:
            conditions.add("foliar")
        if "tea-fed" in query.told:
            conditions.add("tea-fed")
    if query.filled:
        conditions.add("filled-weight")
        conditions.discard("any-castings")
    if "vehicle" in query.told:
        conditions.add("vehicle-load")
    for name in (*(load[0] for load in query.loads), query.asked_load):
        held = facts().container(name)
        conditions |= set(held.raises) if held is not None else set()
    if query.analysis or query.asked_nutrient:
        conditions.add("analysis")
    if query.pack is not None and query.pack.size is not None and _heavy(query.pack.size):
        conditions.add("lifting")
    return list(said_for(frozenset(conditions)))


def _of_potting_mix(place: Place) -> bool:
    """Whether bags of potting mix are likely to be opened: a mix to be made up, or pots to be filled."""
    return place.kind in ("mix", "seed-mix") or (place.kind == "container" and place.way in ("blend", "seed-mix"))


def _of_the_castings(query: Query, worked: list[Worked]) -> set[Any]:
    """What is said of the castings themselves: made from manure, dusty."""
    conditions: set[Any] = set()
    if "dusty" in query.told:
        conditions.add("dry-castings")
    if "manure-based" in query.told:
        conditions.add("manure-based")
        places = [one.place for one in worked] or list(query.places)
        if not any(place.crop or place.noun == "lawn" or place.shape.form == "ring" for place in places):
            conditions.add("edible")  # no crop is named, and it may be one that is eaten
    return conditions


def _heavy(size: Span) -> bool:
    """Whether one pack is more than a person should lift: known where it is sold by weight."""
    limit = facts().rate("lift.limit")
    return size.dimension == "weight" and size.base[1] > limit.single * unit(limit.unit).factor + _SLACK


@lru_cache(maxsize=1024)
def said_for(conditions: frozenset[Any]) -> tuple[Advice, ...]:
    """The cautions under some conditions; there are far fewer such sets than requests."""
    return tuple(Advice(code=c.id, level=c.level, text=c.text, source=facts().cite(c)) for c in facts().cautions_for(conditions))
