"""Makes random well-formed requests whose query is known beforehand.

A request is drawn from the vocabulary's own spellings and from numbers written in figures, fractions and words; what it
must be read as is kept beside it in coherent SI units, worked out from exact definitions and not by the program. The
reader has to give back that query or ask; anything else is a difference.

    python -m tests.generator [COUNT] [SEED]

prints every difference and counts them; 20,000 requests are made where no count is given.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from random import Random
from typing import NamedTuple

from grammar.gather import gather
from grammar.quantities import Span
from grammar.query import Place, Query, Question
from grammar.settle import settle
from grammar.words import plural
from tests.wording import figure, in_words, mixed, spellings, unit_spellings, words

#: Exact sizes (US gallon and bushel: NIST Handbook 44, Appendix C; the inch is 25.4 mm by definition) in metres, square and cubic metres, kilograms.
_INCH = Fraction("0.0254")
SIZE = {
    "inch": _INCH,
    "foot": 12 * _INCH,
    "millimetre": Fraction("0.001"),
    "centimetre": Fraction("0.01"),
    "metre": Fraction(1),
    "square_foot": (12 * _INCH) ** 2,
    "square_metre": Fraction(1),
    "litre": Fraction("0.001"),
    "millilitre": Fraction("0.000001"),
    "cubic_foot": (12 * _INCH) ** 3,
    "cubic_yard": (36 * _INCH) ** 3,
    "us_gallon": 231 * _INCH**3,
    "us_dry_quart": Fraction("67.200625") * _INCH**3,
    "us_cup": Fraction(231, 16) * _INCH**3,
    "tablespoon": Fraction(231, 256) * _INCH**3,
    "gram": Fraction("0.001"),
    "kilogram": Fraction(1),
    "pound": Fraction("0.45359237"),
}

#: A quantity: low, high and unit.
Amount = tuple[Fraction, Fraction, str]
Base = tuple[float, float]


class Due(NamedTuple):
    """What one place of a request must be read as; None is what the request does not say."""

    form: str = "none"
    dims: tuple[tuple[str, Base], ...] = ()
    count: int | None = None
    depth: Base | None = None
    layer: Base | None = None
    share: tuple[float, float] | None = None
    rate: Base | None = None
    way: str | None = None
    #: a nursery class or the cells of a tray
    number: int | None = None
    portion: float | None = None
    rate_per: Base | None = None
    #: the castings of a recipe, as a part of the whole
    part: float | None = None


class Made(NamedTuple):
    """A request and the query that it must be read as."""

    text: str
    asked: str
    places: tuple[Due, ...]
    have: Base | None = None
    water: Base | None = None
    ratio: tuple[float, float] | None = None
    density: Base | None = None
    pack: Base | None = None


class Maker:
    """Draws requests; the same seed gives the same ones."""

    def __init__(self, seed: int) -> None:
        self.random = Random(seed)

    # ---- amounts -----------------------------------------------------------------------------------------

    def number(self, low: int, high: int, parts: tuple[int, ...] = (1,)) -> Fraction:
        """A number between two bounds, in halves, quarters …, of which most are whole."""
        under = self.random.choice(parts)
        return Fraction(self.random.randint(low * under, high * under), under)

    def written(self, value: Fraction) -> str:
        """A number in figures, as a fraction or in words."""
        style = self.random.random()
        if style < 0.2 and (said := in_words(value)):
            return said
        if style < 0.5 and (said := mixed(value)):
            return said
        return figure(value)

    def amount(self, low: int, high: int, units: str, parts: tuple[int, ...] = (1,), spread: bool = True) -> Amount:
        """A quantity in one of the units, now and then a span."""
        first = self.number(low, high, parts)
        last = first
        if spread and self.random.random() < 0.1:
            last = first + self.number(1, 3)
        return first, last, self.random.choice(units.split())

    def said(self, amount: Amount, unit_before: bool = False) -> str:
        """A quantity in words; `unit_before` where it stands before a noun ("20 litre pot")."""
        low, high, unit = amount
        spelled = self.random.choice(unit_spellings(unit))
        if not unit_before and high != 1 and len(spelled) > 3 and spelled.isalpha() and not spelled.endswith("s"):
            spelled = {"foot": "feet", "inch": "inches"}.get(spelled) or plural(spelled)
        joint = self.random.choice((" to ", "-", " - ")) if high.denominator == low.denominator == 1 else " to "
        number = self.written(low) if low == high else f"{figure(low)}{joint}{figure(high)}"
        return f"{number} {spelled}"

    def noun(self, kind: str, name: str, many: bool = False) -> str:
        """A thing by one of its names."""
        word = self.random.choice(spellings(kind, name))
        last = word.rsplit(" ", 1)[-1]
        if many and not last.endswith("s"):
            word = word + "es" if last.endswith(("ch", "sh", "x")) else plural(word)
        return word

    # ---- sizes of places ---------------------------------------------------------------------------------

    def ground(self) -> tuple[str, str, tuple[tuple[str, Base], ...]]:
        """A bed: its words, form and dimensions."""
        noun = self.noun("ground", "bed")
        metric = self.random.random() < 0.4
        unit = "metre" if metric else "foot"
        low, high = (1, 6) if metric else (2, 20)
        kind = self.random.choice(("rectangle", "rectangle", "rectangle", "area", "circle", "square"))
        if kind == "area":
            area = self.amount(*((1, 30, "square_metre") if metric else (4, 300, "square_foot")), spread=False)
            said = self.said(area)
            text = self.random.choice((f"{said} {noun}", f"{noun} of {said}", f"a {said} {noun}"))
            return text, "area", (("area", base(area)),)
        if kind == "circle":
            across = self.amount(low, high, unit, (1, 2), spread=False)
            role = self.random.choice(("across", "in diameter", "wide across"))
            return f"round {noun} {self.said(across)} {role}", "circle", (("diameter", base(across)),)
        if kind == "square":
            side = self.amount(low, high, unit, spread=False)
            return f"a {self.said(side, True)} square {noun}", "rectangle", (("length", base(side)), ("width", base(side)))
        length = self.amount(low, high, unit, (1, 2), spread=False)
        width = self.amount(low, max(low + 1, high // 3), unit, (1, 2), spread=False)
        by = self.random.choice((" by ", " x "))
        if self.random.random() < 0.5:
            sides = f"{figure(length[0])}{by}{self.said(width)}"
        else:
            sides = f"{self.said(length)}{by}{self.said(width)}"
        text = self.random.choice((f"{sides} {noun}", f"{noun} {sides}", f"a {sides} {noun}", f"{noun}, {sides}"))
        return text, "rectangle", (("length", base(length)), ("width", base(width)))

    def share(self) -> tuple[str, tuple[float, float]]:
        value = self.number(1, 40, (1, 1, 2))
        sign = self.random.choice(("%", " %", " percent", " per cent", " pct"))
        plain = f"{figure(value)}{sign}"
        text = self.random.choice((f"{self.written(value)}{sign} castings", plain, f"at {plain}"))
        return text, (float(value), float(value))

    def depth(self) -> tuple[str, Base]:
        deep = self.amount(4, 30, "inch") if self.random.random() < 0.6 else self.amount(10, 75, "centimetre")
        text = self.random.choice((f"{self.said(deep)} deep", f"depth {self.said(deep)}", f"{self.said(deep)} in depth"))
        return text, base(deep)

    def layer(self) -> tuple[str, Base]:
        thick = self.amount(1, 2, "inch", (1, 2, 4)) if self.random.random() < 0.6 else self.amount(5, 40, "millimetre")
        text = self.random.choice((f"a layer of {self.said(thick)}", f"{self.said(thick)} thick", f"{self.said(thick)} layer",
                                   f"a {self.said(thick)} layer of castings"))  # fmt: skip
        return text, base(thick)

    def each(self) -> tuple[str, Base]:
        by_volume = self.random.random() < 0.7
        rate = self.amount(1, 4, "us_cup tablespoon litre", (1, 2, 4)) if by_volume else self.amount(50, 500, "gram")
        text = self.random.choice((f"{self.said(rate)} each", f"{self.said(rate)} per plant", f"{self.said(rate)} a plant",
                                   f"{self.said(rate)} of castings each"))  # fmt: skip
        return text, base(rate)

    def plants(self) -> tuple[str, int]:
        name = self.random.choice(("tomato", "pepper", "eggplant", "squash", "cucumber", "strawberry", "rose", "kale", "broccoli",
                                   "blueberry"))  # fmt: skip
        count = self.random.randint(2, 90)
        return f"{self.written(Fraction(count))} {self.noun('plant', name, many=True)}", count

    # ---- whole requests ----------------------------------------------------------------------------------

    def joined(self, first: str, parts: list[str], way: str = "") -> str:
        """Phrases in any order, the place or the way first or last, with a few words that carry nothing."""
        rest = [*parts]
        self.random.shuffle(rest)
        order = [first, *rest] if self.random.random() < 0.7 else [*rest, first]
        if way:
            order.insert(self.random.choice((0, len(order))), way)
        text = self.random.choice((", ", ", ", "; ")).join(order)
        before = self.random.choice(("", "", "hi, ", "please: ", "how much castings for ", "good morning, ", "I need castings: "))
        after = self.random.choice(("", "", "?", " please", ". thanks", "!"))
        text = before + text + after
        return text.upper() if self.random.random() < 0.1 else text

    def blend(self) -> Made:
        place, form, dims = self.ground()
        (deep, depth), (part, share) = self.depth(), self.share()
        way = self.random.choice(("", "new", "fill", "blend"))
        due = Due(form, dims, None, depth, None, share, None, "blend")
        return Made(self.joined(place, [deep, part], way), "castings", (due,))

    def incorporate(self) -> Made:
        place, form, dims = self.ground()
        (deep, depth), (part, share) = self.depth(), self.share()
        way = self.random.choice(("dig in", "dig it in", "work into the existing soil", "existing soil"))
        return Made(self.joined(place, [deep, part], way), "castings",
                    (Due(form, dims, None, depth, None, share, None, "incorporate"),))  # fmt: skip

    def top_dress(self) -> Made:
        place, form, dims = self.ground()
        thick, layer = self.layer()
        way = self.random.choice(("", "top dress", "spread on top", "topdressing"))
        return Made(self.joined(place, [thick], way), "castings", (Due(form, dims, None, None, layer, None, None, "top-dress"),))

    def several_beds(self) -> Made:
        count = self.random.randint(2, 9)
        length, width = self.amount(3, 16, "foot", spread=False), self.amount(2, 5, "foot", spread=False)
        (deep, depth), (part, share) = self.depth(), self.share()
        noun = self.noun("ground", "bed", many=True)
        sides = f"{figure(length[0])} by {self.said(width)}"
        place = self.random.choice((f"{self.written(Fraction(count))} {noun} {sides} each", f"{count} {noun}, each {sides}"))
        due = Due("rectangle", (("length", base(length)), ("width", base(width))), count, depth, None, share, None, "blend")
        return Made(self.joined(place, [deep, part], self.random.choice(("", "new"))), "castings", (due,))

    def side_dress(self) -> Made:
        (plants, count), (each, rate) = self.plants(), self.each()
        way = self.random.choice(("side dress", "side-dressing", "sidedress"))
        return Made(self.joined(plants, [each], way), "castings", (Due(count=count, rate=rate, way="side-dress"),))

    def planting_hole(self) -> Made:
        plants, count = self.plants()
        rate = self.amount(1, 3, "us_cup litre", (1, 2))
        where = self.random.choice(("in each planting hole", "per planting hole", "in the planting hole of each"))
        due = Due(count=count, rate=base(rate), way="planting-hole")
        return Made(self.joined(plants, [f"{self.said(rate)} {where}"]), "castings", (due,))

    def pots(self) -> Made:
        count = self.random.randint(2, 60)
        part, share = self.share()
        noun = self.noun("container", self.random.choice(("pot", "planter", "grow-bag")), many=True)
        if self.random.random() < 0.5:
            volume = self.amount(5, 60, "litre us_gallon", spread=False)
            place = f"{self.written(Fraction(count))} {noun} of {self.said(volume)} each"
            due = Due("volume", (("volume", base(volume)),), count, None, None, share)
            return Made(self.joined(place, [part]), "castings", (due,))
        across, tall = self.amount(10, 60, "centimetre", spread=False), self.amount(10, 60, "centimetre", spread=False)
        place = f"{count} pots {self.said(across)} in diameter and {self.said(tall)} tall"
        dims = (("diameter", base(across)), ("height", base(tall)))
        return Made(self.joined(place, [part]), "castings", (Due("pot", dims, count, base(tall), None, share),))

    def mix(self) -> Made:
        volume = self.amount(5, 400, "litre us_gallon cubic_foot us_dry_quart", spread=False)
        part, share = self.share()
        seeds = self.random.random() < 0.3
        kind = "seed-mix" if seeds else "mix"
        place = f"{self.said(volume)} of {self.noun(kind, kind)}"
        due = Due("volume", (("volume", base(volume)),), None, None, None, share, None, "seed-mix" if seeds else "blend")
        return Made(self.joined(place, [part]), "castings", (due,))

    def tea(self) -> Made:
        water = self.amount(2, 200, "litre us_gallon", spread=False)
        parts = self.random.randint(4, 20)
        text = self.random.choice((f"tea, {self.said(water)} of water, 1:{parts} castings to water",
                                   f"castings tea at 1:{parts}, {self.said(water)} of water"))  # fmt: skip
        return Made(text, "castings", (), water=base(water), ratio=(1.0, float(parts)))

    def how_far(self) -> Made:
        have = self.amount(5, 300, "litre cubic_foot us_gallon us_dry_quart", spread=False)
        thick, layer = self.layer()
        text = self.random.choice((f"how far does {self.said(have)} of castings go, {thick}",
                                   f"I have {self.said(have)} of castings, {thick}, how far will it go?"))  # fmt: skip
        return Made(text, "area", (Due(layer=layer, way="top-dress"),), have=base(have))

    def how_many(self) -> Made:
        have = self.amount(5, 90, "litre us_gallon cubic_foot", spread=False)
        name = self.random.choice(("tomato", "pepper", "squash", "kale", "rose"))
        rate = self.amount(1, 3, "us_cup", (1, 2), spread=False)
        plants = self.noun("plant", name, many=True)
        text = f"how many {plants} can I side dress with {self.said(have)} of castings, {self.said(rate)} each"
        return Made(text, "plants", (Due(rate=base(rate), way="side-dress"),), have=base(have))

    def two_places(self) -> Made:
        place, form, dims = self.ground()
        (deep, depth), (part, share) = self.depth(), self.share()
        (plants, count), (each, rate) = self.plants(), self.each()
        joint = self.random.choice((", and ", "; also ", " plus "))
        text = f"{place}, {deep}, {part}{joint}{plants}, {each}"
        return Made(text, "castings", (Due(form, dims, None, depth, None, share, None, "blend"),
                                       Due(count=count, rate=rate, way="side-dress")))  # fmt: skip

    def other_shapes(self) -> Made:
        unit, low, high = self.random.choice((("foot", 3, 20), ("metre", 1, 6)))
        noun = self.noun("ground", "bed")
        one, two = self.amount(low, high, unit, (1, 2), spread=False), self.amount(low, high, unit, (1, 2), spread=False)
        dims: tuple[tuple[str, Base], ...]
        form = self.random.choice(("oval", "triangle", "compound"))
        if form == "oval":
            place, dims = f"oval {noun} {self.said(one)} by {self.said(two)}", (("length", base(one)), ("width", base(two)))
        elif form == "triangle":
            place = f"triangular {noun} base {self.said(one)} and height {self.said(two)}"
            dims = (("base", base(one)), ("rise", base(two)))
        else:
            form, wide = "rectangle", self.random.randint(2, 5)
            feet, inches = self.random.randint(6, 12), self.random.randint(1, 11)
            marks = self.random.choice((("ft", "in"), ("foot", "inches"), ("feet", "inch"), ("'", '"')))
            gap = "" if marks[0] == "'" else " "
            place = f"{feet}{gap}{marks[0]}{gap}{inches}{gap}{marks[1]} by {wide}{gap}{marks[0]} {noun}"
            long = float((12 * feet + inches) * SIZE["inch"])
            dims = (("length", (long, long)), ("width", (float(wide * SIZE["foot"]),) * 2))
        thick, layer = self.layer()
        way = self.random.choice(("top dress", "spread on top"))
        return Made(self.joined(place, [thick], way), "castings", (Due(form, dims, layer=layer, way="top-dress"),))

    def tree_ring(self) -> Made:
        unit = self.random.choice(("foot", "metre"))
        inner = self.amount(1, 1, unit, spread=False)
        outer = self.amount(3, 8, unit, (1, 2), spread=False)
        thick, layer = self.layer()
        text = f"ring around a tree from {self.said(inner)} from the trunk to {self.said(outer)} from the trunk, {thick}"
        dims = (("inner", base(inner)), ("outer", base(outer)))
        return Made(text, "castings", (Due("ring", dims, layer=layer, way="top-dress"),))

    def nursery_pots(self) -> Made:
        count, number = self.random.randint(2, 80), self.random.choice((1, 2, 3, 5, 7, 10, 15))
        part, share = self.share()
        text = self.joined(f"{self.written(Fraction(count))} #{number} {self.random.choice(('pots', 'nursery pots'))}", [part])
        return Made(text, "castings", (Due("class", (), count, share=share, number=number),))

    def trays(self) -> Made:
        count, number = self.random.randint(2, 9), self.random.choice((72, 128, 200))
        part, share = self.share()
        text = self.joined(f"{words(count)} {number}-cell {self.random.choice(('trays', 'seed trays', 'plug trays'))}", [part])
        return Made(text, "castings", (Due("cells", (), count, share=share, number=number),))

    def half_a_bed(self) -> Made:
        length, width = self.amount(4, 16, "foot", spread=False), self.amount(2, 5, "foot", spread=False)
        thick, layer = self.layer()
        portions = (("half of a", 0.5), ("half a", 0.5), ("a third of a", 1 / 3), ("a quarter of a", 0.25))
        said, portion = self.random.choice(portions)
        text = f"top dress {said} {figure(length[0])} by {self.said(width)} {self.noun('ground', 'bed')}, {thick}"
        dims = (("length", base(length)), ("width", base(width)))
        return Made(text, "castings", (Due("rectangle", dims, layer=layer, way="top-dress", portion=portion),))

    def weight_over_an_area(self) -> Made:
        if self.random.random() < 0.5:
            rate, per, area = self.amount(5, 60, "pound"), 1000, self.amount(500, 9000, "square_foot", spread=False)
            each = f"{self.said(rate)} per {per} {self.random.choice(unit_spellings('square_foot'))}"
            over = float(per * SIZE["square_foot"])
        else:
            rate, area = self.amount(1, 4, "kilogram", (1, 2)), self.amount(10, 900, "square_metre", spread=False)
            each = f"{self.said(rate)} per {self.random.choice(unit_spellings('square_metre'))}"
            over = 1.0
        place = self.random.choice((f"{self.said(area)} lawn", f"lawn of {self.said(area)}"))
        due = Due("area", (("area", base(area)),), rate=base(rate), rate_per=(over, over), way="top-dress")
        return Made(self.joined(place, [each]), "castings", (due,))

    def recipe(self) -> Made:
        volume = self.amount(20, 200, "litre us_gallon", spread=False)
        others = self.random.sample(("coir", "peat", "perlite", "vermiculite", "bark", "sand", "topsoil"), 2)
        parts = [self.random.randint(1, 3) for _ in range(3)]
        said = ", ".join(f"{self.written(Fraction(number))} part{'s' * (number > 1)} {name}"
                         for number, name in zip(parts, ("castings", *others), strict=True))  # fmt: skip
        due = Due("volume", (("volume", base(volume)),), way="blend", part=parts[0] / sum(parts))
        return Made(self.joined(f"{self.said(volume)} of {self.noun('mix', 'mix')}", [said]), "castings", (due,))

    def weight(self) -> Made:
        place, form, dims = self.ground()
        (deep, depth), (part, share) = self.depth(), self.share()
        weight, volume, low, high = self.random.choice((("pound", "cubic_foot", 30, 48), ("kilogram", "litre", 1, 1)))
        dense = self.amount(low, high, weight, spread=False)
        weigh = f"castings weigh {self.said(dense)} per {self.random.choice(unit_spellings(volume))}"
        text = self.joined(place, [deep, part, weigh])
        density = base(dense)[0] / float(SIZE[volume])
        due = Due(form, dims, depth=depth, share=share, way="blend")
        return Made(f"how heavy, {text}", "weight", (due,), density=(density, density))

    def bags(self) -> Made:
        place, form, dims = self.ground()
        thick, layer = self.layer()
        pack = self.amount(5, 60, "pound kilogram litre us_dry_quart", spread=False)
        text = f"how many {self.said(pack, True)} {self.random.choice(('bags', 'sacks'))} to top dress {place}, {thick}"
        return Made(text, "packs", (Due(form, dims, layer=layer, way="top-dress"),), pack=base(pack))

    def request(self) -> Made:
        """One request of any kind."""
        kinds = (
            self.blend, self.incorporate, self.top_dress, self.several_beds, self.side_dress, self.planting_hole, self.pots,
            self.mix, self.tea, self.how_far, self.how_many, self.two_places, self.other_shapes, self.tree_ring,
            self.nursery_pots, self.trays, self.half_a_bed, self.weight_over_an_area, self.recipe, self.weight, self.bags,
        )  # fmt: skip
        return self.random.choice(kinds)()


def base(amount: Amount) -> Base:
    """A quantity in its coherent SI unit."""
    low, high, unit = amount
    return float(low * SIZE[unit]), float(high * SIZE[unit])


def requests(count: int, seed: int) -> Iterator[Made]:
    """So many requests, the same for the same seed."""
    maker = Maker(seed)
    for _ in range(count):
        yield maker.request()


# ---- comparing -------------------------------------------------------------------------------------------------


def _same(got: Base | None, due: Base | None) -> bool:
    if got is None or due is None:
        return got is due
    return all(abs(one - other) <= 1e-9 * max(abs(one), abs(other)) for one, other in zip(got, due, strict=True))


def _base(span: Span | None) -> Base | None:
    return span.base if span is not None else None


def _place(place: Place, due: Due) -> list[str]:
    """Where a place differs from what it must be."""
    found = []
    if place.shape.form != due.form:
        found.append(f"form {place.shape.form}, due {due.form}")
    dims = {name: span.base for name, span in place.shape.dims.items()}
    wanted = dict(due.dims)
    if due.form == "rectangle":  # which side is called the length is nobody's concern
        got, want = sorted(dims.values()), sorted(wanted.values())
        if len(got) != len(want) or not all(_same(a, b) for a, b in zip(got, want, strict=True)):
            found.append(f"sides {got}, due {want}")
    elif dims.keys() != wanted.keys() or not all(_same(dims[name], wanted[name]) for name in wanted):
        found.append(f"sizes {dims}, due {wanted}")
    if (place.count or 1) != (due.count or 1):
        found.append(f"count {place.count}, due {due.count}")
    if not _same(_base(place.depth), due.depth):
        found.append(f"depth {place.depth}, due {due.depth}")
    layer = (sum(one.base[0] for one in place.layer), sum(one.base[1] for one in place.layer)) if place.layer else None
    if not _same(layer, due.layer):
        found.append(f"layer {place.layer}, due {due.layer}")
    if not _same((place.share.low, place.share.high) if place.share else None, due.share):
        found.append(f"share {place.share}, due {due.share}")
    if not _same(_base(place.rate), due.rate):
        found.append(f"rate {place.rate}, due {due.rate}")
    if not _same(_base(place.rate_per), due.rate_per):
        found.append(f"rate for {place.rate_per}, due {due.rate_per}")
    if place.shape.number != due.number:
        found.append(f"class or cells {place.shape.number}, due {due.number}")
    if abs((place.portion or 1) - (due.portion or 1)) > 1e-9:
        found.append(f"portion {place.portion}, due {due.portion}")
    part = sum(share for name, share in place.recipe if name == "castings")
    if abs(part - (due.part or 0)) > 1e-9:
        found.append(f"recipe {place.recipe}, due castings {due.part}")
    if due.way is not None and place.way != due.way:
        found.append(f"way {place.way}, due {due.way}")
    return found


def differences(read: Query, due: Made) -> list[str]:
    """Where a query differs from what it must be; empty where it is the same."""
    found = [] if read.asked == due.asked else [f"asked {read.asked}, due {due.asked}"]
    have = read.have[0].base if len(read.have) == 1 else None
    if have is None and read.pack is not None and read.pack.size is not None and due.have is not None:
        count = read.pack.count or 1
        have = (read.pack.size.base[0] * count, read.pack.size.base[1] * count)
    if not _same(have, due.have):
        found.append(f"at hand {read.have}, due {due.have}")
    if not _same(_base(read.density), due.density):
        found.append(f"density {read.density}, due {due.density}")
    if due.pack is not None and not _same(_base(read.pack.size) if read.pack else None, due.pack):
        found.append(f"pack {read.pack}, due {due.pack}")
    if due.water is not None:
        tea = read.tea
        if tea is None or not _same(_base(tea.water), due.water) or tea.ratio != due.ratio:
            found.append(f"tea {tea}, due {due.water} at {due.ratio}")
        return found
    if len(read.places) != len(due.places):
        return [*found, f"{len(read.places)} places, due {len(due.places)}"]
    for place, wanted in zip(read.places, due.places, strict=True):
        found += _place(place, wanted)
    return found


def outcome(made: Made) -> tuple[str, list[str]]:
    """`same`, `asks` or `differs` for a request, and in what it differs."""
    read = settle(gather(made.text))
    if isinstance(read, Question):
        return "asks", [read.text]
    found = differences(read, made)
    return ("differs", found) if found else ("same", [])


def main(count: int = 20_000, seed: int = 1) -> int:
    """Makes and reads so many requests, printing each that differs."""
    counts: Counter[str] = Counter()
    for made in requests(count, seed):
        kind, why = outcome(made)
        counts[kind] += 1
        if kind == "differs":
            print(f"{made.text}\n    " + "\n    ".join(why))
    print(f"{count} requests of seed {seed}: {counts['same']} the same, {counts['asks']} asked about, {counts['differs']} differ")
    return 1 if counts["differs"] else 0


if __name__ == "__main__":
    sys.exit(main(*(int(one) for one in sys.argv[1:3])))
