"""Published figures that stand in sentences: put to the program as requests, and found in what it says."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from assistant.ask import ask
from assistant.knowledge import facts

CHECKS = tomllib.loads((Path(__file__).parent / "published_words.toml").read_text(encoding="utf-8"))["check"]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: f"{check['row']}: {check['ask']}")
def test_a_published_figure_is_said(check: dict[str, Any]) -> None:
    answer = ask(check["ask"])
    assert answer.status == "answered", answer.question
    said = " ".join([*(one.text for one in answer.advice), *(one.text for one in answer.assumed)])
    for words in check["says"]:
        assert words in said


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: f"{check['row']}: {check['ask']}")
def test_its_source_stands_beside_it(check: dict[str, Any]) -> None:
    """The text is one that the program lists as seen, under this name, and the sentence cites it."""
    holder = next(one for one in facts().sources().values() if check["row"] in (one.id, *one.also))
    assert (holder.name, holder.seen) == (check["source"], "seen")
    answer = ask(check["ask"])
    for words in check["says"]:
        with_source = [f"{one.text} {one.source}" for one in answer.advice] + [one.text for one in answer.assumed]
        assert any(words in one and holder.name in one for one in with_source), words
