"""Units and spans of a quantity: the ground floor of the house.

There is one pint registry for the process, made of the units in `units.txt` only, so that it starts
fast and no trade word (bag, yard, quart) can mean what another trade means by it. pint is asked once
for each unit: its factor to the coherent SI unit and its dimension are kept (`tables`), and the
arithmetic of an answer is then plain multiplication. A start at which pint has nothing new to be asked
does not even import it.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from .tables import Plain, Table, package_file

if TYPE_CHECKING:
    import pint

#: The dimensions that a request can speak of, by pint's own names for them.
DIMENSIONS = {
    "[length]": "length",
    "[length] ** 2": "area",
    "[length] ** 3": "volume",
    "[mass]": "weight",
    "[time]": "time",
    "[temperature]": "temperature",
    "[mass] / [length] ** 3": "density",
    "[mass] / [length] ** 2": "weight per area",
    "[mass] / [length]": "weight per length",
    "dimensionless": "number",
    "[conductance] / [length]": "conductivity",
}

#: Units made of two others that facts and answers speak of; pint is asked for them ahead of time too.
_MADE_UNITS = (
    "kilogram / litre", "kilogram / cubic_metre", "kilogram / square_metre", "kilogram / hectare", "tonne / hectare",
    "milligram / kilogram", "pound / cubic_foot", "pound / square_foot", "us_gallon / square_foot", "us_cup / foot",
    "litre / square_metre",
)  # fmt: skip


class UnknownUnit(ValueError):
    """A unit name that `units.txt` does not define."""


class Unit(NamedTuple):
    """One unit: its exact name, what it measures, and its size in the coherent SI unit."""

    name: str
    dimension: str
    factor: float


@lru_cache(maxsize=1)
def registry() -> pint.UnitRegistry[float]:
    """The one pint registry, holding the units of `units.txt` and nothing else."""
    import pint

    made: pint.UnitRegistry[float] = pint.UnitRegistry(None, cache_folder=None)
    made.load_definitions(package_file("units.txt").read_text(encoding="utf-8").splitlines())
    return made


def _to_plain() -> Plain:
    """Dimension and factor of every unit by its name, asked of pint."""
    names = [name for name in registry() if name.isidentifier()]
    return {name: tuple(_asked_of_pint(name))[1:] for name in (*names, *_MADE_UNITS)}


UNITS = Table("units", ("units.txt", "quantities.py"), ("pint",), _to_plain)


@lru_cache(maxsize=1)
def _known() -> dict[str, tuple[str, float]]:
    found: dict[str, tuple[str, float]] = UNITS.load()
    return found


@lru_cache(maxsize=512)
def unit(name: str) -> Unit:
    """The unit called `name` (`inch`, `us_dry_quart`, `pound / cubic_foot`).

    Raises UnknownUnit when the registry has no such unit.
    """
    known = _known().get(name)
    return Unit(name, *known) if known is not None else _asked_of_pint(name)


def _asked_of_pint(name: str) -> Unit:
    import pint

    try:
        one = registry().Quantity(1.0, name)
        base = one.to_base_units()
    except (pint.errors.UndefinedUnitError, pint.errors.DefinitionSyntaxError, AttributeError) as error:
        raise UnknownUnit(f"no unit called {name!r}") from error
    dimension = DIMENSIONS.get(str(one.dimensionality), str(one.dimensionality))
    return Unit(name, dimension, float(base.magnitude))


def factor(name: str) -> float:
    """How many coherent SI units (m, m², m³, kg) one `name` is."""
    return unit(name).factor


class Span(NamedTuple):
    """A quantity from low to high in one unit; low equals high where there is no range."""

    low: float
    high: float
    unit: str

    @property
    def dimension(self) -> str:
        return unit(self.unit).dimension

    @property
    def base(self) -> tuple[float, float]:
        """Low and high in the coherent SI unit of the dimension."""
        size = factor(self.unit)
        return self.low * size, self.high * size

    @property
    def is_point(self) -> bool:
        return self.low == self.high

    def to(self, other: str) -> Span:
        """The same span in another unit of the same dimension; raises ValueError where it is another."""
        if unit(other).dimension != self.dimension:
            raise ValueError(f"{self.unit} is not a unit of {unit(other).dimension}")
        ratio = factor(self.unit) / factor(other)
        return Span(self.low * ratio, self.high * ratio, other)


#: Names that stand for several units, and what those measure: they have no size before it is told which is meant, and
#: `unit` knows none of them. A yard is of volume too, where it is one of loose material.
DOUBTFUL = {"quart": "volume", "pint": "volume", "gallon": "volume", "ton": "weight", "yard": "length"}


def measures(span: Span) -> str:
    """What a span measures, its unit possibly a doubtful one."""
    return DOUBTFUL.get(span.unit) or span.dimension


def point(value: float, name: str) -> Span:
    """A span of one value."""
    return Span(value, value, name)
