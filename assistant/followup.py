"""How a follow-up changes what was said before: drafts laid over drafts, slot by slot."""

from __future__ import annotations

import copy
import re
from collections.abc import Collection
from dataclasses import fields, replace

from grammar.draft import Draft, PlaceDraft
from grammar.gathering.state import TREES
from grammar.naming import ORDINAL
from grammar.quantities import Span
from grammar.reads import span as span_in_words

from .replies import bare_number
from .soil_there import soil_below
from .spoken_of import GENERIC, by_size, head_of, is_bare, is_named, is_plural, spoken_of, which

_SIZES = ("size", "length", "width", "side", "second_side", "base", "diameter", "radius", "around", "outer", "area", "volume",
          "nursery_class", "cells", "bottom", "second_area")  # fmt: skip
_WHOLE = ("have", "pack", "price", "price_per", "budget", "density", "weighed", "moisture", "water", "ratio", "ratio_spans",
          "per_volume", "limit", "soil", "packs_count", "parts_share", "times", "cell", "strip_width", "strip_layer", "strip_clear")  # fmt: skip
#: What is said of doubtful units; it still holds when a later turn leans on them.
_UNIT_FLAGS = frozenset({"gallon", "quart", "pint", "ton"})
#: What was said before is set right, and no place is added.
_CORRECTS = re.compile(r"\b(?:i mean|i meant|sorry|actually|correction|no)\b", re.IGNORECASE)
#: Said of every place: "everything at 8 %".
_ALL = re.compile(r"\b(?:everything|all|both|every one|each of them)\b", re.IGNORECASE)
#: A place comes on top of those before, and does not stand in their stead.
_ON_TOP = re.compile(r"\b(?:plus|also|another|as well|too|add|on top of|together|both)\b", re.IGNORECASE)
#: A place gets what was told of those before it: "12 leeks, same", "6 peonies too"; not "the same size".
_LIKE_BEFORE = re.compile(
    r"\b(?:(?:the )?same(?! (?:size|depth|length|width|height|pots?|beds?|share|shape|kind|sort|mix)\b)|ditto|likewise|like (?:those|them|the others?|the rest)|too|as well|also)\b", re.IGNORECASE
)
#: Where a measure stands that no place was named for.
ANYWHERE = -1
#: What is asked of castings at hand: a place in a follow-up takes the place of the one before.
BACKWARDS = frozenset({"area", "plants", "containers", "beds", "layer", "share", "mix", "soil", "length"})
#: "and a 25 litre bag", in the stead of what there was
_AND_THAT = re.compile(r"\s*(?:ok(?:ay)?,? )?(?:and|what about|how about|what if (?:i|it)|or|with|say)\b", re.IGNORECASE)
#: "2 bags of that", of castings at hand
_OF_THAT = re.compile(r"\b(?:of|like) (?:that|those|them|it|this|these)\b", re.IGNORECASE)
#: Where the castings go round a tree.
_RING = "tree-ring"
#: Spoken once for all places of a conversation, where no one place is named.
SHARED = ("share", "depth", "layer")


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


