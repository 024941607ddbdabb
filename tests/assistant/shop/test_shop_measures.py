"""Sizes are exact, and the units are the legal ones."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest

from assistant.shop import measures

#: Litres and kilograms. NIST Handbook 44, Appendix C, as seen in reprint (bushel 2150.42 in³, US gallon 231 in³, cubic
#: foot 1728 in³, cubic yard 27 ft³); the unit database of GNU units (dry quart = bushel / 32, imperial gallon, pound,
#: short ton); the rest is arithmetic from the inch of 2.54 cm.
LEGAL = {
    "us_bushel": Fraction(215042, 100) * Fraction("0.016387064"),
    "us_dry_quart": Fraction("1.101220942715"),
    "us_dry_gallon": Fraction(215042, 800) * Fraction("0.016387064"),
    "us_gallon": 231 * Fraction("0.016387064"),
    "us_quart": Fraction("0.946352946"),
    "imperial_gallon": Fraction("4.54609"),
    "cubic_foot": Fraction("28.316846592"),
    "cubic_yard": Fraction("764.554857984"),
    "cubic_metre": Fraction(1000),
    "litre": Fraction(1),
    "millilitre": Fraction(1, 1000),
    "gram": Fraction(1, 1000),
    "kilogram": Fraction(1),
    "tonne": Fraction(1000),
    "pound": Fraction("0.45359237"),
    "ounce": Fraction("0.45359237") / 16,
    "us_ton": Fraction("907.18474"),
}


def test_every_unit_of_sale_is_looked_at() -> None:
    assert set(LEGAL) == set(measures.sale_units())


@pytest.mark.parametrize(("name", "size"), LEGAL.items())
def test_a_unit_is_exactly_the_legal_one(name: str, size: Fraction) -> None:
    assert measures.one(name) == size


@pytest.mark.parametrize("name", ["us_pint", "cubic_inch", "us_cup", "tablespoon", "fluid_ounce", "imperial_pint", "stone"])
def test_other_units_of_a_request_are_decimals_too(name: str) -> None:
    # A terminating decimal of a sound length: the denominator has no other prime than 2 and 5.
    denominator = measures.one(name).denominator
    for prime in (2, 5):
        while denominator % prime == 0:
            denominator //= prime
    assert denominator == 1


@pytest.mark.parametrize("name", ["metre", "acre", "kelvin", "percent", "nonsense", "kilogram / litre", ""])
def test_what_is_no_size(name: str) -> None:
    with pytest.raises(KeyError):
        measures.one(name)


def test_whole_multiples_meet_exactly() -> None:
    half = Fraction(1, 2)
    assert 3 * measures.size(8, "us_dry_quart", half).litres == measures.size(24, "us_dry_quart", half).litres
    assert 27 * measures.one("cubic_foot") == measures.one("cubic_yard")
    assert 2 * measures.size(5, "pound", Fraction("0.613")).litres == measures.size(10, "pound", Fraction("0.613")).litres


def test_weight_and_volume_by_hand() -> None:
    # 30 lb a cubic foot: a 15 lb bag is half a cubic foot.
    density = measures.density(Decimal(30), "pound / cubic_foot")
    assert measures.size(15, "pound", density).litres == measures.one("cubic_foot") / 2
    assert measures.size(2, "cubic_foot", density).kilograms == 60 * measures.one("pound")
    assert measures.density(Decimal("0.6"), "kilogram / litre") == Fraction(3, 5)


def test_a_float_is_taken_to_twelve_figures() -> None:
    assert measures.exact(0.1 + 0.2) == Fraction(3, 10)
    assert measures.exact(Decimal("0.1")) == Fraction(1, 10)


@pytest.mark.parametrize(
    ("written", "names"),
    [
        ("quart", ("us_dry_quart", "us_quart")),
        ("QT", ("us_dry_quart", "us_quart")),
        ("ton", ("tonne", "us_ton")),
        ("cu ft", ("cubic_foot",)),
        (" LBS ", ("pound",)),
        ("us dry quart", ("us_dry_quart",)),
        ("furlong", ()),
        ("", ()),
    ],
)
def test_what_a_short_form_may_mean(written: str, names: tuple[str, ...]) -> None:
    assert measures.meant(written) == names


def test_a_short_form_is_never_a_unit() -> None:
    for unit in measures.sale_units().values():
        assert unit.name not in unit.short
        for short in unit.short:
            assert short not in measures.sale_units()
            assert unit.name in measures.meant(short)
