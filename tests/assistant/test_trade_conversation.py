"""A caution is given once a conversation; lines that stand alone each have their own."""

from __future__ import annotations

from assistant.ask import ask
from assistant.conversation import Conversation
from assistant.knowledge import facts


def _codes(answer) -> set[str]:  # type: ignore[no-untyped-def]
    return {one.code for one in answer.advice}


def test_a_caution_is_said_once() -> None:
    talk = Conversation()
    first = _codes(talk.say("top dress a 4x8 ft bed half an inch"))
    assert {"hands", "stems"} <= first
    later = _codes(talk.say("and a 3x6 ft bed half an inch"))
    assert not later & {"hands", "stems"}
    assert {"hands", "stems"} <= _codes(ask("and a 3x6 ft bed half an inch on top"))


def test_a_new_caution_is_still_said() -> None:
    talk = Conversation()
    talk.say("top dress a 4x8 ft bed half an inch")
    assert "seedling-salt" in _codes(talk.say("20 L of seed mix at 10%"))


def test_judgements_and_warnings_are_said_every_time() -> None:
    talk = Conversation()
    assert "share-harm" in _codes(talk.say("4x8 ft bed 12 inches deep, 25%"))
    assert "share-harm" in _codes(talk.say("make it 30%"))


def test_what_counts_as_a_caution() -> None:
    assert facts().is_caution("hands") and not facts().is_caution("share-harm")