def merge(old: Draft, new: Draft, *, adding: bool, touched: Collection[int] = ()) -> Draft:
    """The old draft changed by a follow-up; `adding` says that new places come on top.

    `touched` are the places that the turn before spoke of, which a line that names none may lean on.
    """
    merged = old.copy()
    merged.text = new.text
    for name in ("noted", "flags", "mended", "unread", "topics", "weak_topics", "asks", "replies", "stray"):
        setattr(merged, name, list(getattr(new, name)))
    merged.flags += [flag for flag in old.flags if flag[0] in _UNIT_FLAGS]
    merged.unsure = []
    merged.unclear = new.unclear
    _answered_by_itself(merged, new)
    if "new-fill" in new.hints and "existing-soil" not in new.hints:
        if merged.way == "incorporate":
            set_way(merged, "")
        for kept in [*merged.places]:
            kept.hints -= {"existing-soil", "top-of"}
        merged.hints -= {"existing-soil", "top-of"}
    if merged.question is None and new.question is None and (asked := soil_below(old, new)) is not None:
        new.question = ("role", asked)
    if "existing-soil" in new.hints:
        merged.hints.discard("new-fill")
        for kept in merged.places:
            kept.hints.discard("new-fill")
    if merged.way == "tea" or merged.ratio is not None:
        _tea(new, merged.water)
        if new.per_volume is not None:
            new.ratio_spans, new.per_volume = new.per_volume, None  # "2 cups a gallon instead"
        if new.ratio is not None or new.ratio_spans is not None:
            merged.ratio = merged.ratio_spans = None
    if new.budget is not None and merged.pack is not None and "budget" not in new.hints and (
        re.search(r"\b(?:they|each|bags?|price|costs?)\b", new.text.lower()) or (merged.budget is None and "on-hand" not in new.hints)
    ):  # fmt: skip
        new.price, new.budget = new.budget, None
    merged.question, merged.refusal = new.question, new.refusal
    merged.enough = new.enough or (asked_enough(old) and not new.asks)
    merged.figures = list(new.figures)
    merged.by_weight, merged.cut, merged.words = new.by_weight, new.cut, new.words
    for name in ("compare", "compare_layers", "compare_rates", "compare_ratios"):
        setattr(merged, name, list(getattr(new, name)))
    if new.way and adding and merged.places and new.places:
        _each_its_way(merged, new)
    elif new.way:
        set_way(merged, new.way)
    merged.not_ways |= new.not_ways
    if merged.way in new.not_ways:
        set_way(merged, "")
    merged.hints = {hint for hint in merged.hints if not hint.startswith("unit:")} | new.hints
    merged.hints -= {"altogether", "altogether-next", "both", "more-needed"} - new.hints
    merged.hints -= {"same:share", "same:depth", "same:layer"}
    if {"say-metric", "say-imperial"} & new.hints:
        merged.hints -= {"say-metric", "say-imperial"} - new.hints
        merged.asked_unit = "" if not new.asked_unit else merged.asked_unit
    for name in _WHOLE:
        value = getattr(new, name)
        if value is not None:
            setattr(merged, name, value)
            if name == "density":
                merged.weighed = None
            elif name == "weighed":
                merged.density = None
    if asked_enough(old) and old.places and old.packs_count and old.pack is None and new.packs_count is None:
        _another_number(merged, new)
    elif not (merged.places or new.places) and merged.pack is not None and merged.price is not None:
        _other_packs(merged, new)
    elif old.packs_count and old.pack is not None and old.asked in BACKWARDS and new.packs_count is None:
        _so_many_held(merged, new)
    if new.asked == "weight" and old.asked in BACKWARDS and (old.have is not None or old.packs_count) and not new.places and not any(
        place.has_size or place.count for place in old.places
    ):  # fmt: skip
        merged.places = []  # "how much garden at half an inch", then "how much would it weigh": what there is
    if new.pack_noun:
        merged.pack_noun = new.pack_noun
    merged.end = new.end or merged.end
    others = [name for name, _ in merged.recipe if name != "castings"]
    if new.parts_share is not None and len(others) == 1 and len(merged.recipe) == 2:
        part = new.parts_share.low / 100  # "1:4" after "1:9 castings to soil": the soil stays the other part
        new.recipe, new.parts_share = [("castings", part), (others[0], 1 - part)], None
    if new.parts_share is not None:
        merged.recipe = []
        for place in merged.places:
            place.share, place.recipe = None, []
            if place.layer and merged.way != "incorporate":
                place.layer = []  # a share instead of a layer, as a percentage would be
    if new.recipe:
        merged.recipe, merged.parts_share = list(new.recipe), None
        new.figures = []
        merged.figures = []
        for place in merged.places:
            place.share, place.recipe = None, []
    if new.enough and not new.asked and merged.asked in BACKWARDS and any(place.has_size for place in new.places):
        merged.asked, merged.asked_noun = "castings", ""  # how far it goes was asked before; now, if it is enough for a place
    if new.pack is not None and merged.asked in BACKWARDS and merged.have is not None and _AND_THAT.match(new.text) and not (
        new.have or new.asked or new.places or new.price
    ):  # fmt: skip
        merged.have, merged.more_have = None, []  # "what about a 25 litre bag": that instead of what was there
    if new.packs_count and merged.have is not None and new.have is None and merged.pack is None and merged.question is None:
        merged.question = ("pack", f"how big is one of the {new.packs_count:g} {new.pack_noun or 'bag'}s, by weight or by volume?")
    if new.asked:
        merged.asked, merged.asked_noun = new.asked, new.asked_noun
    if new.asked_unit:
        merged.asked_unit = new.asked_unit
        if not new.asked and merged.asked in ("by-unit", "weight"):
            merged.asked = ""
    if new.pack is not None and not new.asked and new.text.rstrip().endswith("?") and merged.asked in ("weight", "by-unit", "castings", ""):
        merged.asked = "packs"
    if new.packs_count and new.pack is None and merged.have is not None and merged.pack is None and not new.have and _OF_THAT.search(new.text):
        merged.have = Span(merged.have.low * new.packs_count, merged.have.high * new.packs_count, merged.have.unit)
        merged.flags.append(("packs", f"{new.packs_count:g} times what was there"))
        merged.packs_count, merged.figures = None, [one for one in merged.figures if one[0] != new.packs_count]
    if "per-pack" in new.hints and merged.pack is not None:
        merged.packs_count = None
    if new.named_size:
        merged.named_size = new.named_size
    if new.asked_load:
        merged.asked_load = new.asked_load
    if new.charges:
        merged.charges = list(new.charges)
        if not new.asked and merged.price is not None:
            merged.asked = "cost"
    if new.tax is not None:
        merged.tax = new.tax
    if merged.asked in ("area", "length") and any(place.kind == "plant" and place.rate is not None for place in new.places):
        merged.asked, merged.places = "plants", []  # "how far does a bag go", "on roses instead, a litre each"
    _other_cells(merged, new)
    told = _told_together(merged, new)
    landed = [_place(merged, new, place, adding, touched, at) for at, place in enumerate(told.places)]
    for unsure in told.unsure:
        index = unsure.place if 0 <= unsure.place < len(told.places) else ANYWHERE
        named = [at for at, place in enumerate(told.places) if place.noun or is_named(place)]
        if index == ANYWHERE and len(named) == 1 and len(told.places) == 1:
            index = named[0]  # "2 cups for the peppers"
        of = told.places[index] if index != ANYWHERE else None
        if of is None or not (of.noun or is_named(of) or of.has_size):
            merged.unsure.append(replace(unsure, place=ANYWHERE))
            continue
        at_all = [at for at, one in enumerate(merged.places) if any(one is other for other in landed[index])]
        merged.unsure += [replace(unsure, place=at) for at in at_all]
    return merged


