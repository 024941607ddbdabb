"""The typed border between reading and answering: what was asked, and nothing of how it was said.

Everything after this could be driven by a form or a program as well as by a line of text. Quantities are
spans in the unit that was spoken. `assumed` lists what the reading rests on that was not said.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, InstanceOf

from . import quantities

#: A span as a field: one that is made already, and not three values that pydantic would put together again.
Span = Annotated[quantities.Span, InstanceOf()]

Way = Literal["blend", "incorporate", "top-dress", "side-dress", "planting-hole", "seed-mix", "tea"]
Asked = Literal[
    "castings", "weight", "area", "share", "layer", "plants", "containers", "beds", "mix", "soil", "water", "density",
    "packs", "cost", "explanation", "length", "left-over", "working", "batches", "nutrient", "cheaper",
]  # fmt: skip
Form = Literal["rectangle", "circle", "oval", "triangle", "hexagon", "octagon", "ring", "area", "volume", "pot", "class", "cells", "named", "none"]


class Model(BaseModel):
    """What every model of the border shares: no unknown field, no change after it is made."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class Note(Model):
    """Something assumed, flagged or set aside: a stable code and a sentence."""

    code: str
    text: str


class Shape(Model):
    """A form and its dimensions by name (length, width, diameter, radius, around, inner, outer, base, rise, side, flats, corners,
    height, bottom, area, volume, number)."""

    form: Form
    dims: dict[str, Span] = Field(default_factory=dict)
    #: a container class of the nursery trade, or the number of cells of a tray
    number: int | None = None
    #: a size that is known by its name ("tray-1020")
    name: str = ""


class Place(Model):
    """One place that castings go."""

    noun: str = ""
    kind: str = ""
    printed: str = ""
    crop: str = ""
    #: what the crop was called, where its entry goes by another name
    crop_said: str = ""
    #: plants that stand in it and get nothing of their own: how many, which, and whether in each of several places
    standing: tuple[tuple[float, str, bool], ...] = ()
    name: str = ""
    #: what tells it from others of its sort in the same request: "north", "A", "#2"
    called: str = ""
    shape: Shape = Shape(form="none")
    count: float | None = None
    count_high: float | None = None
    #: the size is of all of them together
    altogether: bool = False
    portion: float | None = None
    minus: tuple[Shape, ...] = ()
    depth: Span | None = None
    layer: tuple[Span, ...] = ()
    share: Span | None = None
    rate: Span | None = None
    rate_per: Span | None = None
    rate_altogether: bool = False
    recipe: tuple[tuple[str, float], ...] = ()
    #: castings for a volume of mix: "1 cup per gallon"
    per_volume: tuple[Span, Span] | None = None
    soil: Span | None = None
    spacing: Span | None = None
    way: Way | None = None
    #: what one cell of a tray holds
    cell: Span | None = None
    #: castings in a "ring" around each plant or a "band" along a row
    strip: str = ""
    strip_width: Span | None = None
    strip_layer: Span | None = None
    strip_clear: Span | None = None
    hints: frozenset[str] = frozenset()


class Tea(Model):
    """A drench, spray or extract: castings and water in a ratio."""

    water: Span | None = None
    ratio: tuple[float, float] | None = None
    strength: tuple[Span, Span] | None = None


class Pack(Model):
    """A pack that the request itself names, with its price where that is said."""

    size: Span | None = None
    noun: str = "bag"
    count: float | None = None
    price: str | None = None
    currency: str | None = None
    price_per: Span | None = None


class Query(Model):
    """A whole request, read."""

    asked: Asked
    asked_noun: str = ""
    asked_unit: str = ""
    topic: str = ""
    places: tuple[Place, ...] = ()
    have: tuple[Span, ...] = ()
    have_is_tea: bool = False
    enough: bool = False
    density: Span | None = None
    weighed: tuple[Span, Span] | None = None
    moisture: Span | None = None
    pack: Pack | None = None
    budget: tuple[str, str] | None = None
    #: the end of a span that is bought for, where that is said
    end: Literal["", "low", "typical", "high"] = ""
    #: what comes on top of the price of the castings: a tax, and what delivery costs
    tax: Span | None = None
    charges: tuple[tuple[str, str], ...] = ()
    tea: Tea | None = None
    limit: tuple[str, Span] | None = None
    compare: tuple[float, ...] = ()
    compare_layers: tuple[Span, ...] = ()
    compare_rates: tuple[Span, ...] = ()
    compare_ratios: tuple[tuple[float, float], ...] = ()
    #: applications in one season
    times: float | None = None
    #: so many years of them in all
    years: float | None = None
    #: the user's analysis of the castings: nutrient or "salt", and its figure
    analysis: tuple[tuple[str, Span], ...] = ()
    #: products to set side by side: size, price of one, currency
    offers: tuple[tuple[Span, float, str], ...] = ()
    #: packs of the catalogue that are set side by side, by their sizes; all of them where none is named
    compare_packs: tuple[Span, ...] = ()
    #: castings at hand by the load: the name of its facts, from so many to so many
    loads: tuple[tuple[str, float, float], ...] = ()
    asked_load: str = ""
    asked_nutrient: str = ""
    #: the weight of something filled is asked: "filled" or "wet"
    filled: str = ""
    #: what else was told, by a short name
    told: frozenset[str] = frozenset()
    metric: bool = False
    assumed: tuple[Note, ...] = ()
    noted: tuple[Note, ...] = ()
    set_aside: tuple[str, ...] = ()

    @property
    def is_compared(self) -> bool:
        """Several amounts are to be set side by side."""
        return bool(self.compare or self.compare_layers or self.compare_rates or self.compare_ratios)


class Question(Model):
    """What must be asked before the request can be worked out, or why it cannot be.

    `needs` names the missing thing, so that a bare answer can be put in its place; `offers` are requests or
    replies that can themselves be read.
    """

    status: Literal["asks", "unread"]
    code: str
    text: str
    reads: str = ""
    needs: str = ""
    offers: tuple[str, ...] = ()
    #: the words of the request that it asks about, where a bare answer may stand in their place; and what is offered for them
    about: str = ""
    instead: str = ""
    set_aside: tuple[str, ...] = ()
