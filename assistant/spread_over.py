"""Castings that go over several places together: one place as big as all of them, where how thick or what share is asked."""

from __future__ import annotations

from typing import Literal, NamedTuple

from grammar.quantities import Span, factor
from grammar.query import Place, Query, Shape

from .dimensions import put_shape
from .relations import SUM_OF_AREAS, SUM_OF_VOLUMES, Told, Value
from .sheet import Sheet
from .work import relations_for
from .worked import Density, Unworkable, Worked

_LITRE = factor("litre")


class Together(NamedTuple):
    """One place in the stead of several, and the step that puts them together: its rule, what each is, and the sum."""

    place: Place
    rule: Told
    each: tuple[Value, ...]
    whole: Value


def together(query: Query, asked: Literal["layer", "share"], density: Density) -> Together:
    """All places of a request as one. Raises Unworkable where one of them takes castings of its own, or is of another sort."""
    found: list[Value] = []
    for place in query.places:
        if place.rate is not None or place.recipe or (place.layer and asked == "layer") or (place.share is not None and asked == "share"):
            raise Unworkable("one-at-a-time", f"is that of all the castings there are, or of what is left by the {_name(place)}? Ask for one at a time, please", "one")
        way = "top-dress" if asked == "layer" else "blend"
        worked = Worked(place, Sheet(), relations_for(place, way))
        put_shape(worked, place)
        worked.sheet.give("density", *density.value)
        size = worked.sheet.reach("treated area" if asked == "layer" else "whole volume", worked.relations)
        if size is None or (asked == "share" and (place.soil is not None or place.way == "incorporate")):
            raise Unworkable("one-at-a-time", f"is that of all the castings there are, or of what is left by the {_name(place)}? Ask for one at a time, please", "one")
        found.append(size)
    whole = (sum(low for low, _ in found), sum(high for _, high in found))
    if asked == "layer":
        shape = Shape(form="area", dims={"area": Span(*whole, "square_metre")})
        return Together(Place(shape=shape, way="top-dress"), SUM_OF_AREAS, tuple(found), whole)
    shape = Shape(form="volume", dims={"volume": Span(whole[0] / _LITRE, whole[1] / _LITRE, "litre")})
    return Together(Place(shape=shape, way="blend"), SUM_OF_VOLUMES, tuple(found), whole)


def _name(place: Place) -> str:
    return place.printed or place.noun or "first place"
