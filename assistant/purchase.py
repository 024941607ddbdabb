"""From a need to a purchase: which packs of the catalogue in force, what they cost, and what is left over.

The catalogue in force is the shop's own or, without one, the sample catalogue of an invented shop, which is
announced in every answer that uses it. A request that states its own pack never comes here. Bought is for the
upper end of a span, so that it suffices, unless another end is asked for; what the other end would cost stands
beside it.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import Literal, NamedTuple

from grammar.quantities import Span, factor

from .answer import Advice, Cost, PackCount, Working
from .ends import CALLED, End, at_end, why
from .knowledge import facts
from .leftover import instead, more_for
from .relations import ARITHMETIC, COST, PACK_CHOICE, TAX, Value
from .shop import (
    Catalogue,
    Line,
    Need,
    Offer,
    Offers,
    Purchase,
    Shortfall,
    cover,
    cover_all,
    load,
    offers,
    order,
    smaller_than,
)
from .shop.entries import Pack
from .shop.money import plain
from .steps import step
from .units import Printer, printed, so_many
from .worked import Unworkable, Worked

_LITRE = factor("litre")
#: A size that was said is a pack's own where they differ by no more than this part of it: its unit may be another.
_SAME = 1e-6
#: Litres: less than this over is not spoken of.
_NOTHING = 1e-6
_UNPROVED = "the least cost that was found; it is not proved that there is no lower"
#: A part of the need: less than this left over is a trifle, and no reason to look for another purchase.
_TRIFLE = 1e-6

Note = tuple[str, str]


class Wanted(NamedTuple):
    """What is to be bought for.

    Castings in all in cubic metres; the places they are for; `times` applications of what the places take;
    `density` in kg a litre only where the request states it, since each product has its own.
    """

    castings: Value
    worked: Sequence[Worked]
    printer: Printer
    density: float | None = None
    times: float = 1.0
    by_weight: bool = False
    end: End = "high"
    #: litres of each line of an order, where the lines are bought at once and no one place is spoken of
    apart: tuple[float, ...] = ()


class Bought(NamedTuple):
    """What an answer takes over from a purchase; no packs where the stock does not do, and then `short` says so."""

    packs: tuple[PackCount, ...] = ()
    cost: Cost | None = None
    said: str = ""
    short: str = ""
    assumed: tuple[Note, ...] = ()
    advice: tuple[Advice, ...] = ()
    working: tuple[Working, ...] = ()


def in_force(shop: Catalogue | None) -> Catalogue:
    """The shop's catalogue, or the sample."""
    return load() if shop is None else shop


def announced(catalogue: Catalogue) -> tuple[Note, ...]:
    """What an answer that uses the sample says of it; nothing of a shop's own."""
    if not catalogue.is_sample:
        return ()
    text = (f"packs and prices are those of a sample catalogue, of an invented shop called {catalogue.shop.name}; a shop's own is "
            "given with --shop FILE")  # fmt: skip
    return (("sample-catalogue", text),)


def taxed(purchase: Purchase, catalogue: Catalogue) -> tuple[Note, ...]:
    """What an answer with a cost says of a tax that the shop shows."""
    tax = catalogue.tax
    if tax is None or not tax.shown:
        return ()
    place = "contained in" if tax.included else "on top of"
    return (("tax", f"the cost holds {money_text(purchase.bill.tax, purchase)} of {tax.name}, {number_text(tax.rate)} % {place} the prices"),)


def castings_of(catalogue: Catalogue, density: float | None = None) -> Offers:
    """What there is of plain castings. Raises Unworkable where the shop sells none."""
    found = offers(catalogue, density=density)
    if not found.packs:
        blends = ", ".join(f"“{one.name}”, {one.castings.normalize():f} % castings" for one in catalogue.products if one.castings is not None)
        mixed = f" (it has {blends})" if blends else ""
        raise Unworkable(
            "pack", f"{catalogue.shop.name} sells no plain castings{mixed}; how big is a bag of castings, and what does it cost?", "pack"
        )
    return found


