"""The one registry of units, and spans. The definitions themselves are checked in `tests/sources/test_units.py`."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from grammar.quantities import Span, UnknownUnit, factor, point, registry, unit

#: Names that pint's own registry knows and that mean something else in the trade, or nothing.
NOT_OURS = ["bag", "a", "quart", "yd", "ft", "bushels", "kilopound", "megametre", "gal", "ton", "m", "inch_H2O"]

finite = st.floats(min_value=1e-3, max_value=1e6)


@pytest.mark.parametrize("name", NOT_OURS)
def test_a_unit_is_known_by_its_exact_name_only(name: str) -> None:
    with pytest.raises(UnknownUnit):
        unit(name)


def test_there_is_one_registry() -> None:
    assert registry() is registry()


@pytest.mark.parametrize(
    ("name", "dimension"),
    [("inch", "length"), ("acre", "area"), ("us_cup", "volume"), ("pound", "weight"), ("pound / cubic_foot", "density"),
     ("tonne / hectare", "weight per area"), ("percent", "number"), ("week", "time"), ("decisiemens_per_metre", "conductivity")],
)  # fmt: skip
def test_dimensions(name: str, dimension: str) -> None:
    assert unit(name).dimension == dimension


def test_units_that_sound_alike_are_apart() -> None:
    alike = [
        "us_dry_quart", "us_quart", "imperial_quart", "us_dry_gallon", "us_gallon", "imperial_gallon", "us_cup", "metric_cup",
        "imperial_cup", "us_ton", "imperial_ton", "tonne",
    ]  # fmt: skip
    assert len({factor(name) for name in alike}) == len(alike)


lengths = st.sampled_from(["inch", "foot", "metre", "centimetre", "yard", "mile"])


@given(finite, lengths, lengths)
def test_there_and_back(value: float, one: str, other: str) -> None:
    back = point(value, one).to(other).to(one)
    assert (back.low, back.high) == pytest.approx((value, value))
    assert back.unit == one


def test_a_span_keeps_low_and_high() -> None:
    span = Span(0.5, 1, "inch").to("millimetre")
    assert (span.low, span.high) == pytest.approx((12.7, 25.4))
    assert not span.is_point and point(1, "inch").is_point
    assert Span(1, 2, "foot").base == pytest.approx((0.3048, 0.6096))


def test_no_unit_of_another_dimension() -> None:
    with pytest.raises(ValueError, match="not a unit of"):
        point(1, "inch").to("litre")
