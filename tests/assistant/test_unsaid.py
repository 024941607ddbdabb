"""What goes unsaid in a line, what a place is called by, and the figure that is set right: each as the line it becomes."""

from __future__ import annotations

import pytest

from assistant.conversation import Conversation
from assistant.corrected import set_right, what_is_left, with_unit
from assistant.pointing import pointed
from assistant.unsaid import in_full
from grammar.draft import Draft


def _after(*lines: str) -> Draft:
    talk = Conversation()
    for line in lines:
        talk.say(line)
    assert talk.now.draft is not None
    return talk.now.draft


@pytest.mark.parametrize(
    ("before", "line", "full"),
    [
        ("600 sq ft at 4 lb per 100 sq ft", "8 lb per 100", "8 lb per 100 square foot"),
        ("40 plants, 1 cup each", "2 per plant", "2 cups each"),
        ("tea, 5 litres of water, 1:10", "one in eight", "1:8"),
        ("lawn 400 sq ft half inch", "half that", "halved"),
        ("24 pots of 3 gallons at 15%", "no 10", "sorry, 10"),
        ("24 pots of 3 gallons at 15%", "drop to 10", "drop it to 10"),
        ("24 pots of 3 gallons at 15%", "10 percent", "10 percent"),
    ],
)
def test_what_goes_unsaid_is_put_in(before: str, line: str, full: str) -> None:
    assert in_full(line, _after(before)) == full
    assert in_full(line, None) == line


@pytest.mark.parametrize(
    ("before", "line", "told"),
    [
        ("front lawn 20x20 ft, back lawn 30x30 ft, a quarter inch", "leave out the front", "leave out the front one"),
        ("front lawn 20x20 ft, back lawn 30x30 ft, a quarter inch", "leave out the front lawn", "leave out the front lawn"),
        ("beds 4x8 ft and 3x6 ft, 10 inches, 10%", "the smaller one at 12%", "the second one at 12%"),
        ("beds 4x8 ft, 2x10 ft and 4x6 ft, 10 inches, 10%", "the smaller one at 12%", "the smaller one at 12%"),
        ("beds 4x8 ft, 2x10 ft and 4x6 ft, 10 inches, 10%", "the smallest is 8 inches deep", "the second one is 8 inches deep"),
        ("3 beds 4x8 ft, 10 inches, 10%", "and one is 8 inches deep", "and one of them is 8 inches deep"),
    ],
)
def test_a_place_is_called_by_what_tells_it(before: str, line: str, told: str) -> None:
    assert pointed(line, _after(before).places) == told


@pytest.mark.parametrize(
    ("line", "before", "right"),
    [
        ("sorry meant 540", "450 sq ft of lawn at 1/4 inch", "540 sq ft of lawn at 1/4 inch"),
        ("oops, i meant 21", "12 pots of 4 litres", "21 pots of 4 litres"),
        ("i meant 400", "4000 sq ft at 4 mm", "400 sq ft at 4 mm"),
        ("sorry meant 77", "12 pots of 4 litres", None),  # no slip of either
        ("540", "450 sq ft of lawn", None),  # nothing is set right
    ],
)
def test_the_figure_that_is_set_right(line: str, before: str, right: str | None) -> None:
    assert set_right(line, before) == right


def test_what_is_left_and_the_unit_that_was_asked_for() -> None:
    assert what_is_left("a third of them died, so 40") == ("a third of them died", 40.0)
    assert what_is_left("40 of them") is None
    assert with_unit("inches", "10 deep: in what unit? Say inches, feet, cm or m.", "bed 8x3 ft, 10 deep") == "bed 8x3 ft, 10 inches deep"
    assert with_unit("inches", "How deep is the bed?", "bed 8x3 ft") is None
