"""A bagged mix with castings in it beside the castings themselves: told where a new mix is made up, and never bought unasked.

A need of castings is met by castings. For a mix that is made up anyway a blend can bring them along: so much of it
holds the same castings, and takes the place of as much of the other soil. On top of plants, in a planting hole or in a
tea it cannot stand in, and neither where the mix is to be richer than the blend.
"""

from __future__ import annotations

from grammar.quantities import factor

from .answer import Advice
from .ends import at_end
from .purchase import Wanted, lines_text, money_text, note
from .shop import Catalogue, Purchase, cover, offers

_LITRE = factor("litre")


def ready_mixed(catalogue: Catalogue, wanted: Wanted) -> list[Advice]:
    """What each blend of the catalogue would do for a mix that is made up new."""
    places = wanted.worked
    if not places or wanted.times != 1 or any(one.place.way != "blend" or one.share is None or one.castings is None for one in places):
        return []
    richest = max(at_end(one.share, wanted.end) for one in places if one.share is not None)
    castings = sum(at_end(one.castings, wanted.end) for one in places if one.castings is not None)
    found = []
    for product in catalogue.products:
        if product.kind != "blend" or product.castings is None or richest > float(product.castings) / 100:
            continue
        of = offers(catalogue, product=product.id)
        litres = castings / _LITRE / (float(product.castings) / 100)
        bought = cover(of, litres) if of.packs else None
        if isinstance(bought, Purchase):
            shown = wanted.printer.show(litres * _LITRE, litres * _LITRE, "volume")
            share = f"{product.castings.normalize():f} %"
            found.append(note("ready-mixed", f"Ready mixed, “{product.name}” is {share} castings by volume: {shown} of it hold the same castings and "
                              f"stand in for as much of the other soil. That is {lines_text(bought)} for {money_text(bought.bill.to_pay, bought)}."))  # fmt: skip
    return found
