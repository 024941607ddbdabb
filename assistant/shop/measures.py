"""Sizes and densities as exact fractions: the one place of the shop that knows the units.

Exact, so that three bags of 8 dry quarts are 24 dry quarts and 27 cubic feet are a yard, to the last digit.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType
from typing import Final, Literal, NamedTuple

from grammar.quantities import UnknownUnit, unit

Dimension = Literal["volume", "weight"]

#: The legal definitions of the units are decimals of at most 13 figures, which a float holds: printed
#: with 14, the float that the registry worked out gives the definition back.
_FIGURES: Final = 14
#: A float from elsewhere (a density that was worked out) is taken to so many figures.
_FLOAT_FIGURES: Final = 12
#: What one coherent unit of the registry is in litres or kilograms.
_COHERENT: Final[Mapping[Dimension, int]] = {"volume": 1000, "weight": 1}


class SaleUnit(NamedTuple):
    """A unit of sale: its exact name, what it measures, and its short forms, for hints only."""

    name: str
    dimension: Dimension
    short: tuple[str, ...]


@lru_cache(maxsize=1)
def sale_units() -> Mapping[str, SaleUnit]:
    """The units in which a pack may be sold, by exact name."""
    table = tomllib.loads((files(__package__) / "units.toml").read_text(encoding="utf-8"))
    dimensions: tuple[Dimension, ...] = ("volume", "weight")
    return MappingProxyType(
        {name: SaleUnit(name, dimension, tuple(short)) for dimension in dimensions for name, short in table[dimension].items()}
    )


def meant(written: str) -> tuple[str, ...]:
    """The exact names that somebody who wrote a unit so may have meant; empty where there is none to offer."""
    word = written.strip().casefold()
    return tuple(
        known.name
        for known in sale_units().values()
        if word == known.name or word.replace(" ", "_") == known.name or word in (short.casefold() for short in known.short)
    )


@lru_cache(maxsize=64)
def _measure(name: str) -> tuple[Dimension, Fraction]:
    try:
        known = unit(name)
    except UnknownUnit:
        raise KeyError(name) from None
    for dimension, coherent in _COHERENT.items():
        if known.dimension == dimension:
            return dimension, Fraction(Decimal(f"{known.factor:.{_FIGURES}g}")) * coherent
    raise KeyError(name)


def one(name: str) -> Fraction:
    """One of a unit of volume or weight, in litres or in kilograms. Raises KeyError for any other unit."""
    return _measure(name)[1]


def exact(value: Fraction | Decimal | float | int) -> Fraction:
    """A number as a fraction; a float is taken to twelve figures."""
    return Fraction(Decimal(f"{value:.{_FLOAT_FIGURES}g}")) if isinstance(value, float) else Fraction(value)


def density(value: Decimal, name: str) -> Fraction:
    """A density in kilograms a litre; its unit is a weight and a volume with " / " between ("pound / cubic_foot")."""
    weight, volume = name.split(" / ")
    return Fraction(value) * one(weight) / one(volume)


def is_density(name: str) -> bool:
    """Whether a unit is a weight of sale over a volume of sale."""
    weight, _, volume = name.partition(" / ")
    known = sale_units()
    return weight in known and volume in known and (known[weight].dimension, known[volume].dimension) == ("weight", "volume")


class Size(NamedTuple):
    """What one pack holds, both ways."""

    litres: Fraction
    kilograms: Fraction


def size(amount: Fraction | Decimal | float | int, name: str, kilograms_a_litre: Fraction) -> Size:
    """`amount` of a unit of volume or weight, at a density. Raises KeyError for any other unit."""
    dimension, each = _measure(name)
    measured = exact(amount) * each
    if dimension == "volume":
        return Size(measured, measured * kilograms_a_litre)
    return Size(measured / kilograms_a_litre, measured)