def asked_enough(old: Draft) -> bool:
    """Whether it was asked of castings at hand if they would do: "will 60 litres do for 10 m2?"."""
    at_hand = old.have is not None or old.packs_count or old.budget
    told = any(place.has_size or place.count for place in old.places)
    return old.enough or bool({"cover", "enough"} & {*old.asks} and told and at_hand and old.asked not in BACKWARDS)


def _another_number(merged: Draft, new: Draft) -> None:
    """After "would two bags do?": "what about three?" asks it again, and any other line leaves the two bags behind."""
    number = bare_number(new.stray[0][0]) if len(new.stray) == 1 and not (new.places or new.unsure) else None
    if number is not None:
        merged.packs_count, merged.enough, merged.stray = number, True, []
    elif not new.enough and new.asked != "left-over":
        merged.packs_count, merged.enough = None, False


#: "and if I have three", of bags at hand
_HELD = re.compile(r"\b(?:i|we)(?: only| just)? (?:have|had|got|buy|bought|take|use)\b|\b(?:i|we)['’]ve\b", re.IGNORECASE)


def _so_many_held(merged: Draft, new: Draft) -> None:
    """ "and if I have three", after how far two bags go: three of them."""
    number = bare_number(new.stray[0][0]) if len(new.stray) == 1 and not (new.places or new.unsure) else None
    if number is not None and number >= 1 and number == int(number) and _HELD.search(new.text):
        merged.packs_count, merged.stray = number, []


