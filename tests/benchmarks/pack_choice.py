"""How long the choice of packs takes: run it, and it prints. Nothing is asserted.

python tests/benchmarks/pack_choice.py
"""

from __future__ import annotations

import random
from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
from statistics import median
from time import process_time

from assistant.shop import Offer, Offers, Purchase, Shortfall, cover, load, nearest_smaller, offers, within_budget
from assistant.shop.measures import one, size
from assistant.shop.money import currency

TEN_YARDS = 10 * one("cubic_yard")
DENSITY = Fraction(3, 5)
SHOPS = 25
#: Twelve packs in the units of the trade, so that their sizes have no simple common measure.
PACKS = [(2, "litre"), (4, "us_dry_quart"), (8, "us_dry_quart"), (5, "pound"), (10, "pound"), (25, "pound"), (40, "pound"),
         (20, "litre"), (25, "kilogram"), (1, "cubic_foot"), (2, "cubic_foot"), (5, "us_gallon")]  # fmt: skip


def twelve(chance: random.Random, way: str) -> Offers:
    """Twelve packs: large ones cheaper by size, some a little dearer than others, or all at one price a litre."""
    packs = []
    for place, (amount, unit) in enumerate(PACKS):
        litres, kilograms = size(amount, unit, DENSITY)
        price = float(litres) * 1.1
        if "flat" not in way:
            price = float(litres) ** 0.9 * 1.6 * chance.uniform(0.92, 1.08)
        each = Decimal(price).quantize(Decimal("1") if "round" in way else Decimal("0.01")) or Decimal(1)
        tiers = [(Decimal(1), each)]
        if "breaks" in way:
            for start, part in ((chance.randint(3, 10), "0.95"), (chance.randint(15, 40), "0.88")):
                tiers.append((Decimal(start), (each * Decimal(part)).quantize(Decimal("0.01"))))
        most = Decimal(chance.randint(20, 90)) if "stock" in way else None
        packs.append(
            Offer(f"p{place:02}", f"p{place:02}", "castings", litres, kilograms, tuple(tiers), Decimal(1), most, Decimal(1))
        )
    return Offers(tuple(packs), currency("USD"))


def timed(what: str, runs: list[Callable[[], Purchase | Shortfall | None]]) -> None:
    """Prints the median and the worst of some runs, each once, and how many of them are proved to be the best."""
    times, proved = [], 0
    for run in runs:
        start = process_time()
        found = run()
        times.append((process_time() - start) * 1000)
        proved += isinstance(found, Purchase) and found.best
    print(f"{what:<62} median {median(times):6.1f} ms   worst {max(times):6.1f} ms   proved {proved} of {len(runs)}")


def main() -> None:
    sample = offers(load())
    cover(sample, 1.0)
    for litres in (30.0, 200.0, 1000.0, float(TEN_YARDS)):
        timed(f"sample, {litres:.0f} L: cover", [lambda litres=litres: cover(sample, litres)] * 5)  # type: ignore[misc]
        timed(f"sample, {litres:.0f} L: nearest smaller", [lambda litres=litres: nearest_smaller(sample, litres)] * 5)  # type: ignore[misc]
    for way in ("", "round", "breaks", "stock", "stock breaks", "flat", "flat stock", "flat breaks", "flat stock breaks"):
        chance = random.Random(7)
        shops = [twelve(chance, way) for _ in range(SHOPS)]
        named = f"12 packs {way or 'plain'}"
        timed(f"{named}, 10 cubic yards: cover", [lambda of=of: cover(of, TEN_YARDS) for of in shops])  # type: ignore[misc]
        timed(f"{named}, 10 cubic yards: nearest smaller", [lambda of=of: nearest_smaller(of, TEN_YARDS) for of in shops])  # type: ignore[misc]
        timed(f"{named}, 500 in money", [lambda of=of: within_budget(of, Decimal(500)) for of in shops])  # type: ignore[misc]


if __name__ == "__main__":
    main()
