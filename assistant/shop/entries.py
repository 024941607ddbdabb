"""The entries of a catalogue: strict, frozen, and with nothing in them that is not declared.

Each model checks its own fields; what must hold between the fields of an entry is said once, in
`amiss`, which the reader of a file calls for every entry, sound or not.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, ClassVar, Literal

from pydantic import BaseModel, ConfigDict, Field, model_validator

from . import measures
from .fields import (
    Amount,
    BreakStart,
    Count,
    CurrencyCode,
    DensityUnit,
    Flag,
    Id,
    KindOf,
    Least,
    ListOf,
    Moisture,
    Money,
    Name,
    Reference,
    Sentence,
    Share,
    SizeUnit,
    Step,
    TaxRate,
)
from .limits import limits
from .mistakes import Problem, problem, quoted
from .money import Currency, TaxRule, currency

Kind = Literal["castings", "blend", "other"]


class Entry(BaseModel):
    """A table of the file."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True, populate_by_name=False)

    #: How the table, or each of its fields, is written: for the help of a mistake.
    example: ClassVar[Mapping[str, str]] = {}

    @classmethod
    def amiss(cls, fields: Mapping[str, object], given: Collection[str]) -> Iterator[Problem]:
        """What is wrong between fields.

        `fields` has those that are sound by themselves, `given` the names of all that are there, sound or not.
        """
        return iter(())

    @model_validator(mode="after")
    def _sound(self) -> Entry:
        fields = {name: value for name, value in self if value is not None}
        for one in self.amiss(fields, fields.keys()):
            raise one.error()
        return self


class Density(Entry):
    """What a product weighs: `value` in a weight over a volume."""

    example = {
        "": 'density = { value = "0.6", unit = "kilogram / litre" }',
        "value": 'value = "0.6"',
        "unit": 'unit = "kilogram / litre"',
    }

    value: Amount
    unit: DensityUnit

    @property
    def kilograms_a_litre(self) -> Fraction:
        return measures.density(self.value, self.unit)

    @classmethod
    def amiss(cls, fields: Mapping[str, object], given: Collection[str]) -> Iterator[Problem]:
        value, unit = fields.get("value"), fields.get("unit")
        if isinstance(value, Decimal) and isinstance(unit, str):
            low, high = limits().density_low, limits().density_high
            density = measures.density(value, unit)
            if not low <= density <= high:
                yield problem("density-unlikely", density=f"{float(density):.4g}", low=low, high=high)


class Size(Entry):
    """How much a pack holds: `amount` of a unit of sale, by volume or by weight."""

    example = {"": 'size = { amount = 8, unit = "us_dry_quart" }', "amount": "amount = 8", "unit": 'unit = "us_dry_quart"'}

    amount: Amount
    unit: SizeUnit

    @property
    def by_weight(self) -> bool:
        return measures.sale_units()[self.unit].dimension == "weight"

    def at(self, kilograms_a_litre: Fraction) -> measures.Size:
        """Litres and kilograms at a density."""
        return measures.size(self.amount, self.unit, kilograms_a_litre)


class Break(Entry):
    """From so many packs on, each of them costs so much."""

    example = {"": '{ from = 5, each = "13.50" }', "from": "from = 5", "each": 'each = "13.50"'}

    start: BreakStart = Field(alias="from")
    each: Money


class Bulk(Entry):
    """Sold loose, by this part of the pack at a time (1: by the whole one)."""

    example = {"": 'bulk = { step = "0.5" }', "step": 'step = "0.5"'}

    step: Step


class Shop(Entry):
    """Whose catalogue it is, and in what currency its prices are."""

    example = {"": "[shop]", "name": 'name = "The name over the door"', "currency": 'currency = "USD"'}

    name: Name
    currency: CurrencyCode

    @property
    def money(self) -> Currency:
        return currency(self.currency)


