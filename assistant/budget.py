"""Backwards over the counter: what a sum of money, or a number of bags, gives in castings.

As in `purchase`, the catalogue in force answers only where the request states no pack of its own.
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from typing import NamedTuple

from grammar.quantities import factor
from grammar.query import Query

from .answer import Advice, Cost, Working
from .ends import at_end
from .leftover import instead
from .purchase import (
    Bought,
    Wanted,
    announced,
    bill_steps,
    can_be_carried,
    castings_of,
    cost_of,
    count_text,
    in_force,
    lines_text,
    measures,
    money_text,
    note,
    packs_of,
    taxed,
)
from .relations import MOST_FOR_MONEY, PACKS_HELD, Value
from .shop import Catalogue, Offer, OfferError, Offers, Purchase, order, within_budget
from .shop.money import Currency, plain
from .steps import step
from .units import Printer
from .worked import Unworkable

_LITRE = factor("litre")
_MOST = ("most", "biggest", "largest")


class AtHand(NamedTuple):
    """Castings that are to be had, in cubic metres, and the purchase that gives them."""

    castings: Value
    bought: Bought


def for_money(query: Query, printer: Printer, density: float | None, shop: Catalogue | None, request: str) -> AtHand:
    """The most castings for the money, with any tax. Raises Unworkable where it buys nothing."""
    assert query.budget is not None
    catalogue = in_force(shop)
    of = castings_of(catalogue, density)
    amount, assumed = money_in(query.budget, of.currency, request)
    found = within_budget(of, amount)
    if not found.lines:
        cheapest = min((one.each(one.least) * one.least for one in of.packs), default=Decimal(0))
        raise Unworkable("budget", f"{plain(amount, of.currency)} {of.currency.code} buys nothing at {catalogue.shop.name}, where the least "
                         f"purchase is {plain(cheapest, of.currency)} {of.currency.code}; how much may it cost?", "budget")  # fmt: skip
    chosen = step(MOST_FOR_MONEY, f"budget {plain(amount, of.currency)} {of.currency.code}, {len(of.packs)} packs of {catalogue.shop.name} to choose "
                  "from", f"{lines_text(found)}, {held(found, printer)}")  # fmt: skip
    left = found.change(amount)
    advice = [note("money-left", f"It leaves {money_text(left, found)} of the money.")] if left else []
    if not found.best:
        most = printer.show(found.could_hold * _LITRE, found.could_hold * _LITRE, "volume")
        advice.insert(0, note("choice-not-proved", "This may not be the most for the money: so many packs cost nearly the same by size that not "
                              f"all could be gone through. No choice gives more than {most}.", "caution"))  # fmt: skip
    return at_hand(found, catalogue, chosen, assumed, advice)


def for_bags(query: Query, printer: Printer, density: float | None, shop: Catalogue | None, request: str) -> AtHand:
    """What so many bags hold: the one kind the shop has or, where the most is asked for, the largest. Raises Unworkable else."""
    assert query.pack is not None and query.pack.count is not None
    catalogue = in_force(shop)
    of = castings_of(catalogue, density)
    bags = [one for one in of.packs if can_be_carried(one)]
    count = Decimal(repr(query.pack.count))
    if count != int(count):
        raise Unworkable("count", f"{query.pack.count:g} bags: how many whole ones?", "count")
    if not bags:
        raise Unworkable("pack", "how big is a bag, by weight or by volume?", "pack")
    largest = max(bags, key=lambda one: (one.litres, one.id))
    asks_most = any(word in request.lower().split() for word in _MOST)
    if len(bags) > 1 and not asks_most:
        names = "; ".join(one.name for one in sorted(bags, key=lambda one: one.litres))
        raise Unworkable("pack", f"how big is a bag, by weight or by volume? {catalogue.shop.name} has: {names}", "pack")
    found = _ordered(of, largest, count, catalogue)
    text = f"the bags are “{largest.name}”, {'the largest that can be carried' if len(bags) > 1 else 'the only one'} of {catalogue.shop.name}"
    return at_hand(found, catalogue, step(PACKS_HELD, lines_text(found), held(found, printer)), [("pack-of-catalogue", text)], [])


def in_money_of(query: Query, shop: Catalogue, request: str) -> tuple[Query, list[tuple[str, str]]]:
    """The query with a bare "$" as the shop's own dollar, so that it is read back as it was taken."""
    if query.budget is None:
        return query, []
    try:
        amount, assumed = money_in(query.budget, shop.currency, request)
    except Unworkable:
        return query, []  # it is asked about where the money is needed
    return query.model_copy(update={"budget": (plain(amount, shop.currency), shop.currency.code)}) if assumed else query, assumed


