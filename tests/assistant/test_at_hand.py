"""What a bare amount of a follow-up is: castings at hand, what each gets, or a question between the two."""

from __future__ import annotations

import pytest

from assistant.conversation import Conversation


def last(*lines: str) -> tuple[str, str, str]:
    talk = Conversation()
    answer = [talk.say(line) for line in lines][-1]
    return answer.status, answer.reads, answer.question or ""


@pytest.mark.parametrize(
    ("line", "reads"),
    [
        ("would 6 litres be enough?", "I have 6 litres of castings, 20 tomatoes, 250 ml each, is that enough"),
        ("will 2 gallons do?", "I have 2 US gallons of castings, 20 tomatoes, 250 ml each, is that enough"),
        ("will 200 ml do?", "20 tomatoes, 200 ml each"),
        ("will half a litre each do?", "20 tomatoes, 0.5 litre each, is that enough"),
    ],
)
def test_what_would_do_is_told_by_its_size(line: str, reads: str) -> None:
    status, read, _ = last("20 tomatoes, 250 ml each", line)
    assert status == "answered"
    assert read.removesuffix(", is that enough") == reads.removesuffix(", is that enough")


def test_between_the_two_it_is_asked() -> None:
    status, _, question = last("20 tomatoes, 250 ml each", "is 1 litre enough?")
    assert status == "asks"
    assert "in all" in question and "each" in question


def test_more_buckets_of_a_size_told_before() -> None:
    told = ("5 gallon bucket of castings, what share is it in 45 gallons of soil?", "and two buckets?", "and three buckets?")
    assert last(*told)[1] == "what share, I have 15 US gallons of castings, 45 US gallons of soil"


def test_buckets_of_no_known_size_are_asked_about() -> None:
    told = ("2 five gallon buckets of castings, what share is it in 45 gallons of soil?", "and 3 buckets?")
    status, _, question = last(*told)
    assert status == "asks" and "one bucket" in question


def test_an_answer_that_says_it_is_enough() -> None:
    talk = Conversation()
    talk.say("14 roses at 2 cups each")
    assert [one.code for one in talk.say("will 2 gallons do?").advice][:1] == ["enough-left"]
    assert [one.code for one in talk.say("and 1 gallon?").advice] == ["not-enough"]


def test_weight_beside_a_volume_for_each_is_asked_about() -> None:
    assert last("20 roses, 1 cup each", "will 5 kg do?")[0] == "asks"
    assert last("20 roses, 1 cup each", "will 5 kg do?", "5 kg in all")[:2] == ("answered", "I have 5 kg of castings, 20 roses, 1 cup each, is that enough")
