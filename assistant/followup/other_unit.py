"""A measure that stays and whose unit is set right."""

from __future__ import annotations

from grammar.draft import Draft
from grammar.quantities import DOUBTFUL, Span, unit

from .leaning import cleared

_LENGTHS = ("volume", "area", "rate", "depth", "length", "width", "diameter", "radius", "height", "fill")


def other_unit(old: Draft, new: Draft) -> Draft:
    """ "I meant US gallons": the number stays and its unit changes."""
    draft = old.copy()
    draft.text, draft.flags, draft.noted = new.text, [], []
    wrong, right = new.not_unit, new.asked_unit
    if not right:
        return draft
    wanted = unit(right).dimension if right not in DOUBTFUL else ""

    def changed(span: Span) -> Span:
        if not span.unit:
            return span._replace(unit=right) if wanted == "length" else span  # "3 by 2", "I meant metres"
        fits = span.unit not in DOUBTFUL and span.dimension == wanted
        return span._replace(unit=right) if fits and (not wrong or span.unit == wrong) else span

    only_last = not wrong and wanted == "length"
    for place in draft.places:
        if only_last and place.layer:
            place.layer = [changed(one) for one in place.layer]  # "an inch … I meant cm": what was said last
            continue
        for name in _LENGTHS:
            span = getattr(place, name)
            if span is not None and not (only_last and name == "depth" and place.size):
                setattr(place, name, changed(span))
        place.size = tuple(changed(one) for one in place.size)
        place.size_unit_said = place.size_unit_said or all(one.unit for one in place.size)
        place.layer = [changed(one) for one in place.layer]
    return draft


def names_the_sides(old: Draft, new: Draft) -> bool:
    """Whether a line is only the unit of sides that were said without one: "metres"."""
    bare = not (new.places or new.unsure or new.stray or new.asks or new.have or new.asked) and new.asked_unit not in ("", *DOUBTFUL)
    return bare and unit(new.asked_unit).dimension == "length" and any(place.size and not place.size_unit_said for place in old.places)


def only_the_sides(old: Draft, new: Draft) -> Draft:
    """The sides in the unit that was said for them; nothing else changes."""
    draft = old.copy()
    for place in draft.places:
        if place.size and not place.size_unit_said:
            place.size, place.size_unit_said = tuple(one._replace(unit=new.asked_unit) for one in place.size), True
    return cleared(draft, new)
