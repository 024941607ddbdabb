"""The packs of a catalogue side by side."""

from __future__ import annotations

from pathlib import Path

import pytest
from counter_shops import ONE_BAG, shop

from assistant.ask import ask


def test_packs_by_litre_kilogram_and_cubic_foot() -> None:
    answer = ask("compare the bags per litre")
    rows = {(row[0], row[1]): row[2:] for row in answer.table[1:]}
    # 34.00 / 28.316847; / 16.990108 kg; a cubic foot
    assert rows["Castings, 1 cubic foot bag", "1"] == ("34.00", "1.20", "2.00", "34.00")
    # 36.00 / 30.239491; / 18.143695; × 28.316847 / 30.239491
    assert rows["Castings, 40 lb bag", "1"] == ("36.00", "1.19", "1.98", "33.71")
    assert rows["Castings, loose by the cubic yard", "5"][1] == "0.647"  # 495 / 764.554858
    assert answer.answer is not None and answer.answer.of == "cost"
    # of single bags that can be carried, the 40 lb one is the cheapest
    assert answer.answer.low == pytest.approx(36 / (40 * 0.45359237 / 0.6), rel=1e-3)
    assert answer.figure.startswith("Castings, 40 lb bag is the cheapest: 1.19 USD per L")
    assert any(one.code == "cheaper-in-number" for one in answer.advice)
    assert {"sample-catalogue", "shop-density"} <= {note.code for note in answer.assumed}


@pytest.mark.parametrize(
    ("request_", "figure"),
    [
        ("which bag is better value", "33.71 USD per cu ft"),
        ("which is the cheapest bag", "33.71 USD per cu ft"),
        ("compare the bags per pound", "0.900 USD per lb"),  # 36 / 40
        ("compare the bags per kg", "1.98 USD per kg"),
    ],
)
def test_the_unit_that_was_asked_for(request_: str, figure: str) -> None:
    assert figure in ask(request_).figure


def test_packs_for_a_bed() -> None:
    answer = ask("compare the packs for a 4 by 8 ft bed, 10 inches deep, 10%")
    assert answer.castings is not None and answer.castings.litres[1] == pytest.approx(75.511591, rel=1e-6)
    rows = {row[0]: row[1:3] for row in answer.table[1:]}
    assert rows["Castings, 1 cubic foot bag"] == ("3", "102.00")
    assert rows["Castings, 8 dry quart bag"] == ("9", "119.25")  # 75.5116 / 8.8098 = 8.57; 9 × 13.25
    assert rows["Castings, 40 lb bag"] == ("3", "108.00")
    assert answer.cost is not None and answer.cost.amount == "102.00"
    assert "96.00 USD" in next(one.text for one in answer.advice if one.code == "mixed-packs")


def test_packs_that_the_request_states_are_compared_as_before() -> None:
    answer = ask("which is cheaper per cubic foot, 25 lb at $20 or 1 cu ft at $28")
    assert "25 lb at 20.00 USD" in {row[0] for row in answer.table}
    assert "sample-catalogue" not in {note.code for note in answer.assumed}


def test_a_shop_of_one_bag(tmp_path: Path) -> None:
    answer = ask("compare the bags per litre", shop(ONE_BAG, tmp_path))
    assert answer.figure == "20 litre bag is the cheapest: 0.500 GBP per L"
