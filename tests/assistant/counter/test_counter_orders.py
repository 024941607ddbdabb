"""Orders over several turns: the running total, one purchase, lines removed and changed."""

from __future__ import annotations

from pathlib import Path

import pytest
from counter_shops import ONE_BAG, shop

from assistant.answer import Answer
from assistant.conversation import Conversation
from assistant.orders import removing, steered

#: 32 sq ft × 10/12 ft × 0.1; 14 cups of 0.2365882365 L; 100 sq ft × 0.5/12 ft.
BED, PEPPERS, LAWN = 75.5115909, 3.3122353, 117.9868608
LINES = ("4 by 8 ft bed, 10 inches deep, 10%", "side dress 14 peppers, 1 cup each", "top dress 100 sq ft with half an inch")


def talk(*lines: str, conversation: Conversation | None = None) -> Answer:
    conversation = conversation or Conversation()
    for line in lines:
        answer = conversation.say(line)
    return answer


def litres(answer: Answer) -> float:
    assert answer.castings is not None, answer.question
    return answer.castings.litres[1]


def test_the_running_total_adds_every_line_once() -> None:
    total = talk(*LINES, "so far?")
    assert litres(total) == pytest.approx(BED + PEPPERS + LAWN, rel=1e-7)
    assert [part.way for part in total.parts] == ["blend", "side-dress", "top-dress"]


def test_asking_for_the_total_changes_nothing() -> None:
    conversation = Conversation()
    talk(*LINES, "so far?", "total for everything", "running total", conversation=conversation)
    assert litres(conversation.say("so far")) == pytest.approx(BED + PEPPERS + LAWN, rel=1e-7)


def test_what_does_that_cost_is_of_the_total() -> None:
    cost = talk(*LINES, "so far?", "what will that cost?")
    assert litres(cost) == pytest.approx(BED + PEPPERS + LAWN, rel=1e-7)
    # 191.1387 L for 165.00 and 7.5599 L for 12.00 hold 198.6986 L of 196.8107 L
    assert cost.cost is not None and cost.cost.amount == "177.00"
    assert {pack.id: pack.count for pack in cost.packs} == {"castings-quarter-yard": 1, "castings-10-pound": 1}
    assert "it saves 70.50 USD" in next(one.text for one in cost.advice if one.code == "bought-together")


def test_a_change_after_the_total_is_of_the_last_line() -> None:
    conversation = Conversation()
    changed = talk(*LINES, "so far", "make it a quarter inch", conversation=conversation)
    assert litres(changed) == pytest.approx(LAWN / 2, rel=1e-7)
    assert litres(conversation.say("so far")) == pytest.approx(BED + PEPPERS + LAWN / 2, rel=1e-7)


@pytest.mark.parametrize(
    ("line", "left"),
    [
        ("remove line 2", BED + LAWN), ("take off line 1", PEPPERS + LAWN), ("please delete item 3", BED + PEPPERS),
        ("take the peppers off", BED + LAWN), ("remove the peppers", BED + LAWN), ("drop the bed", PEPPERS + LAWN),
    ],
)  # fmt: skip
def test_lines_are_removed(line: str, left: float) -> None:
    conversation = Conversation()
    shown = talk(*LINES, line, conversation=conversation)
    assert litres(shown) == pytest.approx(left, rel=1e-7)
    assert litres(conversation.say("total for everything")) == pytest.approx(left, rel=1e-7)


@pytest.mark.parametrize(
    ("line", "now"),
    [
        ("change line 1 to 12 inches deep", BED * 1.2 + PEPPERS + LAWN),
        ("make line 2 2 cups each", BED + 2 * PEPPERS + LAWN),
        ("change line 3 to a quarter inch", BED + PEPPERS + LAWN / 2),
    ],
)
def test_lines_are_changed(line: str, now: float) -> None:
    conversation = Conversation()
    talk(*LINES, line, conversation=conversation)
    assert litres(conversation.say("so far")) == pytest.approx(now, rel=1e-7)
    conversation.say("undo")
    assert litres(conversation.say("so far")) == pytest.approx(BED + PEPPERS + LAWN, rel=1e-7)


def test_undo_brings_a_removed_line_back() -> None:
    conversation = Conversation()
    talk(*LINES, "remove line 2", "undo", conversation=conversation)
    assert litres(conversation.say("so far")) == pytest.approx(BED + PEPPERS + LAWN, rel=1e-7)


def test_a_line_that_is_not_there_is_asked_about() -> None:
    for line in ("remove line 4", "remove line 0", "change line 9 to 12 inches deep"):
        answer = talk(*LINES, line)
        assert answer.status == "asks" and "3 lines" in (answer.question or ""), line


def test_the_only_line_removed_leaves_nothing() -> None:
    conversation = Conversation()
    answer = talk(LINES[0], "remove line 1", conversation=conversation)
    assert answer.status == "asks" and "nothing is left" in (answer.question or "")
    assert conversation.say("so far").status != "answered"


