"""The packs of a catalogue side by side: what a litre, a kilogram and a cubic foot cost in each, and what a place takes.

Each product is weighed at its own density, unless the request states one.
"""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

from grammar.quantities import factor
from grammar.query import Query

from .answer import Advice, Cost, Working
from .purchase import ARITHMETIC, announced, can_be_carried, castings_of, in_force, money_text, note, number_text
from .shop import Catalogue, Comparison, Purchase, compare, cover, offers
from .units import Printer, symbol
from .work import Unworkable

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
    of = castings_of(catalogue, density)
    code = of.currency.code
    measure = _measure(query)
    rows = sorted(compare(of), key=lambda row: (_rate(row, measure), row.id, row.number))
    bags = {one.id for one in of.packs if can_be_carried(one)}
    best = next((row for row in rows if row.number == 1 and row.id in bags), rows[0])
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
    advice = []
    if rows[0] is not best:
        more = f"{rows[0].name}, from {number_text(rows[0].number)} on, costs {_figure(_rate(rows[0], measure))} {code} per {symbol(measure)}"
        advice.append(note("cheaper-in-number", f"In larger orders it is cheaper still: {more}."))
    if any(row.a_dry_kilogram is not None for row in rows):
        advice.append(note("pack-by-weight", "By weight, water is paid for as well: "
                           f"{_dry_text(catalogue)}; by volume, moisture changes the price of a litre little."))  # fmt: skip
    step = Working(rule="unit-price", formula=f"price per {symbol(measure)} = price ÷ size", with_=f"{best.name} at {best.each} {code}",
                   gives=f"{_figure(rate)} {code} per {symbol(measure)}", source=ARITHMETIC)  # fmt: skip
    assumed = (*announced(catalogue), *_weighing(catalogue, density))
    return Compared(tuple(table), said, Cost(amount=_figure(rate), currency=code), float(rate), assumed, tuple(advice), (step,))


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
    step = Working(rule="whole-packs", formula="packs = amount ÷ size of a pack, rounded up",
                   with_=f"amount {printer.show(need, need, 'volume')}, {best.lines[0].name}", gives=name, source="whole packs are sold")  # fmt: skip
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
                    assumed, tuple(advice), (step,))  # fmt: skip


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
