"""A seeded draw of the generator: the reader gives back the query that was meant, or asks; and the comparison notices."""

from __future__ import annotations

from collections import Counter
from functools import lru_cache

import pytest

from grammar.gather import gather
from grammar.query import Query
from grammar.settle import settle
from tests.generator import Due, Made, differences, outcome, requests

COUNT, SEED = 2000, 20
#: Asking is always safe, and so it must not be the way out: most requests are read.
MOST_ASKED = 0.08


@lru_cache(maxsize=1)
def outcomes() -> list[tuple[Made, str, list[str]]]:
    return [(made, *outcome(made)) for made in requests(COUNT, SEED)]


def test_what_is_read_is_what_was_meant() -> None:
    wrong = [f"{made.text}: {'; '.join(why)}" for made, kind, why in outcomes() if kind == "differs"]
    assert not wrong, "\n".join(wrong[:10])


def test_few_are_asked_about() -> None:
    counts = Counter(kind for _, kind, _ in outcomes())
    assert counts["asks"] <= MOST_ASKED * COUNT, counts


def test_the_same_seed_makes_the_same_requests() -> None:
    assert list(requests(50, 3)) == list(requests(50, 3))
    assert list(requests(50, 3)) != list(requests(50, 4))


_SIDES = (("length", (1.2192, 1.2192)), ("width", (2.7432, 2.7432)))
_BED = Due("rectangle", _SIDES, depth=(0.254, 0.254), share=(10.0, 10.0), way="blend")
_MADE = Made("4 by 9 ft bed, 10 in deep, 10% castings", "castings", (_BED,))

#: One thing changed at a time: each must be noticed.
_OF_THE_PLACE: list[dict[str, object]] = [
    {"form": "oval"},
    {"dims": (("length", (1.2192, 1.2192)), ("width", (2.7, 2.7)))},
    {"count": 2},
    {"depth": (0.3, 0.3)},
    {"depth": None},
    {"layer": (0.01, 0.01)},
    {"share": (12.0, 12.0)},
    {"share": (10.0, 12.0)},
    {"rate": (1.0, 1.0)},
    {"way": "incorporate"},
    {"number": 5},
    {"portion": 0.5},
    {"rate_per": (1.0, 1.0)},
    {"part": 0.1},
]
_OF_THE_WHOLE: list[dict[str, object]] = [
    {"asked": "weight"},
    {"have": (1.0, 1.0)},
    {"water": (1.0, 1.0), "ratio": (1.0, 10.0)},
    {"density": (600.0, 600.0)},
    {"pack": (1.0, 1.0)},
    {"places": ()},
    {"places": (_BED, _BED)},
    *({"places": (_BED._replace(**change),)} for change in _OF_THE_PLACE),  # type: ignore[arg-type]
]


@pytest.mark.parametrize("change", _OF_THE_WHOLE, ids=str)
def test_a_difference_is_noticed(change: dict[str, object]) -> None:
    read = settle(gather(_MADE.text))
    assert isinstance(read, Query)
    assert differences(read, _MADE) == []
    assert differences(read, _MADE._replace(**change)) != []  # type: ignore[arg-type]