def _other_packs(merged: Draft, new: Draft) -> None:
    """After "how much are 3 bags?": "and 7?" asks it of seven, "what does 90 litres come to?" of castings and no more of three bags."""
    number = bare_number(new.stray[0][0]) if len(new.stray) == 1 and not new.unsure else None
    before = merged.packs_count
    if new.packs_count is not None:
        merged.have = new.have
    elif number is not None and number >= 1 and number == int(number) and merged.have is None:
        merged.packs_count, merged.stray = number, []
    elif len(new.unsure) == 1 and new.unsure[0].span.unit not in ("yard",) and new.unsure[0].span.dimension in ("volume", "weight"):
        merged.packs_count, merged.have = None, new.unsure[0].span
        new.unsure = []
    if merged.asked in ("", "castings") and (merged.packs_count != before or new.packs_count is not None):
        merged.asked = "cost"  # so many bags at a price: what is left to ask is the money


def _other_cells(merged: Draft, new: Draft) -> None:
    """ "what about 120 ml cells", of trays whose cells were told: how big one cell is."""
    place = new.places[0] if len(new.places) == 1 else None
    if place is None or place.noun != "cell" or place.volume is None or place.count or place.share or place.layer or place.rate:
        return
    if any(one.cells for one in merged.places):
        merged.cell, new.places = place.volume, []


def _answered_by_itself(merged: Draft, new: Draft) -> None:
    """A value said for what was asked before ends that question: "what share is that?", "use 5%"."""
    if new.asked or new.asks:
        return
    given = {"share": any(p.share for p in new.places) or new.parts_share is not None, "layer": any(p.layer for p in new.places)}
    if given.get(merged.asked):
        merged.asked, merged.asked_noun, merged.have, merged.more_have = "castings", "", None, []
    elif merged.asked in given and merged.have is None and (new.places or new.unsure) and not (merged.packs_count and any(p.has_size for p in new.places)):
        merged.asked, merged.asked_noun = "castings", ""  # the share was read off, and the talk goes on


def _told_together(merged: Draft, new: Draft) -> Draft:
    """The follow-up with what is said once for several places told of each: "A and B at 15%", "the pots and the tubs get 2 cups"."""
    told = new.copy()
    for at in reversed(range(len(told.places) - 1)):
        first, second = told.places[at], told.places[at + 1]
        unsure = [one for one in told.unsure if one.place == at + 1]
        bare = is_bare(first) and not any(one.place == at for one in told.unsure) and bool(first.noun or is_named(first))
        if not bare or second.tie != "and" or second.has_size or second.count or (is_bare(second) and not unsure):
            continue
        if not spoken_of(first, merged.places):
            continue
        for name in ("share", "layer", "rate", "rate_per", "depth", "fill", "recipe", "each", "way"):
            setattr(first, name, copy.copy(getattr(second, name)))
        told.unsure += [replace(one, place=at) for one in unsure]
    return told


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
            new.figures = [(value, said) for value, said in new.figures if value != place.count]
            new.places.remove(place)


def _is_whole(place: PlaceDraft) -> bool:
    """Whether the sizes of a place without a name make a place of its own: "2.5 m long" alone is one side of another."""
    return place.has_size and not (
        (place.length is None) != (place.width is None)
        and not (place.size or place.area or place.volume or place.diameter or place.radius or place.side)
    )