def money_in(budget: tuple[str, str], currency: Currency, request: str) -> tuple[Decimal, list[tuple[str, str]]]:
    """A budget in the currency of the catalogue. A bare "$" is any dollar; no other money is changed into another."""
    amount, code = Decimal(budget[0]), budget[1]
    if code == currency.code:
        return amount, []
    if code == "USD" and currency.code in _DOLLARS and not any(word in request.lower() for word in ("usd", "us$", "us dollar")):
        return amount, [("dollar", f"$ is taken as {currency.code}, the currency of the catalogue")]
    raise Unworkable(
        "currency", f"the prices are in {currency.code} and the money is in {code}; how much is it in {currency.code}?", "budget"
    )


#: Other countries whose money is written with the same sign.
_DOLLARS = frozenset({"AUD", "BBD", "BMD", "BSD", "BZD", "CAD", "FJD", "GYD", "HKD", "JMD", "KYD", "LRD", "NAD", "NZD", "SBD", "SGD",
                      "SRD", "TTD", "TWD", "XCD"})  # fmt: skip


def _ordered(of: Offers, one: Offer, count: Decimal, catalogue: Catalogue) -> Purchase:
    try:
        return order(of, {one.id: count})
    except OfferError as problem:
        raise Unworkable("stock", f"{problem}; how many are there?", "pack") from problem


def held(found: Purchase, printer: Printer) -> str:
    """How much a purchase holds, in the user's unit."""
    return printer.show(found.litres * _LITRE, found.litres * _LITRE, "volume")


def at_hand(found: Purchase, catalogue: Catalogue, how: Working, assumed: Iterable[tuple[str, str]], advice: Iterable[Advice]) -> AtHand:
    """What a purchase holds, as castings at hand: with the bill's steps after its own, and what a catalogue always assumes."""
    litres = found.litres * _LITRE
    return AtHand((litres, litres), Bought(
        packs_of(found), cost_of(found), said=count_text(found), assumed=(*announced(catalogue), *taxed(found, catalogue), *assumed),
        advice=(*advice, *measures(found, catalogue)), working=(how, *bill_steps(found, catalogue)),
    ))  # fmt: skip


def against(
    query: Query, wanted: Wanted, cost: Cost, shop: Catalogue | None, request: str
) -> tuple[list[tuple[str, str]], Advice]:
    """Whether the money does for a purchase; where not, what it buys and what that would do."""
    assert query.budget is not None
    of = castings_of(in_force(shop), wanted.density)
    amount, assumed = money_in(query.budget, of.currency, request)
    short = Decimal(cost.amount) - amount
    have = f"{plain(amount, of.currency)} {of.currency.code}"
    if short <= 0:
        return assumed, note("budget-does", f"{have} is enough, with {plain(-short, of.currency)} {of.currency.code} to spare.")
    found = within_budget(of, amount)
    text = f"{have} is not enough: {plain(short, of.currency)} {of.currency.code} is lacking"
    if not found.lines:
        return assumed, note("budget-short", f"{text}, and it buys not even the smallest pack.", "caution")
    part = found.litres * _LITRE / at_end(wanted.castings, wanted.end)
    told = instead(part, wanted.worked, wanted.printer, wanted.end)
    return assumed, note(
        "budget-short", f"{text}. It buys {lines_text(found)}, {held(found, wanted.printer)}: {told}.", "caution"
    )
