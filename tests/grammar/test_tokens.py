"""Typed tokens: whole words only, slips mended and kept, doubtful words decided, amounts held together."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from grammar.mend import MENDABLE, mend, near_amount
from grammar.scan import LONGEST_LINE
from grammar.tokens import tokenize
from grammar.words import vocabulary


def types(text: str) -> list[str]:
    return [token.type for token in tokenize(text).tokens]


def said(text: str) -> list[str]:
    return [f"{token.word.kind}:{token.word.id}" if token.word else token.text for token in tokenize(text).tokens]


@pytest.mark.parametrize("text", ["footing", "inchworm", "interesting", "potting", "yardstick", "galore"])
def test_no_word_is_split_or_matched_by_its_beginning(text: str) -> None:
    assert "UNIT" not in types(f"4 {text}")


def test_the_longest_word_wins() -> None:
    assert said("worm castings") == ["castings:castings"]
    assert said("seed starting mix") == ["seed-mix:seed-mix"]
    assert said("dry quart") == ["unit:us_dry_quart"]
    assert said("square feet") == ["unit:square_foot"]


def test_hyphens_inside_a_word_do_not_matter() -> None:
    assert said("top-dress") == said("top dress")
    assert said("10-inch") == said("10 inch")


@pytest.mark.parametrize(
    ("slip", "read"),
    [
        ("tomatos", "tomato"),
        ("castngs", "castings"),
        ("vermicopost", "vermicompost"),
        ("peppes", "peppers"),
        ("lettuse", "lettuce"),
    ],
)
def test_a_slip_is_mended_and_kept(slip: str, read: str) -> None:
    found = tokenize(slip)
    assert [token.word for token in found.tokens] == [token.word for token in tokenize(read).tokens]
    assert [one.said for one in found.mended] in ([slip], [])


@pytest.mark.parametrize("slip", ["ponds", "galons", "inche", "litrs", "foor", "ninty", "ninteen", "fife", "dozem", "withoot"])
def test_no_slip_is_mended_to_a_unit_a_number_or_a_turning_word(slip: str) -> None:
    read = mend(slip)
    assert read is None or vocabulary().parts[read] & MENDABLE


@pytest.mark.parametrize("slip", ["poundz", "inchs", "inchez", "ninteen", "litrs"])
def test_a_slip_of_an_amount_is_seen(slip: str) -> None:
    token = tokenize(f"4 {slip}").tokens[-1]
    assert token.word is not None or near_amount(slip)


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        ("1-1/2 inch", ["FIGURE", "FRACTION", "UNIT"]),
        ("1 - 2 inch", ["FIGURE", "TO", "FIGURE", "UNIT"]),
        ("1-2 cups", ["FIGURE", "TO", "FIGURE", "UNIT"]),
        ("-3 inch", ["MINUS", "FIGURE", "UNIT"]),
        ("5 ft 2 in by 3 ft", ["FIGURE", "UNIT", "COMPOUND", "FIGURE", "UNIT", "TIMES", "FIGURE", "UNIT"]),
        ("twenty-five", ["TENS", "ONES"]),
        ("one and a half", ["ONES", "PLUS", "ONE", "HALF"]),
        ("#5 pot", ["CLASS", "FIGURE", "WORD"]),
    ],
)  # fmt: skip
def test_what_stands_between_numbers(text: str, kinds: list[str]) -> None:
    assert types(text) == kinds


def test_an_unknown_word_is_seen() -> None:
    assert types("blorps") == ["UNKNOWN"]


def test_nothing_is_left_undecided() -> None:
    for spelling in vocabulary().single:
        for text in (spelling, f"4 {spelling}", f"{spelling} 4", f"bed {spelling} bed"):
            assert all(token.type != "HYPHEN" for token in tokenize(text).tokens), text


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=80))
def test_tokens_stand_in_the_order_of_the_line(text: str) -> None:
    tokens = tokenize(text).tokens
    assert all(0 <= token.start <= token.end <= len(text) for token in tokens)
    assert [token.start for token in tokens] == sorted(token.start for token in tokens)


def test_a_line_that_was_cut_says_so() -> None:
    assert tokenize("a" * (LONGEST_LINE + 1)).cut
    assert not tokenize("a" * LONGEST_LINE).cut


def test_an_empty_line_has_no_tokens() -> None:
    assert tokenize("").tokens == []
