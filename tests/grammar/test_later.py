"""Patterns that are compiled at their first use: each of them can be, and is then as any other."""

from __future__ import annotations

import importlib
import pkgutil
import re
from collections.abc import Iterator

import pytest

import grammar
from grammar.later import _Later, later


def _all() -> Iterator[tuple[str, _Later]]:
    for module in pkgutil.walk_packages(grammar.__path__, "grammar."):
        for name, value in vars(importlib.import_module(module.name)).items():
            if isinstance(value, _Later):
                yield f"{module.name}.{name}", value


def test_every_pattern_compiles() -> None:
    # a broken one would show only in the line that needs it
    found = [name for name, pattern in _all() if isinstance(later(*pattern._told).pattern, str)]
    assert len(found) > 100


def test_it_finds_what_the_compiled_one_finds() -> None:
    told = (r"\b(?P<number>\d+) (beds?)\b", re.IGNORECASE)
    one, other = later(*told), re.compile(*told)
    text = "2 Beds and 3 beds"
    assert [found.span("number") for found in one.finditer(text)] == [found.span("number") for found in other.finditer(text)]
    assert one.sub("x", text) == other.sub("x", text)
    assert one.match("no") is None
    assert one.pattern == other.pattern
    assert one.search(text) is not None


def test_a_broken_one_is_told_at_its_first_use() -> None:
    broken = later("(")
    with pytest.raises(re.error):
        broken.search("")
