"""What castings are mixed with."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, model_validator

from .advice import Condition
from .shapes import Fact, Standing, Stated, Text, named_fact


class Component(Stated):
    """Something that castings are mixed with; a density is None where nothing sound is known.

    What its note says is common practice unless the entry says otherwise; each density has a standing of its own.
    """

    standing: Standing = "common practice"
    name: Text
    dry: Fact | None = None
    moist: Fact | None = None
    #: What it does in a mix.
    note: Text
    #: The circumstances that it brings about in a recipe, on which cautions hang.
    raises: Annotated[tuple[Condition, ...], Field(strict=False)] = ()

    @model_validator(mode="before")
    @classmethod
    def _densities_of_its_own(cls, body: dict[str, object]) -> dict[str, object]:
        body = named_fact(body, "dry", "bulk density, dry, of", "density")
        return named_fact(body, "moist", "bulk density, as it is used, of", "density")
