"""What tells a place from others of its sort is read, and is never taken for an amount."""

from __future__ import annotations

import pytest

from grammar.gather import gather
from grammar.naming import described, letter_after


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("the north bed", {"north"}), ("my sunny back bed", {"sunny", "back"}), ("the left bed", {"left"}), ("a bed", set()),
        ("top dress the bed", set()), ("two beds", set()), ("the corner bed", {"corner"}),
    ],
)  # fmt: skip
def test_words_before_a_noun(text: str, words: set[str]) -> None:
    assert described(text, text.index("bed")) == words


@pytest.mark.parametrize(
    ("text", "letter"),
    [("bed B 4x8", "B"), ("bed b is 9 inches", "B"), ("bed a is 9 inches", "A"), ("bed a foot deep", ""), ("bed D's edge", ""), ("bed", "")],
)
def test_a_letter_after_a_noun(text: str, letter: str) -> None:
    assert letter_after(text, 3) == letter


def test_a_letter_is_not_set_aside() -> None:
    draft = gather("bed A 4x4 ft and bed B 4x8 ft, 12 in deep, 10%")
    assert [place.name for place in draft.places] == ["A", "B"]
    assert draft.unread == [] and draft.stray == []


@pytest.mark.parametrize("line", ["A cup each", "a third of it", "a thin one inch layer"])
def test_what_is_no_name(line: str) -> None:
    draft = gather(line, leaning=True)
    assert not any(place.name or place.described for place in draft.places)


def test_the_right_one_half_an_inch_is_half_an_inch() -> None:
    draft = gather("the right one half an inch", leaning=True)
    assert [sorted(place.described) for place in draft.places] == [["right"]]
    assert [(one.span.low, one.span.unit) for one in draft.unsure] == [(0.5, "inch")]


def test_each_name_has_its_own_value() -> None:
    draft = gather("the north bed gets an inch deep layer and the south bed is 9 inches deep", leaning=True)
    assert [sorted(place.described) for place in draft.places] == [["north"], ["south"]]
