"""Requests that are answered together: each as if it were alone, and a fault of the program costs one of them only."""

from __future__ import annotations

import io
import json

import pytest

from assistant import engine
from assistant.ask import ask, ask_all
from assistant.batch.run import FAULT, Options, run
from tests.judge import request_files, singles

REQUESTS = [turn.say for path in request_files() for turn in singles(path)][::7]


def test_each_is_answered_as_if_it_were_alone() -> None:
    assert len(REQUESTS) > 300
    assert ask_all(REQUESTS) == [ask(request) for request in REQUESTS]


def test_halves_of_characters_are_replaced() -> None:
    assert ask_all(["4 by 9 ft bed \ud800, 10 in deep, 10%"]) == [ask("4 by 9 ft bed \ud800, 10 in deep, 10%")]


def test_a_fault_costs_one_line_its_answer(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    sound = engine.answer

    def failing(query: object, request: str, shop: object = None) -> object:
        if "fails" in request:
            raise ZeroDivisionError("on purpose")
        return sound(query, request, shop)  # type: ignore[arg-type]

    monkeypatch.setattr(engine, "answer", failing)
    lines = ["3 by 5 ft bed, 10 in deep, 10%", "fails: 3 by 5 ft bed, 10 in deep, 10%", "side dress 14 peppers"]
    out = io.BytesIO()
    run(io.BytesIO("\n".join(lines).encode()), out, Options())
    records = [json.loads(line) for line in out.getvalue().splitlines()]
    assert [record["status"] for record in records] == ["answered", "unread", "answered"]
    assert FAULT in str(records[1]["question"]) and "line 2: a fault of the program" in capsys.readouterr().err
