"""A change that could not be taken waits for its answer; nothing of it is put in before, and nothing is lost."""

from __future__ import annotations

import pytest

from assistant.answer import Answer
from assistant.conversation import Conversation

CUBIC_FOOT = 28.316846592


def talk(*lines: str) -> Answer:
    conversation = Conversation()
    for line in lines:
        answer = conversation.say(line)
    return answer


def litres(answer: Answer) -> float:
    assert answer.castings is not None
    assert answer.castings.litres[0] == answer.castings.litres[1]
    return answer.castings.litres[0]


@pytest.mark.parametrize("reply", ["yes", "inch", "an inch", "one inch"])
def test_a_slip_of_a_unit_is_set_right_by_the_reply(reply: str) -> None:
    answer = talk("top dress a 4x6 ft bed", "make it one inhc", reply)
    assert litres(answer) == pytest.approx(24 / 12 * CUBIC_FOOT)


def test_the_next_question_does_not_fall_back_to_the_usual_layer() -> None:
    asked = talk("topdress 4x6 ft bed halff inch", "how many litres")
    assert asked.status == "asks" and "halff" in (asked.question or "")
    assert litres(talk("topdress 4x6 ft bed halff inch", "how many litres", "half")) == pytest.approx(24 / 24 * CUBIC_FOOT)


def test_nothing_of_a_line_in_doubt_is_put_in() -> None:
    kept = talk("bed 4x6 ft, 12 in deep, 10%", "8 inches and 15", "in litres")
    assert litres(kept) == pytest.approx(2.4 * CUBIC_FOOT)
    assert any(note.code == "not-taken" for note in kept.assumed)


def test_the_unit_alone_answers() -> None:
    assert litres(talk("bed 4x6 ft, 12 in deep, 10%", "8 inches and 15", "percent")) == pytest.approx(2.4 * CUBIC_FOOT)


def test_how_often_is_answered_in_a_word() -> None:
    answer = talk("half an inch on 24 sq ft", "how much for the year", "twice")
    assert litres(answer) == pytest.approx(2 * CUBIC_FOOT)
    assert not any(note.code == "not-taken" for note in answer.assumed)


def test_a_scoop_is_given_its_size() -> None:
    assert litres(talk("2 scoops per plant for 15 plants", "a scoop is 1 cup")) == pytest.approx(30 * 0.2365882365)


def test_another_line_goes_on_and_says_what_is_left_out() -> None:
    answer = talk("north bed 4x6 ft and south bed 4x4 ft, 12 in deep, 10%", "the west bed gets 5%", "both at 20%")
    assert litres(answer) == pytest.approx(8 * CUBIC_FOOT)
    assert any("west bed" in note.text for note in answer.assumed)
