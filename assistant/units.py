"""How a quantity is printed for a person: in the units they spoke, rounded for reading."""

from __future__ import annotations

from functools import lru_cache

from grammar.quantities import Span, factor, unit
from grammar.words import plural

#: The short printed name of a unit.
SYMBOL = {
    "metre": "m", "centimetre": "cm", "millimetre": "mm", "inch": "in", "foot": "ft", "yard": "yd",
    "square_metre": "m²", "square_foot": "sq ft", "square_inch": "sq in", "square_yard": "sq yd", "square_centimetre": "cm²",
    "acre": "acre", "hectare": "ha", "cubic_metre": "m³", "litre": "L", "millilitre": "mL", "cubic_foot": "cu ft",
    "cubic_inch": "cu in", "cubic_yard": "cu yd", "us_gallon": "gal", "imperial_gallon": "imp gal", "us_quart": "liquid qt",
    "us_dry_quart": "dry qt", "us_pint": "liquid pt", "us_dry_pint": "dry pt", "us_cup": "cup", "metric_cup": "metric cup",
    "imperial_cup": "imperial cup", "tablespoon": "tbsp", "teaspoon": "tsp", "fluid_ounce": "fl oz", "us_bushel": "bushel",
    "us_dry_gallon": "dry gal", "kilogram": "kg", "gram": "g", "pound": "lb", "ounce": "oz", "tonne": "t", "us_ton": "ton",
    "stone": "stone", "percent": "%", "fraction": "", "cubic_centimetre": "mL", "imperial_pint": "imp pt", "imperial_quart": "imp qt",
}  # fmt: skip

#: A small unit gives way to a larger one past so many of it, so that figures stay readable.
_LARGER = {"us_cup": (32.0, "us_gallon"), "tablespoon": (16.0, "us_cup"), "teaspoon": (12.0, "us_cup"),
           "fluid_ounce": (64.0, "us_gallon"), "millilitre": (1000.0, "litre"), "cubic_centimetre": (1000.0, "litre"),
           "cubic_inch": (1728.0, "cubic_foot"), "gram": (1000.0, "kilogram"), "ounce": (32.0, "pound")}  # fmt: skip


#: Cubic feet below which castings are printed in cups where the user spoke of neither.
_CUPS_BELOW = 0.25


@lru_cache(maxsize=256)
def symbol(name: str) -> str:
    """The printed name of a unit; a made one ("pound / cubic_foot") part by part."""
    if " / " in name:
        return "/".join(symbol(part) for part in name.split(" / "))
    return SYMBOL.get(name, name.replace("_", " "))


#: Printed names that are words, and have a plural.
_WORDS = frozenset({"cup", "stone", "acre", "ton", "metric cup", "imperial cup", "bushel"})

#: A hair's breadth, by which every figure is raised before it is rounded: a half that binary arithmetic left just
#: below itself is rounded up as its exact twin is, so that one amount is never printed as 1.87 here and 1.88 there.
_HAIR = 1 + 1e-11


def number(value: float) -> str:
    """A figure for reading: three or four figures, no exponent, thousands apart; a half is rounded up."""
    value *= _HAIR
    size = abs(value)
    if size == 0:
        return "0"
    if size >= 1000:
        return f"{value:,.0f}"
    if size >= 100:
        text = f"{value:.1f}"
    elif size >= 1:
        text = f"{value:.2f}"
    elif size >= 0.01:
        text = f"{value:.3f}"
    else:
        text = f"{value:.3g}" if size >= 1e-6 else f"{value:.2e}"
    return text.rstrip("0").rstrip(".") if "." in text and "e" not in text else text


@lru_cache(maxsize=4096)
def printed(low: float, high: float, name: str) -> str:
    """A span in a unit: "2.5 cu ft", "1 to 2 cups"."""
    mark = symbol(name)
    figures = number(low)
    if low != high and (upper := number(high)) != figures:
        figures = f"{figures} to {upper}"
    if not mark:
        return figures
    return f"{figures} {mark}s" if mark in _WORDS and figures != "1" else f"{figures} {mark}"


