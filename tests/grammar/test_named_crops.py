"""A plant in a container keeps the name it was given, and a question in words is named in English."""

from __future__ import annotations

import pytest

from grammar.gather import gather
from grammar.query import Query
from grammar.reads import reads
from grammar.settle import settle


def read(text: str) -> str:
    query = settle(gather(text))
    assert isinstance(query, Query), query
    return reads(query)


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ("a monstera in a 10 inch pot, top dress", "monstera pot"),
        ("2 peace lilies in 8 inch pots, 10%", "2 peace lily pots"),
        ("6 cherry tomatoes in 5 gallon buckets, 10%", "6 cherry tomato buckets"),
        ("4 houseplants in 8 inch pots, top dress", "4 houseplant pots"),
        ("4 by 8 ft bed, half an inch on top, 6 tomatoes in it", "with 6 tomatoes in it"),
        ("2 grow bags of 10 gallons with 2 tomatoes each, 10%", "with 2 tomatoes in each"),
        ("tree ring from 1 ft to 5 ft from the trunk, 1 inch", "tree ring from 1 ft"),
        ("what is a drip line", "a question about a drip line"),
        ("what is EC", "a question about EC"),
        ("tea how", "a question about how tea is made"),
    ],
)
def test_the_name_is_kept(text: str, named: str) -> None:
    assert named in read(text)
    assert read(read(text)) == read(text)
