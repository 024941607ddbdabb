"""More or less by so much or so many times, where it can only mean one thing."""

from __future__ import annotations

import re

from grammar.draft import Draft
from grammar.quantities import Span

from ..replies import bare_number
from ..spoken_of import by_size, last_changed, which
from .by_a_measure import by_a_measure
from .landing import says_all
from .leaning import Leaning, cleared
from .meant import one_meant, refers

_DEEP = re.compile(r"\b(?:deep|depth)\b")
_AS_MANY = re.compile(r"\bas many\b")


def by_so_much(old: Draft, new: Draft, leaning: Leaning) -> Draft | str | None:
    """ "two more pots", "double the mix", "2 inches deeper": worked out where it can only mean one thing, else asked.

    None where a line is no change by so much.
    """
    if not ({"by-so-much", "cut"} & new.hints) and not (new.replies and new.replies[0][0] == "add-place"):
        return None
    if new.by_so_much == "more" and (others := _more_of_another_size(old, new)) is not None:
        return others if isinstance(others, Draft) else None
    index = one_meant(old, new, leaning.touched)
    place = old.places[index] if index is not None else None
    several = [one for one in old.places if (one.count or 1) > 1]
    if new.by_so_much == "fewer" and "cut" not in new.hints and len(several) > 1 and not refers(new) and not leaning.touched:
        return which(several)
    numbers = [p.count for p in new.places if p.count is not None]
    numbers += [n for n in (bare_number(said) for said, _, _ in new.stray) if n is not None]
    if "cut" in new.hints:
        return _scaled(old, new, index, last_changed(old, [*reversed(leaning.past)]))
    adding = bool(new.replies) and new.replies[0][0] == "add-place"
    if adding and (not new.places or any(p.has_size for p in new.places) or place is None or not place.has_size
                   or new.places[0].noun != place.noun):  # fmt: skip
        return None
    if place is not None and index is not None and place.count is not None and len(numbers) == 1 and (
        adding or new.by_so_much in ("more", "fewer")
    ) and not new.unsure and not any(p.share or p.depth or p.layer for p in new.places):  # fmt: skip
        draft = old.copy()
        count = place.count + (numbers[0] if adding or new.by_so_much == "more" else -numbers[0])
        if count <= 0:
            return f"That leaves none of the {place.count:g}; how many are there?"
        draft.places[index].count = count
        return cleared(draft, new)
    if adding:
        return None
    measured = by_a_measure(old, new, index)
    if measured is not None:
        return measured
    return "From what to what? Say the new amount itself, as “12 inches deep” or “15 %”."


def _more_of_another_size(old: Draft, new: Draft) -> Draft | bool | None:
    """ "one more tub of 20 L", "6 more tomatoes with 2 cups each": more of those of that size, or others that come on top.

    False where the line is left to be read as one that adds a place; None where no size and no rate of its own is told.
    """
    told = [place for place in new.places if place.has_size or (place.noun and place.rate is not None)]
    numbers = [n for n in (bare_number(said) for said, _, _ in new.stray) if n is not None]
    if len(told) != 1 or len(new.places) != 1 or len(numbers) != 1 or numbers[0] < 1 or told[0].count or new.unsure:
        return None
    place, count = told[0], numbers[0]
    plain = not (place.share or place.layer or place.depth)
    same = [at for at in by_size(place, old.places) if old.places[at].noun == place.noun or not place.noun]
    if place.has_size and len(same) == 1 and plain and place.rate is None:
        draft = old.copy()
        draft.places[same[0]].count = (draft.places[same[0]].count or 1) + count
        return cleared(draft, new)
    alike = [at for at, one in enumerate(old.places) if one.noun == place.noun and one.rate == place.rate and one.rate_per == place.rate_per]
    if not place.noun:
        return None
    if not place.has_size:
        draft = old.copy()
        if len(alike) == 1:
            draft.places[alike[0]].count = (draft.places[alike[0]].count or 0) + count
        else:
            before = next((one for one in reversed(old.places) if one.noun == place.noun), None)
            more = new.copy().places[0]
            more.count, more.way = count, more.way or (before.way if before is not None else "")
            draft.places.append(more)
        return cleared(draft, new)
    place.count = count
    new.stray = [one for one in new.stray if bare_number(one[0]) != count]
    new.hints -= {"by-so-much"}
    new.replies = [("add-place", new.by_so_much_said), *new.replies]
    new.by_so_much = new.by_so_much_said = ""
    return False


def _scaled(old: Draft, new: Draft, index: int | None, lately: str) -> Draft | str:
    """ "double the mix", "half as much": the value that is named, or the one that what each place gets hangs on."""
    text = new.text.lower()
    factor = 0.5 if "hal" in text else 3.0 if "triple" in text else 4.0 if "quadruple" in text else 2.0
    if new.figures or index is None:
        return "Of what? Say the amount itself, please."
    draft = old.copy()
    if says_all(text) and len(draft.places) > 1 and not new.places:
        for place in draft.places:
            if not (place.rate or place.layer or place.share):
                return "Of what? Say the amount itself, please."
            place.rate = times(place.rate, factor) if place.rate is not None else None
            place.layer = [times(one, factor) for one in place.layer]
            place.share = times(place.share, factor) if place.share is not None else None
        return cleared(draft, new)
    target = draft.places[index]
    named = {p.kind for p in new.places}
    if _DEEP.search(text) and target.depth is not None:
        target.depth = times(target.depth, factor)
    elif "share-word" in new.hints and target.share is not None:
        target.share = times(target.share, factor)
    elif named & {"mix"} and target.volume is not None:
        target.volume = times(target.volume, factor)
    elif (named or _AS_MANY.search(text) or lately == "count") and target.count is not None and "castings" not in text:
        if not (target.count * factor).is_integer():
            return f"Half of {target.count:g} is no whole number; how many are there?"
        target.count *= factor
    elif target.rate is not None and not named:
        target.rate = times(target.rate, factor)
    elif target.layer and not named:
        target.layer = [times(one, factor) for one in target.layer]
    elif target.volume is not None and target.kind in ("mix", "seed-mix") and target.share is None and not (named or draft.recipe or draft.parts_share):
        target.volume = times(target.volume, factor)  # the share is the usual one, and stays so
    elif target.share is not None and not named and (lately == "share" or factor < 1):
        target.share = times(target.share, factor)
    else:
        return "Of what? Say the amount itself, please."
    return cleared(draft, new)


def times(span: Span, factor: float) -> Span:
    """So many times a span."""
    return Span(span.low * factor, span.high * factor, span.unit)
