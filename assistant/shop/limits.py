"""The bounds of a catalogue, from `limits.toml`."""

from __future__ import annotations

import tomllib
from functools import lru_cache
from importlib.resources import files
from typing import NamedTuple


class Limits(NamedTuple):
    """What each one bounds stands beside it in the file."""

    file_bytes: int
    line_length: int
    products: int
    packs: int
    breaks: int
    name_length: int
    text_length: int
    id_length: int
    amount_digits: int
    amount_most: int
    count_most: int
    price_most: int
    step_parts: int
    density_low: float
    density_high: float
    size_low: float
    size_high: int
    moisture_low: int
    moisture_high: int
    tax_high: int


@lru_cache(maxsize=1)
def limits() -> Limits:
    """The bounds in force."""
    return Limits(**tomllib.loads((files(__package__) / "limits.toml").read_text(encoding="utf-8")))
