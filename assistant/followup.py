"""How a follow-up changes what was said before: drafts laid over drafts, slot by slot."""

from __future__ import annotations

import copy
import re
from dataclasses import fields

from grammar.draft import Draft, PlaceDraft
from grammar.quantities import Span

_SIZES = ("size", "length", "width", "side", "second_side", "base", "diameter", "radius", "around", "outer", "area", "volume",
          "nursery_class", "cells", "bottom", "second_area")  # fmt: skip
_WHOLE = ("have", "pack", "price", "price_per", "budget", "density", "weighed", "moisture", "water", "ratio", "ratio_spans",
          "per_volume", "limit", "soil", "packs_count", "parts_share")  # fmt: skip
#: What is said of doubtful units; it still holds when a later turn leans on them.
_UNIT_FLAGS = frozenset({"gallon", "quart", "pint", "ton"})
#: Nouns that may stand for another of their kind: "12 bushes" for blueberries.
_GENERIC = ("plant", "bed", "plot", "pot", "tree", "shrub")
_LAWN = "lawn"
#: What is asked of castings at hand: a place in a follow-up takes the place of the one before.
BACKWARDS = frozenset({"area", "plants", "containers", "beds", "layer", "share", "mix", "soil", "length"})
#: Spoken once for all places of a conversation, where no one place is named.
_SHARED = ("share", "depth", "layer")


def lay_over(place: PlaceDraft, new: PlaceDraft) -> None:
    """Changes a place by what a follow-up says of it."""
    blank = PlaceDraft()
    new = _named_sides(place, new)
    if new.has_size and (new.size or new.diameter or new.radius or new.area or new.volume or new.nursery_class or new.side):
        for name in _SIZES:
            setattr(place, name, getattr(blank, name))
        place.form = new.form
        place.size_unit_said = new.size_unit_said
    if new.layer:
        place.share, place.recipe, place.rate = None, [], None
    if new.share is not None or new.recipe:
        place.layer = []
        place.recipe = []
        if place.way in ("top-dress", "side-dress"):
            place.way = ""
    if new.rate is not None:
        place.layer, place.share, place.recipe = [], None, []
    if new.fill is not None or new.depth is not None:
        place.fill = place.below_rim = None
    for one in fields(PlaceDraft):
        value = getattr(new, one.name)
        if one.name in ("tie", "hints", "minus") or value == getattr(blank, one.name):
            continue
        if one.name in ("noun", "kind", "printed") and place.noun and new.noun in ("plant", "bed", "pot", "plot", "mix"):
            continue
        setattr(place, one.name, value)
    place.hints |= new.hints
    place.minus += new.minus


def _named_sides(place: PlaceDraft, new: PlaceDraft) -> PlaceDraft:
    """ "width 1.2 m" of a place that was said as two sides changes the shorter one, "length" the longer."""
    if not (new.length or new.width) or new.size or len(place.size) < 2:
        return new
    sides = sorted(place.size[:2], key=lambda span: span.base[0])
    new = copy.copy(new)
    new.size = (new.length or sides[1], new.width or sides[0], *place.size[2:])
    new.length = new.width = None
    return new


def set_way(draft: Draft, way: str) -> None:
    """Another way for every place; what only fitted the earlier way is dropped."""
    draft.way = way
    for place in draft.places:
        place.way = ""
        if way in ("top-dress", "side-dress", "planting-hole"):
            place.share, place.recipe = None, []
        if way in ("blend", "incorporate", "seed-mix", "side-dress"):
            place.layer = []


def _each_its_way(merged: Draft, new: Draft) -> None:
    """Places that come on top with a way of their own: those before keep theirs, said or taken from their measures."""
    for place in merged.places:
        place.way = place.way or merged.way or _way_shown(place)
    merged.way = ""
    for place in new.places:
        place.way = place.way or new.way


def _way_shown(place: PlaceDraft) -> str:
    """The way that a place's own measures speak of, where no way was said; empty where they leave it open."""
    if place.layer:
        return "top-dress"
    if place.rate is not None and place.rate_per is None and place.kind == "plant":
        return "side-dress"
    return "blend" if place.share is not None and "existing-soil" not in place.hints else ""


def target_of(draft: Draft, new: PlaceDraft) -> PlaceDraft | None:
    """The place of a conversation that a follow-up speaks of: by its noun, else the last."""
    if not draft.places:
        return None
    if new.form == "ring":
        return draft.places[-1]
    if new.noun:
        for place in reversed(draft.places):
            if {place.kind, new.kind} == {"plant", "hole"} and place.rate is not None:
                return place
            if place.noun == new.noun or (new.kind == place.kind and (new.noun in _GENERIC or place.noun in ("", *_GENERIC))
                                          and not is_another_kind(place, new)):  # fmt: skip
                return place
            if new.kind == "plant" and place.crop == new.noun:
                return place
        return None
    if new.rate is not None:
        for place in reversed(draft.places):
            if place.kind in ("plant", "hole"):
                return place
    return draft.places[-1]


def is_another_kind(place: PlaceDraft, new: PlaceDraft) -> bool:
    """Whether two places can never be one and the same: a lawn is no bed."""
    return bool(place.noun) and bool(new.noun) and place.noun != new.noun and _LAWN in (place.noun, new.noun)


