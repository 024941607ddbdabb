"""What so many packs of a size cost, out of the catalogue in force: "how much is a 40 lb bag"."""

from __future__ import annotations

from decimal import Decimal

from grammar.query import Query

from .budget import AtHand, at_hand, held
from .purchase import castings_of, count_text, in_force, lines_text, money_text, note, number_text, of_size
from .relations import PACKS_HELD
from .shop import Catalogue, Offer, OfferError, Purchase, order
from .steps import step
from .units import Printer
from .worked import Unworkable


def for_named_packs(query: Query, printer: Printer, density: float | None, shop: Catalogue | None) -> AtHand:
    """The packs of the size that was said, at what the shop takes for them. Raises Unworkable where it has none such."""
    assert query.pack is not None and query.pack.size is not None
    catalogue = in_force(shop)
    of = castings_of(catalogue, density)
    count = Decimal(repr(query.pack.count or 1.0))
    found: list[Purchase] = []
    refused = ""
    for one in of_size(of, catalogue, query.pack.size).packs:
        try:
            found.append(order(of, {one.id: count}))
        except OfferError as problem:
            refused = refused or f"{problem}; how many are there to be?"
    if not found:
        had = "; ".join(one.name for one in sorted(of.packs, key=lambda one: one.litres))
        raise Unworkable("pack", refused or f"{catalogue.shop.name} has no such {query.pack.noun}; it has: {had}", "pack")
    best = min(found, key=lambda one: (one.bill.to_pay, one.lines[0].id))
    advice = [note("in-stock", _stock(of.pack(best.lines[0].id)))]
    advice += [note("also-sold", f"{count_text(other)} would be {money_text(other.bill.to_pay, other)}.") for other in found if other is not best]
    if breaks := of.pack(best.lines[0].id).tiers[1:]:
        prices = ", ".join(f"{each} {of.currency.code} each from {number_text(start)} on" for start, each in breaks)
        advice.append(note("price-breaks", f"In larger orders: {prices}."))
    return at_hand(best, catalogue, step(PACKS_HELD, lines_text(best), held(best, printer)), [], advice)


def _stock(one: Offer) -> str:
    if one.most is None:
        return f"The stock of “{one.name}” is not counted."
    return f"“{one.name}”: {number_text(one.most)} in stock."