def _place(merged: Draft, new: Draft, place: PlaceDraft, adding: bool, touched: Collection[int], index: int) -> list[PlaceDraft]:
    """Puts one place of a follow-up where it belongs; gives the places of the conversation that it changed."""
    places = merged.places
    if places and (merged.asked in BACKWARDS or merged.enough) and place.has_size and place.rate is None and not _ON_TOP.search(new.text):
        at = next((i for i in reversed(range(len(places))) if places[i].has_size), len(places) - 1)
        lay_over(places[at], place)
        return [places[at]]
    if place.noun == _RING and places and places[-1].noun in TREES and not places[-1].has_size:
        place = replace(place, noun="", kind="", printed="", count=None)  # "6 ft drip line", of a tree
    changes = not is_bare(place) or any(one.place == index for one in new.unsure)
    hits = _hits(merged, place, adding, touched, changes)
    if merged.question is not None and merged.question[0] == "which":
        return []
    if not hits and place.has_size and len(places) == 1 and not (places[0].has_size or places[0].noun or places[0].count) and not is_bare(places[0]):
        before, places[0] = places[0], place  # "a 4 inch layer", "on a 3x3 bed"
        for name in SHARED:
            if not getattr(place, name):
                setattr(place, name, copy.copy(getattr(before, name)))
        return [place]
    same = bool(hits) and not place.has_size and bool(place.noun or is_named(place))
    fresh = not hits or (adding and not same and bool(place.noun or _is_whole(place)))
    if "asked" in place.hints and hits and places[hits[-1]].kind == place.kind:
        return []
    if fresh:
        if not (place.way or new.way or place.layer or place.share or place.rate) and place.kind in ("plant", "hole") and (
            places and places[-1].kind == place.kind
        ):  # fmt: skip
            # "12 peppers too": as the plants before them
            place.way = places[-1].way or merged.way or (_way_shown(places[-1]) if place.kind == "plant" else "")
        if any(name == "add-place" for name, _ in new.replies):
            place.hints.add("added")  # "add four tomato plants": they come on top, and do not only stand in the bed before
        merged.places = [p for p in places if not p.is_empty or p.noun]
        merged.places.append(place)
        _same_again(merged, new, place)
        return [place]
    if not place.noun and not is_named(place) and not place.has_size and len(places) > 1:
        hits = _shared_by(merged, place, touched, hits)
    if place.share is not None:
        _each_its_own(merged)
    if place.kind == "plant" and place.noun not in TREES and place.count and not place.has_size and all(places[at].kind == "ground" for at in hits):
        said = f"{place.count:g}"
        merged.noted.append((f"{said} {place.printed}", "what grows there"))  # "50 leeks in there", of a trench
        merged.figures = [(value, text) for value, text in merged.figures if value != place.count]
        place.count = place.count_high = None
    for at in hits:
        lay_over(places[at], place)
    if place.layer and merged.way in ("blend", "incorporate", "seed-mix"):
        merged.way = ""
    if (place.share is not None) and merged.way in ("top-dress", "side-dress"):
        merged.way = ""
    return [places[at] for at in hits]


def _hits(merged: Draft, place: PlaceDraft, adding: bool, touched: Collection[int], changes: bool) -> list[int]:
    """The places that a place of a follow-up speaks of; asks where several fit and it matters."""
    places = merged.places
    if not places:
        return []
    last = len(places) - 1
    if place.form == "ring":
        return [last]
    if not place.noun and not is_named(place):
        sized = by_size(place, places) if place.has_size and not adding and len(places) > 1 else []
        if len(sized) == 1:
            return sized
        measured = [at for at, one in enumerate(places) if one.has_size and one.kind in ("ground", "")]
        if place.size and not adding and len(measured) > 1 and merged.question is None and not _CORRECTS.search(merged.text):
            lately = [at for at in measured if at in touched]
            if len(lately) == 1:
                return lately
            merged.question = ("which", which([places[at] for at in measured]))
        if place.rate is not None:
            return [next((at for at in reversed(range(len(places))) if places[at].kind in ("plant", "hole")), last)]
        return [last]
    told = by_size(place, places) if place.kind in ("container", "ground") and place.has_size and not place.count and not adding and len(places) > 1 else []
    if len(told) == 1:
        return told  # "the 12 inch pots at 5 %"
    hits = spoken_of(place, places, touched)
    if not hits and is_named(place) and place.has_size and not adding and _CORRECTS.search(merged.text):
        return spoken_of(replace(place, described=frozenset(), name=""), places, touched)[-1:]  # "I mean the flower bed, 4 by 3"
    if not hits and is_named(place) and not place.has_size and not place.count and merged.question is None:
        merged.question = ("which", which(places))
    if place.count == len(hits) > 1 and not place.has_size:
        if not changes or is_bare(replace(place, count=None)):
            merged.question = merged.question or ("which", which([places[at] for at in hits]))
        place.count = None  # "the two beds get an inch": both that are there
        return hits
    if len(hits) < 2 or (is_plural(place) and place.count is None and not place.has_size) or place.count == len(hits):
        return hits
    lately = [at for at in hits if at in touched]
    if len(lately) == 1 or place.has_size or place.count or not changes:
        return lately[-1:] or hits[-1:]
    if merged.question is None:
        merged.question = ("which", which([places[at] for at in hits]))
    return hits[-1:]


