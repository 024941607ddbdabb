"""A draft laid over the draft before it, slot by slot."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import replace

from grammar.draft import Draft
from grammar.quantities import Span

from ..soil_there import soil_below
from ..spoken_of import is_named
from .asked import BACKWARDS, answered_by_itself, asked_enough
from .brewed import brewed
from .laid_over import each_its_way, set_way
from .landing import ANYWHERE, land, told_together
from .packs import another_number, other_packs, so_many_held

_WHOLE = ("have", "pack", "price", "price_per", "budget", "density", "weighed", "moisture", "water", "ratio", "ratio_spans",
          "per_volume", "limit", "soil", "packs_count", "parts_share", "times", "cell", "strip_width", "strip_layer", "strip_clear")  # fmt: skip
#: What is said of doubtful units; it still holds when a later turn leans on them.
_UNIT_FLAGS = frozenset({"gallon", "quart", "pint", "ton"})
#: "and a 25 litre bag", in the stead of what there was
_AND_THAT = re.compile(r"\s*(?:ok(?:ay)?,? )?(?:and|what about|how about|what if (?:i|it)|or|with|say)\b", re.IGNORECASE)
#: "2 bags of that", of castings at hand
_OF_THAT = re.compile(r"\b(?:of|like) (?:that|those|them|it|this|these)\b", re.IGNORECASE)


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
    answered_by_itself(merged, new)
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
        brewed(new, merged, adding=adding)
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
        each_its_way(merged, new)
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
        another_number(merged, new)
    elif not (merged.places or new.places) and merged.pack is not None and merged.price is not None:
        other_packs(merged, new)
    elif old.packs_count and old.pack is not None and old.asked in BACKWARDS and new.packs_count is None:
        so_many_held(merged, new)
    if new.asked == "weight" and old.asked in BACKWARDS and (old.have is not None or old.packs_count) and not new.places and not any(
        place.has_size or place.count for place in old.places
    ):  # fmt: skip
        merged.places = []  # "how much garden at half an inch", then "how much would it weigh": what there is
    if new.asked == "weight" and merged.have is not None and not merged.figures and not new.unsure:
        merged.figures = [(merged.have.low, f"{merged.have.low:g}")]  # told before, and no example of what is asked in words
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
    told = told_together(merged, new)
    landed = [land(merged, new, place, adding, touched, at) for at, place in enumerate(told.places)]
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


def _other_cells(merged: Draft, new: Draft) -> None:
    """ "what about 120 ml cells", of trays whose cells were told: how big one cell is."""
    place = new.places[0] if len(new.places) == 1 else None
    if place is None or place.noun != "cell" or place.volume is None or place.count or place.share or place.layer or place.rate:
        return
    if any(one.cells for one in merged.places):
        merged.cell, new.places = place.volume, []