def test_the_next_customer_begins_with_nothing() -> None:
    conversation = Conversation()
    talk(*LINES, "next customer", "6 tomatoes, 2 cups each in the hole", conversation=conversation)
    assert litres(conversation.say("so far")) == pytest.approx(12 * 0.2365882365, rel=1e-7)


def test_a_change_to_an_earlier_place_changes_its_own_line() -> None:
    conversation = Conversation()
    talk(
        "the herb bed is 2 m x 1 m x 30 cm, 10%", "the salad bed is 3 m x 1 m x 30 cm, 10%", "herb bed at 15% instead",
        conversation=conversation,
    )  # fmt: skip
    assert litres(conversation.say("so far")) == pytest.approx(90 + 90)
    assert litres(conversation.say("forget the salad bed")) == pytest.approx(90)


def test_a_named_place_keeps_its_line() -> None:
    conversation = Conversation()
    talk(LINES[0], "call it the long bed", LINES[2], "long bed, 12 inches deep", conversation=conversation)
    assert litres(conversation.say("so far")) == pytest.approx(BED * 1.2 + LAWN, rel=1e-7)


def test_questions_in_between_are_no_lines() -> None:
    conversation = Conversation()
    talk(
        LINES[0],
        "what is a dry quart?",
        "how far does a 20 litre bag go, half an inch on top",
        LINES[1],
        conversation=conversation,
    )
    assert litres(conversation.say("so far")) == pytest.approx(BED + PEPPERS, rel=1e-7)


def test_a_tea_counts_as_well() -> None:
    conversation = Conversation()
    talk("20 litres of water, 1:10 tea", "top dress 10 m2 with 5 mm", conversation=conversation)
    total = conversation.say("total for everything")
    assert litres(total) == pytest.approx(2 + 50)
    assert len(total.parts) == 2


def test_lines_with_packs_of_their_own_are_added_as_they_are() -> None:
    conversation = Conversation()
    talk(
        "4x8 ft bed 1 ft deep 10% 38 lb/cf 25 lb bags $20 ea total?", "next bed 4x8 ft, 1 ft deep, 10%, 40 L bags at $30, cost?",
        conversation=conversation,
    )  # fmt: skip
    first = Conversation().say("4x8 ft bed 1 ft deep 10% 38 lb/cf 25 lb bags $20 ea total?")
    second = Conversation().say("4x8 ft bed, 1 ft deep, 10%, 40 L bags at $30, cost?")
    assert first.cost is not None and second.cost is not None
    total = conversation.say("total for everything")
    assert total.cost is None or total.cost.amount == f"{float(first.cost.amount) + float(second.cost.amount):.2f}"
    assert "sample-catalogue" not in {note.code for note in total.assumed}


def test_an_order_out_of_a_shops_own_catalogue(tmp_path: Path) -> None:
    conversation = Conversation(shop=shop(ONE_BAG, tmp_path))
    first = conversation.say("top dress 1 m2 with 15 mm")  # 15 L: a bag
    assert first.cost is not None and first.cost.amount == "10.00"
    conversation.say("top dress another 1 m2 with 5 mm")
    total = conversation.say("so far")
    assert litres(total) == pytest.approx(20)
    assert total.cost is not None and total.cost.amount == "10.00"
    assert "it saves 10.00 GBP" in next(one.text for one in total.advice if one.code == "bought-together")


def test_the_words_for_a_line() -> None:
    assert steered("remove line 2") == (2, True, "")
    assert steered("change line 2 to 12 inches deep") == (2, False, "12 inches deep")
    for text in ("remove the line of peppers", "a line 2 m long", "change it to 12 inches", "remove line 2 m long", "line 2"):
        assert steered(text) is None, text
    assert removing("take the peppers off") == "take off the peppers"
    assert removing("take 2 inches off the top") == "take 2 inches off the top"


def test_lines_are_counted_as_the_total_shows_them() -> None:
    conversation = Conversation()
    talk("3 cubic feet of castings, what cost", "two 4 by 8 ft beds, 12 inches deep, 10%", "and 10 pots 5 gallons each, 10%", conversation=conversation)
    beds, pots = 2 * 32 * 0.1 * 28.316846592, 10 * 5 * 3.785411784 * 0.1
    assert litres(conversation.say("total?")) == pytest.approx(beds + pots, rel=1e-7)
    assert litres(conversation.say("change line 2 to 15%")) == pytest.approx(beds + 1.5 * pots, rel=1e-7)
    assert litres(conversation.say("remove line 2")) == pytest.approx(beds, rel=1e-7)
    answer = conversation.say("remove line 2")
    assert answer.status == "asks" and "one line" in (answer.question or "")


def test_the_saving_is_told_when_it_is_asked_for() -> None:
    saving = talk(*LINES, "what's the saving if bought together")
    assert litres(saving) == pytest.approx(BED + PEPPERS + LAWN, rel=1e-7)
    assert "it saves 70.50 USD" in next(one.text for one in saving.advice if one.code == "bought-together")