class Weighed(NamedTuple):
    """What a shop's castings weigh in kg a litre, their name, and their moisture as a fraction of the weight where it is known."""

    density: float
    name: str
    moisture: float | None

    def at(self, moisture: float) -> float | None:
        """What they weigh at another moisture, with as much dry matter in a litre; None where their own is not known."""
        return None if self.moisture is None else self.density * (1 - self.moisture) / (1 - moisture)


def density_of(catalogue: Catalogue) -> Weighed | None:
    """What the shop's castings weigh; None where its products differ."""
    sold = {pack.product for pack in catalogue.packs}
    plain_ones = [one for one in catalogue.products if one.kind == "castings" and one.id in sold]
    if len({one.density.kilograms_a_litre for one in plain_ones}) != 1:
        return None
    one = plain_ones[0]
    moistures = {product.moisture for product in plain_ones}
    return Weighed(float(one.density.kilograms_a_litre), one.name, float(moistures.pop() or 0) / 100 or None if len(moistures) == 1 else None)


def of_size(of: Offers, catalogue: Catalogue, size: Span) -> Offers:
    """The packs that are sold by as much as was said, volume by volume and weight by weight."""

    def fits(pack: Pack) -> bool:
        own = float(pack.size.amount) * factor(pack.size.unit)
        return pack.size.by_weight == (size.dimension == "weight") and abs(own - size.base[0]) <= _SAME * own

    return of._replace(packs=tuple(one for one in of.packs if fits(catalogue.pack(one.id))))


def buy(wanted: Wanted, shop: Catalogue | None, size: Span | None = None) -> Bought | None:
    """The cheapest purchase that suffices, where a size is named in packs of that size; None where there are none such.

    Raises Unworkable where there is nothing to choose from.
    """
    catalogue = in_force(shop)
    of = castings_of(catalogue, wanted.density)
    if size is not None:
        of = of_size(of, catalogue, size)
        if not of.packs:
            return None
    found = cover(of, at_end(wanted.castings, wanted.end) / _LITRE)
    if isinstance(found, Shortfall):
        return _short(found, catalogue, wanted)
    return bought(found, catalogue, wanted, of)


def bought(purchase: Purchase, catalogue: Catalogue, wanted: Wanted, of: Offers) -> Bought:
    """A purchase that covers what is wanted, with all that is to be said of it."""
    assumed = [*announced(catalogue), *taxed(purchase, catalogue), *_which_end(purchase, wanted, of)]
    weighed = any(catalogue.pack(line.id).size.by_weight for line in purchase.lines) or wanted.by_weight
    if weighed and wanted.density is None:
        assumed += _densities(purchase, catalogue, wanted.printer)
    advice = [
        _doubt(purchase),
        _left(purchase, wanted),
        *_together(catalogue, wanted, of),
        _smaller(purchase, wanted, of),
        *measures(purchase, catalogue),
    ]
    steps = [step(PACK_CHOICE, f"amount {_show(wanted, purchase.need or 0.0)}, {len(of.packs)} packs of {catalogue.shop.name} to choose from",
                  f"{lines_text(purchase)}, {_show(wanted, purchase.litres)}", source="" if purchase.best else _UNPROVED)]  # fmt: skip
    return Bought(
        packs_of(purchase), cost_of(purchase), said=count_text(purchase), assumed=tuple(assumed),
        advice=tuple(one for one in advice if one is not None), working=(*steps, *bill_steps(purchase, catalogue)),
    )  # fmt: skip


# ---- a purchase in words and in the record --------------------------------------------------------------


def number_text(number: Decimal) -> str:
    """A count of packs, "3" or "1.5"."""
    return f"{number.normalize():f}"


def largest_first(purchase: Purchase) -> list[Line]:
    """The lines of a purchase as people say them: the large packs before the small."""
    return sorted(purchase.lines, key=lambda line: (-line.litres / float(line.number), line.id))


