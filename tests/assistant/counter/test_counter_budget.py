"""Backwards over the counter: from money, and from a number of bags."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from counter_shops import ONE_BAG, TAXED, shop

from assistant.ask import ask

#: 60.00 buys 1 × 40 lb and 2 × 10 lb of the sample at 0.6 kg/L: 60 lb / 0.6 = 45.359237 L.
SIXTY = 45.359237


def test_what_sixty_dollars_cover() -> None:
    answer = ask("what will $60 cover at half an inch")
    assert answer.answer is not None and answer.answer.of == "area"
    assert answer.answer.low == pytest.approx(SIXTY / 12.7, rel=1e-9)
    assert {pack.id: pack.count for pack in answer.packs} == {"castings-40-pound": 1, "castings-10-pound": 2}
    assert answer.cost is not None and answer.cost.amount == "60.00"
    assert "sample-catalogue" in {note.code for note in answer.assumed}


@pytest.mark.parametrize(
    ("request_", "of", "value"),
    [
        ("what will $60 cover", "area", (SIXTY / 25.4, SIXTY / 12.7)),
        ("how many bags can I get for $60", "packs", (3, 3)),
        ("how much castings can I get for $60", "castings", (SIXTY, SIXTY)),
        ("60 dollars of castings", "castings", (SIXTY, SIXTY)),
        ("how much mix can I make with $60 at 10%", "mix", (SIXTY * 10, SIXTY * 10)),
        ("how many plants can I side dress for $60 at 1 cup each", "plants", (191, 191)),  # 45.359237 / 0.2365882365
        ("how thick a layer will $60 make on 10 m2", "layer", (SIXTY / 10, SIXTY / 10)),
    ],
)
def test_other_questions_from_money(request_: str, of: str, value: tuple[float, float]) -> None:
    answer = ask(request_)
    assert answer.answer is not None and answer.answer.of == of
    assert (answer.answer.low, answer.answer.high) == pytest.approx(value, rel=1e-9)
    assert answer.cost is not None and Decimal(answer.cost.amount) <= 60


def test_money_and_tax(tmp_path: Path) -> None:
    own = shop(TAXED, tmp_path)  # 10.00 and a tenth: 11.00 a bag
    answer = ask("how many bags for $32.99", own)
    assert [(pack.id, pack.count) for pack in answer.packs] == [("bag", 2)]
    assert answer.cost is not None and (answer.cost.amount, answer.cost.currency) == ("22.00", "CAD")
    assert "dollar" in {note.code for note in answer.assumed}, "the sign of several moneys is said to be taken as one"


def test_a_bare_dollar_is_read_back_as_the_shops_own(tmp_path: Path) -> None:
    own = shop(TAXED, tmp_path)
    for request in ("how many bags for $32.99", "budget $32.99, bed 2 m by 1 m, 30 cm deep, 10%"):
        answer = ask(request, own)
        assert "32.99 CAD" in answer.reads
        again = ask(answer.reads, own)
        assert (again.packs, again.cost, again.advice) == (answer.packs, answer.cost, answer.advice)


def test_no_money_is_changed_into_another(tmp_path: Path) -> None:
    own = shop(TAXED, tmp_path)
    for request in ("how many bags for 60 USD", "how many bags for £60"):
        answer = ask(request, own)
        assert answer.status == "asks" and "CAD" in (answer.question or ""), request


def test_money_that_buys_nothing_asks() -> None:
    answer = ask("what will $2 cover")
    assert answer.status == "asks" and "4.75 USD" in (answer.question or "")


def test_a_budget_beside_a_need_is_judged() -> None:
    short = ask("budget $60, 4 by 8 ft bed, 10 in deep, 10%")
    assert short.castings is not None and short.castings.litres[1] == pytest.approx(75.511591, rel=1e-6)
    # 45.359237 / 75.511591 × 10 %
    assert short.advice[0].code == "budget-short" and "36.00 USD is lacking" in short.advice[0].text
    assert "6.01 % castings in place of 10 %" in short.advice[0].text
    does = ask("budget $100, 4 by 8 ft bed, 10 in deep, 10%")
    assert does.advice[0].code == "budget-does" and "4.00 USD to spare" in does.advice[0].text


def test_the_most_bed_with_three_bags() -> None:
    answer = ask("the most bed I can do with three bags, 10 inches deep, 10%")
    # three of 40 lb, 90.718474 L, are a tenth of 907.18474 L, 0.254 m deep
    assert answer.answer is not None and answer.answer.low == pytest.approx(0.90718474 / 0.254, rel=1e-9)
    assert [(pack.id, pack.count) for pack in answer.packs] == [("castings-40-pound", 3)]
    assert "pack-of-catalogue" in {note.code for note in answer.assumed}


def test_a_number_of_bags_of_no_known_size_is_asked_about(tmp_path: Path) -> None:
    for request in ("how far do three bags go, half an inch on top", "how many peppers with 2 bags, 1 cup each"):
        asked = ask(request)
        assert asked.status == "asks" and "Castings, 8 dry quart bag" in (asked.question or ""), request
    own = ask("how far do three bags go, 1 cm on top", shop(ONE_BAG, tmp_path))  # the only bag: 60 L
    assert own.answer is not None and own.answer.low == pytest.approx(6.0)
    assert "the only one" in next(note.text for note in own.assumed if note.code == "pack-of-catalogue")


def test_money_with_bags_of_a_size_and_no_price_asks_for_the_price() -> None:
    answer = ask("how far does $60 go with 25 lb bags, half an inch on top")
    assert answer.status == "asks" and "cost" in (answer.question or "")
