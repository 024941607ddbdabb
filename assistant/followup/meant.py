"""Which places a line names, and whether it says anything else.

Where several may be meant the question which of them it is stands in the place of an answer.
"""

from __future__ import annotations

from collections.abc import Sequence

from grammar.draft import Draft, PlaceDraft
from grammar.naming import ORDINAL

from ..spoken_of import by_size, is_bare, is_named, is_plural, spoken_of, which


def refers(new: Draft) -> list[PlaceDraft]:
    """The places that a line names, and does not bring in with a size of their own."""
    return [place for place in new.places if place.noun or is_named(place)]


def uncounted(new: Draft) -> Draft:
    """A line that counted the places of the whole order, once it is known which one it meant."""
    told = new.copy()
    for place in told.places:
        place.described = frozenset(word for word in place.described if not word.startswith(ORDINAL))
    return told


def only_names(new: Draft) -> bool:
    """Whether a line says nothing but which places it speaks of."""
    return bool(refers(new)) and all(is_bare(place) for place in new.places) and not (
        new.unsure or new.stray or new.have or new.price or new.asked_unit or new.recipe or new.parts_share or new.way
    )  # fmt: skip



def meant(new: Draft, old: Draft, touched: Sequence[int]) -> list[int] | str:
    """All places of a draft that a line names, or the question which of them is meant."""
    found: set[int] = set()
    for place in new.places:
        hits = by_size(place, old.places) if place.has_size else spoken_of(place, old.places, touched)
        plural = is_plural(place) or (place.kind == "plant" and len(hits) == 1)
        if len(hits) > 1 and not plural and place.count != len(hits):
            lately = [at for at in hits if at in touched]
            if len(lately) != 1:
                return which([old.places[at] for at in hits])
            hits = lately
        found.update(hits)
    return sorted(found)


def one_meant(old: Draft, new: Draft, touched: Sequence[int]) -> int | None:
    """The place that a line names, the last one where it names none; None where there is none."""
    if not old.places:
        return None
    for one in refers(new):
        hits = spoken_of(one, old.places, touched)
        if hits:
            return hits[-1]
    return len(old.places) - 1
