"""Several amounts side by side: every row of the table against its figure worked out by hand."""

from __future__ import annotations

import pytest

from assistant.ask import ask


@pytest.mark.parametrize(
    ("request_text", "rows"),
    [
        # 20 litres / 4, / 10
        ("show me 20 litres of tea at 1:4 and 1:10", [("1:4", "5 L", "3 kg"), ("1:10", "2 L", "1.2 kg")]),
        # 40 plants x 100 mL, 250 mL; at 0.6 kg/L
        ("40 peppers, show me 100 ml and 250 ml each", [("100 mL", "4 L", "2.4 kg"), ("250 mL", "10 L", "6 kg")]),
        # 10 m2 x 5 mm, 10 mm
        ("10 m2 bed, compare 5 mm and 10 mm", [("5 mm", "50 L", "30 kg"), ("10 mm", "100 L", "60 kg")]),
        # 100 L x 5 %, 10 %, 25 %, the last past 20 %
        ("100 litres of mix, show me 5, 10 and 25 percent",
         [("5 %", "5 L", "3 kg", ""), ("10 %", "10 L", "6 kg", ""), ("25 %", "25 L", "15 kg", "may harm")]),
    ],
)  # fmt: skip
def test_rows(request_text: str, rows: list[tuple[str, ...]]) -> None:
    answer = ask(request_text)
    assert answer.status == "answered", answer.question
    assert list(answer.table[1:]) == rows


def test_two_shares_without_a_question_are_asked_about() -> None:
    assert ask("100 litres of mix, 5% or 10%").status == "asks"