def packs_of(purchase: Purchase) -> tuple[PackCount, ...]:
    """The packs of a purchase as the answer has them; a pack that is sold loose may be so many and a half."""
    return tuple(
        PackCount(id=line.id, name=line.name, count=int(line.number) if line.number == int(line.number) else float(line.number))
        for line in largest_first(purchase)
    )


def can_be_carried(one: Offer) -> bool:
    """Whether a pack is a bag that one person may lift, and neither loose nor a load."""
    limit = facts().rate("lift.limit")
    return not one.loose and float(one.kilograms) <= limit.single * factor(limit.unit)


def cost_of(purchase: Purchase) -> Cost:
    """What is to be paid, with any tax."""
    return Cost(amount=plain(purchase.bill.to_pay, purchase.currency), currency=purchase.currency.code)


def money_text(amount: Decimal, purchase: Purchase) -> str:
    """An amount of the purchase's money with its currency: "45.00 USD"."""
    return f"{plain(amount, purchase.currency)} {purchase.currency.code}"


def lines_text(purchase: Purchase) -> str:
    """ "2 × Castings, 1 cubic foot bag + 1 × Castings, 8 dry quart bag"."""
    return " + ".join(f"{number_text(line.number)} × {line.name}" for line in largest_first(purchase)) or "nothing"


def count_text(purchase: Purchase) -> str:
    """The figure of an answer that is asked how many packs."""
    if len(purchase.lines) == 1:
        line = purchase.lines[0]
        return so_many(number_text(line.number), line.name)
    if any(line.loose for line in purchase.lines):
        return lines_text(purchase)  # half a yard and two bags are no two and a half of anything
    total = sum((line.number for line in purchase.lines), Decimal(0))
    return f"{number_text(total)} packs: {lines_text(purchase)}"


def bill_steps(purchase: Purchase, catalogue: Catalogue) -> tuple[Working, ...]:
    """What the packs come to, line by line, and the tax."""
    lines = " + ".join(f"{number_text(line.number)} × {plain(line.each, purchase.currency)}" for line in largest_first(purchase))
    steps = [step(COST, lines, money_text(purchase.cost, purchase))]
    tax = catalogue.tax
    if tax is not None and tax.shown:
        place = "contained in" if tax.included else "added to"
        steps.append(step(TAX, f"{tax.name} of {number_text(tax.rate)} %, {place} the prices, cost {money_text(purchase.cost, purchase)}",
                          f"{money_text(purchase.bill.tax, purchase)}; to pay {money_text(purchase.bill.to_pay, purchase)}"))  # fmt: skip
    return tuple(steps)


def measures(purchase: Purchase, catalogue: Catalogue) -> tuple[Advice, ...]:
    """What the units of sale mean: dry quarts against liquid ones and cups; weight, and what moisture does to it."""
    found = []
    for line in purchase.lines:
        pack = catalogue.pack(line.id)
        if pack.size.unit in _QUARTS:
            found.append(note("pack-quarts", _quarts(pack)))
    heavy = [pack for line in purchase.lines if (pack := catalogue.pack(line.id)).size.by_weight]
    for name in sorted({pack.product for pack in heavy}):
        product = catalogue.product(name)
        wet = (
            f"at {product.moisture} % moisture {100 - product.moisture} % of the weight is dry matter; "
            if product.moisture is not None
            else ""
        )
        found.append(
            note("pack-by-weight", f"{product.name}, sold by weight: {wet}wetter castings of the same weight fill less room.")
        )
    return tuple(found[:2])


#: Units of sale that are easily taken for one another.
_QUARTS = {"us_dry_quart": ("us_quart", "liquid quarts"), "us_quart": ("us_dry_quart", "dry quarts"),
           "us_dry_gallon": ("us_gallon", "liquid gallons"), "us_gallon": ("us_dry_gallon", "dry gallons")}  # fmt: skip


