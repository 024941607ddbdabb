"""Pieces of a line: whole figures, words and signs, each with its place in the line as it came."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from grammar.scan import LONGEST_LINE, fold, scan, spelling


def pieces(text: str) -> list[tuple[str, str]]:
    return [(piece.kind, piece.text) for piece in scan(text)]


def figures(text: str) -> list[float]:
    return [piece.value for piece in scan(text) if piece.kind in ("figure", "fraction")]


@pytest.mark.parametrize(
    ("text", "values"),
    [
        ("4 by 9", [4, 9]),
        ("0.5 .5 10.25", [0.5, 0.5, 10.25]),
        ("1/2 3/4", [0.5, 0.75]),
        ("½ ¼ ⅓", [0.5, 0.25, pytest.approx(1 / 3)]),
        ("1½", [1, 0.5]),
        ("1,000 12,345.5", [1000, 12345.5]),
        ("2,5", [2.5]),
        ("1,2345", [1, 2345]),
        ("9/4", [9, 4]),
        ("3/0", [3, 0]),
        ("1e3", [1000]),
        ("4x9", [4, 9]),
        ("10in", [10]),
    ],
)  # fmt: skip
def test_figures(text: str, values: list[float]) -> None:
    assert figures(text) == values


def test_a_decimal_comma_is_noted_and_thousands_are_not() -> None:
    assert [piece.note for piece in scan("2,5 1,000")] == ["decimal comma", ""]


@pytest.mark.parametrize(
    ("said", "plain"),
    [("4×9", "4x9"), ("1–2", "1-2"), ("10″", '10"'), ("6′", "6'"), ("10”", '10"'), ("m²", "m2"), ("1⁄2", "1/2"), ("BED", "bed")],
)  # fmt: skip
def test_another_shape_of_a_sign_is_the_same_sign(said: str, plain: str) -> None:
    assert fold(said) == plain
    assert pieces(said) == pieces(plain)


def test_whether_pieces_touch_is_kept() -> None:
    assert [piece.tight for piece in scan("10in 10 in")] == [False, True, False, False]


def test_a_long_line_is_cut() -> None:
    assert scan("a " * LONGEST_LINE)[-1].end <= LONGEST_LINE


@given(st.text(max_size=200))
def test_every_piece_lies_where_it_says(text: str) -> None:
    end = 0
    for piece in scan(text):
        assert end <= piece.start < piece.end <= len(text)
        end = piece.end
        if piece.kind in ("word", "sign"):
            assert fold(text)[piece.start : piece.end] == piece.text


@given(st.text(max_size=200))
def test_folding_keeps_the_length(text: str) -> None:
    assert len(fold(text)) == len(text)


@given(st.text(alphabet="0123456789.,/ -", max_size=40))
def test_no_digit_is_lost(text: str) -> None:
    read = "".join(piece.text for piece in scan(text))
    assert [c for c in read if c.isdigit()] == [c for c in text if c.isdigit()]


def test_a_spelling_is_what_a_line_would_show() -> None:
    assert spelling("Top-Dress") == ("top", "dress")
    assert spelling("sq. ft") == ("sq", ".", "ft")
    assert spelling("-") == ("-",)
