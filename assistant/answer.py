"""The answer as one typed value, as the contract of the machine output lays it down.

Every printed form is made from this and from nothing else.
"""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

Pair = tuple[float, float]

#: The code of an assumed density on which only the record's kilograms rest: a text that names no weight need not say it.
KILOGRAMS_ONLY = "density-of-kilograms"


class _Model(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Asked(_Model):
    """What was asked for, from low to high."""

    of: str
    low: float
    high: float
    unit: str


class Explained(_Model):
    """A question in words: what it is about."""

    of: Literal["explanation"] = "explanation"
    topic: str


class Amount(_Model):
    """Castings in all: litres and kilograms, each from low to high."""

    litres: Pair
    kg: Pair


class Part(_Model):
    """One place of several."""

    reads: str
    way: str | None
    castings: Amount | None
    share: Pair | None
    layer_mm: Pair | None


class Component(_Model):
    """One component of a mix."""

    name: str
    litres: Pair


class PackCount(_Model):
    """Packs to buy: a whole number, but for what is sold loose by a part of the pack."""

    id: str
    name: str
    count: int | float


class Cost(_Model):
    """A sum of money as a decimal string, and its ISO 4217 currency."""

    amount: str
    currency: str


class Assumed(_Model):
    """Something the request did not say and the answer rests on."""

    code: str
    text: str


class Advice(_Model):
    """A judgement or a caution."""

    code: str
    level: Literal["note", "caution", "warning"]
    text: str
    source: str


class Working(_Model):
    """One step: the rule, its formula, the figures put in, and what they give."""

    rule: str
    formula: str
    with_: str = Field(serialization_alias="with")
    gives: str
    source: str


class Answer(_Model):
    """One record of the machine output, without its line number."""

    request: str
    status: Literal["answered", "asks", "unread"]
    reads: str
    way: str | None = None
    answer: Asked | Explained | None = None
    castings: Amount | None = None
    share: Pair | None = None
    layer_mm: Pair | None = None
    parts: tuple[Part, ...] = ()
    components: tuple[Component, ...] = ()
    packs: tuple[PackCount, ...] = ()
    cost: Cost | None = None
    assumed: tuple[Assumed, ...] = ()
    advice: tuple[Advice, ...] = ()
    working: tuple[Working, ...] = ()
    question: str | None = None
    set_aside: tuple[str, ...] = ()
    #: for people, and so not in the record: the figure in the user's own units, the same in the other system,
    #: what the question back needs, and requests that would answer it
    figure: str = Field(default="", exclude=True)
    beside: str = Field(default="", exclude=True)
    #: rows side by side, the first of them the heads of the columns
    table: tuple[tuple[str, ...], ...] = Field(default=(), exclude=True)
    needs: str = Field(default="", exclude=True)
    offers: tuple[str, ...] = Field(default=(), exclude=True)
