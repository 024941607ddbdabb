"""Random lines never raise, never hang, and always give one record each; the long run is `python -m tests.fuzz`."""

from __future__ import annotations

import io
import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.ask import ask
from assistant.batch import answer_line
from assistant.batch.rows import is_request
from assistant.batch.run import Options, run
from grammar.words import vocabulary
from tests import fuzz

WORDS = sorted({*vocabulary().single, *(" ".join(key) for listed in vocabulary().longer.values() for key, _ in listed)})
NUMBERS = st.one_of(st.integers(0, 200).map(str), st.floats(0, 1e6).map(lambda value: f"{value:g}"), st.sampled_from(["½", "1/2", "1 1/2", "#5"]))
REQUESTS = st.lists(st.one_of(st.sampled_from(WORDS), NUMBERS, st.sampled_from(["by", "ft", "in", "%", "x", ",", "-", "$"])), max_size=14)


@pytest.mark.parametrize("number", range(3))
def test_a_block_of_lines(number: int) -> None:
    assert fuzz.block(number, seed=20, size=300).faults == []


@settings(max_examples=300, deadline=None)
@given(REQUESTS.map(" ".join))
def test_words_of_the_trade_in_any_order(request: str) -> None:
    answer = ask(request)
    assert answer.request == request
    assert (answer.status == "answered") == (answer.answer is not None)
    assert answer.status == "answered" or answer.question
    json.loads(answer_line(1, request))


@settings(max_examples=200, deadline=None)
@given(st.text(st.characters(), max_size=200))
def test_any_text(request: str) -> None:
    body = json.loads(answer_line(7, request))
    assert body["line"] == 7 and body["status"] in fuzz.STATUSES


@settings(max_examples=100, deadline=None)
@given(st.binary(max_size=400))
def test_any_bytes(text: bytes) -> None:
    for form in ("json", "csv"):
        out = io.BytesIO()
        ended = run(io.BytesIO(text), out, Options(writing=form))  # type: ignore[arg-type]
        due = [one for one in text.split(b"\n") if is_request(one.decode("utf-8", "replace").removeprefix("\ufeff"))]
        assert ended.records == len(due)
        if form == "json":
            assert out.getvalue().count(b"\n") == len(due)
