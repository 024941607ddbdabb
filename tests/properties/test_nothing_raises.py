"""Any text gets a record: random text, salads of the vocabulary, and real requests that were damaged."""

from __future__ import annotations

import json
import time
from random import Random

from hypothesis import example, given, settings
from hypothesis import strategies as st

from assistant.ask import ask
from assistant.batch import record
from assistant.conversation import Conversation
from grammar.words import vocabulary
from tests.judge import conversations, request_files, singles

REQUESTS = [turn.say for path in request_files() for turn in singles(path)]
TALKS = [[turn.say for turn in talk] for path in request_files() for talk in conversations(path)]
SPELLINGS = sorted({" ".join(key) for listed in vocabulary().longer.values() for key, _ in listed} | set(vocabulary().single))
NUMBERS = [
    "0", "-1", "1", "2", "10", "1e9", "1/2", "1 1/2", "0.5", "999999999999999999999", "1,5", "1,000", "½", "3/0", "100%", "#5",
]  # fmt: skip

FIELDS = {
    "line", "request", "status", "reads", "way", "answer", "castings", "share", "layer_mm", "parts", "components", "packs",
    "cost", "assumed", "advice", "working", "question", "set_aside",
}  # fmt: skip


def sound(text: str) -> None:
    """A record of the contract, whatever the text."""
    found = json.loads(record(1, ask(text)))
    assert set(found) == FIELDS
    assert found["status"] in ("answered", "asks", "unread")
    assert (found["question"] is None) == (found["status"] == "answered")
    assert found["answer"] is not None or found["status"] != "answered"
    amount = found["castings"]
    if amount is not None:
        for low, high in amount.values():
            assert 0 < low <= high < float("inf"), text


@settings(max_examples=300, deadline=None)
@given(st.text(max_size=120))
@example("\x00\u202e")
@example("İ" * 50)
@example("½" * 40)
@example("9" * 400)
@example("1/0 of a bed 4 by 9 ft")
@example("((((((((((" * 20)
@example("open till 4²:45, castings for 30 L of mix at 10%")  # a figure with a power is no hour
@example("growing medium  dirts  5 gal pots  start from scratch  knapsack  ground  how much does it weigh")  # nothing is filled
def test_any_text(text: str) -> None:
    sound(text)


@settings(max_examples=400, deadline=None)
@given(st.lists(st.sampled_from([*SPELLINGS, *NUMBERS * 40]), min_size=1, max_size=14))
def test_a_salad_of_known_words(words: list[str]) -> None:
    sound(" ".join(words))


def damaged(random: Random, text: str) -> str:
    """A real request with an edit: a word or letter dropped, doubled, swapped, joined or put in."""
    words = text.split()
    at = random.randrange(len(words))
    letter = random.randrange(len(text))
    match random.randrange(7):
        case 0:
            del words[at]
        case 1:
            words.insert(at, words[at])
        case 2:
            other = random.randrange(len(words))
            words[at], words[other] = words[other], words[at]
        case 3:
            return text[:letter] + text[letter + 1 :]
        case 4:
            return text[:letter] + text[letter] + text[letter:]
        case 5:
            words[at : at + 2] = ["".join(words[at : at + 2])]
        case _:
            words.insert(at, random.choice([*SPELLINGS, *NUMBERS * 40]))
    return " ".join(words)


def test_damaged_requests() -> None:
    random = Random(5)
    for _ in range(1000):
        text = random.choice(REQUESTS)
        for _ in range(random.randint(1, 3)):
            text = damaged(random, text) or text
        sound(text)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.one_of(st.sampled_from(REQUESTS), st.text(max_size=30), st.sampled_from(SPELLINGS)), min_size=1, max_size=8))
def test_any_conversation(lines: list[str]) -> None:
    talk = Conversation()
    for line in lines:
        assert talk.say(line).status in ("answered", "asks", "unread")


def test_follow_ups_after_any_request() -> None:
    """What is changed need not be there: "make it 15 %" after a price, "the second one" after a tea."""
    random = Random(8)
    follow_ups = [line for talk in TALKS for line in talk[1:]]
    for _ in range(400):
        talk = Conversation()
        for line in [random.choice([random.choice(REQUESTS), random.choice(TALKS)[0]]), *random.sample(follow_ups, 5)]:
            assert talk.say(line).status in ("answered", "asks", "unread")


def test_a_megabyte_is_no_hang() -> None:
    for text in ("bed 4 by 9 ft, " * 70_000, "a" * 1_000_000, "1 " * 500_000, "'" * 1_000_000):
        start = time.monotonic()
        sound(text)
        assert time.monotonic() - start < 10
