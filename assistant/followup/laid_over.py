"""One place laid over another, value by value, and another way over all of them."""

from __future__ import annotations

import copy
from dataclasses import fields

from grammar.draft import Draft, PlaceDraft
from grammar.naming import ORDINAL

from ..spoken_of import GENERIC, head_of

_SIZES = ("size", "length", "width", "side", "second_side", "flats", "corners", "base", "diameter", "radius", "around", "outer", "area", "volume",
          "nursery_class", "cells", "bottom", "second_area")  # fmt: skip


def lay_over(place: PlaceDraft, new: PlaceDraft) -> None:
    """Changes a place by what a follow-up says of it."""
    blank = PlaceDraft()
    if place.kind == "plant" and not place.count and not place.has_size and not place.rate and (new.area or new.size) and not new.noun:
        place.crop, place.noun, place.kind, place.printed = place.noun, "bed", "ground", "bed"  # "carrots", "40 sq ft": the bed they grow in
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
        place.layer, place.share, place.recipe, place.rate_whole = [], None, [], new.rate_whole
    if new.fill is not None or new.depth is not None:
        place.fill = place.below_rim = None
    if new.fill is not None and place.depth is not None and place.depth.base[1] < new.fill.base[1]:
        place.depth = None  # the depth said before was that of the soil, not of the sides
    for one in fields(PlaceDraft):
        value = getattr(new, one.name)
        if one.name in ("tie", "hints", "minus") or value == getattr(blank, one.name):
            continue
        if one.name == "described":
            place.described |= {word for word in new.described if not word.startswith(ORDINAL)}
            continue
        if one.name == "crop" and place.crop and new.noun in GENERIC:
            continue
        grown = new.kind == "plant" and place.kind not in ("", "plant", "hole")
        same = new.kind == place.kind and head_of(new) == head_of(place)  # "the boxes" stay window boxes
        if one.name in ("noun", "kind", "printed") and place.noun and (grown or same or new.noun in ("plant", "bed", "pot", "plot", "mix")):
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


def each_its_way(merged: Draft, new: Draft) -> None:
    """Places that come on top with a way of their own: those before keep theirs, said or taken from their measures."""
    for place in merged.places:
        place.way = place.way or merged.way or way_shown(place)
    merged.way = ""
    for place in new.places:
        place.way = place.way or new.way


def way_shown(place: PlaceDraft) -> str:
    """The way that a place's own measures speak of, where no way was said; empty where they leave it open."""
    if place.layer:
        return "top-dress"
    if place.rate is not None and place.rate_per is None and place.kind == "plant":
        return "side-dress"
    return "blend" if place.share is not None and "existing-soil" not in place.hints else ""