def _shared_by(merged: Draft, place: PlaceDraft, touched: Collection[int], last: list[int]) -> list[int]:
    """The places that a value without a name is for: all that have it alike, else those spoken of last; asks where neither is so."""
    for name in (*SHARED, "rate"):
        if not getattr(place, name):
            continue
        have = [at for at, one in enumerate(merged.places) if getattr(one, name)]
        if have:
            found = have if says_all(merged.text) else alike_or_touched(merged, have, name, touched)
            if found:
                return found
            merged.question = merged.question or ("which", which([merged.places[at] for at in have]))
    return last


def says_all(text: str) -> bool:
    """ "everything at 8 %", "both at 15 %"."""
    return _ALL.search(text) is not None


def alike_or_touched(draft: Draft, have: list[int], name: str, touched: Collection[int]) -> list[int]:
    """Of the places that have a value: all where it is the same, else those the turn before spoke of."""
    first = getattr(draft.places[have[0]], name)
    if all(getattr(draft.places[at], name) == first for at in have):
        return have
    return [at for at in have if at in touched]


def _each_its_own(merged: Draft) -> None:
    """What was said once for all places in parts or as a recipe stands on each of them, before one gets another."""
    for one in merged.places:
        if one.share is None and not one.layer and not one.recipe and one.kind not in ("plant", "hole"):
            one.share, one.recipe = merged.parts_share, list(merged.recipe)
    merged.recipe, merged.parts_share = [], None


def _same_again(merged: Draft, new: Draft, place: PlaceDraft) -> None:
    """ "plus 6 pots of 10 L, same share": what the place before has; "12 leeks, same": what each of those before gets."""
    before = merged.places[-2] if len(merged.places) > 1 else None
    if before is None:
        return
    if _LIKE_BEFORE.search(new.text) and place.kind in ("plant", "hole") and not (place.share or place.layer or place.rate or place.has_size):
        _as_each_before(merged, place)
    for name in SHARED:
        if f"same:{name}" in new.hints and not getattr(place, name):
            setattr(place, name, copy.copy(getattr(before, name)))
    if "same:depth" in new.hints and not place.depth:
        place.depth = before.fill
    if "same:share" in new.hints and not (place.share or place.layer or place.rate):
        place.layer, place.rate, place.rate_per, place.recipe = list(before.layer), before.rate, before.rate_per, list(before.recipe)


def _as_each_before(merged: Draft, place: PlaceDraft) -> None:
    """Gives plants what each of the plants before them gets, which is said; asks where those get different amounts."""
    told = [one for one in merged.places[:-1] if one.kind in ("plant", "hole") and one.rate is not None and one.rate_per is None and not one.rate_whole]
    rates = {(one.rate, one.way) for one in told}
    if len({one.rate for one in told}) > 1 and merged.question is None:
        merged.question = ("rate", f"as which of those before? Say how much each of the {place.printed} gets")
    elif told:
        place.rate = told[-1].rate
        place.way = place.way or (told[-1].way if len(rates) == 1 else "")
        assert place.rate is not None
        merged.flags.append(("as-before", f"{span_in_words(place.rate)} each for the {place.printed}, as the {told[-1].printed} before"))
