"""What is known of one place while it is worked out, and what the facts say of the usual."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache

from grammar.quantities import Span, unit
from grammar.query import Place

from .knowledge import facts
from .relations import Relation, Value
from .sheet import Sheet


class Unworkable(Exception):
    """A question that only the engine can find: `code`, a sentence, and what is needed."""

    def __init__(self, code: str, text: str, needs: str = "") -> None:
        super().__init__(text)
        self.code, self.text, self.needs = code, text, needs


@dataclass
class Density:
    """The density in force: low and high are equal, with the span of the trade beside them."""

    value: Value
    said: bool
    span: Value | None = None


@dataclass
class Worked:
    """What is known of one place after it was worked out."""

    place: Place
    sheet: Sheet
    relations: tuple[Relation, ...]
    castings: Value | None = None
    weight: Value | None = None
    share: Value | None = None
    layer: Value | None = None
    mix: Value | None = None
    target: str = "castings"
    assumed: list[tuple[str, str]] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)


def as_aside(note: str) -> str:
    """A note as it stands behind a semicolon: "baskets differ in depth"."""
    return f"{note[:1].lower()}{note[1:].rstrip('.')}"


def base(span: Span) -> Value:
    """A span in coherent SI units."""
    low, high, name = span
    size = unit(name).factor
    return low * size, high * size


def share_of(span: Span) -> Value:
    """A span of percent as fractions."""
    return span.low / 100, span.high / 100


@lru_cache(maxsize=64)
def said(fact_id: str) -> str:
    """What a rate of the facts is, in words."""
    return facts().rate(fact_id).said


@lru_cache(maxsize=64)
def source(fact_id: str) -> str:
    """On what a rate of the facts rests, in words."""
    return facts().footing(facts().rate(fact_id))


@lru_cache(maxsize=64)
def default_span(fact_id: str) -> Span:
    """A fact's span in its own unit."""
    fact = facts().rate(fact_id)
    return Span(fact.low, fact.high, fact.unit)
