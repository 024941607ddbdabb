"""How the trade's answers are worked out and said: rings and bands, teas by the job, what is filled, products, tables."""

from __future__ import annotations

import pytest

from assistant.answer import Answer
from assistant.ask import ask
from assistant.knowledge import facts
from assistant.relations import DRY_MATTER, FILLED, STRIPS, TEA_FOR_AREA, UNIT_PRICE
from assistant.say import say
from assistant.sheet import Sheet


def codes(request: str) -> dict[str, str]:
    """The advice on a request: its codes and their levels."""
    return {one.code: one.level for one in ask(request).advice}


def assumed(request: str) -> dict[str, str]:
    return {one.code: one.text for one in ask(request).assumed}


# ---- relations, forwards and backwards ------------------------------------------------------------------


def test_a_ring_is_worked_out_both_ways() -> None:
    # from 0.05 m to 0.15 m: pi (0.0225 - 0.0025) = 0.0628319 m2; 0.01 m thick round 10 plants: 6.28319 L
    sheet = Sheet()
    for name, value in (("inner radius", 0.05), ("strip width", 0.1), ("strip layer", 0.01), ("count", 10.0)):
        sheet.give(name, value)
    assert sheet.reach("castings", STRIPS["ring"]) == pytest.approx((0.00628319, 0.00628319), rel=1e-5)
    back = Sheet()
    for name, value in (("inner radius", 0.05), ("strip width", 0.1), ("count", 10.0), ("castings", 0.00628319)):
        back.give(name, value)
    assert back.reach("strip layer", STRIPS["ring"]) == pytest.approx((0.01, 0.01), rel=1e-5)


def test_a_band_is_worked_out_both_ways() -> None:
    # 6 m x 0.1 m x 0.012 m on both sides: 14.4 L
    known = {"length": 6.0, "strip width": 0.1, "strip layer": 0.012, "count": 1.0, "sides": 2.0}
    sheet = Sheet()
    for name, value in known.items():
        sheet.give(name, value)
    assert sheet.reach("castings", STRIPS["band"]) == pytest.approx((0.0144, 0.0144))
    back = Sheet()
    for name, value in {**known, "castings": 0.0144}.items():
        if name != "length":
            back.give(name, value)
    assert back.reach("length", STRIPS["band"]) == pytest.approx((6.0, 6.0))


@pytest.mark.parametrize(
    ("relation", "known", "wanted", "value"),
    [
        (TEA_FOR_AREA, {"tea for an area": (0.0002, 0.0004), "treated area": (50, 50)}, "water", (0.01, 0.02)),
        (TEA_FOR_AREA, {"tea for an area": (0.0002, 0.0002), "water": (0.01, 0.01)}, "treated area", (50, 50)),
        (FILLED, {"whole volume": (0.2, 0.2), "density of the fill": (400, 800)}, "filled weight", (80, 160)),
        (DRY_MATTER, {"weight": (40, 40), "dry share": (0.45, 0.45)}, "dry weight", (18, 18)),
        (DRY_MATTER, {"dry weight": (18, 18), "dry share": (0.45, 0.45)}, "weight", (40, 40)),
        (UNIT_PRICE, {"price": (18, 18), "size": (1.5, 1.5)}, "price of a unit", (12, 12)),
    ],
)
def test_the_other_relations(relation, known, wanted, value) -> None:  # type: ignore[no-untyped-def]
    assert relation.solve(known, wanted) == pytest.approx(value)


# ---- what is said ---------------------------------------------------------------------------------------


def test_what_was_not_said_of_a_ring_is_assumed() -> None:
    told = assumed("a ring 4 inches wide and half an inch thick around each of 10 peppers")
    assert "2 in from the stem" in told["stem-clear"]
    told = assumed("ring 3 inches wide, 1/4 inch thick, 3 inches from the stem, around each of 12 kale plants")
    assert "stem-clear" not in told


def test_a_load_names_what_it_holds() -> None:
    told = assumed("how far does a wheelbarrow of castings go at half an inch")
    assert "4 to 6 cubic feet" in told["load"]


def test_batches_are_whole_and_used_when_fresh() -> None:
    answer = ask("tea for a 5000 sq ft lawn with a 4 gallon sprayer, how many batches")
    assert answer.figure == "7 to 13 batches"
    text = next(one.text for one in answer.advice if one.code == "tea-batches")
    assert "4 to 6 hours" in text


def test_a_tea_on_leaves_is_cautioned() -> None:
    told = codes("spray tea on my lettuce, 2 gallons")
    assert told["foliar-spray"] == told["foliar-edible"] == "caution"
    assert "foliar-spray" not in codes("tea, 2 litre watering can, 1 to 10")


def test_poor_soil_is_pointed_to_the_castings_themselves() -> None:
    answer = ask("my soil has no worms, should I use tea")
    assert answer.answer is not None and answer.answer.of == "explanation"
    assert "organic matter" in " ".join(one.text for one in answer.advice)
    assert "tea-little-organic" in codes("2 gallon sprayer of tea at 1:10")


