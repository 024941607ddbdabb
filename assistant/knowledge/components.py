"""What castings are mixed with."""

from __future__ import annotations

from pydantic import model_validator

from .shapes import Entry, Fact, Text, named_fact


class Component(Entry):
    """Something that castings are mixed with; a density is None where nothing sound is known."""

    name: Text
    dry: Fact | None = None
    moist: Fact | None = None
    note: Text

    @model_validator(mode="before")
    @classmethod
    def _densities_of_its_own(cls, body: dict[str, object]) -> dict[str, object]:
        body = named_fact(body, "dry", "bulk density, dry, of", "density")
        return named_fact(body, "moist", "bulk density, as it is used, of", "density")
