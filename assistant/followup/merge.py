"""A draft laid over the draft before it: each subject by a file of its own, then the places.

What one of them takes out of the line, or puts into it in another slot, is gone or there for those after it.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from grammar.draft import Draft

from ..spoken_of import is_named
from .asked import answered_by_itself, asked_enough, asked_now
from .brewed import told_of_tea
from .laid_over import each_its_way, set_way
from .landing import ANYWHERE, land, told_together
from .mix import told_of_mix
from .money import told_of_money
from .packs import told_of_packs
from .soil import told_of_soil

#: What a line itself is made of, and no later line leans on.
_OWN = ("noted", "flags", "mended", "unread", "topics", "weak_topics", "asks", "replies", "stray", "compare",
        "compare_layers", "compare_rates", "compare_ratios")  # fmt: skip
#: What holds until another is told.
_HOLDS = ("have", "pack", "price", "price_per", "budget", "density", "weighed", "moisture", "water", "ratio", "ratio_spans", "per_volume",
          "limit", "soil", "packs_count", "parts_share", "times", "years", "cell", "strip_width", "strip_layer", "strip_clear", "tax")  # fmt: skip
#: The same, where nothing told is an empty one.
_HOLDS_IF_TOLD = ("pack_noun", "end", "named_size", "asked_load")
#: What is said of doubtful units; it still holds when a later turn leans on them.
_UNIT_FLAGS = frozenset({"gallon", "quart", "pint", "ton"})
#: Hints that hold for the line that has them.
_OF_THE_LINE = frozenset({"altogether", "altogether-next", "both", "more-needed"})
_SAME = frozenset({"same:share", "same:depth", "same:layer"})
_SYSTEMS = frozenset({"say-metric", "say-imperial"})


def merge(old: Draft, new: Draft, *, adding: bool, touched: Collection[int] = ()) -> Draft:
    """The old draft changed by a follow-up; `adding` says that new places come on top.

    `touched` are the places that the turn before spoke of, which a line that names none may lean on. `new` is used up by it.
    """
    merged = old.copy()
    merged.text, merged.unclear, merged.by_weight, merged.cut, merged.words = new.text, new.unclear, new.by_weight, new.cut, new.words
    for name in _OWN:
        setattr(merged, name, list(getattr(new, name)))
    merged.flags += [flag for flag in old.flags if flag[0] in _UNIT_FLAGS]
    merged.unsure = []
    answered_by_itself(merged, new)
    told_of_soil(merged, old, new)
    told_of_tea(merged, new, adding)
    told_of_money(merged, new)
    merged.question, merged.refusal, merged.figures = new.question, new.refusal, list(new.figures)
    merged.enough = new.enough or (asked_enough(old) and not new.asks)
    _in_its_way(merged, new, adding)
    _hinted(merged, new)
    _hold(merged, new)
    told_of_packs(merged, old, new)
    told_of_mix(merged, new)
    asked_now(merged, old, new)
    _other_cells(merged, new)
    _put_in_places(merged, new, adding, touched)
    return merged


def _in_its_way(merged: Draft, new: Draft, adding: bool) -> None:
    """The way of a line, for its own places where those come on top, else for all; and none that it rules out."""
    if new.way and adding and merged.places and new.places:
        each_its_way(merged, new)
    elif new.way:
        set_way(merged, new.way)
    merged.not_ways |= new.not_ways
    if merged.way in new.not_ways:
        set_way(merged, "")


def _hinted(merged: Draft, new: Draft) -> None:
    """The hints that hold on, with those of the line; of two systems of units the one that the line names."""
    merged.hints = {hint for hint in merged.hints if not hint.startswith("unit:")} | new.hints
    merged.hints -= _OF_THE_LINE - new.hints
    merged.hints -= _SAME
    if _SYSTEMS & new.hints:
        merged.hints -= _SYSTEMS - new.hints
        merged.asked_unit = "" if not new.asked_unit else merged.asked_unit


def _hold(merged: Draft, new: Draft) -> None:
    """What holds until another is told, as the line tells it; castings weigh as was said last, be it their density or what so much weighed."""
    for name in _HOLDS:
        value = getattr(new, name)
        if value is not None:
            setattr(merged, name, value)
    if new.weighed is not None:
        merged.density = None
    elif new.density is not None:
        merged.weighed = None
    for name in _HOLDS_IF_TOLD:
        setattr(merged, name, getattr(new, name) or getattr(merged, name))
    if new.charges:
        merged.charges = list(new.charges)


def _put_in_places(merged: Draft, new: Draft, adding: bool, touched: Collection[int]) -> None:
    """Each place of the line where it belongs, and each measure that nothing is said of with the place it was told beside."""
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


def _other_cells(merged: Draft, new: Draft) -> None:
    """ "what about 120 ml cells", of trays whose cells were told: how big one cell is."""
    place = new.places[0] if len(new.places) == 1 else None
    if place is None or place.noun != "cell" or place.volume is None or place.count or place.share or place.layer or place.rate:
        return
    if any(one.cells for one in merged.places):
        merged.cell, new.places = place.volume, []
