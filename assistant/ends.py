"""Which end of a span is bought for, and why: the upper one, so that it suffices, unless another is asked for."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, Literal

from .relations import Value

#: Typical is the middle between the two ends.
End = Literal["low", "typical", "high"]

#: What each is called in an answer.
CALLED: Final[Mapping[End, str]] = MappingProxyType({"low": "the low end", "typical": "the middle", "high": "the upper end"})


def at_end(value: Value, end: End | Literal[""]) -> float:
    """A span at one of its ends, or in its middle; at the upper end where none is said."""
    return {"low": value[0], "typical": (value[0] + value[1]) / 2}.get(end, value[1])


def why(end: End) -> str:
    """Why packs are chosen for an end, as the end of a sentence."""
    return "so that it suffices" if end == "high" else "as asked: it may not suffice"
