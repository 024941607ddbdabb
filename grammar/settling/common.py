"""What every part of settling shares: the question that stops it, the thresholds of a reading, and how amounts are said."""

from __future__ import annotations

import re
from collections.abc import Collection
from contextlib import suppress
from functools import lru_cache
from typing import Any

from ..draft import PlaceDraft
from ..quantities import Span
from ..query import Model, Note, Query

POT_LIKE = frozenset({"pot", "pot-azalea", "pot-pan", "hanging-basket", "bucket", "tub", "half-barrel", "planter", "grow-bag"})

#: Containers whose size is known by their name, where none is said.
KNOWN_BY_NAME = frozenset({"half-barrel", "bushel-basket"})


ROW_LIKE = frozenset({"row", "trench"})


#: Measures that are given out one by one.
KITCHEN = frozenset({"us_cup", "metric_cup", "imperial_cup", "tablespoon", "teaspoon", "fluid_ounce", "millilitre", "gram", "ounce",
                      "cubic_inch", "cubic_centimetre", "us_pint", "us_dry_pint"})  # fmt: skip


BACKWARDS = frozenset({"area", "plants", "containers", "beds", "layer", "share", "mix", "soil", "length"})


#: Doubtful units and what they are read as when nothing decides: the exact unit and what to say.
DEFAULT_UNIT = {
    "gallon": ("us_gallon", "gallons are US gallons"),
    "ton": ("us_ton", "tons are US short tons of 2000 lb"),
}


QUART_PINT = {
    "quart": ("us_dry_quart", "us_quart"),
    "pint": ("us_dry_pint", "us_pint"),
}


def unit_meant(hints: Collection[str], name: str) -> str:
    """The exact unit that a doubtful name stands for in this conversation; empty where nobody stated it."""
    lead = f"unit:{name}="
    return next((hint.removeprefix(lead) for hint in hints if hint.startswith(lead)), "")




#: Codes of questions that only say that something is missing: a topic in the line is then the likelier meaning.
MISSING = frozenset({"size", "volume", "count", "depth", "way", "place", "have", "water", "unread", "role", "stray-number", "layer", "mix",
                      "loose-measure", "each-or-all", "height", "pack", "width"})  # fmt: skip


class Ask(Exception):
    """A question has to be asked; carried up to `settle`."""

    def __init__(self, code: str, text: str, needs: str = "", status: str = "asks", offers: tuple[str, ...] = (), about: str = "") -> None:
        super().__init__(text)
        self.code, self.text, self.needs, self.status, self.offers, self.about = code, text, needs, status, offers, about


def figures_of(query: Query, *, nothing: bool = False) -> set[float]:
    """Every number that a query holds, at any depth; a text that is a number counts too, but for the sentences of notes.

    A field of a model that is 0 counts only where `nothing` is wanted: most fields are empty, and are passed over at once.
    """
    held: set[float] = set()
    todo: list[Any] = [query]
    while todo:
        one = todo.pop()
        # a model keeps its fields in __dict__: all of them are looked at, whatever a model comes to hold
        if isinstance(one, Model):
            parts = one.__dict__.values() if nothing else filter(None, one.__dict__.values())
        else:
            parts = one.values() if type(one) is dict else one
        for part in parts:
            kind = type(part)
            if kind is str:
                if part and part[0].isdecimal():
                    with suppress(ValueError):
                        held.add(float(part))
            elif kind is Span:
                held.update(part[:2])
            elif kind is float or kind is int:
                held.add(part)
            elif part and part is not True and kind is not Note:
                todo.append(part)
    return held


#: Which topic wins where several are touched: the narrow ones first.
TOPIC_ORDER = [
    "tea-or-castings", "bin-leachate", "food-safety", "which-way", "what-are-castings", "units", "density", "tea-when", "how-often", "side-dress",
    "top-dress", "blend", "tea-how", "storage", "too-much", "too-little", "organic-matter", "salts", "nutrients", "settling", "loads",
    "trees", "moisture",
]  # fmt: skip


METRIC = ("metre", "litre", "gram", "tonne", "hectare")


@lru_cache(maxsize=512)
def is_metric_unit(name: str) -> bool:
    """Whether a unit is one of the metric system."""
    return any(part in name for part in METRIC) or name in ("are",)


def amount_text(span: Span) -> str:
    """A span as a question says it: "4 to 6 inch"."""
    number = f"{span.low:g}" if span.low == span.high else f"{span.low:g} to {span.high:g}"
    return f"{number} {span.unit.replace('_', ' ')}".replace(" percent", " %")


def size_text(place: PlaceDraft) -> str:
    """The size of a place as a question says it."""
    if place.size:
        return " by ".join(amount_text(s).strip() for s in place.size)
    if place.area:
        return amount_text(place.area)
    sides = (place.length, place.width, place.diameter, place.radius, place.volume, place.depth)
    said = next((span for span in sides if span is not None), None)
    return amount_text(said) if said is not None else "the size"


#: Nouns that a number may head before each is told by itself, in a pattern.
_LISTED = "(?:beds|boxes|planters|pots|tubs|plots|patches|borders|lawns|rows|troughs|containers|areas|spots|places|sections|strips|parts|gardens|squares|circles)"


def heads(text: str, said: str, *, before_size: bool = False) -> bool:
    """Whether a number as it is said stands before a noun that may be told one by one: "two beds: …", "two raised beds are …".

    With `before_size` also where a size follows at once: "2 beds 4x8 ft …", which may be that many of that size.
    """
    apart = "" if before_size else r"(?!\s*(?:\d|of\b))"
    return re.search(rf"\b{re.escape(said.lower())}\s+(?:\w+\s+)?{_LISTED}\b{apart}", text.lower()) is not None