def test_a_filled_weight_defers_to_an_engineer() -> None:
    answer = ask("weight of a planter 36 x 12 x 12 inches filled, wet, on my balcony")
    told = {one.code: one for one in answer.advice}
    assert "licensed structural engineer" in told["roof-load"].text
    assert told["filled-weight"].level == "caution"
    assert "1.2 kg" not in answer.figure and "wet" in answer.figure
    # moist beside wet: 3 cu ft = 84.9505 L at 0.4 to 0.8 kg/L is 33.9802 to 67.9604 kg = 74.9 to 149.8 lb
    assert "74.91 to 149.8 lb" in told["filled-other"].text


def test_castings_weighed_in_a_bed_are_still_castings() -> None:
    answer = ask("how much do the castings for a 4x8 ft bed 12 inches deep at 10% weigh")
    assert answer.castings is not None and answer.castings.kg == pytest.approx((54.3683, 54.3683), rel=1e-4)


def test_products_by_volume_and_by_weight() -> None:
    answer = ask("which is cheaper per cubic foot, 25 lb at $20 or 1 cu ft at $28")
    assert answer.table[1:] == (("1 cu ft at 28.00 USD", "28.00"), ("25 lb at 20.00 USD", "29.97"))
    # 20 USD a 25 lb = 28 USD a cu ft where a cu ft weighs 25 x 28 / 20 = 35 lb
    assert any("35 lb" in one.text for one in answer.advice if one.code == "compare-density")
    assert "default-density" in {one.code for one in answer.assumed}
    by_weight = ask("which is cheaper per lb, 25 lb at $20 or 40 lb at $30")
    assert by_weight.answer is not None and by_weight.answer.low == pytest.approx(0.75)
    assert not [one for one in by_weight.advice if one.code == "compare-density"]


def test_rates_side_by_side_are_a_table() -> None:
    answer = ask("4x8 ft bed 12 inches deep, show me 5, 10 and 25 percent")
    assert [row[:2] for row in answer.table] == [
        ("share", "castings"), ("5 %", "1.6 cu ft"), ("10 %", "3.2 cu ft"), ("25 %", "8 cu ft"),
    ]  # fmt: skip
    assert answer.table[3][3] == "may harm"
    assert "5 %" in say(answer) and "1.6 cu ft" in say(answer)
    layers = ask("show me 1/4, 1/2 and 1 inch on a 4x8 ft bed")
    assert [row[1] for row in layers.table[1:]] == ["0.667 cu ft", "1.33 cu ft", "2.67 cu ft"]
    assert "table" not in answer.model_dump()


def test_the_loss_on_mixing_is_shown_and_not_taken_off() -> None:
    answer = ask("potting mix 40% coir, 30% compost, 10% castings and the rest perlite, 100 litres")
    assert sum(one.litres[0] for one in answer.components) == pytest.approx(100)
    text = next(one.text for one in answer.advice if one.code == "mixing-loss")
    assert "80 to 90 L" in text or "80 L to 90 L" in text


def test_a_disputed_figure_says_so() -> None:
    told = assumed("top dress a 4x8 ft bed")
    assert "sources differ" in told["default-layer"]
    assert "sources differ" in assumed("fill a new 4x8 ft bed 12 inches deep")["default-share"]


def test_nutrients_are_no_plan() -> None:
    told = codes("how much nitrogen in 10 kg of castings")
    assert {"nutrients-typical", "nutrients-no-plan"} <= told.keys()
    stated = ask("castings 1.2% N, 0.5% P, 0.8% K, how much nitrogen on 100 sq ft at half an inch")
    assert "nutrients-typical" not in {one.code for one in stated.advice}
    assert "over 100 sq ft" in next(one.text for one in stated.advice if one.code == "nutrients-brought")


@pytest.mark.parametrize("topic", facts().explanations())
def test_every_explanation_can_be_asked_for(topic: str) -> None:
    answer = ask(f"a question about {topic.replace('-', ' ')}")
    assert answer.answer is not None and (answer.answer.of, answer.answer.topic) == ("explanation", topic)
    assert answer.advice[0].code == f"explanation-{topic}" and answer.advice[0].source
    assert [one.code for one in answer.advice].count("next-step") == 1


def test_a_term_says_what_it_means_and_more() -> None:
    answer = ask("what is a windrow?")
    assert answer.advice[0].text == "Windrow: A long heap that compost or castings are made in."
    assert answer.answer is not None and answer.answer.topic == "windrow"
    told = ask("define drip line")
    assert [one.code for one in told.advice] == ["term-drip-line", "explanation-trees", "next-step"]
    assert said_last(told).startswith("Next you might ask: ")


def said_last(answer: Answer) -> str:
    """The line before the reading."""
    lines = say(answer).splitlines()
    at = next(at for at, line in enumerate(lines) if line.startswith("Read as:"))
    return next(line for line in reversed(lines[:at]) if not line.startswith(" ") and ":" in line)
