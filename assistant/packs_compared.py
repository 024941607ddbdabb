"""The packs of a catalogue side by side: what a litre, a kilogram and a cubic foot cost in each, and what a place takes.

Each product is weighed at its own density, unless the request states one.
"""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

from grammar.quantities import factor, unit
from grammar.query import Query

from .answer import Advice, Cost, Working
from .purchase import announced, can_be_carried, castings_of, in_force, money_text, note, number_text, of_size
from .relations import UNIT_PRICE, WHOLE_PACKS
from .shop import Catalogue, Comparison, Offers, Purchase, compare, cover, offers, order, within_budget
from .steps import step
from .units import Printer, printed, symbol
from .worked import Unworkable

_LITRE = factor("litre")


class Compared(NamedTuple):
    """The rows for people with their heads, the cheapest and what it costs, and what is to be said beside."""

    table: tuple[tuple[str, ...], ...]
    said: str
    cost: Cost
    low: float
    assumed: tuple[tuple[str, str], ...]
    advice: tuple[Advice, ...]
    working: tuple[Working, ...]


def by_size(query: Query, density: float | None, shop: Catalogue | None) -> Compared:
    """Every pack at each of its prices, by the litre, the kilogram and the cubic foot."""
    catalogue = in_force(shop)
    of = _named(query, castings_of(catalogue, density), catalogue)
    code = of.currency.code
    measure = _measure(query)
    rows = sorted(compare(of), key=lambda row: (_rate(row, measure), row.id, row.number))
    bags = {one.id for one in of.packs if can_be_carried(one)}
    bags = bags if not query.compare_packs else {one.id for one in of.packs}
    best = next((row for row in rows if row.id in bags and row.number == max(Decimal(1), of.pack(row.id).least)), rows[0])
    heads = ("pack", "from", "each", f"{code} per L", "per kg", "per cu ft")
    table = [heads]
    for row in rows:
        table.append(
            (
                row.name,
                number_text(row.number),
                f"{row.each}",
                _figure(row.a_litre),
                _figure(row.a_kilogram),
                _figure(row.a_cubic_foot),
            )
        )
    rate = _rate(best, measure)
    many = f" from {number_text(best.number)} on" if best.number > 1 else ""
    said = f"{best.name}{many} is the cheapest: {_figure(rate)} {code} per {symbol(measure)}"
    advice: list[Advice] = []
    if query.asked_noun == "yard":
        said, advice = _loose(of, best, measure)
    elif rows[0] is not best:
        more = f"{rows[0].name}, from {number_text(rows[0].number)} on, costs {_figure(_rate(rows[0], measure))} {code} per {symbol(measure)}"
        advice.append(note("cheaper-in-number", f"In larger orders it is cheaper still: {more}."))
    if any(row.a_dry_kilogram is not None for row in rows):
        advice.append(note("pack-by-weight", "By weight, water is paid for as well: "
                           f"{_dry_text(catalogue)}; by volume, moisture changes the price of a litre little."))  # fmt: skip
    price = step(UNIT_PRICE, f"{best.name} at {best.each} {code}", f"{_figure(rate)} {code} per {symbol(measure)}")
    assumed = (*announced(catalogue), *_without_tax(catalogue), *_weighing(catalogue, density))
    return Compared(tuple(table), said, Cost(amount=_figure(rate), currency=code), float(rate), assumed, tuple(advice), (price,))


def _named(query: Query, of: Offers, catalogue: Catalogue) -> Offers:
    """The packs whose sizes are named, or all of them. Raises Unworkable where there is none of a size."""
    chosen = set()
    for size in query.compare_packs:
        found = of_size(of, catalogue, size).packs
        if not found:
            had = "; ".join(one.name for one in sorted(of.packs, key=lambda one: one.litres))
            shown = printed(size.low, size.high, size.unit)
            raise Unworkable("pack", f"{catalogue.shop.name} has no pack of {shown}; it has: {had}. What does it cost where it is sold?", "pack")
        chosen |= {one.id for one in found}
    return of._replace(packs=tuple(one for one in of.packs if one.id in chosen)) if chosen else of


