"""Money: whole minor units, a half upwards, tax that adds up."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.shop import money
from assistant.shop.money import Bill, MoneyError, TaxRule, currency

#: Codes and minor digits as ISO 4217 has them, written out once more (from memory of the standard's list).
DIGITS = {"USD": 2, "EUR": 2, "GBP": 2, "INR": 2, "CAD": 2, "AUD": 2, "NZD": 2, "ZAR": 2, "MXN": 2, "CHF": 2, "SEK": 2,
          "CNY": 2, "BRL": 2, "HUF": 2, "JPY": 0, "KRW": 0, "CLP": 0, "ISK": 0, "VND": 0, "XOF": 0, "KWD": 3, "BHD": 3,
          "OMR": 3, "TND": 3, "JOD": 3}  # fmt: skip


@pytest.mark.parametrize(("code", "digits"), DIGITS.items())
def test_minor_units(code: str, digits: int) -> None:
    assert currency(code).digits == digits
    assert currency(code).minor == Decimal(1) / 10**digits


def test_the_list_is_one_of_codes() -> None:
    codes = money.currencies()
    assert len(codes) > 150
    assert all(len(code) == 3 and code.isascii() and code.isupper() and one.code == code for code, one in codes.items())
    assert not {"XAU", "XTS", "XXX", "XDR"} & codes.keys()  # gold, tests, none, drawing rights


@pytest.mark.parametrize("code", ["", "usd", "$", "QQQ", "USDX", "US"])
def test_no_currency(code: str) -> None:
    with pytest.raises(MoneyError, match="ISO 4217"):
        currency(code)


@pytest.mark.parametrize(
    ("value", "code", "plain", "shown"),
    [
        ("57.9", "USD", "57.90", "USD 57.90"),
        ("0.005", "USD", "0.01", "USD 0.01"),
        ("0.0049999", "USD", "0.00", "USD 0.00"),
        ("2.675", "USD", "2.68", "USD 2.68"),  # the float 2.675 would give 2.67
        ("1234567.8", "EUR", "1234567.80", "EUR 1,234,567.80"),
        ("1450.5", "JPY", "1451", "JPY 1,451"),
        ("3.1415", "KWD", "3.142", "KWD 3.142"),
        ("1E+3", "GBP", "1000.00", "GBP 1,000.00"),
    ],
)
def test_amounts_in_print(value: str, code: str, plain: str, shown: str) -> None:
    assert money.plain(Decimal(value), currency(code)) == plain
    assert money.shown(Decimal(value), currency(code)) == shown


@pytest.mark.parametrize(
    "text", ["", " 1", "1 ", "+1", "-1", "1,50", "$1", "1e2", "nan", "1.", ".5", "1.2.3", "١", "1_0", "9" * 13]
)
def test_no_amount(text: str) -> None:
    with pytest.raises(MoneyError, match="plain decimal"):
        money.amount(text, currency("USD"))


def test_amounts_in_text() -> None:
    assert str(money.amount("20", currency("USD"))) == "20.00"
    assert str(money.amount("20.500", currency("USD"))) == "20.50"
    with pytest.raises(MoneyError, match="more decimals than the 2 of USD"):
        money.amount("20.505", currency("USD"))
    with pytest.raises(MoneyError, match="minor unit of JPY"):
        money.to_minor(Decimal("1.5"), currency("JPY"))


@given(st.integers(0, 10**12 - 1), st.sampled_from(sorted(DIGITS)))
def test_minor_units_there_and_back(units: int, code: str) -> None:
    value = money.from_minor(units, currency(code))
    assert money.to_minor(value, currency(code)) == units
    assert money.quantize(value, currency(code)) == value
    assert money.amount(money.plain(value, currency(code)), currency(code)) == value


def test_prices_by_size_have_four_more_decimals() -> None:
    assert str(money.rate(Fraction(145, 88), currency("USD"))) == "1.647727"
    assert str(money.rate(Fraction(2, 3), currency("JPY"))) == "0.6667"


def test_bills_by_hand() -> None:
    usd = currency("USD")
    # 6.25 % of 57.90 is 3.61875; 20 % within 57.90 is 57.90 × 20 / 120 = 9.65.
    assert money.bill(Decimal("57.90"), None, usd) == Bill(Decimal("57.90"), Decimal("0.00"), Decimal("57.90"))
    assert money.bill(Decimal("57.90"), TaxRule(Decimal("6.25"), False), usd) == Bill(
        Decimal("57.90"), Decimal("3.62"), Decimal("61.52")
    )
    assert money.bill(Decimal("57.90"), TaxRule(Decimal("20"), True), usd) == Bill(
        Decimal("48.25"), Decimal("9.65"), Decimal("57.90")
    )


@settings(max_examples=300)
@given(st.integers(0, 10**7), st.decimals(0, 50, places=3), st.booleans(), st.sampled_from(["USD", "JPY", "KWD"]))
def test_the_most_goods_for_money_is_the_most(units: int, percent: Decimal, included: bool, code: str) -> None:
    of, rule = currency(code), TaxRule(percent, included)
    have = money.from_minor(units, of)
    goods = money.most_goods(have, rule, of)
    assert money.bill(money.from_minor(goods, of), rule, of).to_pay <= have
    assert money.bill(money.from_minor(goods + 1, of), rule, of).to_pay > have


@given(st.integers(0, 10**7), st.decimals(0, 50, places=3), st.booleans())
def test_a_bill_adds_up(units: int, percent: Decimal, included: bool) -> None:
    of = currency("GBP")
    before, tax, to_pay = money.bill(money.from_minor(units, of), TaxRule(percent, included), of)
    assert before + tax == to_pay and tax >= 0
    assert money.to_minor(tax, of) >= 0
    # The tax is within half a penny of the rate on what stands before it.
    assert abs(Fraction(tax) - Fraction(before) * Fraction(percent) / 100) <= Fraction(3, 4) / 100


def test_money_below_nothing_buys_nothing() -> None:
    assert money.most_goods(Decimal(-5), TaxRule(Decimal(20), False), currency("USD")) == 0
    assert money.most_goods(Decimal(-5), None, currency("USD")) == 0
