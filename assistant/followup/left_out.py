"""Places and parts of places that get none any more, or get it again."""

from __future__ import annotations

import re
from collections.abc import Sequence

from grammar.draft import Draft

from ..spoken_of import by_size, is_named, spoken_of, which
from .leaning import cleared
from .meant import meant, only_names

#: What was dropped is put back: "put the roses back", "with the roses again".
_BACK = re.compile(r"\b(?:back|again|re-?add|reinstate|restore|after all)\b", re.IGNORECASE)
BACK_TO = re.compile(r"\b(?:back (?:down )?to|return to)\b", re.IGNORECASE)
#: Said of what is left: "only 4 pots", "down to 4".
_ONLY_LEFT = re.compile(r"\b(?:only|just|actually|now|left|down to)\b", re.IGNORECASE)


def put_back(old: Draft | None, new: Draft, past: Sequence[Draft]) -> Draft | None:
    """ "put the roses back", "with the roses again": places that were dropped, as they were then.

    None where the line says anything else, or no earlier turn had such places beside those that are left.
    """
    if old is None or not old.places or not _BACK.search(new.text) or BACK_TO.search(new.text) or not only_names(new) or new.asks or new.topics:
        return None
    if any(spoken_of(place, old.places, to_the_word=True) for place in new.places if place.noun):
        return None
    for before in reversed(past):
        if len(before.places) <= len(old.places):
            continue
        hits = {at for place in new.places for at in spoken_of(place, before.places, to_the_word=True)}
        rest = [place for at, place in enumerate(before.places) if at not in hits]
        if not hits or [place.noun for place in rest] != [place.noun for place in old.places]:
            continue
        draft = old.copy()
        kept = iter(draft.places)
        draft.places = [place if at in hits else next(kept) for at, place in enumerate(before.copy().places)]
        draft.way = "" if draft.way != before.way else draft.way
        return cleared(draft, new)
    return None


def keep_only(old: Draft, new: Draft, kept: Sequence[int]) -> Draft:
    """ "just the pots": the other places are dropped."""
    draft = old.copy()
    draft.places = [draft.places[at] for at in kept]
    return cleared(draft, new)


def without(old: Draft, new: Draft, gone: Sequence[int]) -> Draft:
    """ "drop the second": the draft without some of its places."""
    return keep_only(old, new, [at for at in range(len(old.places)) if at not in gone])


def fewer(old: Draft, new: Draft, at: Sequence[int]) -> Draft | None:
    """ "remove two pots" of six: fewer of the same; None where all of them are to go."""
    counts = [place.count for place in new.places if place.count]
    place = old.places[at[0]]
    if len(at) != 1 or len(counts) != 1 or place.count is None or not counts[0] < place.count:
        return None
    draft = old.copy()
    draft.places[at[0]].count = place.count - counts[0]
    return cleared(draft, new)


def taken_off(old: Draft, new: Draft, touched: Sequence[int]) -> Draft | str:
    """ "except 2 square metres", "minus the driveway, 10 by 25": what gets none is taken off the place spoken of.

    One of several places that has that very size is dropped. Asks where it is not told which place it is taken off.
    """
    told = [place for place in new.places if place.noun or is_named(place)]
    if len(old.places) > 1 and not told:
        same = [at for corner in new.minus for at in by_size(corner, old.places)]
        if len(same) == len(new.minus):
            return without(old, new, same)
    pool = meant(Draft(places=told), old, touched) if told else list(range(len(old.places)))
    if isinstance(pool, str):
        return pool
    pool = [at for at in pool if old.places[at].size or old.places[at].area or old.places[at].diameter or old.places[at].radius]
    if len(pool) != 1:
        return which([old.places[at] for at in pool]) if pool else "What is that taken off? Say the size of what castings do go on."
    draft = old.copy()
    place = draft.places[pool[0]]
    if (place.count or 1) > 1:
        return f"Is that taken off each of the {place.count:g}? Say the size of what castings do go on."
    unit_there = place.size[0].unit if place.size else ""
    for corner in new.minus:
        if corner.size and not corner.size_unit_said:
            corner.size = tuple(one._replace(unit=one.unit or unit_there) for one in corner.size)
            corner.size_unit_said = bool(unit_there)
        place.minus.append(corner)
    return cleared(draft, new)


def gone_already(old: Draft | None, new: Draft) -> str | None:
    """ "only 4 pots, one cracked" after five: the one is off the four already.

    A question where the number before does not tell, and "only" says that the number is what is left.
    """
    if new.gone is None or old is None:
        return None
    total, few = new.gone
    counted = [place for place in new.places if place.count == total - few]
    if len(counted) != 1 or not (hits := spoken_of(counted[0], old.places)):
        return None
    before = {old.places[at].count for at in hits}
    if before == {total + few}:
        counted[0].count = total
        new.figures = [(total if value == total - few else value, said) for value, said in new.figures]
        new.flags = [("left-out", f"{few:g} of {total + few:g} left out: {total:g}") if code == "left-out" else (code, text) for code, text in new.flags]
        return None
    if before != {total} and _ONLY_LEFT.search(new.text):
        return f"Is that {few:g} among the {total:g}? Say how many are to get castings."
    return None
