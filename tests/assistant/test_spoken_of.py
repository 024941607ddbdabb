"""Which places of a conversation a follow-up speaks of, by each kind of name."""

from __future__ import annotations

import pytest

from assistant.spoken_of import spoken_of, touched
from grammar.gather import gather
from grammar.settle import with_roles

LETTERS = "bed A 4x4 ft, bed B 4x8 ft and bed C 2x4 ft, half an inch on each"
SIDES = "north bed 4x4 ft and south bed 4x8 ft, 12 in deep, 10%"
LIST = "beds 4x4 ft, 4x6 ft and 4x8 ft, 10 inches deep, 10%"
KINDS = "6 pots of 10 L, 4 tubs of 40 L and a bed 4x8 ft 12 in deep, 12%"
CROPS = "tomato bed 4x8 ft and pepper bed 3x6 ft, 10 inches deep, 10%"
ROWS = "row 1 is 20 ft by 2 ft and row 2 is 30 ft by 2 ft, half an inch"


@pytest.mark.parametrize(
    ("said", "line", "places"),
    [
        (LETTERS, "bed B gets an inch", [1]), (LETTERS, "A gets an inch", [0]), (LETTERS, "bed D gets an inch", []),
        (LETTERS, "the beds get an inch", [0, 1, 2]),
        (SIDES, "the south bed is 9 inches deep", [1]), (SIDES, "the north one at 5%", [0]), (SIDES, "the west bed at 5%", []),
        (LIST, "the third gets an inch", [2]), (LIST, "the second bed at 5%", [1]), (LIST, "the last one at 5%", [2]),
        (KINDS, "tubs at 15%", [1]), (KINDS, "the bed at 15%", [2]), (KINDS, "pots at 5%", [0]),
        (CROPS, "the pepper bed at 15%", [1]), (CROPS, "the squash bed at 15%", []), (CROPS, "the tomatoes at 5%", [0]),
        (ROWS, "row 2 gets an inch", [1]), (ROWS, "row 3 gets an inch", []),
    ],
)  # fmt: skip
def test_a_name_finds_its_places(said: str, line: str, places: list[int]) -> None:
    old, new = with_roles(gather(said)), gather(line, leaning=True)
    assert spoken_of(new.places[0], old.places) == places


def test_the_other_one_is_not_the_one_just_spoken_of() -> None:
    old = with_roles(gather(SIDES))
    other = gather("the other one at 5%", leaning=True).places[0]
    assert spoken_of(other, old.places, [1]) == [0]
    assert spoken_of(other, old.places) == [0, 1]


def test_a_herb_bed_is_no_other_bed_to_the_word() -> None:
    old = with_roles(gather("salad bed 4x4 ft, 10 in deep, 10%"))
    herb = gather("the herb bed at 5%", leaning=True).places[0]
    assert spoken_of(herb, old.places, to_the_word=True) == []


def test_touched_are_the_places_that_a_turn_changed() -> None:
    before = with_roles(gather(LIST))
    after = before.copy()
    assert touched(before, after) == []
    after.places[1].share = None
    assert touched(before, after) == [1]
    for place in after.places:
        place.share = None
    assert touched(before, after) == []
