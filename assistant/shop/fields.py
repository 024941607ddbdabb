"""The kinds of field that a catalogue has, each refusing what it does not take in words of `mistakes.toml`."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Annotated, Final

from pydantic import BeforeValidator

from .limits import limits
from .measures import is_density, meant, sale_units
from .mistakes import nearest, quoted, refused
from .money import currencies

_ID: Final = re.compile(r"[a-z0-9][a-z0-9-]*", re.ASCII)
_FIGURE: Final = re.compile(r"[0-9]{1,12}(?:\.[0-9]{1,12})?", re.ASCII)
_CODE_OR_SIGN: Final = re.compile(r"[^\W\d_]{2}|[$€£¥₹¢]")


def _text(value: object, most: int) -> str:
    if not isinstance(value, str):
        raise refused("text-expected", given=quoted(value))
    if not value.strip():
        raise refused("text-empty")
    if len(value) > most:
        raise refused("text-too-long", count=len(value), most=most)
    if not value.isprintable():
        sign = next(sign for sign in value if not sign.isprintable())
        raise refused("text-unprintable", given=quoted(sign))
    if value != value.strip():
        raise refused("text-edge-space")
    if not value[0].isalnum():
        raise refused("text-start", given=quoted(value[0]))
    return value


def _name(value: object) -> str:
    return _text(value, limits().name_length)


def _sentence(value: object) -> str:
    return _text(value, limits().text_length)


def _id(value: object) -> str:
    most = limits().id_length
    if not isinstance(value, str) or len(value) > most or not _ID.fullmatch(value):
        raise refused("id-unfit", most=most)
    return value


def _reference(value: object) -> str:
    return _text(value, limits().id_length)


def _flag(value: object) -> bool:
    if not isinstance(value, bool):
        raise refused("flag-expected", given=quoted(value))
    return value


def _kind(value: object) -> str:
    if value not in ("castings", "blend", "other"):
        raise refused("kind-unknown", given=quoted(value))
    return str(value)


def _currency(value: object) -> str:
    if not isinstance(value, str):
        raise refused("text-expected", given=quoted(value))
    if value in currencies():
        return value
    if not value.isascii() or "$" in value or len(value) > 3:
        raise refused("currency-sign", given=quoted(value))
    raise refused("currency-unknown", given=quoted(value), nearest=nearest(value.upper(), currencies()))


def _money(value: object) -> Decimal:
    """A price as text; how many decimals the currency allows is looked at when the currency is known."""
    if not isinstance(value, str):
        if isinstance(value, int | Decimal) and not isinstance(value, bool):
            raise refused("money-not-quoted", given=quoted(value))
        raise refused("text-expected", given=quoted(value))
    given, most = quoted(value), limits().price_most
    if _CODE_OR_SIGN.search(value):
        raise refused("money-with-sign" if any(sign.isdecimal() for sign in value) else "money-unclear", given=given)
    if "," in value:
        raise refused("money-with-comma", given=given)
    if _FIGURE.fullmatch(value.removeprefix("-")) and value.startswith("-"):
        raise refused("money-negative", given=given)
    if not _FIGURE.fullmatch(value):
        raise refused("money-unclear", given=given)
    amount = Decimal(value)
    if amount == 0:
        raise refused("money-zero")
    if amount > most:
        raise refused("money-too-much", given=given, most=most)
    return amount


def _figure(value: object) -> Decimal:
    """A figure as a number or as text, of bounded fineness; how large it may be is for its field to say."""
    if isinstance(value, str):
        if not _FIGURE.fullmatch(value.removeprefix("-")):
            raise refused("figure-expected", given=quoted(value))
        number = Decimal(value)
    elif isinstance(value, int | Decimal) and not isinstance(value, bool):
        number = Decimal(value)
    else:
        raise refused("figure-expected", given=quoted(value))
    exponent, digits = number.as_tuple().exponent, limits().amount_digits
    if not isinstance(exponent, int):
        raise refused("figure-not-finite", given=quoted(value))
    if exponent < -digits:
        raise refused("figure-too-fine", given=quoted(value), most=digits)
    return number


def _amount(value: object) -> Decimal:
    number, most = _figure(value), limits().amount_most
    if number <= 0:
        raise refused("figure-not-positive", given=quoted(value))
    if number > most:
        raise refused("figure-too-large", given=quoted(value), most=most)
    return number


def _moisture(value: object) -> Decimal:
    low, high = limits().moisture_low, limits().moisture_high
    number = _figure(value)
    if not low <= number <= high:
        raise refused("moisture-unlikely", given=quoted(value), low=low, high=high)
    return number


def _tax(value: object) -> Decimal:
    number = _figure(value)
    if not 0 <= number <= limits().tax_high:
        raise refused("tax-unlikely", given=quoted(value), most=limits().tax_high)
    return number


def _share(value: object) -> Decimal:
    number = _figure(value)
    if not 0 < number < 100:
        raise refused("share-unlikely", given=quoted(value))
    return number


def _count(value: object) -> Decimal:
    if isinstance(value, str | bool) or not isinstance(value, int | Decimal):
        raise refused("count-expected", given=quoted(value))
    number, most = _figure(value), limits().count_most
    if number < 0:
        raise refused("count-negative", given=quoted(value))
    if number > most:
        raise refused("count-too-large", given=quoted(value), most=most)
    return number


def _least(value: object) -> Decimal:
    count = _count(value)
    if count == 0:
        raise refused("least-too-low", given=quoted(value))
    return count


def _from(value: object) -> Decimal:
    count = _count(value)
    if count <= 1:
        raise refused("break-from-one", given=quoted(value))
    return count


def _step(value: object) -> Decimal:
    number = _amount(value)
    if number > 1 or 1 % number or number * limits().step_parts < 1:
        raise refused("step-unfit", given=quoted(value))
    return number


def _unit(value: object) -> str:
    if not isinstance(value, str):
        raise refused("text-expected", given=quoted(value))
    if value in sale_units():
        return value
    names = meant(value)
    if len(names) > 1:
        raise refused("unit-doubtful", given=quoted(value), meant=" or ".join(names))
    if names:
        raise refused("unit-by-short-form", given=quoted(value), meant=names[0])
    raise refused("unit-unknown", given=quoted(value), units=", ".join(sale_units()))


def _density_unit(value: object) -> str:
    if not isinstance(value, str):
        raise refused("text-expected", given=quoted(value))
    if not is_density(value):
        raise refused("density-unit", given=quoted(value))
    return value


def _list(value: object) -> object:
    if not isinstance(value, list | tuple):
        raise refused("break-not-list")
    most = limits().breaks
    if len(value) > most:
        raise refused("break-too-many", count=len(value), most=most)
    return tuple(value)


Id = Annotated[str, BeforeValidator(_id)]
Reference = Annotated[str, BeforeValidator(_reference)]
Name = Annotated[str, BeforeValidator(_name)]
Sentence = Annotated[str, BeforeValidator(_sentence)]
Flag = Annotated[bool, BeforeValidator(_flag)]
CurrencyCode = Annotated[str, BeforeValidator(_currency)]
Money = Annotated[Decimal, BeforeValidator(_money)]
Amount = Annotated[Decimal, BeforeValidator(_amount)]
Moisture = Annotated[Decimal, BeforeValidator(_moisture)]
TaxRate = Annotated[Decimal, BeforeValidator(_tax)]
Share = Annotated[Decimal, BeforeValidator(_share)]
Count = Annotated[Decimal, BeforeValidator(_count)]
Least = Annotated[Decimal, BeforeValidator(_least)]
BreakStart = Annotated[Decimal, BeforeValidator(_from)]
Step = Annotated[Decimal, BeforeValidator(_step)]
SizeUnit = Annotated[str, BeforeValidator(_unit)]
DensityUnit = Annotated[str, BeforeValidator(_density_unit)]
ListOf = BeforeValidator(_list)
KindOf = BeforeValidator(_kind)
