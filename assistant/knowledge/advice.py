"""Cautions and judgements: what is said beside an answer, and when."""

from __future__ import annotations

from functools import lru_cache
from string import Formatter
from typing import Annotated, ClassVar, Literal

from pydantic import Field, field_validator

from .shapes import Stated, Text, Words

Level = Literal["note", "caution", "warning"]

#: The circumstances that a caution can hang on. The engine finds which hold; a caution names them.
Condition = Literal[
    "any-castings",  # an amount of castings is answered
    "dry-castings",  # they are said to be dry or dusty
    "manure-based",  # said to be made from manure
    "way:blend",
    "way:incorporate",
    "way:top-dress",
    "way:side-dress",
    "way:planting-hole",
    "way:seed-mix",
    "way:tea",
    "foliar",  # a tea or an extract goes on leaves
    "tea-fed",  # sugar, molasses or other food is added to a tea
    "bin-leachate",  # the liquid that drains from a bin
    "edible",  # a plant that is eaten
    "eaten-raw",  # a crop that is eaten uncooked
    "soil-contact",  # the part that is eaten touches the soil
    "seedlings",
    "salt-sensitive",  # a plant that takes salt badly
    "acid-loving",  # a plant of acid soil
    "lawn",
    "tree",
    "houseplant",
    "container",  # a pot, tub, bag, box or basket
    "cells",  # cells of a tray, or plugs: no room for a bare ring
    "nursery-class",  # a size such as #5
    "balcony",
    "roof",
    "filled-weight",  # the weight of something filled is answered
    "lifting",  # one thing to carry is heavier than lift.limit
    "vehicle-load",  # a load in a pickup
    "bagged-media",  # bags of potting mix, compost or soil are opened
    "dusty-component",  # perlite, vermiculite, dry peat or coir
    "large-area",  # more than cost.large-area
    "storage",
    "analysis",  # an analysis is given or asked for
]


class Advice(Stated):
    """A sentence beside an answer; `id` is its code.

    A caution (`cautions.toml`) hangs on circumstances: it is said when any of `applies` holds, all of
    `needs` do and none of `unless`. A judgement (`judgements.toml`) is on a value that was worked out, and a rule of the engine
    says when; it has none of them.

    `text` holds figures of the knowledge base as `{share.harm}`, filled in when it is read, and in a
    judgement figures of the answer as `{at_ten}`, which the engine gives to `say`.
    """

    may_be_sums: ClassVar[bool] = True

    level: Level
    text: Text
    #: The facts (ids of `rates/`) whose figures decide whether it is said.
    rests_on: Words = Field(default=(), alias="rests-on")
    applies: Annotated[tuple[Condition, ...], Field(strict=False)] = ()
    needs: Annotated[tuple[Condition, ...], Field(strict=False)] = ()
    unless: Annotated[tuple[Condition, ...], Field(strict=False)] = ()

    @field_validator("text")
    @classmethod
    def _sound_template(cls, text: str) -> str:
        try:
            list(Formatter().parse(text))
        except ValueError as error:
            raise ValueError(f"not a sound template: {error}") from error
        return text

    @property
    def places(self) -> frozenset[str]:
        """The names of the values that `say` needs."""
        return _places(self.text)

    def say(self, **values: str) -> str:
        """The text with the answer's own figures in it, given as they are to be printed.

        Raises ValueError when a value is missing or is not asked for.
        """
        if values.keys() != self.places:
            raise ValueError(f"{self.id} takes {sorted(self.places)}, not {sorted(values)}")
        return self.text.format(**values)

    def holds(self, conditions: frozenset[Condition]) -> bool:
        """Whether a caution is to be said under these conditions."""
        return (
            not conditions.isdisjoint(self.applies) and conditions.issuperset(self.needs) and conditions.isdisjoint(self.unless)
        )


@lru_cache(maxsize=512)
def _places(text: str) -> frozenset[str]:
    """The names that a template of the knowledge base leaves room for; there are not many templates."""
    return frozenset(name for _, name, _, _ in Formatter().parse(text) if name)