class Tax(Entry):
    """A tax on everything: `rate` in percent; `included` in the prices or put on top; `shown` on a slip or not."""

    example = {
        "": "[tax]",
        "name": 'name = "sales tax"',
        "rate": 'rate = "6.25"',
        "included": "included = false",
        "shown": "shown = true",
    }

    name: Name
    rate: TaxRate
    included: Flag
    shown: Flag

    @property
    def rule(self) -> TaxRule:
        return TaxRule(self.rate, self.included)


class Product(Entry):
    """What is sold: its density, and its moisture as a percentage of the weight where it is known.

    `castings` is the share of castings in a blend, in percent by volume.
    """

    example = {
        "": "[product.castings]",
        "name": 'name = "Worm castings"',
        "kind": 'kind = "castings"',
        "what": 'what = "screened, from cattle manure"',
        "density": 'density = { value = "0.6", unit = "kilogram / litre" }',
    }

    id: Id
    name: Name
    kind: Annotated[Kind, KindOf]
    what: Sentence
    density: Density
    moisture: Moisture | None = None
    castings: Share | None = None

    @classmethod
    def amiss(cls, fields: Mapping[str, object], given: Collection[str]) -> Iterator[Problem]:
        if fields.get("kind") == "blend" and "castings" not in given:
            yield problem("share-missing", "castings")
        if fields.get("kind") in ("castings", "other") and "castings" in given:
            yield problem("share-unwanted", "castings")


class Pack(Entry):
    """A pack of a product.

    `price` is for one pack; of `breaks` the last one reached sets the price of every pack. `stock` None is
    a stock that is not counted. Stock, least order and breaks count in packs, which may be parts of a
    pack where it is sold loose (`bulk`).
    """

    example = {
        "": "[pack.castings-8-quart]",
        "name": 'name = "Castings, 8 dry quart bag"',
        "product": 'product = "castings"',
        "size": 'size = { amount = 8, unit = "us_dry_quart" }',
        "price": 'price = "14.50"',
        "bulk": 'bulk = { step = "0.5" }',
    }

    id: Id
    name: Name
    product: Reference
    size: Size
    price: Money
    breaks: Annotated[tuple[Break, ...], ListOf] = ()
    stock: Count | None = None
    least: Least | None = None
    bulk: Bulk | None = None

    @property
    def step(self) -> Decimal:
        """The smallest part of a pack that can be bought."""
        return Decimal(1) if self.bulk is None else self.bulk.step

    @classmethod
    def amiss(cls, fields: Mapping[str, object], given: Collection[str]) -> Iterator[Problem]:
        if "bulk" in fields or "bulk" not in given:
            yield from _amiss_in_counts(fields)
        yield from _amiss_in_breaks(fields)


def _amiss_in_counts(fields: Mapping[str, object]) -> Iterator[Problem]:
    bulk, breaks = fields.get("bulk"), fields.get("breaks")
    step = bulk.step if isinstance(bulk, Bulk) else Decimal(1)
    counts = [("stock", fields.get("stock")), ("least", fields.get("least"))]
    if isinstance(breaks, tuple):
        counts += [(f"breaks[{place}].from", one.start) for place, one in enumerate(breaks, 1)]
    for field, count in counts:
        if isinstance(count, Decimal) and count % step:
            if step == 1:
                yield problem("count-not-whole", field, given=quoted(count))
            else:
                yield problem("count-off-step", field, given=quoted(count), step=quoted(step))


def _amiss_in_breaks(fields: Mapping[str, object]) -> Iterator[Problem]:
    breaks, price, least = fields.get("breaks"), fields.get("price"), fields.get("least")
    if not isinstance(breaks, tuple):
        return
    before_start, before_each = None, price if isinstance(price, Decimal) else None
    for place, one in enumerate(breaks, 1):
        if before_start is not None and one.start <= before_start:
            yield problem("break-order", f"breaks[{place}].from", given=one.start, before=before_start)
        elif isinstance(least, Decimal) and one.start <= least:
            yield problem("break-below-least", f"breaks[{place}].from", given=one.start, least=least)
        if before_each is not None and one.each >= before_each:
            yield problem("break-not-cheaper", f"breaks[{place}].each", given=one.start, before=before_each)
        before_start, before_each = one.start, one.each
