"""What can be bought: packs ready for the choice, with their size both ways at the density in force."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal
from fractions import Fraction
from math import gcd, lcm
from typing import Final, NamedTuple

from . import measures, money
from .catalogue import Catalogue
from .entries import Pack, Product
from .money import Currency, TaxRule
from .runs import Article

#: Sizes are compared in steps of a common measure. One finer than this part of a litre is rounded down
#: to it, far below anything that can be measured; only dozens of unrelated densities at once come to that.
FINEST: Final = 10**60

#: What goes by as a weight in kilograms a litre.
Weighing = Fraction | Decimal | float


class OfferError(ValueError):
    """A pack or product that the catalogue does not have, or that cannot be reckoned with."""


class Offer(NamedTuple):
    """One pack that can be bought.

    Sizes and tiers are of a whole pack; `step` is the smallest part of it that can be bought (1, or less
    where it is sold loose). `tiers` are (from so many packs, price of each). `most` None: not counted.
    """

    id: str
    name: str
    product: str
    litres: Fraction
    kilograms: Fraction
    tiers: tuple[tuple[Decimal, Decimal], ...]
    least: Decimal
    most: Decimal | None
    step: Decimal
    moisture: Decimal | None = None
    loose: bool = False

    def each(self, count: Decimal) -> Decimal:
        """The price of each pack when `count` are bought."""
        return next((price for start, price in reversed(self.tiers) if start <= count), self.tiers[0][1])


class Offers(NamedTuple):
    """The packs among which a choice is made, by id, and the money that they are sold for."""

    packs: tuple[Offer, ...]
    currency: Currency
    tax: TaxRule | None = None
    is_sample: bool = False

    def pack(self, name: str) -> Offer:
        """The pack of an id. Raises OfferError where there is none."""
        for one in self.packs:
            if one.id == name:
                return one
        raise OfferError(f"there is no pack {name!r} to choose from")


def offers(
    catalogue: Catalogue,
    *,
    product: str | None = None,
    packs: Iterable[str] | None = None,
    density: Weighing | None = None,
) -> Offers:
    """What a catalogue has of one product, or the packs named; with neither, every pack of plain castings.

    `density` is in kilograms a litre, as a user states it, and stands in for that of every product.
    Raises OfferError for an id that the catalogue does not have.
    """
    known = {one.id: one for one in catalogue.products}
    if product is not None and product not in known:
        raise OfferError(f"there is no product {product!r} in the catalogue")
    chosen = list(catalogue.packs)
    if packs is not None:
        wanted = set(packs)
        missing = sorted(wanted - {one.id for one in chosen})
        if missing:
            raise OfferError(f"there is no pack {missing[0]!r} in the catalogue")
        chosen = [one for one in chosen if one.id in wanted]
    elif product is None:
        chosen = [one for one in chosen if known[one.product].kind == "castings"]
    if product is not None:
        chosen = [one for one in chosen if one.product == product]
    weighing = None if density is None else _density(density)
    return Offers(
        tuple(_offer(one, known[one.product], weighing) for one in sorted(chosen, key=lambda one: one.id)),
        catalogue.currency,
        catalogue.tax.rule if catalogue.tax else None,
        catalogue.is_sample,
    )


def stated(
    amount: Fraction | Decimal | float,
    unit: str,
    price: Decimal | str,
    currency: str,
    *,
    density: Weighing,
    id: str = "stated",
    name: str = "bag as stated",
) -> Offers:
    """The one pack that a request itself states ("25 lb bags at $20"), without tax and without end.

    `density` is in kilograms a litre. Raises OfferError for a unit that nothing is sold in, a size or a
    density that is not above zero, and a price that is not one.
    """
    try:
        of = money.currency(currency)
        each = money.amount(f"{price:f}" if isinstance(price, Decimal) else price, of)
        size = measures.size(amount, unit, _density(density))
    except KeyError:
        raise OfferError(f"nothing is sold by the {unit!r}") from None
    except (money.MoneyError, OverflowError, ValueError) as error:
        raise OfferError(str(error)) from error
    if size.litres <= 0 or each <= 0:
        raise OfferError("a pack has a size and a price above zero")
    one = Decimal(1)
    return Offers((Offer(id, name, "stated", *size, ((one, each),), one, None, one),), of)


def _density(value: Weighing) -> Fraction:
    try:
        exact = measures.exact(value)
    except (ValueError, OverflowError) as error:
        raise OfferError(f"{value} is not a density") from error
    if exact <= 0:
        raise OfferError(f"a density is above zero, not {value}")
    return exact


def _offer(pack: Pack, product: Product, density: Fraction | None) -> Offer:
    size = pack.size.at(product.density.kilograms_a_litre if density is None else density)
    return Offer(
        pack.id,
        pack.name,
        pack.product,
        size.litres,
        size.kilograms,
        ((Decimal(1), pack.price), *((one.start, one.each) for one in pack.breaks)),
        max(pack.least or pack.step, pack.step),
        pack.stock,
        pack.step,
        product.moisture,
        pack.bulk is not None,
    )


class Scale(NamedTuple):
    """The packs in whole numbers: sizes in steps of `1 / parts` litre, prices in minor units, counts in steps."""

    articles: tuple[Article, ...]
    parts: Fraction

    def steps(self, litres: Fraction) -> int:
        """The steps of size that hold so many litres, rounded up."""
        steps = litres * self.parts
        return -(-steps.numerator // steps.denominator)


def scale(packs: Sequence[Offer], of: Currency) -> Scale:
    """The packs as the choice sees them, in their order."""
    pieces = [one.litres * Fraction(one.step) for one in packs]
    parts = min(lcm(*(piece.denominator for piece in pieces)), FINEST)
    sizes = [max(int(piece * parts), 1) for piece in pieces]
    common = gcd(*sizes)
    articles = tuple(
        Article(
            size // common,
            tuple(
                (max(_whole(start / one.step), 1) if place else 1, money.to_minor(price * one.step, of))
                for place, (start, price) in enumerate(one.tiers)
            ),
            max(_whole(one.least / one.step), 1),
            None if one.most is None else _whole(one.most / one.step),
        )
        for one, size in zip(packs, sizes, strict=True)
    )
    return Scale(articles, Fraction(parts, max(common, 1)))


def _whole(count: Decimal) -> int:
    return int(count.to_integral_value())
