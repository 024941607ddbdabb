"""How a request is read back in words: plain English, and read again as the same (`tests/properties/test_reads_back.py`)."""

from __future__ import annotations

import pytest

from grammar.gather import gather
from grammar.query import Query
from grammar.reads import reads
from grammar.settle import settle


@pytest.mark.parametrize(
    ("said", "read"),
    [
        # a size before its noun stands in the singular, and after it in the plural
        ("how far does a 20 litre bag go, half an inch on top", "how far, top-dress, 0.5 inch of castings, 20 litre bag"),
        ("5 us gallon citrus pot, 10% castings", "5 US gallon citrus pot, 10 % castings"),
        ("9 7 litre pots, 10% castings", "9 pots of 7 litres, 10 % castings"),
        ("4 72 cell trays, 10% castings", "4 trays of 72 cells, 10 % castings"),
        ("a 72 cell tray, 10% castings", "72 cell tray, 10 % castings"),
        ("3 x 20 lb bags, is that enough for 4 by 8 ft, half an inch on top",
         "top-dress, 4 ft by 8 ft, 0.5 inch of castings, 3 bags of 20 lb, is that enough"),
        # the unit that was asked for is of many
        ("30 square feet half an inch on top, in litres", "in litres, top-dress, 30 square feet, 0.5 inch of castings"),
        ("30 square feet half an inch on top, in cubic feet", "in cubic feet, top-dress, 30 square feet, 0.5 inch of castings"),
        # what belongs together is not parted by a comma, and no word is of no use
        ("how much for 12 tomatoes", "castings for 12 tomatoes"),
        ("vegetable plot 3 by 4 m, 1 cm on top", "top-dress, plot 3 metres by 4 metres, 1 cm of castings"),
    ],
)  # fmt: skip
def test_it_is_plain_english(said: str, read: str) -> None:
    query = settle(gather(said))
    assert isinstance(query, Query)
    assert reads(query) == read


def test_a_place_without_a_name_is_kept_apart_from_pots() -> None:
    query = settle(gather("2 square metres with 10 mm on top, and 8 12 litre pots at 10%"))
    assert isinstance(query, Query)
    text = reads(query)
    assert ", and 8 pots of 12 litres" in text
    again = settle(gather(text))
    assert isinstance(again, Query) and reads(again) == text
