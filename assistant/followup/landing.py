"""Where a place that a follow-up tells belongs: in the stead of one that was there, over it, or on top of all."""

from __future__ import annotations

import copy
import re
from collections.abc import Collection
from dataclasses import replace

from grammar.draft import Draft, PlaceDraft
from grammar.gathering.state import TREES

from ..spoken_of import by_size, is_bare, is_named, is_plural, spoken_of, which
from .asked import BACKWARDS
from .joining import comes_on_top, corrects, of_the_others
from .laid_over import lay_over, way_shown
from .like_before import SHARED, same_again

#: Where a measure stands that no place was named for.
ANYWHERE = -1
#: Said of every place: "everything at 8 %".
_ALL = re.compile(r"\b(?:everything|all|both|every one|each of them)\b", re.IGNORECASE)
#: Where the castings go round a tree.
_RING = "tree-ring"


def told_together(merged: Draft, new: Draft) -> Draft:
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


def _is_whole(place: PlaceDraft) -> bool:
    """Whether the sizes of a place without a name make a place of its own: "2.5 m long" alone is one side of another."""
    return place.has_size and not (
        (place.length is None) != (place.width is None)
        and not (place.size or place.area or place.volume or place.diameter or place.radius or place.side)
    )


def land(merged: Draft, new: Draft, place: PlaceDraft, adding: bool, touched: Collection[int], index: int) -> list[PlaceDraft]:
    """Puts one place of a follow-up where it belongs; gives the places of the conversation that it changed."""
    places = merged.places
    if places and (merged.asked in BACKWARDS or merged.enough) and place.has_size and place.rate is None and not comes_on_top(new.text):
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
            place.way = places[-1].way or merged.way or (way_shown(places[-1]) if place.kind == "plant" else "")
        if any(name == "add-place" for name, _ in new.replies):
            place.hints.add("added")  # "add four tomato plants": they come on top, and do not only stand in the bed before
        merged.places = [p for p in places if not p.is_empty or p.noun]
        merged.places.append(place)
        same_again(merged, new, place)
        return [place]
    if not place.noun and not is_named(place) and not place.has_size and len(places) > 1 and not of_the_others(merged.text):
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
    if not place.noun and not is_named(place) and not place.has_size and len(places) > 1 and of_the_others(merged.text):
        return the_others(merged, touched)
    if not place.noun and not is_named(place):
        sized = by_size(place, places) if place.has_size and not adding and len(places) > 1 else []
        if len(sized) == 1:
            return sized
        measured = [at for at, one in enumerate(places) if one.has_size and one.kind in ("ground", "")]
        if place.size and not adding and len(measured) > 1 and merged.question is None and not corrects(merged.text):
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
    if not hits and is_named(place) and place.has_size and not adding and corrects(merged.text):
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


def the_others(merged: Draft, touched: Collection[int]) -> list[int]:
    """All places but those spoken of last; asks where the turn before spoke of none of them, or of all."""
    rest = [at for at in range(len(merged.places)) if at not in touched]
    if not touched or not rest:
        merged.question = merged.question or ("which", which(merged.places))
    return rest


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
