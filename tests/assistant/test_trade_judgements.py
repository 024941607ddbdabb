"""Each remark of `trade_judgements.toml`: due where its limit is passed, and not before."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from assistant.ask import ask
from assistant.knowledge import facts

CASES = tomllib.loads((Path(__file__).parent / "trade_judgements.toml").read_text(encoding="utf-8"))["case"]
#: A share past the limit, and a roof or a balcony, are warned of; nothing else is more than a caution.
WARNED = {"share-harm", "share-nearly-all", "season-too-much", "roof-load", "tea-sugar"}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["say"])
def test_remarks(case: dict[str, Any]) -> None:
    answer = ask(case["say"])
    assert answer.status == "answered", answer.question
    told = {one.code: one for one in answer.advice}
    assert set(case.get("due", ())) <= told.keys(), (case["why"], sorted(told))
    assert not set(case.get("not_due", ())) & told.keys(), case["why"]
    for one in told.values():
        assert one.source
        assert "{" not in one.text
        assert one.level != "warning" or one.code in WARNED


def test_every_caution_is_drawn_by_some_case() -> None:
    """A caution that nothing ever draws protects nobody."""
    due = {code for case in CASES for code in case.get("due", ())}
    assert facts().cautions().keys() - due == set()


def test_the_cases_name_what_there_is() -> None:
    known = facts().judgements().keys() | facts().cautions().keys()
    for case in CASES:
        named = {code for code in (*case.get("due", ()), *case.get("not_due", ())) if not code.startswith("explanation-")}
        assert named <= known
