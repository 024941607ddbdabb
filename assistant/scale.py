"""Sizes and amounts held against what is sane; the scale is in the facts."""

from __future__ import annotations

from functools import lru_cache

from grammar.quantities import Span, unit
from grammar.query import Place

from .knowledge import facts
from .relations import Value
from .worked import Unworkable, base


def check_dims(place: Place, density: Value | None) -> None:
    """Raises Unworkable for a size out of any sane scale; the scale is in the facts."""
    container = place.kind == "container"
    for name, span in place.shape.dims.items():
        low, high = base(span)
        dimension = span.dimension
        if dimension == "length":
            limit = "limits.container-width" if container else "limits.length"
        elif dimension == "area":
            limit = "limits.area"
        else:
            limit = "limits.container-volume" if container else "limits.volume"
        check_scale(limit, low, high, f"the {name}", span)
    if place.depth is not None:
        check_scale("limits.depth", *base(place.depth), "the depth", place.depth)
    for layer in place.layer:
        check_scale("limits.layer", *base(layer), "the layer", layer)
    if place.count is not None:
        most = facts().rate("limits.count-beds" if place.kind == "ground" else "limits.count")
        if not most.low <= place.count <= most.high:
            raise Unworkable("scale", f"{place.count:,.0f} of them is out of any scale known here; is that the number meant?", "count")
        if place.count != int(place.count):
            raise Unworkable("count", f"{place.count:g} of them: how many whole ones?", "count")
    if place.rate is not None and place.rate_per is None and not place.rate_altogether:
        low, high = base(place.rate)
        if place.rate.dimension == "weight" and density is not None:
            low, high = low / density[1], high / density[0]
        if place.rate.dimension == "volume" or density is not None:
            check_scale("limits.per-plant", low, high, "the amount for each", place.rate)


def check_scale(limit_id: str, low: float, high: float, what: str, span: Span) -> None:
    """Raises Unworkable when a value lies outside a declared limit."""
    least, most = _scale(limit_id)
    if low < least or high > most:
        from .units import span_text

        raise Unworkable("scale", f"{what} of {span_text(span)} is out of any scale known here; is that the amount meant?", "size")


@lru_cache(maxsize=64)
def _scale(limit_id: str) -> Value:
    """The ends of a declared limit in coherent SI units, and a hair's breadth beyond."""
    limit = facts().rate(limit_id)
    size = unit(limit.unit).factor
    return limit.low * size * (1 - 1e-9), limit.high * size * (1 + 1e-9)


def check_volume(castings: Value) -> None:
    """Raises Unworkable for an amount of castings beyond any sane scale."""
    limit = facts().rate("limits.volume")
    size = unit(limit.unit).factor
    if castings[1] > limit.high * size or castings[1] <= 0:
        raise Unworkable("scale", f"that would take {castings[1]:.3g} m³ of castings, beyond any scale known here; check the sizes", "size")
