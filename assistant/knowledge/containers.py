"""Sizes of pot, tray, basket and load that are known by a name."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from .advice import Condition
from .shapes import Fact, Stated, Text, named_fact


class Container(Stated):
    """A size of pot, tray, basket or load that is known by a name.

    It has a `volume` (of one cell where it has `cells`), founded as the entry itself is, or only a
    shape: the height of a round pot as a multiple of its top diameter.
    """

    name: Text
    kind: Literal["nursery class", "tray", "pot", "basket", "tub", "bucket", "load"]
    volume: Fact | None = None
    #: The number of cells of a tray; 0 for anything else.
    cells: Annotated[int, Field(ge=0)] = 0
    #: The circumstances that a load of it brings about, on which cautions hang.
    raises: Annotated[tuple[Condition, ...], Field(strict=False)] = ()
    #: Height over top diameter, for a round pot named by its diameter alone.
    height: Annotated[float | None, Field(gt=0)] = None

    @model_validator(mode="before")
    @classmethod
    def _volume_of_its_own(cls, body: dict[str, object]) -> dict[str, object]:
        of = "volume of one cell of a" if body.get("cells") else "volume of a"
        body = named_fact(body, "volume", of, "volume")
        if isinstance(volume := body.get("volume"), dict):
            founded = {key: body[key] for key in ("standing", "source") if key in body}
            body = {**body, "volume": {**founded, **volume}}
        return body

    @model_validator(mode="after")
    def _has_a_size(self) -> Self:
        if (self.volume is None) == (self.height is None):
            raise ValueError("a container has either a volume or a height over its diameter")
        return self
