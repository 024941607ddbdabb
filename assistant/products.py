"""Two products side by side: what a unit of each costs, by volume and by weight, and which is the cheaper.

A weight becomes a volume by the density in force. Where the trade's densities could turn the order round,
the answer says at which density that happens.
"""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

from grammar.quantities import Span, factor, unit
from grammar.query import Query

from .knowledge import facts
from .relations import UNIT_PRICE
from .units import printed
from .worked import Density, Unworkable


class Offer(NamedTuple):
    """One product: its size and price as said, and the price of one unit of the measure they are compared by."""

    size: Span
    price: float
    currency: str
    per_unit: float

    @property
    def name(self) -> str:
        return f"{printed(self.size.low, self.size.high, self.size.unit)} at {self.price:.2f} {self.currency}"


def measure_of(query: Query) -> str:
    """The unit they are compared by: the one that was asked for, else one in which they were spoken of."""
    if query.asked_unit and unit(query.asked_unit).dimension in ("volume", "weight"):
        return query.asked_unit
    kinds = {size.dimension for size, _, _ in query.offers}
    if kinds == {"weight"}:
        return "kilogram" if is_metric(query) else "pound"
    return "litre" if is_metric(query) else "cubic_foot"


def offers(query: Query, density: Density) -> list[Offer]:
    """Every product with the price of a unit, the cheapest first."""
    name = measure_of(query)
    found = []
    for size, price, currency in query.offers:
        low = size.base[0]
        if low <= 0:
            raise Unworkable("zero", "a pack of nothing cannot be compared; how big is it?", "pack")
        if size.dimension not in ("volume", "weight"):
            raise Unworkable("pack", "how big is each, by weight or by volume?", "pack")
        if size.dimension != unit(name).dimension:
            low = low / density.value[0] if size.dimension == "weight" else low * density.value[0]
        solved = UNIT_PRICE.solve({"price": (price, price), "size": (low / factor(name), low / factor(name))}, "price of a unit")
        assert solved is not None
        found.append(Offer(size, price, currency, solved[0]))
    return sorted(found, key=lambda one: one.per_unit)


def turning_point(one: Offer, other: Offer) -> float | None:
    """The density, in kg a cubic metre, at which two products cost the same; None where density does not matter."""
    if one.size.dimension == other.size.dimension:
        return None
    heavy, loose = (one, other) if one.size.dimension == "weight" else (other, one)
    # the same money for the same volume: price ÷ (weight ÷ density) = price ÷ volume
    return loose.price / loose.size.base[0] * heavy.size.base[0] / heavy.price


def is_metric(query: Query) -> bool:
    """Whether the first of them was spoken of in metric units."""
    return any(part in query.offers[0][0].unit for part in ("litre", "gram", "metre", "tonne"))


def rests_on_density(query: Query) -> bool:
    """Whether products that are sold by weight and by volume are set side by side, so that it takes the density."""
    return any(size.dimension != unit(measure_of(query)).dimension for size, _, _ in query.offers)


def text_of(turn: float, heavier: Offer, metric: bool) -> str:
    """What happens at another density."""
    name = "kilogram / litre" if metric else "pound / cubic_foot"
    figure = printed(turn / factor(name), turn / factor(name), name)
    usual = facts().rate("castings.density").written_in(name) if not metric else facts().rate("castings.density")
    return (
        f"They cost the same where castings weigh {figure}; heavier castings make the {heavier.name} the dearer one, lighter "
        f"ones the cheaper ({usual.said} are sold)."
    )


def money(value: float) -> str:
    """A price of one unit, to the cent and finer where it is small."""
    return f"{Decimal(repr(value)):.2f}" if value >= 1 else f"{Decimal(repr(value)):.3f}"