def _loose(of: Offers, bag: Comparison, measure: str) -> tuple[str, list[Advice]]:
    """Whether it is cheaper loose than in the cheapest bag, and from how much on that pays."""
    code, unit_text = of.currency.code, symbol(measure)
    bagged = f"{_figure(_rate(bag, measure))} {code} per {unit_text} in “{bag.name}”"
    loose = [row for row in compare(of) if of.pack(row.id).loose]
    bags = of._replace(packs=tuple(one for one in of.packs if can_be_carried(one)))
    if not loose or not bags.packs:
        return f"there is nothing to compare: {'nothing is sold loose' if not loose else 'nothing is sold in bags'} here", []
    first = min(loose, key=lambda row: (row.number, _rate(row, measure)))
    rate = f"{_figure(_rate(first, measure))} {code} per {unit_text}"
    if _rate(first, measure) >= _rate(bag, measure):
        return f"no: loose it costs {rate}, and {bagged}", []
    number = of.pack(first.id).least
    least = order(of, {first.id: number})
    instead = within_budget(bags, least.bill.to_pay - of.currency.minor)
    size = instead.kilograms / factor(measure) if unit(measure).dimension == "weight" else instead.litres * _LITRE / factor(measure)
    text = (f"The least that is sold loose, {number_text(number)} of “{first.name}”, comes to {money_text(least.bill.to_pay, least)}. For less than "
            f"that bags hold {printed(size, size, measure)} at most, so it pays where more than that is needed.")  # fmt: skip
    # "at most" is said only of what is proved
    return f"yes: loose it costs {rate}, and {bagged}", [note("loose-pays", text)] if instead.best else []


def by_place(need: float, printer: Printer, density: float | None, shop: Catalogue | None) -> Compared:
    """What each pack alone comes to for a need in cubic metres; the cheapest first. Raises Unworkable where none suffices."""
    catalogue = in_force(shop)
    code = castings_of(catalogue, density).currency.code
    found: list[Purchase] = []
    for pack in catalogue.packs:
        if catalogue.product(pack.product).kind == "castings":
            one = cover(offers(catalogue, packs=[pack.id], density=density), need / _LITRE)
            if isinstance(one, Purchase):
                found.append(one)
    if not found:
        raise Unworkable("stock", f"no one pack of {catalogue.shop.name} is there in such a number", "pack")
    found.sort(key=lambda one: (one.bill.to_pay, one.litres))
    table = [("pack", "how many", code, "left over")]
    for one in found:
        line = one.lines[0]
        left = printer.show(one.left_over * _LITRE, one.left_over * _LITRE, "volume")
        table.append((line.name, number_text(line.number), f"{one.bill.to_pay}", left))
    best = found[0]
    name = f"{number_text(best.lines[0].number)} × {best.lines[0].name}"
    packs = step(WHOLE_PACKS, f"amount {printer.show(need, need, 'volume')}, {best.lines[0].name}", name)
    mixed = cover(castings_of(catalogue, density), need / _LITRE)
    advice = []
    if isinstance(mixed, Purchase) and mixed.bill.to_pay < best.bill.to_pay:
        parts = " + ".join(f"{number_text(line.number)} × {line.name}" for line in mixed.lines)
        advice.append(
            note(
                "mixed-packs", f"Of several sizes together it is cheaper still: {parts}, {money_text(mixed.bill.to_pay, mixed)}."
            )
        )
    assumed = (*announced(catalogue), *_weighing(catalogue, density))
    cost = Cost(amount=f"{best.bill.to_pay}", currency=code)
    return Compared(tuple(table), f"{name} is the cheapest of one kind: {money_text(best.bill.to_pay, best)}", cost, float(best.bill.to_pay),
                    assumed, tuple(advice), (packs,))  # fmt: skip


def _measure(query: Query) -> str:
    if query.asked_unit in ("kilogram", "pound", "litre", "cubic_foot"):
        return query.asked_unit
    return "litre" if query.metric else "cubic_foot"


def _rate(row: Comparison, measure: str) -> Decimal:
    rates = {"litre": row.a_litre, "kilogram": row.a_kilogram, "cubic_foot": row.a_cubic_foot}
    return rates[measure] if measure in rates else row.a_kilogram * Decimal(repr(factor("pound")))


def _figure(rate: Decimal) -> str:
    """A price of a unit: to the cent and, below one, to a tenth of it."""
    return f"{rate:.2f}" if rate >= 1 else f"{rate:.3f}"


def _without_tax(catalogue: Catalogue) -> tuple[tuple[str, str], ...]:
    """What the prices leave out, where a tax comes on top of them."""
    tax = catalogue.tax
    if tax is None or tax.included:
        return ()
    return (("tax-on-top", f"the prices are without {tax.name}, {number_text(tax.rate)} %, which comes on top of all of them"),)


def _weighing(catalogue: Catalogue, density: float | None) -> tuple[tuple[str, str], ...]:
    if density is not None or not any(pack.size.by_weight for pack in catalogue.packs):
        return ()
    return tuple(
        (
            "shop-density",
            f"{one.name} of {catalogue.shop.name} weighs {float(one.density.kilograms_a_litre):.3g} kg/L, by its catalogue",
        )
        for one in catalogue.products
        if one.kind == "castings"
    )


def _dry_text(catalogue: Catalogue) -> str:
    return ", ".join(
        f"{one.name} holds {100 - one.moisture} % dry matter"
        for one in catalogue.products
        if one.kind == "castings" and one.moisture is not None
    )