def _quarts(pack: Pack) -> str:
    other, kind = _QUARTS[pack.size.unit]
    amount = float(pack.size.amount)
    litres = amount * factor(pack.size.unit) / _LITRE
    cups = litres * _LITRE / factor("us_cup")
    otherwise = amount * factor(other) / _LITRE
    return (f"“{pack.name}” holds {printed(litres, litres, 'litre')}, or {printed(cups, cups, 'us_cup')} of the kitchen; as many {kind} "
            f"would be {printed(otherwise, otherwise, 'litre')}.")  # fmt: skip


def note(code: str, text: str, level: Literal["note", "caution"] = "note") -> Advice:
    """A remark on a purchase, which rests on nothing but reckoning."""
    return Advice(code=code, level=level, text=text, source=ARITHMETIC)


# ---- would so many bags do ------------------------------------------------------------------------------


def would_do(count: float, wanted: Wanted, shop: Catalogue | None) -> tuple[Bought, tuple[tuple[str, ...], ...]]:
    """Whether so many bags do, for every size of bag the shop has: what the best of them is, and a row for each."""
    catalogue = in_force(shop)
    of = castings_of(catalogue, wanted.density)
    rows = [("pack", f"{count:g} hold", of.currency.code, "")]
    need = at_end(wanted.castings, wanted.end) / _LITRE
    doing: list[Purchase] = []
    others: list[Purchase] = []
    if count != int(count) or count < 1:
        raise Unworkable("count", f"{count:g} bags: how many whole ones?", "count")
    for one in of.packs:
        if not can_be_carried(one) or (one.most is not None and one.most < Decimal(count)) or Decimal(count) < one.least:
            continue
        taken = order(of, {one.id: int(count)}, need)
        enough = taken.wanting <= 0
        part = wanted.printer.show(taken.litres / need, taken.litres / need, "share")
        rows.append((one.name, _show(wanted, taken.litres), f"{taken.bill.to_pay}", "enough" if enough else f"{part} of it"))
        (doing if enough else others).append(taken)
    bags = f"{count:g} {'bag' if count == 1 else 'bags'}"
    if len(rows) == 1:
        return Bought(
            assumed=announced(catalogue), advice=(note("bags-asked", f"{catalogue.shop.name} has no {bags} of one kind."),)
        ), ()
    if doing:
        best = min(doing, key=lambda one: (one.bill.to_pay, one.litres))
        text = (
            f"{bags} {'does' if count == 1 else 'do'} if they are “{best.lines[0].name}” ({money_text(best.bill.to_pay, best)})."
        )
        if not others:
            text = f"{bags} of any size the shop has will do; the cheapest that do are “{best.lines[0].name}” ({money_text(best.bill.to_pay, best)})."
    else:
        best = max(others, key=lambda one: one.litres)
        text = (f"{bags} will not do, not even of “{best.lines[0].name}”, the largest to carry: {_show(wanted, best.litres)} gives "
                f"{instead(best.litres / need, wanted.worked, wanted.printer, wanted.end)}.")  # fmt: skip
    return Bought(assumed=announced(catalogue), advice=(note("bags-asked", text[0].upper() + text[1:]),)), tuple(rows)


# ---- the parts of a purchase's telling ------------------------------------------------------------------


def _show(wanted: Wanted, litres: float) -> str:
    return wanted.printer.show(litres * _LITRE, litres * _LITRE, "volume")


def _which_end(purchase: Purchase, wanted: Wanted, of: Offers) -> list[Note]:
    """Which end of a span is bought for and why, and what the other end would cost."""
    if wanted.castings[0] == wanted.castings[1]:
        return []
    text = f"packs for {CALLED[wanted.end]} of the span, {_show(wanted, purchase.need or 0.0)}, {why(wanted.end)}"
    other: End = "low" if wanted.end == "high" else "high"
    there = at_end(wanted.castings, other) / _LITRE
    bought_there = cover(of, there)
    if isinstance(bought_there, Purchase) and bought_there.bill.to_pay != purchase.bill.to_pay:
        text += f"; {CALLED[other]}, {_show(wanted, there)}, takes {lines_text(bought_there)} for {money_text(bought_there.bill.to_pay, bought_there)}"
    return [(f"packs-for-{wanted.end}-end", text)]


