"""The shapes that entries share: strict, frozen, and with nothing in them that is not declared."""

from __future__ import annotations

from fractions import Fraction
from math import floor, log10
from typing import Annotated, ClassVar, Final, Literal

from pydantic import (
    AfterValidator,
    BaseModel,
    ConfigDict,
    Field,
    ValidationInfo,
    field_validator,
    model_validator,
)

from grammar.quantities import Span, UnknownUnit, registry, unit

#: How well a figure or a sentence is founded. `published`: its source was seen; `common practice` and `from memory`
#: say what they are; `arithmetic` is for sentences alone that repeat figures of an answer (see `Stated.may_be_sums`).
Standing = Literal["published", "common practice", "from memory", "arithmetic"]

#: What a fact measures, and the dimension its unit must have, by the names of `grammar.quantities`.
#: Some pairs share a dimension (a litre a square metre is a length) and are told apart here.
DIMENSION: Final[dict[str, str]] = {
    "length": "length",
    "area": "area",
    "volume": "volume",
    "weight": "weight",
    "time": "time",
    "temperature": "temperature",
    "density": "density",
    "weight per area": "weight per area",
    "volume per area": "length",
    "volume per length": "area",
    "conductivity": "conductivity",
    "share": "number",
    "ratio": "number",
    "count": "number",
    "acidity": "number",
}

#: How a unit is written in a sentence, for one and for more; a unit that is not here is written as named.
_WRITTEN: Final[dict[str, tuple[str, str]]] = {
    "millimetre": ("mm", "mm"),
    "centimetre": ("cm", "cm"),
    "metre": ("m", "m"),
    "inch": ("in", "in"),
    "foot": ("ft", "ft"),
    "square_metre": ("square metre", "square metres"),
    "square_foot": ("square foot", "square feet"),
    "litre": ("L", "L"),
    "millilitre": ("mL", "mL"),
    "us_cup": ("cup", "cups"),
    "us_gallon": ("US gallon", "US gallons"),
    "cubic_foot": ("cubic foot", "cubic feet"),
    "cubic_yard": ("cubic yard", "cubic yards"),
    "cubic_inch": ("cubic inch", "cubic inches"),
    "gram": ("g", "g"),
    "kilogram": ("kg", "kg"),
    "pound": ("lb", "lb"),
    "tonne": ("tonne", "tonnes"),
    "second": ("second", "seconds"),
    "hour": ("hour", "hours"),
    "day": ("day", "days"),
    "week": ("week", "weeks"),
    "month": ("month", "months"),
    "celsius": ("°C", "°C"),
    "fahrenheit": ("°F", "°F"),
    "percent": ("%", "%"),
    "fraction": ("", ""),
    "decisiemens_per_metre": ("dS/m", "dS/m"),
    "millimho_per_centimetre": ("mmho/cm", "mmho/cm"),
    "milligram / kilogram": ("mg/kg", "mg/kg"),
    "kilogram / litre": ("kg/L", "kg/L"),
    "kilogram / square_metre": ("kg a square metre", "kg a square metre"),
    "kilogram / hectare": ("kg/ha", "kg/ha"),
    "tonne / hectare": ("t/ha", "t/ha"),
    "pound / cubic_foot": ("lb a cubic foot", "lb a cubic foot"),
    "pound / square_foot": ("lb a square foot", "lb a square foot"),
    "us_gallon / square_foot": ("US gallon a square foot", "US gallons a square foot"),
    "us_cup / foot": ("cup a foot", "cups a foot"),
    "litre / square_metre": ("L a square metre", "L a square metre"),
}

#: Units whose parts people say as fractions ("1/4 in"), not as decimals.
_IN_FRACTIONS: Final = frozenset({"inch", "foot", "us_cup", "us_cup / foot", "us_gallon", "cubic_foot", "cubic_yard"})


def _two_figures(value: float) -> float:
    return round(value, 1 - floor(log10(abs(value)))) if value else 0.0


def _in_other(value: float, name: str, other: str) -> float:
    """A value in another unit. Raises ValueError where that is not known or measures something else."""
    one, new = unit(name), unit(other)
    if one.dimension != new.dimension:
        raise ValueError(f"{other} is a unit of {new.dimension}, and {name} of {one.dimension}")
    if one.dimension == "temperature":
        # by pint itself and not by a factor, since temperatures are also moved
        return float(registry().Quantity(value, name).to(other).magnitude)
    return value * one.factor / new.factor


def one_line(text: str) -> str:
    """A text that the file breaks over lines, as one line."""
    return " ".join(text.split())


#: A list of words in a file, kept so that it cannot change.
Words = Annotated[tuple[str, ...], Field(strict=False)]
#: A sentence or more, that must say something.
Text = Annotated[str, Field(min_length=1), AfterValidator(one_line)]


class Entry(BaseModel):
    """One table of a data file, known by its `id`, which is the table's own name."""

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True, allow_inf_nan=False, defer_build=True)

    #: The field that an entry fills which is a bare value and no table; "" where there has to be a table.
    bare: ClassVar[str] = ""

    id: str


