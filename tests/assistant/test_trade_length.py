"""How far along a row: the length stands in the question, since the record has no kind of answer for it."""

from __future__ import annotations

import pytest

from assistant.ask import ask


@pytest.mark.parametrize(
    ("request_text", "figures"),
    [
        # 40 lb = 18.1437 kg at 0.6 kg/L = 30.2395 L, of cups of 0.236588 L: 127.8
        ("how far will 40 lb go along a row at a cup a foot", ("127.8 ft", "0.6 kg/L")),
        ("how long a row can I side dress with 20 litres at 250 ml per metre", ("80 m", "262.5 ft")),
        # 40 lb at half a pound a foot rests on no density
        ("how far will 40 lb go along a row at half a pound a foot", ("80 ft",)),
        # 28.3168 L / 0.473176 L
        ("how many feet of row will a 1 cu ft bag do at 2 cups per foot", ("59.84 ft",)),
    ],
)
def test_the_length_is_told(request_text: str, figures: tuple[str, ...]) -> None:
    answer = ask(request_text)
    assert answer.status == "asks"
    assert answer.question is not None
    for figure in figures:
        assert figure in answer.question


def test_no_density_is_told_where_none_is_used() -> None:
    answer = ask("how far will 40 lb go along a row at half a pound a foot")
    assert answer.question is not None and "kg/L" not in answer.question
