"""The density in force: what the request says or weighs, else the shop's own, else the trade's."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from grammar.quantities import factor
from grammar.query import Query

from ..knowledge import facts
from ..relations import Value
from ..units import Printer, printed
from ..worked import Density, Unworkable, base

if TYPE_CHECKING:
    from ..purchase import Weighed
    from ..shop import Catalogue


def in_force(query: Query, shop: Catalogue | None) -> Density:
    """The density that a query is worked out with. Raises Unworkable for one that no castings have."""
    if query.weighed is not None:
        weight, volume = query.weighed
        low, high = base(weight)
        over = base(volume)
        return _stated((low / over[1], high / over[0]))
    if query.density is not None:
        return _stated(base(query.density))
    fact = facts().rate("castings.density")
    size = factor(fact.unit)
    typical = fact.single * size
    own = _of_shop(shop)
    if own is not None:
        moist = query.moisture
        typical = ((own.at(moist.high / 100) if moist is not None else None) or own.density) * 1000
    return Density((typical, typical), False, (fact.low * size, fact.high * size))


def assumption(density: Density, query: Query, shop: Catalogue | None, printer: Printer) -> tuple[str, str]:
    """What an answer says of a density that the request does not state: whose it is."""
    own = _of_shop(shop)
    if shop is not None and own is not None:
        shown = printer.show(*density.value, "density")
        moist = query.moisture
        told = moist is not None and own.moisture is not None
        at = f" at {printed(moist.high, moist.high, 'percent')} moisture, with as much dry matter in a litre" if told and moist else ""
        return "shop-density", f"{own.name} of {shop.shop.name} weighs {shown}{at}, by its catalogue"
    assert density.span is not None
    return "default-density", _of_the_trade(density.value[0], density.span, query.metric)


@lru_cache(maxsize=64)
def _of_the_trade(typical: float, span: Value, metric: bool) -> str:
    """What is said of a density that only the trade tells."""
    name = "kilogram / litre" if metric else "pound / cubic_foot"
    size = factor(name)
    shown, sold = printed(typical / size, typical / size, name), printed(span[0] / size, span[1] / size, name)
    return f"castings weigh {shown} ({sold} are sold; {facts().footing(facts().rate('castings.density'))}); a bag's own weight and volume are better"


def weight_of(volume: Value, density: Density) -> Value:
    """What a volume weighs, in kilograms."""
    return volume[0] * density.value[0], volume[1] * density.value[1]


def volume_of(weight: Value, density: Density) -> Value:
    """The volume of a weight, in cubic metres: the less, the heavier castings are."""
    return weight[0] / density.value[1], weight[1] / density.value[0]


def _of_shop(shop: Catalogue | None) -> Weighed | None:
    if shop is None:
        return None
    from ..purchase import density_of

    return density_of(shop)


def _stated(value: Value) -> Density:
    limit = facts().rate("limits.density")
    size = factor(limit.unit)
    if value[0] < limit.low * size or value[1] > limit.high * size:
        raise Unworkable("scale", f"castings of {value[0] / 1000:.3g} kg/L are lighter or heavier than any; is that right?", "density")
    return Density(value, True)
