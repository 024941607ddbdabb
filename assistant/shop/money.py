"""Money: ISO 4217 currencies, decimal amounts, tax. Never a float.

The codes and the digits of their minor units stand in `currencies.toml`.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from decimal import ROUND_HALF_UP, Context, Decimal
from fractions import Fraction
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType
from typing import Final, NamedTuple

#: Digits enough for any sum that the limits of a catalogue allow, so that no context of a caller rounds it.
_EXACT: Final = Context(prec=60, rounding=ROUND_HALF_UP)
_PLAIN: Final = re.compile(r"[0-9]{1,12}(?:\.[0-9]{1,12})?", re.ASCII)


class MoneyError(ValueError):
    """A currency that ISO 4217 does not have, or an amount that is not one of its currency."""


class Currency(NamedTuple):
    """An ISO 4217 code and the decimal digits of its minor unit (USD 2, JPY 0, KWD 3)."""

    code: str
    digits: int

    @property
    def minor(self) -> Decimal:
        """The smallest amount of it: 0.01 for USD."""
        return Decimal(1).scaleb(-self.digits)


@lru_cache(maxsize=1)
def currencies() -> Mapping[str, Currency]:
    """Every currency that may be used, by code."""
    table = tomllib.loads((files(__package__) / "currencies.toml").read_text(encoding="utf-8"))
    found = {code: Currency(code, int(digits)) for digits, entry in sorted(table["digits"].items()) for code in entry["codes"]}
    return MappingProxyType(dict(sorted(found.items())))


def currency(code: str) -> Currency:
    """The currency of an ISO 4217 code, in capitals. Raises MoneyError where there is none."""
    try:
        return currencies()[code]
    except KeyError:
        raise MoneyError(f"{code!r} is not an ISO 4217 currency code") from None


def amount(text: str, of: Currency) -> Decimal:
    """A plain decimal amount ("14.50": no sign, no symbol, twelve digits at most) in whole minor units.

    Raises MoneyError for any other text.
    """
    if not _PLAIN.fullmatch(text):
        raise MoneyError(f"{text!r} is not a plain decimal amount")
    value = Decimal(text)
    if value != quantize(value, of):
        raise MoneyError(f"{text!r} has more decimals than the {of.digits} of {of.code}")
    return quantize(value, of)


def quantize(value: Decimal, of: Currency) -> Decimal:
    """An amount in whole minor units of its currency, a half upwards."""
    return value.quantize(of.minor, context=_EXACT)


def to_minor(value: Decimal, of: Currency) -> int:
    """An amount as a number of minor units. Raises MoneyError where it is not a whole one."""
    units = _EXACT.scaleb(value, of.digits)
    if units != units.to_integral_value():
        raise MoneyError(f"{value} is not a whole number of the minor unit of {of.code}")
    return int(units)


def from_minor(units: int, of: Currency) -> Decimal:
    """So many minor units as an amount."""
    return _EXACT.scaleb(Decimal(units), -of.digits)


def plain(value: Decimal, of: Currency) -> str:
    """An amount for a machine: "1234.50"."""
    return f"{quantize(value, of):f}"


def shown(value: Decimal, of: Currency) -> str:
    """An amount for a person, with its code: "USD 1,234.50"."""
    return f"{of.code} {quantize(value, of):,f}"


def rate(value: Fraction, of: Currency, further: int = 4) -> Decimal:
    """A price of a litre or a kilogram: `further` digits past the minor unit, a half upwards."""
    exact = _EXACT.divide(Decimal(value.numerator), Decimal(value.denominator))
    return exact.quantize(of.minor.scaleb(-further), context=_EXACT)


class TaxRule(NamedTuple):
    """A tax on goods: its rate in percent, and whether the prices hold it already."""

    percent: Decimal
    included: bool


class Bill(NamedTuple):
    """What goods come to: before tax, the tax, and what is paid."""

    before_tax: Decimal
    tax: Decimal
    to_pay: Decimal


def bill(goods: Decimal, rule: TaxRule | None, of: Currency) -> Bill:
    """The bill for goods that come to `goods` at the shop's prices; the tax is rounded once, on the whole."""
    goods = quantize(goods, of)
    if rule is None:
        return Bill(goods, quantize(Decimal(0), of), goods)
    if rule.included:
        tax = _EXACT.divide(_EXACT.multiply(goods, rule.percent), _EXACT.add(Decimal(100), rule.percent))
        tax = quantize(tax, of)
        return Bill(goods - tax, tax, goods)
    tax = quantize(_EXACT.divide(_EXACT.multiply(goods, rule.percent), Decimal(100)), of)
    return Bill(goods, tax, goods + tax)


def most_goods(money: Decimal, rule: TaxRule | None, of: Currency) -> int:
    """The largest sum of goods, in minor units, whose bill is no more than `money`."""
    have = int(_EXACT.scaleb(money, of.digits))
    if rule is None or rule.included or have <= 0:
        return max(have, 0)
    # The tax is rounded to one minor unit, so the sum is within one of the unrounded one.
    goods = int(Fraction(have * 100) / (100 + Fraction(rule.percent))) + 1
    while goods > 0 and to_minor(bill(from_minor(goods, of), rule, of).to_pay, of) > have:
        goods -= 1
    return goods
