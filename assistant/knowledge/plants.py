"""Plants, and what matters of them when castings are used."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal, Self

from pydantic import Field, model_validator

from .shapes import Standing, Stated

#: What matters of a plant when castings are used on it.
Trait = Literal[
    "edible",
    "eaten-raw",  # often eaten uncooked
    "soil-contact",  # the part that is eaten grows in the soil or touches it
    "deep-rooted",
    "tender-seedling",  # small seed, or slow and easily scorched seedlings
    "salt-sensitive",
    "acid-loving",
    "heavy-feeder",
    "woody",  # a shrub, cane or tree that stays for years
    "tree",
    "houseplant",
    "dry-loving",  # wants a lean, free-draining mix
]


class Plant(Stated):
    """A plant and its traits. General gardening knowledge: common practice unless it says otherwise."""

    bare: ClassVar[str] = "traits"

    standing: Standing = "common practice"
    traits: Annotated[frozenset[Trait], Field(strict=False)]

    @model_validator(mode="after")
    def _eaten_is_edible(self) -> Self:
        if self.traits & {"eaten-raw", "soil-contact"} and "edible" not in self.traits:
            raise ValueError("what is eaten raw or touches the soil is edible: say so too")
        if "tree" in self.traits and "woody" not in self.traits:
            raise ValueError("a tree is woody: say so too")
        return self
