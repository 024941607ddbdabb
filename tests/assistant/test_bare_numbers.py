"""A number without a unit in a follow-up: the table of its readings, and how a doubt is answered."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

import grammar
from assistant import bare_numbers, choices
from assistant.conversation import Conversation

TABLE = tomllib.loads((Path(grammar.__file__).parent / "vocabulary" / "preferences.toml").read_text(encoding="utf-8"))["number"]


def test_every_sign_of_the_table_is_one_that_is_made() -> None:
    signs = {sign.removeprefix("not ") for line in TABLE for sign in line["signs"]}
    assert signs <= bare_numbers.SIGNS


@pytest.mark.parametrize(
    ("reply", "offered", "picked"),
    [
        ("the first", ("10 pots", "10 %"), "10 pots"),
        ("the latter", ("10 pots", "10 %"), "10 %"),
        ("percent", ("10 pots", "10 %"), "10 %"),
        ("the pots", ("10 pots", "10 %"), "10 pots"),
        ("10", ("10 pots", "10 %"), None),  # still either
        ("the third one", ("10 pots", "10 %"), None),
        ("a bed of 12 sq ft", ("10 pots", "10 %"), None),
    ],
)
def test_a_reply_picks_what_was_offered(reply: str, offered: tuple[str, ...], picked: str | None) -> None:
    assert choices.chosen(reply, offered) == picked


@pytest.mark.parametrize(
    ("question", "offered"),
    [
        ("What is to be done with the castings: mixed in, or spread on top?", ("mixed in", "spread on top")),
        ("Two different shares; which one holds, 5 % or 10 %?", ("5 %", "10 %")),
        ("How deep is the bed?", ()),
    ],
)
def test_what_a_question_offers(question: str, offered: tuple[str, ...]) -> None:
    assert choices.offered(question) == offered


def test_how_it_was_taken_is_said() -> None:
    talk = Conversation()
    talk.say("24 pots of 3 gallons at 15%")
    answer = talk.say("drop it to 10")
    assert ("bare-number", "“10” is taken as “10 %”: a share is what is brought down or up to a number") in [(one.code, one.text) for one in answer.assumed]