def both_systems(litres: tuple[float, float], *, metric: bool) -> str:
    """A volume in litres and in cubic feet or, of little, cups; the reader's own first: "2.67 cu ft (75.51 L)"."""
    feet = factor("cubic_foot") / factor("litre")
    name = "us_cup" if litres[1] < _CUPS_BELOW * feet else "cubic_foot"
    size = factor(name) / factor("litre")
    texts = printed(*litres, "litre"), printed(litres[0] / size, litres[1] / size, name)
    return f"{texts[0]} ({texts[1]})" if metric else f"{texts[1]} ({texts[0]})"


def span_text(span: Span) -> str:
    """A span as it was spoken."""
    return printed(span.low, span.high, span.unit)


class Printer:
    """Chooses the units of one answer: those the user spoke, by dimension; `asked` is a unit that the answer was asked for in."""

    __slots__ = ("area", "asked", "length", "metric", "volume", "volume_said", "weight")

    def __init__(self, metric: bool, spoken: list[str], asked: str = "") -> None:
        self.metric = metric
        self.asked = asked
        first: dict[str, str] = {}
        for name in spoken:
            if name and " / " not in name:
                first.setdefault(unit(name).dimension, name)
        self.length = first.get("length") or ("metre" if metric else "foot")
        self.area = first.get("area") or ("square_metre" if metric else "square_foot")
        self.volume_said = "volume" in first
        self.volume = first.get("volume") or ("litre" if metric else "cubic_foot")
        self.weight = first.get("weight") or ("kilogram" if metric else "pound")

    def suit(self, castings: float) -> None:
        """Goes over to cups for so few castings, in cubic metres, where no unit of volume was spoken of.

        Nobody measures out a twentieth of a cubic foot.
        """
        if self.volume == "cubic_foot" and not self.volume_said and castings < _CUPS_BELOW * factor("cubic_foot"):
            self.volume = "us_cup"

    def unit_for_one(self, size: float) -> str:
        """The unit for what one of many holds or gets, `size` in cubic metres: cups for little, as in `suit`."""
        little = self.volume == "cubic_foot" and not self.volume_said and size < _CUPS_BELOW * factor("cubic_foot")
        return "us_cup" if little else ""

    def unit_of(self, dimension: str, size: float) -> str:
        """The unit to print a value of a dimension in; `size` is the value in the coherent SI unit."""
        if dimension == "area":
            return self.area if self.area not in ("acre", "hectare") or size >= 400 else (
                "square_metre" if self.metric else "square_foot")  # fmt: skip
        if dimension == "volume":
            name = self.volume
            if name != self.asked and name in _LARGER and size / factor(name) >= _LARGER[name][0]:
                name = _LARGER[name][1]
            return name
        if dimension == "weight":
            name = self.weight
            if name != self.asked and name in _LARGER and size / factor(name) >= _LARGER[name][0]:
                name = _LARGER[name][1]
            return name
        if dimension == "length":
            return self.length
        return "fraction"

    def show(self, low: float, high: float, dimension: str, name: str = "") -> str:
        """A value in coherent SI units as text in the user's unit."""
        if dimension == "share":
            return printed(low * 100, high * 100, "percent")
        if dimension == "number":
            return printed(low, high, "fraction")
        if dimension == "density":
            each = "kilogram / litre" if self.metric else "pound / cubic_foot"
            size = factor(each)
            return printed(low / size, high / size, each)
        name = name or self.unit_of(dimension, high)
        size = unit(name).factor
        return printed(low / size, high / size, name)

    def other(self, low: float, high: float, dimension: str) -> str:
        """The same value in the other system of units."""
        names = {"volume": ("litre", "cubic_foot"), "area": ("square_metre", "square_foot"), "weight": ("kilogram", "pound")}[dimension]
        now = self.unit_of(dimension, high)
        metric = any(part in now for part in ("metre", "litre", "gram", "tonne", "hectare"))
        name = names[1] if metric else names[0]
        if dimension == "volume" and name == "cubic_foot" and high < _CUPS_BELOW * factor("cubic_foot"):
            name = "us_cup"
        size = factor(name)
        return printed(low / size, high / size, name)


def so_many(number: str, name: str) -> str:
    """ "4 of 20 L bag"; where a pack has no more of a name, "2 bags"."""
    return f"{number} {name if number == '1' else plural(name)}" if name.isalpha() else f"{number} of {name}"
