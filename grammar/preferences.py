"""Declared preferences between readings: `vocabulary/preferences.toml`, loaded and weighed.

A reading gets the points of every line whose signs are all there. The best reading wins when it leads by
the declared lead; otherwise there is a doubt, and the reader asks.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from functools import lru_cache
from importlib.resources import files
from typing import NamedTuple

from pydantic import BaseModel, ConfigDict, Field


class Preference(BaseModel):
    """One line: what is preferred, by which signs, by how much and why."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    reading: str
    signs: tuple[str, ...] = Field(min_length=1)
    points: int = Field(gt=0, le=10)
    why: str = Field(min_length=10)


class _File(BaseModel):
    model_config = ConfigDict(extra="forbid")

    lead: int = Field(ge=1)
    length: list[Preference]
    volume: list[Preference]
    weight: list[Preference]
    way: list[Preference]
    number: list[Preference]


class Weighed(NamedTuple):
    """The readings that some line speaks for, best first, with points and the strongest reason of each."""

    readings: tuple[tuple[str, int, str], ...]
    lead: int

    @property
    def clear(self) -> str:
        """The reading that wins clearly, or an empty string."""
        if not self.readings:
            return ""
        if len(self.readings) > 1 and self.readings[0][1] - self.readings[1][1] < self.lead:
            return ""
        return self.readings[0][0]


@lru_cache(maxsize=1)
def _loaded() -> tuple[int, dict[str, list[tuple[str, frozenset[str], frozenset[str], int, str]]]]:
    text = (files("grammar") / "vocabulary" / "preferences.toml").read_text(encoding="utf-8")
    read = _File.model_validate(tomllib.loads(text))
    tables = {}
    for name in ("length", "volume", "weight", "way", "number"):
        tables[name] = [
            (
                line.reading,
                frozenset(sign for sign in line.signs if not sign.startswith("not ")),
                frozenset(sign[4:] for sign in line.signs if sign.startswith("not ")),
                line.points,
                line.why,
            )
            for line in getattr(read, name)
        ]
    return read.lead, tables


def weigh(table: str, signs: Iterable[str], barred: Iterable[str] = ()) -> Weighed:
    """Weighs the readings of a doubtful thing by the signs that are there; `barred` readings are left out."""
    return _weighed(table, frozenset(signs), frozenset(barred))


@lru_cache(maxsize=2048)
def _weighed(table: str, signs: frozenset[str], barred: frozenset[str]) -> Weighed:
    """The same for one set of signs: there are far fewer such sets than requests."""
    lead, tables = _loaded()
    points: dict[str, int] = {}
    reasons: dict[str, tuple[int, str]] = {}
    for reading, needed, absent, worth, why in tables[table]:
        if reading not in barred and needed <= signs and not (absent & signs):
            points[reading] = points.get(reading, 0) + worth
            if worth > reasons.get(reading, (0, ""))[0]:
                reasons[reading] = (worth, why)
    ranked = sorted(points.items(), key=lambda item: (-item[1], item[0]))
    return Weighed(tuple((reading, worth, reasons[reading][1]) for reading, worth in ranked), lead)
