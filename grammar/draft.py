"""A request while it is being read: what has been said so far, with nothing assumed and nothing worked out.

A draft is filled by `gather`, changed by a follow-up, and made into a Query (or a question) by `settle`.
Lengths and volumes are spans in the unit that was spoken.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, fields
from operator import itemgetter
from typing import Any, TypeVar

from .quantities import Span


@dataclass
class Unsure:
    """A measure whose role is not decided yet, and what stood beside it."""

    span: Span
    cues: frozenset[str]
    text: str
    start: int
    end: int
    #: the index of the place that was being spoken of, or -1
    place: int = -1
    #: spoken with "a" or "an"
    article: bool = False


@dataclass
class PlaceDraft:
    """One place that castings go, as far as it has been said."""

    noun: str = ""  # bed, lawn, pot, tomato …
    kind: str = ""  # ground, container, hole, plant, mix, seed-mix
    printed: str = ""
    crop: str = ""
    #: what the crop was called, where its entry goes by another name: a "monstera" among houseplants
    crop_said: str = ""
    #: plants that stand in it and get nothing of their own: how many, which, and whether in each of several places
    standing: list[tuple[float, str, bool]] = field(default_factory=list)
    #: how the place is tied to the one before: "", "and", "in", "with", "for"
    tie: str = ""
    name: str = ""
    #: the words that tell it from others of its sort: "north", "small", "ordinal:2"
    described: frozenset[str] = frozenset()
    count: float | None = None
    count_high: float | None = None
    #: True: each is of the size said; False: the size is of all together
    each: bool | None = None
    form: str = ""
    size: tuple[Span, ...] = ()
    size_unit_said: bool = True
    length: Span | None = None
    width: Span | None = None
    side: Span | None = None
    second_side: Span | None = None
    #: of a form of six or eight sides: from side to opposite side, and from corner to opposite corner
    flats: Span | None = None
    corners: Span | None = None
    base: Span | None = None
    height: Span | None = None
    diameter: Span | None = None
    bottom: Span | None = None
    radius: Span | None = None
    around: Span | None = None
    clear: Span | None = None
    outer: Span | None = None
    depth: Span | None = None
    fill: Span | None = None
    below_rim: Span | None = None
    area: Span | None = None
    second_area: Span | None = None
    volume: Span | None = None
    nursery_class: int | None = None
    cells: int | None = None
    portion: float | None = None
    layer: list[Span] = field(default_factory=list)
    share: Span | None = None
    #: castings for one: of a plant, a hole, a pot; or for a length or an area
    rate: Span | None = None
    rate_per: Span | None = None
    rate_whole: bool = False  # the rate is for all of them together
    spacing: Span | None = None
    recipe: list[tuple[str, float]] = field(default_factory=list)
    minus: list[PlaceDraft] = field(default_factory=list)
    way: str = ""
    hints: set[str] = field(default_factory=set)

    @property
    def is_empty(self) -> bool:
        """Nothing but a noun, if that."""
        return not (
            self.has_size or self.layer or self.share or self.rate or self.count or self.depth or self.recipe or self.fill
        )

    @property
    def has_size(self) -> bool:
        """Something is said of how big it is, apart from its depth."""
        return bool(
            self.size or self.length or self.width or self.side or self.flats or self.corners or self.base or self.diameter or self.radius or self.around
            or self.outer or self.area or self.volume or self.nursery_class or self.cells
        )  # fmt: skip


@dataclass
class Draft:
    """A whole request as far as it has been said."""

    text: str = ""
    places: list[PlaceDraft] = field(default_factory=list)
    #: castings at hand: a volume or a weight, or a count of packs
    have: Span | None = None
    have_is_tea: bool = False
    more_have: list[Span] = field(default_factory=list)
    more_packs: list[Span] = field(default_factory=list)
    minus: list[PlaceDraft] = field(default_factory=list)
    #: how many there were before some were taken off, and how many those were: "4 pots, one cracked"
    gone: tuple[float, float] | None = None
    ratio_spans: tuple[Span, Span] | None = None
    per_volume: tuple[Span, Span] | None = None
    packs_count: float | None = None
    pack: Span | None = None
    pack_noun: str = ""
    price: tuple[float, str] | None = None
    price_per: Span | None = None
    budget: tuple[float, str] | None = None
    #: the end of a span that is bought for: low, typical or high
    end: str = ""
    #: what comes on top of the price: a tax in per cent, and sums of money for delivery
    tax: Span | None = None
    charges: list[tuple[float, str]] = field(default_factory=list)
    asked: str = ""
    asked_noun: str = ""
    asked_unit: str = ""
    enough: bool = False
    density: Span | None = None
    weighed: tuple[Span, Span] | None = None
    moisture: Span | None = None
    soil: Span | None = None
    component: str = ""
    water: Span | None = None
    #: what one of the vessels holds that the water is told in
    vessel: Span | None = None
    recipe: list[tuple[str, float]] = field(default_factory=list)
    #: a share that was said as a fraction or in parts, of a mix whose rest has no name
    parts_share: Span | None = None
    ratio: tuple[float, float] | None = None
    limit: tuple[str, Span] | None = None
    by_weight: bool = False
    compare: list[float] = field(default_factory=list)
    compare_layers: list[Span] = field(default_factory=list)
    #: castings for one, and strengths of a tea, to be set side by side
    compare_rates: list[Span] = field(default_factory=list)
    compare_ratios: list[tuple[float, float]] = field(default_factory=list)
    #: a ring around each plant or a band along a row, and its measures
    strip: str = ""
    strip_width: Span | None = None
    strip_layer: Span | None = None
    strip_clear: Span | None = None
    #: what one cell of a tray holds
    cell: Span | None = None
    #: the name of a size that is known by it ("tray-1020")
    named_size: str = ""
    #: applications in a season
    times: float | None = None
    #: so many years of them in all
    years: float | None = None
    #: an analysis of the castings: nutrient or salt, and its figure
    analysis: list[tuple[str, Span]] = field(default_factory=list)
    #: products set side by side: size, price, currency
    offers: list[tuple[Span, float, str]] = field(default_factory=list)
    #: packs of the catalogue that are set side by side, by their sizes
    compare_packs: list[Span] = field(default_factory=list)
    #: castings at hand by the load: its name, from so many to so many
    loads: list[tuple[str, float, float]] = field(default_factory=list)
    asked_load: str = ""
    asked_nutrient: str = ""
    #: the weight of what is filled is asked: "filled" or "wet"
    filled: str = ""
    way: str = ""
    not_ways: set[str] = field(default_factory=set)
    hints: set[str] = field(default_factory=set)
    topics: list[str] = field(default_factory=list)
    weak_topics: list[str] = field(default_factory=list)
    by_so_much: str = ""
    #: the words of such a change, for a question
    by_so_much_said: str = ""
    ordinal: int = 0
    not_unit: str = ""
    asks: list[str] = field(default_factory=list)
    replies: list[tuple[str, str]] = field(default_factory=list)
    #: numbers that are no amounts, and why
    noted: list[tuple[str, str]] = field(default_factory=list)
    #: what was read although it could have been read otherwise
    flags: list[tuple[str, str]] = field(default_factory=list)
    unsure: list[Unsure] = field(default_factory=list)
    #: numbers that found no job
    stray: list[tuple[str, int, int]] = field(default_factory=list)
    unread: list[str] = field(default_factory=list)
    mended: list[tuple[str, str]] = field(default_factory=list)
    #: why the request cannot be answered at all, in words
    refusal: str = ""
    #: a question that must be asked before anything is worked out
    question: tuple[str, str] | None = None
    #: a word that an amount hangs on and that is not known, and the word it may be a slip of
    unclear: tuple[str, str] = ("", "")
    #: every figure of the request that has to be found again in the reading, with its words
    figures: list[tuple[float, str]] = field(default_factory=list)
    words: int = 0
    cut: bool = False

    @property
    def is_compared(self) -> bool:
        """Several amounts are to be set side by side."""
        return bool(self.compare or self.compare_layers or self.compare_rates or self.compare_ratios)

    def copy(self) -> Draft:
        """A draft of its own, so that a follow-up never changes an earlier turn."""
        seen: dict[int, PlaceDraft] = {}
        made = _copied(self)
        made.places = [_place_copied(one, seen) for one in self.places]
        made.minus = [_place_copied(one, seen) for one in self.minus]
        made.unsure = [_copied(one) for one in self.unsure]
        return made


def _place_copied(place: PlaceDraft, seen: dict[int, PlaceDraft]) -> PlaceDraft:
    """A place copied with what is left out of it; one that stands in two lists is one in the copy too."""
    made = seen.get(id(place))
    if made is None:
        made = seen[id(place)] = _copied(place)
        if place.minus:
            made.minus = [_place_copied(one, seen) for one in place.minus]
    return made


def begun(text: str, mended: list[tuple[str, str]], *, words: int, cut: bool) -> Draft:
    """The draft of a line of which nothing is read yet."""
    made = _copied(_NOTHING)
    made.text, made.mended, made.words, made.cut = text, mended, words, cut
    return made


def _fields_of(kind: type, factory: Callable[[], Any]) -> tuple[str, ...]:
    return tuple(one.name for one in fields(kind) if one.default_factory is factory)


#: Which fields of each kind of part are lists, and which are sets; an unsure measure has none of them.
_CHANGING = {kind: (_fields_of(kind, list), _fields_of(kind, set)) for kind in (Draft, PlaceDraft, Unsure)}
_LISTS_OF = {kind: itemgetter(*lists) for kind, (lists, _) in _CHANGING.items() if lists}


_Part = TypeVar("_Part", Draft, PlaceDraft, Unsure)


def _copied(part: _Part) -> _Part:
    """A part with lists and sets of its own; spans, tuples and texts never change, and are shared."""
    kind = type(part)
    made = object.__new__(kind)
    # all fields at once: a draft has a hundred of them, and is copied at every line
    made.__dict__ = values = part.__dict__.copy()
    lists, sets = _CHANGING[kind]
    if lists:
        values.update(zip(lists, map(list.copy, _LISTS_OF[kind](values)), strict=True))
    for name in sets:
        values[name] = values[name].copy()
    return made


def begun_place(tie: str) -> PlaceDraft:
    """The draft of a place of which nothing is said but how it is tied to the one before."""
    made = _copied(_NO_PLACE)
    made.tie = tie
    return made


_NOTHING, _NO_PLACE = Draft(), PlaceDraft()