def _densities(purchase: Purchase, catalogue: Catalogue, printer: Printer) -> list[Note]:
    """What the products bought weigh, by the catalogue's own word."""
    found = []
    for name in sorted({line.product for line in purchase.lines}):
        product = catalogue.product(name)
        density = float(product.density.kilograms_a_litre) * 1000
        found.append((
            "shop-density", f"{product.name} of {catalogue.shop.name} weighs {printer.show(density, density, 'density')}, by its catalogue"
        ))  # fmt: skip
    return found


def _doubt(purchase: Purchase) -> Advice | None:
    """What is not proved of a purchase, where packs at nearly the same price leave too many choices to go through."""
    if not purchase.best:
        text = (f"This may not be the cheapest choice: so many packs cost nearly the same by size that not all could be gone through. Another "
                f"could save {money_text(purchase.could_save, purchase)} at most.")  # fmt: skip
        return note("choice-not-proved", text, "caution")
    if not purchase.settled and purchase.left_over > _TRIFLE * (purchase.need or 0.0):
        return note("choice-not-proved", "No choice of packs costs less, but another at the same cost may leave less over.")
    return None


def _left(purchase: Purchase, wanted: Wanted) -> Advice | None:
    if purchase.left_over <= _NOTHING:
        return None
    more = more_for(purchase.left_over * _LITRE, wanted.worked, wanted.printer, wanted.end) if wanted.times == 1 else ""
    return note("pack-left", f"Whole packs leave {_show(wanted, purchase.left_over)} over{', ' + more if more else ''}.")


def _smaller(purchase: Purchase, wanted: Wanted, of: Offers) -> Advice | None:
    """The nearest smaller purchase and what it would do, for those who ask whether less will do."""
    smaller = smaller_than(of, purchase)
    if smaller is None or not smaller.lines or not smaller.need:
        return None
    told = instead(smaller.litres / smaller.need, wanted.worked, wanted.printer, wanted.end)
    name = "The next smaller purchase" if smaller.best else "A smaller purchase"
    return note("smaller-purchase", f"{name}, {lines_text(smaller)} for {money_text(smaller.bill.to_pay, smaller)}, "
                f"holds {_show(wanted, smaller.litres)}: {told}.")  # fmt: skip


def _together(catalogue: Catalogue, wanted: Wanted, of: Offers) -> list[Advice]:
    """What buying for several places at once saves."""
    lines = wanted.apart or tuple(at_end(one.castings, wanted.end) / _LITRE * wanted.times for one in wanted.worked if one.castings)
    if len(lines) < 2:
        return []
    needs = [Need(str(number), litres, of) for number, litres in enumerate(lines, 1)]
    whole = cover_all(needs)
    proved = all(isinstance(one, Purchase) and one.best for one in (*whole.purchases, *whole.alone))
    if whole.saving is None or whole.saving <= 0 or not proved:
        return []
    apart = [one for one in whole.alone if isinstance(one, Purchase)]
    each = sum((one.bill.to_pay for one in apart), Decimal(0))
    return [note("bought-together", f"Bought for all places at once it costs {money_text(each - whole.saving, apart[0])}; each place alone "
                 f"would come to {money_text(each, apart[0])}, so it saves {money_text(whole.saving, apart[0])}.")]  # fmt: skip


def _short(found: Shortfall, catalogue: Catalogue, wanted: Wanted) -> Bought:
    there = (
        f"all there is, {lines_text(found.everything)}, holds {_show(wanted, found.available)}"
        if found.available
        else "there is none left"
    )
    text = f"The stock of {catalogue.shop.name} does not cover {_show(wanted, found.need)}: {there}, {_show(wanted, found.short_by)} too little."
    return Bought(short=text, assumed=announced(catalogue), advice=(note("stock-short", text, "caution"),))


__all__ = ["Bought", "Wanted", "announced", "bought", "buy", "castings_of", "density_of", "in_force", "would_do"]
