"""How much tea a job takes, and in how many batches it is brewed."""

from __future__ import annotations

from typing import NamedTuple

from grammar.quantities import factor
from grammar.query import Place, Query

from .dimensions import put_shape
from .knowledge import facts
from .relations import BATCHES, FORMS, TEA_FOR_AREA, TEA_FOR_PLANTS, TREATED_AREA, WHOLE_AREA, Relation, Value
from .sheet import Sheet
from .worked import Density, Unworkable, Worked, base

_AREAS = frozenset({"rectangle", "circle", "oval", "triangle", "hexagon", "octagon", "ring", "area"})


class Needed(NamedTuple):
    """The tea that one place takes in cubic metres, how it was worked out, and what was assumed."""

    water: Value
    worked: Worked
    assumed: tuple[tuple[str, str], ...]


def treated(query: Query) -> list[Place]:
    """The places of a tea that say how much of it they take: plants that are counted, and areas."""
    return [
        place
        for place in query.places
        if place.shape.form in _AREAS or (place.kind in ("plant", "") and (place.count or "article" in place.hints)) or _each(place)
    ]


def _each(place: Place) -> bool:
    """Whether so much tea is said for each of so many, whatever they are."""
    return place.rate is not None and place.rate_per is None and place.rate.dimension == "volume" and bool(place.count)


def needed(place: Place, density: Density) -> Needed:
    """The tea for one place: by its area, or by its plants. Raises Unworkable for a size out of scale."""
    sheet = Sheet()
    relations: tuple[Relation, ...] = (*FORMS[place.shape.form], WHOLE_AREA, TREATED_AREA)
    worked = Worked(place, sheet, relations)
    put_shape(worked, place)
    assumed = list(worked.assumed)
    if place.shape.form in _AREAS and not _each(place):
        if place.rate is not None and place.rate_per is not None and place.rate.dimension == "volume":
            low, high = base(place.rate)
            per = base(place.rate_per)
            sheet.give("tea for an area", low / per[1], high / per[0])
        else:
            usual, said = tea_for_area()
            sheet.give("tea for an area", *usual)
            assumed.append(said)
        water = sheet.reach("water", (*relations, TEA_FOR_AREA))
    else:
        fact = facts().rate("tea.drench-per-plant")
        if place.rate is not None and place.rate.dimension == "volume":
            sheet.give("tea for one", *base(place.rate))
        else:
            sheet.give("tea for one", *fact.span.base)
            assumed.append(("tea-rate", f"{fact.said} of tea for each young plant ({facts().cite(fact)})"))
        water = sheet.reach("water", (TEA_FOR_PLANTS,))
    if water is None:
        raise Unworkable("size", "how big is the place that the tea is for?", "size")
    return Needed(water, worked, tuple(assumed))


def tea_for_area() -> tuple[Value, tuple[str, str]]:
    """The usual tea for an area of soil in metres, and the words by which it is told as assumed."""
    fact = facts().rate("tea.drench-per-area")
    size = factor(fact.unit)
    # as the trade says it: gallons for a thousand square feet
    said = f"{fact.low * 1000:g} to {fact.high * 1000:g} US gallons of tea for 1000 square feet ({facts().cite(fact)})"
    return (fact.low * size, fact.high * size), ("tea-rate", said)


def batches(water: Value, vessel: Value) -> tuple[int, int]:
    """Whole batches of a vessel for so much tea."""
    return BATCHES.counts(water, vessel)
