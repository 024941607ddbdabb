"""What a clerk says: prices of amounts, of packs and of units, and the end of a span that is bought for.

The sample's castings weigh 0.6 kg/L; a cubic foot is 28.316846592 L, a dry quart 1.101220943 L.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from counter_shops import ONE_BAG, TAXED, shop

from assistant.ask import ask
from assistant.conversation import Conversation

FOOT, QUART, YARD = 28.316846592, 1.101220942715, 764.554857984


@pytest.mark.parametrize(
    ("request_", "litres", "cost"),
    [
        ("price of 3 cubic feet", 3 * FOOT, "102.00"),  # 3 × 34.00
        ("price on 3 cubic feet please", 3 * FOOT, "102.00"),
        ("cheapest way to buy 5 cubic feet", 5 * FOOT, "157.50"),  # 5 × 31.50
        ("what's the cheapest way to get 5 cu ft", 5 * FOOT, "157.50"),
        ("what would 40 dry quarts cost me", 40 * QUART, "60.00"),  # 44.05 L: 40 lb and 2 × 10 lb hold 45.36 L
        ("how much for a yard of castings", YARD, "540.00"),
        ("how much for a yard", YARD, "540.00"),
        ("how much is a yard of castings", YARD, "540.00"),
        ("what do you charge for a yard", YARD, "540.00"),
        ("give me a price on 2 yards", 2 * YARD, "1080.00"),
        ("price for half a yard", YARD / 2, "330.00"),  # two quarter-yard bulk bags
        ("5 cubic feet of castings, how much is that", 5 * FOOT, "157.50"),
        ("what does 20 kg cost", 20 / 0.6, "45.50"),  # 33.33 L: 40 lb and two pouches of 2 L hold 34.24 L
    ],
)
def test_what_an_amount_costs(request_: str, litres: float, cost: str) -> None:
    answer = ask(request_)
    assert answer.castings is not None and answer.castings.litres[1] == pytest.approx(litres, rel=1e-7)
    assert answer.cost is not None and answer.cost.amount == cost
    again = ask(answer.reads)
    assert (again.reads, again.cost, again.packs) == (answer.reads, answer.cost, answer.packs)


def test_how_much_for_an_amount_that_may_be_of_a_mix_is_no_price() -> None:
    talk = Conversation()
    talk.say("potting mix 10% castings, 30 litres")
    answer = talk.say("how much for 20 litres?")
    assert answer.castings is not None and answer.castings.litres == (2.0, 2.0) and answer.cost is None
    assert ask("how much for 20 litres").status == "asks"
    assert ask("how much is 20 kg of castings").cost is None  # by volume


@pytest.mark.parametrize(
    ("request_", "packs", "cost"),
    [
        ("how much are the 40 lb bags", {"castings-40-pound": 1}, "36.00"),
        ("price of a 40 lb bag", {"castings-40-pound": 1}, "36.00"),
        ("what's a cubic foot bag cost", {"castings-1-cubic-foot": 1}, "34.00"),
        ("how much for six 1 cubic foot bags", {"castings-1-cubic-foot": 6}, "189.00"),  # 31.50 each from five on
        ("do you have 10 lb bags", {"castings-10-pound": 1}, "12.00"),
    ],
)
def test_what_a_pack_costs(request_: str, packs: dict[str, int], cost: str) -> None:
    answer = ask(request_)
    assert {pack.id: pack.count for pack in answer.packs} == packs
    assert answer.cost is not None and answer.cost.amount == cost
    assert "sample-catalogue" in {note.code for note in answer.assumed}
    assert "in-stock" in {one.code for one in answer.advice}
    assert ask(answer.reads).cost == answer.cost


def test_a_pack_of_the_shops_own_with_tax_stock_and_no_such_size(tmp_path: Path) -> None:
    own = shop(TAXED, tmp_path)
    answer = ask("how much for two 20 litre bags", own)
    assert answer.cost is not None and (answer.cost.amount, answer.cost.currency) == ("22.00", "CAD")  # 20.00 and a tenth
    assert "3 in stock" in next(one.text for one in answer.advice if one.code == "in-stock")
    too_many = ask("how much for five 20 litre bags", own)
    assert too_many.status == "asks" and "there are 3 of “20 litre bag” in stock, not 5" in (too_many.question or "").lower()
    none_such = ask("price of a 40 lb bag", own)
    assert none_such.status == "asks" and "20 litre bag" in (none_such.question or "")


def test_bags_without_a_size() -> None:
    listed = ask("how much for a bag")
    assert len(listed.table) > 7 and listed.answer is not None and listed.answer.of == "cost"
    assert ask("how much for two bags").status == "asks"


@pytest.mark.parametrize(
    ("request_", "figure"),
    [("price per cubic foot", "33.71 USD per cu ft"), ("cost per litre", "1.19 USD per L"), ("what's the price per pound", "0.900 USD per lb")],
)
def test_the_price_of_a_unit(request_: str, figure: str) -> None:
    assert figure in ask(request_).figure


@pytest.mark.parametrize("request_", ["is it cheaper by the yard", "is a yard cheaper than bags", "is it cheaper by the yard or in bags"])
def test_loose_against_bagged(request_: str) -> None:
    answer = ask(request_)
    # 540.00 / 27 against 36.00 / 30.2395 L × 28.3168 L
    assert answer.figure == "yes: loose it costs 20.00 USD per cu ft, and 33.71 USD per cu ft in “Castings, 40 lb bag”"
    text = next(one.text for one in answer.advice if one.code == "loose-pays")
    # for 539.99 bags hold no more than 17.23 cu ft: 15 × 33.00 + 12.00 + … in the 40 lb and 10 lb bags
    assert "comes to 540.00 USD" in text and "17.23 cu ft at most" in text
    assert ask(answer.reads).figure == answer.figure


def test_packs_side_by_side_by_their_sizes() -> None:
    answer = ask("is the 40 lb bag better value than the 10 lb")
    assert {row[0] for row in answer.table[1:]} == {"Castings, 40 lb bag", "Castings, 10 lb bag"}
    assert "33.71 USD per cu ft" in answer.figure and ask(answer.reads).table == answer.table
    by_weight = ask("which is cheaper per kg, 40 lb bags or 8 quart bags")
    assert "1.98 USD per kg" in by_weight.figure and len(by_weight.table) == 5
    assert ask("which is cheaper per cubic foot, the 40 lb or the 10 lb bags").table == answer.table
    none_such = ask("which is cheaper, 30 lb bags or 40 lb bags")
    assert none_such.status == "asks" and "no pack of 30 lb" in (none_such.question or "")


def test_bags_of_a_size_are_bought_of_that_size_at_the_shops_price() -> None:
    bed = "4 by 8 ft bed, 10 inches deep, 10%"  # 75.51 L: three bags of 40 lb, 30.24 L each
    for words in ("40 lb bags, what cost", "what cost in 40 lb bags"):
        answer = ask(f"{bed}, {words}")
        assert [(pack.id, pack.count) for pack in answer.packs] == [("castings-40-pound", 3)]
        assert answer.cost is not None and answer.cost.amount == "108.00"
    unpriced = ask(f"{bed}, how many 30 lb bags and what cost")
    assert unpriced.status == "asks" and "30 lb bag cost" in (unpriced.question or "")
    assert ask("how many cubic foot bags for 60 litres").packs[0].count == 3
    lawn = ask("lawn 50 m2, 5 mm, 20 kg sacks, 0.5 kg/L, how many")  # 250 L are 125 kg
    assert lawn.answer is not None and (lawn.answer.of, lawn.answer.low) == ("packs", 7.0)


def test_half_a_yard_is_no_half_of_a_garden() -> None:
    talk = Conversation()
    talk.say("lawn 2000 sq ft, quarter inch, what cost")
    assert talk.say("can I get half a yard").status == "asks"


def test_a_question_of_price_leaves_the_talk_as_it_was() -> None:
    talk = Conversation()
    bed = talk.say("4 by 8 ft bed, 10 inches deep, 10%")
    for words in ("how much is a 40 lb bag", "is it cheaper by the yard", "price per kilo", "which is cheaper, the 40 lb bag or the cubic foot"):
        answer = talk.say(words)
        assert answer.answer is not None and answer.answer.of == "cost" and not answer.parts, words
    changed = talk.say("make it 20%")
    assert changed.castings is not None and bed.castings is not None
    assert changed.castings.litres[1] == pytest.approx(2 * bed.castings.litres[1])


def test_bags_are_tried_one_number_after_another() -> None:
    talk = Conversation()
    talk.say("4 by 8 ft bed, 10 inches deep, 10%")
    assert "2 bags will not do" in talk.say("would two bags do?").advice[0].text
    assert "3 bags do if they are" in talk.say("what about three?").advice[0].text
    assert "4 bags do" in talk.say("and 4?").advice[0].text
    after = talk.say("make it 12%")
    assert "bag" not in after.reads, "the bags were a question, and no part of the bed"


def test_questions_from_money_and_bags_begin_anew() -> None:
    talk = Conversation()
    talk.say("$60, bed 1 ft deep 10%, how big a bed")
    for words, of, value in (
        ("what will $60 cover at a quarter inch", "area", 45.359237 / 6.35),
        ("how many peppers will two 40 lb bags do at 1 cup each", "plants", 255),  # 60.479 / 0.23659
        ("the most bed I can do with three bags, 10 inches deep, 10%", "area", 0.90718474 / 0.254),
    ):
        answer = talk.say(words)
        assert answer.answer is not None and answer.answer.of == of, words
        assert answer.answer.low == pytest.approx(value, rel=1e-6), words


def test_moisture_that_is_said_changes_what_a_shops_castings_weigh(tmp_path: Path) -> None:
    own = shop(ONE_BAG.replace("density =", "moisture = 40\ndensity ="), tmp_path)
    answer = ask("30 litres of castings at 50% moisture, how heavy", own)
    # 0.5 kg/L at 40 % holds 0.3 kg dry; at 50 % that is 0.6 kg/L
    assert answer.castings is not None and answer.castings.kg == pytest.approx((18.0, 18.0))
    assert "50 % moisture" in next(note.text for note in answer.assumed if note.code == "shop-density")
    plain = ask("30 litres of castings, how heavy", own)
    assert plain.castings is not None and plain.castings.kg == pytest.approx((15.0, 15.0))


def test_nothing_loose_to_compare(tmp_path: Path) -> None:
    assert "nothing is sold loose" in ask("is it cheaper by the yard", shop(ONE_BAG, tmp_path)).figure


BED = "4 by 8 ft bed, 8 to 12 inches deep, 10%"  # 60.409 to 90.614 L


@pytest.mark.parametrize(
    ("words", "end", "packs", "cost"),
    [
        ("how many bags", "high", {"castings-40-pound": 3}, "108.00"),  # 90.718 L
        ("buy for the high end", "high", {"castings-40-pound": 3}, "108.00"),
        ("how many bags to be safe", "high", {"castings-40-pound": 3}, "108.00"),
        ("what cost at the low end", "low", {"castings-40-pound": 2}, "72.00"),  # 60.479 L
        ("how many bags, the least I could get away with", "low", {"castings-40-pound": 2}, "72.00"),
        ("the least I could get away with, in bags", "low", {"castings-40-pound": 2}, "72.00"),
        ("buy for the low end", "low", {"castings-40-pound": 2}, "72.00"),
        ("buy for the middle", "typical", {"castings-40-pound": 2, "castings-10-pound": 2}, "96.00"),  # 75.511: 75.599 L
    ],
)
def test_the_end_that_is_bought_for(words: str, end: str, packs: dict[str, int], cost: str) -> None:
    answer = ask(f"{BED}, {words}")
    assert {pack.id: pack.count for pack in answer.packs} == packs
    assert answer.cost is not None and answer.cost.amount == cost
    text = next(note.text for note in answer.assumed if note.code == f"packs-for-{end}-end")
    assert ("so that it suffices" in text) == (end == "high") and ("as asked" in text) == (end != "high")
    other = "72.00 USD" if end == "high" else "108.00 USD"
    assert other in text, "what the other end would cost stands beside it"
    again = ask(answer.reads)
    assert (again.packs, again.cost) == (answer.packs, answer.cost)


def test_the_end_of_a_stated_pack_and_of_no_purchase() -> None:
    stated = ask(f"{BED}, 20 L bags at $10, what cost at the low end")
    assert stated.cost is not None and stated.cost.amount == "40.00"  # 60.4 L: four bags, where the upper end takes five
    plain = ask(f"{BED}, the least I could get away with")
    assert plain.packs == () and "the low end of the span is 2.13 cu ft" in {note.text for note in plain.assumed}
    assert ask("4 by 8 ft bed, 10 inches deep, 10% to be safe").reads == "bed 4 ft by 8 ft, 10 inches deep, 10 % castings"


def test_both_ends_at_once_are_asked_about() -> None:
    assert ask(f"{BED}, how many bags for the low end or the high end").status == "asks"


def test_the_end_in_a_later_turn() -> None:
    talk = Conversation()
    talk.say(f"{BED}, how many bags")
    for words, cost in (("for the low end", "72.00"), ("and to be safe?", "108.00"), ("the least I could get away with", "72.00"),
                        ("buy for the high end", "108.00")):  # fmt: skip
        answer = talk.say(words)
        assert answer.cost is not None and answer.cost.amount == cost, words