class Stated(Entry):
    """An entry that says how well it is founded, and on which sources (ids of `sources/`)."""

    #: Whether an entry may state nothing of the trade, only figures that were worked out.
    may_be_sums: ClassVar[bool] = False

    standing: Standing
    source: Words = Field(default=(), validate_default=True)
    note: Annotated[str, AfterValidator(one_line)] = ""

    @field_validator("standing")
    @classmethod
    def _facts_are_no_sums(cls, standing: Standing) -> Standing:
        if standing == "arithmetic" and not cls.may_be_sums:
            raise ValueError('a fact is "published", "common practice" or "from memory"; only advice may be "arithmetic"')
        return standing

    @field_validator("source")
    @classmethod
    def _published_has_a_source(cls, source: tuple[str, ...], info: ValidationInfo) -> tuple[str, ...]:
        if info.data.get("standing") == "published" and not source:
            raise ValueError('a figure marked "published" needs a source')
        return source


class Fact(Stated):
    """A figure of the trade: `low` to `high` in `unit`, and `typical` where one value is used.

    In a file, `value` alone stands for low, typical and high together.
    """

    what: Text
    measures: str
    low: float
    high: float
    typical: float | None = None
    unit: Annotated[str, Field(min_length=1)]
    #: The disagreement between sources that this figure settles (an id of `disagreements.toml`).
    disputed: str = ""

    @model_validator(mode="before")
    @classmethod
    def _one_value(cls, body: object) -> object:
        if not isinstance(body, dict):
            return body
        if "value" in body:
            spread = sorted({"low", "typical", "high"} & body.keys())
            if spread:
                raise ValueError(f"value stands for low, typical and high together: take out {', '.join(spread)}")
            body = dict(body)
            value = body.pop("value")
            return {**body, "low": value, "typical": value, "high": value}
        if "typical" not in body and "low" in body and body["low"] == body.get("high"):
            return {**body, "typical": body["low"]}
        return body

    @field_validator("measures")
    @classmethod
    def _known_measure(cls, measures: str) -> str:
        if measures not in DIMENSION:
            raise ValueError(f"{measures!r} is not one of {', '.join(DIMENSION)}")
        return measures

    @field_validator("high")
    @classmethod
    def _in_order(cls, high: float, info: ValidationInfo) -> float:
        low = info.data.get("low")
        if low is not None and low > high:
            raise ValueError(f"low {low:g} is above high {high:g}")
        return high

    @field_validator("typical")
    @classmethod
    def _between(cls, typical: float | None, info: ValidationInfo) -> float | None:
        low, high = info.data.get("low"), info.data.get("high")
        if typical is not None and low is not None and high is not None and not low <= typical <= high:
            raise ValueError(f"typical {typical:g} is not between low {low:g} and high {high:g}")
        return typical

    @field_validator("unit")
    @classmethod
    def _right_dimension(cls, name: str, info: ValidationInfo) -> str:
        try:
            found = unit(name).dimension
        except UnknownUnit as error:
            raise ValueError(str(error)) from error
        measures = info.data.get("measures")
        if measures is not None and found != DIMENSION[measures]:
            raise ValueError(f"{name} is a unit of {found}, and this fact measures {measures}")
        return name

    @property
    def single(self) -> float:
        """The one value to use, in `unit`: the typical one.

        Raises ValueError for a fact that is a range with nothing typical about it.
        """
        if self.typical is None:
            raise ValueError(f"{self.id} is a range of {self.said}, with no typical value")
        return self.typical

    @property
    def span(self) -> Span:
        """Low to high as a span of a quantity."""
        return Span(self.low, self.high, self.unit)

    @property
    def said(self) -> str:
        """Low to high as a person writes it: "1/2 to 1 in", "10 %"."""
        return self.write(self.low, self.high)

    def write(self, low: float, high: float | None = None) -> str:
        """A value, or a range, in this fact's unit as a person writes it: "1/2 in", "4 to 6 hours"."""
        last = low if high is None else high
        one, many = _WRITTEN.get(self.unit, (self.unit.replace("_", " "),) * 2)
        figures = [self._figure(value) for value in dict.fromkeys((low, last))]
        return f"{' to '.join(figures)} {one if 0 < last <= 1 else many}".strip()

    def written_in(self, other: str) -> Fact:
        """The same fact for writing in another unit, rounded to two figures: 23 kg as 51 lb.

        Raises ValueError where the other unit is not known or measures something else.
        """
        rounded: dict[str, float] = {}
        for key, value in (("low", self.low), ("high", self.high), ("typical", self.typical)):
            if value is None:
                continue
            try:
                rounded[key] = _two_figures(_in_other(value, self.unit, other))
            except ValueError as error:
                raise ValueError(f"{self.id} cannot be written in {other}: {error}") from error
        return self.model_copy(update={**rounded, "unit": other})

    def _figure(self, value: float) -> str:
        if self.unit in _IN_FRACTIONS and value % 1:
            exact = Fraction(value).limit_denominator(8)
            if float(exact) == value:
                whole, part = divmod(exact, 1)
                return f"{whole} {part}" if whole else str(part)
        return f"{value:.10g}"


def named_fact(body: dict[str, object], key: str, what: str, measures: str) -> dict[str, object]:
    """The table under `key` made a fact of its own, named after its entry and saying what it is of."""
    inner = body.get(key)
    if not isinstance(inner, dict):
        return body
    named = {"id": f"{body['id']}.{key}", "what": f"{what} {body.get('name', '')}", "measures": measures}
    return {**body, key: {**inner, **named}}
