"""The relations of the trade, each declared once and solved for whichever of its terms is missing.

A relation is one of a few shapes. From its declaration come the printed formula, the forward answer and
every backward answer; no relation holds a text and a separate function for the same step. Terms are named
quantities in coherent SI units (metre, square metre, cubic metre, kilogram, or a plain number); spans
travel through as low and high.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

Value = tuple[float, float]


@dataclass(frozen=True, eq=False)
class Product:
    """out = constant × a × b × c …, with whole exponents."""

    id: str
    out: str
    factors: tuple[tuple[str, int], ...]
    source: str
    constant: float = 1.0
    said_constant: str = ""

    @cached_property
    def terms(self) -> tuple[str, ...]:
        return (self.out, *(name for name, _ in self.factors))

    @cached_property
    def formula(self) -> str:
        parts = [self.said_constant] if self.said_constant else []
        parts += [f"{name}²" if power == 2 else name for name, power in self.factors if power > 0]
        text = " × ".join(parts)
        under = [name for name, power in self.factors if power < 0]
        return f"{self.out} = {text}" + "".join(f" ÷ {name}" for name in under)

    def solve(self, known: Mapping[str, Value], wanted: str) -> Value | None:
        """The wanted term from the others, or None where it cannot be (a division by nothing)."""
        if wanted == self.out:
            low = high = self.constant
            for name, power in self.factors:
                a, b = known[name]
                if power != 1:
                    a, b = (a**power, b**power) if power > 0 or (a and b) else (math.nan, math.nan)
                low, high = (low * a, high * b) if a <= b else (low * b, high * a)
            return _sound(low, high)
        power = dict(self.factors)[wanted]
        low, high = known[self.out][0] / self.constant, known[self.out][1] / self.constant
        for name, other in self.factors:
            if name == wanted:
                continue
            one = known[name]
            if other > 0 and (one[0] <= 0 or one[1] <= 0):
                return None
            a, b = one[0] ** other, one[1] ** other
            low, high = low / max(a, b), high / min(a, b)
        if low < 0 or high < 0:
            return None
        low, high = low ** (1 / power), high ** (1 / power)
        return _sound(min(low, high), max(low, high))


@dataclass(frozen=True, eq=False)
class Sum:
    """out = a + b − c …"""

    id: str
    out: str
    addends: tuple[tuple[str, int], ...]
    source: str

    @cached_property
    def terms(self) -> tuple[str, ...]:
        return (self.out, *(name for name, _ in self.addends))

    @cached_property
    def formula(self) -> str:
        text = ""
        for name, sign in self.addends:
            text += name if not text else f" {'+' if sign > 0 else '−'} {name}"
        return f"{self.out} = {text}"

    def solve(self, known: Mapping[str, Value], wanted: str) -> Value | None:
        """The wanted term from the others, or None where it would be less than nothing."""
        if wanted == self.out:
            low = sum(known[n][0] if s > 0 else -known[n][1] for n, s in self.addends)
            high = sum(known[n][1] if s > 0 else -known[n][0] for n, s in self.addends)
        else:
            sign = dict(self.addends)[wanted]
            total = known[self.out]
            rest_low = sum(known[n][0] if s > 0 else -known[n][1] for n, s in self.addends if n != wanted)
            rest_high = sum(known[n][1] if s > 0 else -known[n][0] for n, s in self.addends if n != wanted)
            low, high = (total[0] - rest_high, total[1] - rest_low) if sign > 0 else (rest_low - total[1], rest_high - total[0])
            if low > high:
                low, high = high, low
        return _sound(low, high) if low >= 0 else None


@dataclass(frozen=True, eq=False)
class ShareRatio:
    """ratio = share ÷ (1 − share): a share of the finished mix as a ratio to what was there before."""

    id: str
    ratio: str
    share: str
    source: str

    @cached_property
    def terms(self) -> tuple[str, ...]:
        return (self.ratio, self.share)

    @property
    def out(self) -> str:
        return self.ratio

    @cached_property
    def formula(self) -> str:
        return f"{self.ratio} = {self.share} ÷ (1 − {self.share})"

    def solve(self, known: Mapping[str, Value], wanted: str) -> Value | None:
        """The ratio from the share or the share from the ratio; None for a share of the whole."""
        if wanted == self.ratio:
            low, high = known[self.share]
            return _sound(low / (1 - low), high / (1 - high)) if high < 1 else None
        low, high = known[self.ratio]
        return _sound(low / (1 + low), high / (1 + high)) if low >= 0 else None


@dataclass(frozen=True, eq=False)
class Frustum:
    """A tapered pot: out = π/12 × height × (top² + top × bottom + bottom²), solved for out and height."""

    id: str
    out: str
    height: str
    top: str
    bottom: str
    source: str

    @cached_property
    def terms(self) -> tuple[str, ...]:
        return (self.out, self.height, self.top, self.bottom)

    @cached_property
    def formula(self) -> str:
        return f"{self.out} = π/12 × {self.height} × ({self.top}² + {self.top} × {self.bottom} + {self.bottom}²)"

    def solve(self, known: Mapping[str, Value], wanted: str) -> Value | None:
        """The volume from the rest, or the height; the diameters are not solved for."""
        if wanted not in (self.out, self.height):
            return None
        face = [math.pi / 12 * (known[self.top][i] ** 2 + known[self.top][i] * known[self.bottom][i] + known[self.bottom][i] ** 2)
                for i in (0, 1)]  # fmt: skip
        if wanted == self.out:
            return _sound(known[self.height][0] * face[0], known[self.height][1] * face[1])
        return _sound(known[self.out][0] / face[1], known[self.out][1] / face[0]) if face[0] > 0 else None


Relation = Product | Sum | ShareRatio | Frustum

#: By how much a quotient may miss a whole number and count as that number: what binary arithmetic leaves over.
_HAIR = 1e-9


@dataclass(frozen=True)
class Whole:
    """out = of ÷ size in whole ones: rounded up where what is short of one takes one more, rounded down where it makes none."""

    id: str
    out: str
    of: str
    size: str
    up: bool
    source: str

    @cached_property
    def formula(self) -> str:
        return f"{self.out} = {self.of} ÷ {self.size}, rounded {'up' if self.up else 'down'}"

    def count(self, of: float, size: float) -> int:
        """How many whole ones an amount takes or gives."""
        return math.ceil(of / size - _HAIR) if self.up else math.floor(of / size + _HAIR)

    def counts(self, of: Value, size: Value) -> tuple[int, int]:
        """The same for spans: the fewest, of the least amount by the largest size, and the most."""
        return self.count(of[0], size[1]), self.count(of[1], size[0])


@dataclass(frozen=True)
class Told:
    """A step that puts amounts together or chooses among them, and that is solved for nothing else."""

    id: str
    out: str
    how: str
    source: str

    @property
    def formula(self) -> str:
        return f"{self.out} = {self.how}"


#: Whatever a step of the working may rest on.
Rule = Relation | Whole | Told


def _sound(low: float, high: float) -> Value | None:
    return (low, high) if math.isfinite(low) and math.isfinite(high) else None


def _product(id: str, out: str, *factors: str | tuple[str, int], source: str, constant: float = 1.0, said: str = "") -> Product:
    return Product(id, out, tuple(f if isinstance(f, tuple) else (f, 1) for f in factors), source, constant, said)


GEOMETRY = "geometry"
ALGEBRA = "algebra"
BY_VOLUME = "common practice: shares are by volume of the finished mix"
COVER = "geometry: a layer over an area"
#: The two rates of the city stand among the worked examples that the tests hold the relation against.
ADDED = "algebra; agrees with the City of Everett's soil amendment rates"
ARITHMETIC = "arithmetic"

CASTINGS_IN_MIX = _product("castings-in-mix", "castings", "share", "finished mix", source=BY_VOLUME)
SHARE_TO_RATIO = ShareRatio("share-to-ratio", "ratio", "share", ALGEBRA)
FINISHED_MIX = Sum("finished-mix", "finished mix", (("soil", 1), ("castings", 1)), ALGEBRA)
LAYER = _product("layer", "castings", "treated area", "layer", source=COVER)
RECTANGLE = _product("rectangle", "area", "length", "width", source=GEOMETRY)
_ROUND = (
    _product("circle", "area", ("diameter", 2), source=GEOMETRY, constant=math.pi / 4, said="π/4"),
    _product("diameter-of-radius", "diameter", "radius", source=GEOMETRY, constant=2, said="2"),
    _product("around-circle", "around", "diameter", source=GEOMETRY, constant=math.pi, said="π"),
)

#: How big one place is, by its form.
FORMS: dict[str, tuple[Relation, ...]] = {
    "rectangle": (RECTANGLE,),
    "circle": _ROUND,
    "oval": (_product("oval", "area", "length", "width", source=GEOMETRY, constant=math.pi / 4, said="π/4"),),
    "triangle": (_product("triangle", "area", "base", "height of triangle", source=GEOMETRY, constant=0.5, said="1/2"),),
    "hexagon": (
        _product("hexagon", "area", ("across the flats", 2), source=GEOMETRY, constant=math.sqrt(3) / 2, said="√3/2"),
        _product("flats-of-hexagon-side", "across the flats", "side", source=GEOMETRY, constant=math.sqrt(3), said="√3"),
        _product("flats-of-hexagon-corners", "across the flats", "across the corners", source=GEOMETRY, constant=math.sqrt(3) / 2, said="√3/2"),
    ),
    "octagon": (
        _product("octagon", "area", ("across the flats", 2), source=GEOMETRY, constant=2 * math.sqrt(2) - 2, said="(2√2 − 2)"),
        _product("flats-of-octagon-side", "across the flats", "side", source=GEOMETRY, constant=1 + math.sqrt(2), said="(1 + √2)"),
        _product("flats-of-octagon-corners", "across the flats", "across the corners", source=GEOMETRY, constant=math.sqrt(2 + math.sqrt(2)) / 2, said="√(2 + √2)/2"),
    ),
    "ring": (
        _product("outer-of-across", "across", "outer radius", source=GEOMETRY, constant=2, said="2"),
        _product("outer-circle", "outer circle", ("outer radius", 2), source=GEOMETRY, constant=math.pi, said="π"),
        _product("inner-circle", "inner circle", ("inner radius", 2), source=GEOMETRY, constant=math.pi, said="π"),
        Sum("ring", "area", (("outer circle", 1), ("inner circle", -1)), GEOMETRY),
    ),
    "pot": _ROUND,
    "area": (),
    "volume": (),
    "class": (),
    "cells": (_product("tray", "volume", "cells", "one cell", source=GEOMETRY),),
    "named": (),
    "none": (),
}

STRAIGHT = _product("straight-sides", "volume", "area", "depth", source=GEOMETRY)
TAPERED = Frustum("tapered-sides", "volume", "depth", "diameter", "bottom diameter", GEOMETRY)

WHOLE_AREA = _product("whole-area", "whole area", "area", "count", "portion", source=ALGEBRA)
TREATED_AREA = Sum("treated-area", "treated area", (("whole area", 1), ("left out", -1)), ALGEBRA)
TREATED_VOLUME = _product("treated-volume", "whole volume", "treated area", "depth", source=GEOMETRY)
WHOLE_VOLUME = _product("whole-volume", "whole volume", "volume", "count", "portion", source=ALGEBRA)

#: So much for each of so many; what each gets of so much, the other way round.
FOR_EACH = _product("each", "castings", "castings for one", "count", source=ALGEBRA)

#: What each way of using castings says of their amount.
WAYS: dict[str, tuple[Relation, ...]] = {
    "blend": (CASTINGS_IN_MIX,),
    "seed-mix": (CASTINGS_IN_MIX,),
    "incorporate": (SHARE_TO_RATIO, _product("castings-to-soil", "castings", "ratio", "soil", source=ADDED), FINISHED_MIX),
    "layer-dug-in": (LAYER, _product("layer-into-depth", "layer", "ratio", "depth", source=ADDED), SHARE_TO_RATIO, FINISHED_MIX),
    "top-dress": (LAYER,),
    "by-area": (
        _product("by-area", "castings", "rate for an area", "treated area", source=ALGEBRA),
        LAYER,
    ),
    "by-area-weight": (_product("by-area-weight", "weight", "weight for an area", "treated area", source=ALGEBRA),),
    "by-length": (_product("by-length", "castings", "rate for a length", "length", "count", source=ALGEBRA),),
    "by-length-weight": (_product("by-length-weight", "weight", "weight for a length", "length", "count", source=ALGEBRA),),
    "each": (FOR_EACH,),
    "each-weight": (_product("each-weight", "weight", "weight for one", "count", source=ALGEBRA),),
    "tea": (
        _product("tea", "castings", "water", "castings to water", source=ALGEBRA),
    ),
    "per-volume": (
        _product("per-volume", "castings", "castings for a volume", "finished mix", source=ALGEBRA),
    ),
}

#: A ring of castings around each plant, and a band along a row.
STRIPS: dict[str, tuple[Relation, ...]] = {
    "ring": (
        Sum("outer-edge", "outer radius", (("inner radius", 1), ("strip width", 1)), GEOMETRY),
        *FORMS["ring"][1:],
        _product("ring-of-castings", "castings", "area", "strip layer", "count", source=COVER),
    ),
    "band": (
        _product("band-area", "area", "length", "strip width", source=GEOMETRY),
        _product("band-of-castings", "castings", "area", "strip layer", "count", "sides", source=COVER),
    ),
}

#: How much tea a place takes.
TEA_FOR_AREA = _product("tea-for-area", "water", "tea for an area", "treated area", source=ALGEBRA)
TEA_FOR_PLANTS = _product("tea-for-plants", "water", "tea for one", "count", source=ALGEBRA)

#: Weights of what is filled, and of what is dry in a weight.
FILLED = _product("filled-weight", "filled weight", "whole volume", "density of the fill", source="definition of bulk density")
DRY_MATTER = _product("dry-matter", "dry weight", "weight", "dry share", source="definition of moisture, as a share of the weight as received")
BRINGS = _product("brings", "nutrient", "weight", "part in the weight", source=ALGEBRA)
BRINGS_DRY = _product("brings-dry", "nutrient", "dry weight", "part in the dry weight", source=ALGEBRA)

#: What one unit of a product costs.
UNIT_PRICE = _product("unit-price", "price of a unit", "price", ("size", -1), source=ARITHMETIC)

#: All applications of a season.
SEASON = _product("season", "castings of the season", "castings", "times", source=ARITHMETIC)

WEIGHT = _product("weight", "weight", "castings", "density", source="definition of bulk density")
WEIGHED = _product("density-weighed", "weighed", "density", "measured volume", source="definition of bulk density")


#: What castings cost, what is left of them, and what a mix is made of.
COST = _product("cost", "cost", "packs", "price of a pack", source=ARITHMETIC)
COST_BY_SIZE = _product("cost-by-size", "cost", "amount", "price of a unit", source=ARITHMETIC)
COST_IN_ALL = Sum("cost-in-all", "cost in all", (("cost", 1), ("what comes on top", 1)), ARITHMETIC)
PACKS_HELD = _product("packs-held", "castings", "packs", "size of a pack", source=ARITHMETIC)
LEFT_OVER = Sum("left-over", "left over", (("castings at hand", 1), ("castings", -1)), ALGEBRA)
STILL_NEEDED = Sum("still-needed", "still needed", (("castings", 1), ("castings at hand", -1)), ALGEBRA)
COMPONENT = _product("component", "component", "share of the component", "finished mix", source=BY_VOLUME)
SHARE_OF_PARTS = _product("share-of-parts", "share", "parts of castings", ("all parts", -1), source=ALGEBRA)
MIXED_DEPTH = Sum("mixed-depth", "mixed depth", (("depth", 1), ("layer", 1)), ALGEBRA)
SHARE_OF_DEPTHS = _product("share-of-depths", "share", "layer", ("mixed depth", -1), source=ADDED)

#: What comes in whole ones only.
WHOLE_PACKS = Whole("whole-packs", "packs", "amount", "size of a pack", True, "whole packs are sold")
PACKS_FOR_MONEY = Whole("packs-for-money", "packs", "budget", "price of a pack", False, "whole packs are sold")
LOADS = Whole("loads", "loads", "castings", "castings of a load", True, "whole loads are wheeled")
BATCHES = Whole("batches", "batches", "tea", "tea of one batch", True, "whole batches are brewed")
WHOLE_ONES = Whole("whole-ones", "how many", "castings", "castings for one", False, "whole ones only")

#: Sums of what is listed, and choices.
SUM = Told("sum", "castings", "the sum over the places", ALGEBRA)
SUM_OF_MIX = Told("mix-sum", "mix or soil", "the sum over the places", ALGEBRA)
SUM_OF_AREAS = Told("area-sum", "treated area", "the sum over the places", ALGEBRA)
SUM_OF_VOLUMES = Told("volume-sum", "whole volume", "the sum over the places", ALGEBRA)
SUM_OF_LINES = Told("sum-of-lines", "castings", "the sum over the lines of the order", ALGEBRA)
SUM_OF_SEASON = Told("season-sum", "castings of the season", "the sum of its applications", ARITHMETIC)
SHARE_OF_SEASON = Told("season-share", "share", "(layers + share mixed in × depth) ÷ (layers + depth)", "geometry: layers over one area")
SIDE_BY_SIDE = Told("side-by-side", "castings at another amount", "the same rules with that amount in place of the one before", ALGEBRA)
PACK_CHOICE = Told("pack-choice", "packs", "the cheapest choice that holds the amount", "least cost; of these the least left over, then the fewest packs")
MOST_FOR_MONEY = Told("most-for-money", "packs", "the choice that holds the most for the money", "the most by volume, then the least cost")
TAX = Told("tax", "tax", "the shop's rate of the cost, contained in the prices or added to them", "the shop's catalogue")


def whole_ones() -> tuple[Whole, ...]:
    """Every count of whole ones."""
    return WHOLE_PACKS, PACKS_FOR_MONEY, LOADS, BATCHES, WHOLE_ONES


def told() -> tuple[Told, ...]:
    """Every sum over a list and every choice."""
    return SUM, SUM_OF_MIX, SUM_OF_AREAS, SUM_OF_VOLUMES, SUM_OF_LINES, SUM_OF_SEASON, SHARE_OF_SEASON, SIDE_BY_SIDE, PACK_CHOICE, MOST_FOR_MONEY, TAX


def every() -> tuple[Relation, ...]:
    """Every declared relation, once each, in the order in which a request meets them."""
    found: dict[str, Relation] = {}
    for group in (*FORMS.values(), (STRAIGHT, TAPERED, WHOLE_AREA, TREATED_AREA, TREATED_VOLUME, WHOLE_VOLUME), *WAYS.values(),
                  *STRIPS.values(), (TEA_FOR_AREA, TEA_FOR_PLANTS, FILLED, DRY_MATTER, BRINGS, BRINGS_DRY, UNIT_PRICE, SEASON),
                  (WEIGHT, WEIGHED, COST, COST_BY_SIZE, COST_IN_ALL, PACKS_HELD, LEFT_OVER, STILL_NEEDED, COMPONENT, SHARE_OF_PARTS, MIXED_DEPTH,
                   SHARE_OF_DEPTHS)):  # fmt: skip
        for relation in group:
            found.setdefault(relation.id, relation)
    return tuple(found.values())

#: What the named terms of the relations measure, for printing.
TERM_DIMENSION = {
    "area": "area", "whole area": "area", "treated area": "area", "left out": "area", "outer circle": "area", "inner circle": "area",
    "volume": "volume", "whole volume": "volume", "finished mix": "volume", "soil": "volume", "mix or soil": "volume", "castings": "volume",
    "castings for one": "volume", "one cell": "volume", "water": "volume", "share": "share", "weight": "weight",
    "weight for one": "weight", "density": "density", "length": "length", "width": "length", "diameter": "length",
    "radius": "length", "around": "length", "base": "length", "height of triangle": "length", "inner radius": "length",
    "outer radius": "length", "across": "length", "side": "length", "across the flats": "length", "across the corners": "length", "bottom diameter": "length", "depth": "length", "layer": "length",
    "rate for an area": "number", "weight for an area": "number", "strip width": "length", "strip layer": "length",
    "tea for one": "volume", "tea for an area": "length", "filled weight": "weight", "density of the fill": "density",
    "dry weight": "weight", "dry share": "share", "nutrient": "weight", "part in the weight": "share",
    "part in the dry weight": "share", "castings of the season": "volume", "times": "number", "price": "number",
    "left over": "volume", "still needed": "volume", "castings at hand": "volume", "component": "volume", "share of the component": "share",
    "mixed depth": "length", "size of a pack": "volume", "castings of a load": "volume", "tea": "volume", "tea of one batch": "volume",
}  # fmt: skip