def merge(old: Draft, new: Draft, *, adding: bool) -> Draft:
    """The old draft changed by a follow-up; `adding` says that new places come on top."""
    merged = old.copy()
    merged.text = new.text
    for name in ("noted", "flags", "mended", "unread", "topics", "weak_topics", "asks", "replies", "stray"):
        setattr(merged, name, list(getattr(new, name)))
    merged.flags += [flag for flag in old.flags if flag[0] in _UNIT_FLAGS]
    merged.unsure = []
    if "new-fill" in new.hints and "existing-soil" not in new.hints:
        if merged.way == "incorporate":
            set_way(merged, "")
        for kept in [*merged.places]:
            kept.hints -= {"existing-soil", "top-of"}
        merged.hints -= {"existing-soil", "top-of"}
    if "existing-soil" in new.hints:
        merged.hints.discard("new-fill")
        for kept in merged.places:
            kept.hints.discard("new-fill")
    if merged.way == "tea" or merged.ratio is not None:
        _tea(new, merged.water)
    if new.budget is not None and merged.pack is not None and "budget" not in new.hints and (
        merged.budget is None or re.search(r"\b(?:they|each|bags?|price|costs?)\b", new.text.lower())
    ):  # fmt: skip
        new.price, new.budget = new.budget, None
    merged.question, merged.refusal = new.question, new.refusal
    merged.enough = new.enough or (old.enough and not new.asks)
    merged.figures = list(new.figures)
    merged.by_weight, merged.cut, merged.words = new.by_weight, new.cut, new.words
    merged.compare = list(new.compare)
    if new.way and adding and merged.places and new.places:
        _each_its_way(merged, new)
    elif new.way:
        set_way(merged, new.way)
    merged.not_ways |= new.not_ways
    if merged.way in new.not_ways:
        set_way(merged, "")
    merged.hints |= new.hints
    merged.hints -= {"altogether", "altogether-next", "both"} - new.hints
    for name in _WHOLE:
        value = getattr(new, name)
        if value is not None:
            setattr(merged, name, value)
            if name == "density":
                merged.weighed = None
            elif name == "weighed":
                merged.density = None
    if new.pack_noun:
        merged.pack_noun = new.pack_noun
    if new.parts_share is not None:
        merged.recipe = []
        for place in merged.places:
            place.share, place.recipe = None, []
    if new.recipe:
        merged.recipe, merged.parts_share = list(new.recipe), None
        for place in merged.places:
            place.share, place.recipe = None, []
    if new.asked:
        merged.asked, merged.asked_noun = new.asked, new.asked_noun
    if new.asked_unit:
        merged.asked_unit = new.asked_unit
        if not new.asked and merged.asked in ("by-unit", "weight"):
            merged.asked = ""
    if new.pack is not None and not new.asked and new.text.rstrip().endswith("?") and merged.asked in ("weight", "by-unit", "castings", ""):
        merged.asked = "packs"
    landed = [_place(merged, new, place, adding) for place in new.places]
    for unsure in new.unsure:
        merged.unsure.append(unsure)
        meant = landed[unsure.place] if 0 <= unsure.place < len(landed) else None
        unsure.place = next((at for at, place in enumerate(merged.places) if place is meant), len(merged.places) - 1)
    return merged


def _tea(new: Draft, water: Span | None) -> None:
    """In a talk about a tea a ratio is castings to water, and a vessel's volume is its water."""
    if new.parts_share is not None:
        share = new.parts_share.low
        new.ratio, new.parts_share = (1.0, round((100 - share) / share, 9)), None
    for place in list(new.places):
        if place.kind in ("container", "mix", "") and place.volume is not None:
            new.water = place.volume
            new.places.remove(place)
        elif place.kind == "container" and place.count and not place.has_size and water is not None:
            new.water = Span(water.low * place.count, water.high * place.count, water.unit)
            new.places.remove(place)


def _is_whole(place: PlaceDraft) -> bool:
    """Whether the sizes of a place without a name make a place of its own: "2.5 m long" alone is one side of another."""
    return place.has_size and not (
        (place.length is None) != (place.width is None)
        and not (place.size or place.area or place.volume or place.diameter or place.radius or place.side)
    )


def _place(merged: Draft, new: Draft, place: PlaceDraft, adding: bool) -> PlaceDraft | None:
    """Puts one place of a follow-up where it belongs; gives the place of the conversation that it is, None where it only asks."""
    target = target_of(merged, place)
    if merged.places and (merged.asked in BACKWARDS or merged.enough) and place.has_size and place.rate is None:
        target = next((p for p in reversed(merged.places) if p.has_size), merged.places[-1])
        lay_over(target, place)
        return target
    same = target is not None and not place.has_size and (
        target.noun == place.noun or (place.noun in _GENERIC and place.kind == target.kind)
    )  # fmt: skip
    fresh = target is None or (adding and not same and bool(place.noun or _is_whole(place)))
    if "asked" in place.hints and target is not None and target.kind == place.kind:
        return None
    if fresh:
        if not (place.way or new.way or place.layer or place.share or place.rate) and place.kind in ("plant", "hole") and (
            merged.places and merged.places[-1].kind == place.kind
        ):  # fmt: skip
            place.way = merged.places[-1].way  # "12 peppers too": as the plants before them
        merged.places = [p for p in merged.places if not p.is_empty or p.noun] if merged.places else []
        merged.places.append(place)
        return place
    assert target is not None
    if not place.noun and not place.has_size and len(merged.places) > 1:
        for name in _SHARED:
            value = getattr(place, name)
            having = [each for each in merged.places if getattr(each, name)] if value else []
            for each in having:
                one = PlaceDraft()
                setattr(one, name, value)
                lay_over(each, one)
            if having:  # a place that had none before is not given one
                place = copy.copy(place)
                setattr(place, name, getattr(PlaceDraft(), name))
    if place.share is not None:
        merged.recipe, merged.parts_share = [], None
    lay_over(target, place)
    if place.layer and merged.way in ("blend", "incorporate", "seed-mix"):
        merged.way = ""
    if (place.share is not None) and merged.way in ("top-dress", "side-dress"):
        merged.way = ""
    return target
