"""The purchase: which packs to buy for an amount, what a sum of money buys, and what each pack costs by size.

Of all purchases that cover an amount the cheapest is chosen; of those that cost the same, the one with
the least left over; then the one with the fewest packs; then the one with more of the pack whose id
comes first. A pack sold loose counts as one for each step of it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from math import isfinite
from typing import Final, NamedTuple

from . import measures, money
from .choice import Choice, everything, least_cost, most_for
from .money import Bill, Currency
from .offers import Offer, OfferError, Offers, Scale, scale

#: An amount that was worked out in floats may be a hair more than it is: a need is met when no more than
#: this part of it is wanting, so that three bags of 8 dry quarts do for 24 dry quarts.
HAIR: Final = Fraction(1, 10**9)

#: The most of one pack that anybody orders: far above any stock, far below what decimals hold.
MOST: Final = 10**9

#: Litres, exact or worked out.
Litres = Fraction | Decimal | float


class Line(NamedTuple):
    """So many of one pack. `number` is whole but for a pack sold loose; sizes are of the whole line."""

    id: str
    name: str
    product: str
    number: Decimal
    each: Decimal
    total: Decimal
    litres: float
    kilograms: float
    loose: bool


class Purchase(NamedTuple):
    """What to buy, by id.

    `cost` is at the shop's prices, `bill` what it comes to with the tax. `need` is the amount it was
    chosen for, in litres, or None. `best`: no purchase does it for less (or gives more for the money);
    `settled`: no other comes before it at that. Where a search came to its end without proving it, they are
    false, and whoever tells of the purchase says so: `could_save` is the most, with the tax, that another
    purchase could save, and `could_hold` the litres that no other purchase for the money goes above.
    """

    lines: tuple[Line, ...]
    cost: Decimal
    bill: Bill
    currency: Currency
    litres: float
    kilograms: float
    need: float | None = None
    best: bool = True
    settled: bool = True
    could_save: Decimal = Decimal(0)
    could_hold: float = 0.0

    @property
    def left_over(self) -> float:
        """Litres above the need; nought where there is none or it is not met."""
        return 0.0 if self.need is None else max(self.litres - self.need, 0.0)

    @property
    def wanting(self) -> float:
        """Litres below the need; nought where there is none or it is met."""
        if self.need is None or self.litres >= self.need * (1 - float(HAIR)):
            return 0.0
        return self.need - self.litres

    @property
    def part_of_need(self) -> float | None:
        """What is bought over what is needed; None where nothing is needed."""
        return self.litres / self.need if self.need else None

    @property
    def bags(self) -> Decimal:
        """How many packs there are to carry: those not sold loose."""
        return sum((line.number for line in self.lines if not line.loose), Decimal(0))

    def change(self, budget: Decimal) -> Decimal:
        """What is left of so much money when the bill is paid."""
        return budget - self.bill.to_pay


class Shortfall(NamedTuple):
    """The stock cannot cover the need: what there is, and how many litres are wanting."""

    need: float
    available: float
    short_by: float
    everything: Purchase


class Need(NamedTuple):
    """One of several amounts of an order: what it is for, litres, and the packs to choose from."""

    name: str
    litres: Litres
    offers: Offers


class Together(NamedTuple):
    """Several needs bought at once, against each bought alone.

    `purchases` has one for each set of packs among the needs (all of castings together, the blend by
    itself); `alone` one for each need. `saving` is what buying at once saves of the bill, or None where
    the stock does not do for every purchase, or not for all of those alone.
    """

    purchases: tuple[Purchase | Shortfall, ...]
    alone: tuple[Purchase | Shortfall, ...]
    saving: Decimal | None


class Comparison(NamedTuple):
    """A pack's price by size, when `number` are bought. Prices of a unit have four decimals past the minor unit.

    `a_dry_kilogram` is the price of a kilogram of what is left when the water is taken off, where the
    moisture is known: by weight a wet product looks cheaper than it is.
    """

    id: str
    name: str
    product: str
    number: Decimal
    each: Decimal
    litres: float
    kilograms: float
    a_litre: Decimal
    a_kilogram: Decimal
    a_cubic_foot: Decimal
    a_dry_kilogram: Decimal | None


def cover(of: Offers, litres: Litres) -> Purchase | Shortfall:
    """The cheapest purchase of at least `litres`, or how far the stock falls short of it.

    Raises OfferError where there is no pack to choose from, or the amount is not a finite number.
    """
    need, exact = _need(litres)
    if need > 0 and not of.packs:
        raise OfferError("there is no pack to choose from")
    ruled = scale(of.packs, of.currency) if of.packs else Scale((), Fraction(1))
    choice = least_cost(ruled.articles, ruled.steps(exact))
    if choice is not None:
        found = _purchase(of, choice, need)
        least = money.bill(money.from_minor(choice.at_best, of.currency), of.tax, of.currency)
        return found if choice.best else found._replace(could_save=found.bill.to_pay - least.to_pay)
    counts = everything(ruled.articles)
    assert counts is not None, "stock that is not counted cannot fall short"
    whole = _purchase(of, Choice(counts), need)
    return Shortfall(need, whole.litres, need - whole.litres, whole)


def nearest_smaller(of: Offers, litres: Litres) -> Purchase | None:
    """The best purchase that gives less than `litres`: "would two bags do?"

    It is the largest of those that cost less than covering the amount does, and the cheapest of these: a
    smaller amount for the same money or more is of no use to anybody. Where the stock cannot cover the
    amount it is all there is. None where nothing smaller can be bought. Raises OfferError as `cover` does.
    """
    full = cover(of, litres)
    if isinstance(full, Shortfall):
        return full.everything if full.everything.lines else None
    return smaller_than(of, full)


def smaller_than(of: Offers, full: Purchase) -> Purchase | None:
    """The same, where the purchase that covers the amount is known."""
    if not full.lines:
        return None
    budget = money.to_minor(full.cost, of.currency) - 1
    choice, _ = _most(of, budget)
    return _purchase(of, choice, full.need) if any(choice.counts) else None


def one_fewer(of: Offers, purchase: Purchase) -> Purchase | None:
    """A purchase with one pack less (a step less of a loose one): the one that leaves the most, then the cheapest.

    None where nothing is left, or where a price break makes every smaller count dearer.
    """
    fewer = []
    for line in purchase.lines:
        pack = of.pack(line.id)
        number = line.number - pack.step
        counts = {one.id: one.number for one in purchase.lines} | {line.id: number if number >= pack.least else Decimal(0)}
        smaller = _purchase(of, Choice(_steps(of, counts)), purchase.need)
        if smaller.lines and smaller.cost < purchase.cost:
            fewer.append(smaller)
    return min(fewer, key=lambda one: (-one.litres, one.cost), default=None)


def within_budget(of: Offers, budget: Decimal) -> Purchase:
    """The most that can be bought so that the bill, with any tax on top, is no more than `budget`.

    Of those that give as much it is the cheapest; it has no lines where the money buys nothing. Raises
    OfferError where the budget is not a finite amount.
    """
    if not budget.is_finite():
        raise OfferError(f"{budget} is not an amount of money")
    if not of.packs:
        return _purchase(of, Choice(()), None)
    goods = money.most_goods(budget, of.tax, of.currency)
    choice, litres = _most(of, goods)
    return _purchase(of, choice, None)._replace(could_hold=litres)


def order(of: Offers, counts: Mapping[str, Decimal | int], litres: Litres | None = None) -> Purchase:
    """The purchase of so many of each pack, as a customer names them, against a need where there is one.

    Raises OfferError for a pack that is not there, a count that cannot be bought, or more than the stock.
    """
    for name, count in counts.items():
        _can_be_bought(of.pack(name), Decimal(count))
    return _purchase(of, Choice(_steps(of, counts)), None if litres is None else _need(litres)[0])


def cover_all(needs: Sequence[Need]) -> Together:
    """One purchase for several needs, against each alone.

    Needs with the same packs to choose from are bought together. Raises OfferError where a pack stands
    in two different sets of packs, since its stock would be sold twice, or where the currencies differ.
    """
    groups: dict[Offers, Fraction] = {}
    for need in needs:
        groups[need.offers] = groups.get(need.offers, Fraction(0)) + measures.exact(_finite(need.litres))
    names = [one.id for of in groups for one in of.packs]
    if len(names) != len(set(names)):
        raise OfferError("a pack stands in two of the sets of packs to choose from")
    if len({of.currency for of in groups}) > 1:
        raise OfferError("the prices are in more than one currency")
    purchases = tuple(cover(of, float(litres)) for of, litres in groups.items())
    alone = tuple(cover(need.offers, need.litres) for need in needs)
    return Together(purchases, alone, _saving(purchases, alone, needs))


def compare(of: Offers) -> tuple[Comparison, ...]:
    """Every pack at each of its prices, the cheapest by the litre first."""
    rows = [
        _comparison(one, max(start, one.least), each, of.currency)
        for one in of.packs
        for place, (start, each) in enumerate(one.tiers)
        if one.most is None or max(start, one.least) <= one.most
    ]
    return tuple(sorted(rows, key=lambda row: (row.a_litre, row.id, row.number)))


def _most(of: Offers, goods: int) -> tuple[Choice, float]:
    """The most for so many minor units, and the litres that nothing for them goes above."""
    ruled = scale(of.packs, of.currency)
    choice = most_for(ruled.articles, goods)
    return choice, float(choice.at_best / ruled.parts)


def _finite(litres: Litres) -> Litres:
    if not isfinite(litres):
        raise OfferError(f"{litres} is not an amount")
    return litres


def _need(litres: Litres) -> tuple[float, Fraction]:
    """An amount as it is told, and as it must be met."""
    exact = max(Fraction(_finite(litres)), Fraction(0))
    return float(exact), exact * (1 - HAIR) if isinstance(litres, float) else exact


def _can_be_bought(one: Offer, count: Decimal) -> None:
    if not count.is_finite() or not 0 <= count <= MOST or count % one.step:
        raise OfferError(f"{count} of “{one.name}” cannot be bought: it is sold by {one.step:f} at a time")
    if 0 < count < one.least:
        raise OfferError(f"the least order of “{one.name}” is {one.least:f}")
    if one.most is not None and count > one.most:
        raise OfferError(f"there are {one.most:f} of “{one.name}” in stock, not {_tidy(count):f}")


def _steps(of: Offers, counts: Mapping[str, Decimal | int]) -> tuple[int, ...]:
    return tuple(int(Decimal(counts.get(one.id, 0)) / one.step) for one in of.packs)


def _purchase(of: Offers, choice: Choice, need: float | None) -> Purchase:
    lines, litres, kilograms = [], Fraction(0), Fraction(0)
    for one, steps in zip(of.packs, choice.counts, strict=True):
        if not steps:
            continue
        count = steps * one.step
        each = one.each(count)
        size = Fraction(count)
        litres += one.litres * size
        kilograms += one.kilograms * size
        total = money.quantize(each * count, of.currency)
        held, weight = float(one.litres * size), float(one.kilograms * size)
        lines.append(Line(one.id, one.name, one.product, _tidy(count), each, total, held, weight, one.loose))
    cost = sum((line.total for line in lines), money.from_minor(0, of.currency))
    bill = money.bill(cost, of.tax, of.currency)
    return Purchase(tuple(lines), cost, bill, of.currency, float(litres), float(kilograms), need, choice.best, choice.settled)


def _tidy(count: Decimal) -> Decimal:
    return Decimal(int(count)) if count == int(count) else count.normalize()


def _saving(
    purchases: Sequence[Purchase | Shortfall], alone: Sequence[Purchase | Shortfall], needs: Sequence[Need]
) -> Decimal | None:
    apart, bought = Decimal(0), Decimal(0)
    taken: dict[str, Decimal] = {}
    for need, one in zip(needs, alone, strict=True):
        if isinstance(one, Shortfall):
            return None
        apart += one.bill.to_pay
        for line in one.lines:
            taken[line.id] = taken.get(line.id, Decimal(0)) + line.number
            most = need.offers.pack(line.id).most
            if most is not None and taken[line.id] > most:
                return None
    for whole in purchases:
        if isinstance(whole, Shortfall):
            return None
        bought += whole.bill.to_pay
    return apart - bought


def _comparison(one: Offer, count: Decimal, each: Decimal, of: Currency) -> Comparison:
    price = Fraction(each)
    dry = None if one.moisture is None else one.kilograms * (1 - Fraction(one.moisture) / 100)
    return Comparison(
        one.id,
        one.name,
        one.product,
        _tidy(count),
        each,
        float(one.litres),
        float(one.kilograms),
        money.rate(price / one.litres, of),
        money.rate(price / one.kilograms, of),
        money.rate(price / one.litres * measures.one("cubic_foot"), of),
        None if dry is None else money.rate(price / dry, of),
    )
