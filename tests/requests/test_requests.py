"""Every request of the data files against the answer worked out for it by hand.

What is not understood yet stands in `not_yet.toml`, with its verdict and why; such a request fails here as soon as it
is understood, so that the list stays true. A wrong answer is never excused.
"""

from __future__ import annotations

import tomllib
from collections import Counter
from functools import lru_cache
from typing import Any

import pytest

from tests.judge import GAPS, KEYS, REQUESTS, Turn, Verdict, conversations, gaps, judge, records, request_files, singles

NOT_YET = gaps("missed", "mislabelled")
#: The share of requests that must be right or rightly asked, and the most that may be mislabelled.
LEAST_GOOD, MOST_MISLABELLED = 0.97, 0.01

FILES = request_files()


def _turns(path: Any) -> list[Turn]:
    return [*singles(path), *(turn for talk in conversations(path) for turn in talk)]


TURNS = [turn for path in FILES for turn in _turns(path)]


@lru_cache(maxsize=1)
def verdicts() -> dict[str, tuple[Verdict, str]]:
    """The verdict on every request, and how the request was read."""
    return {turn.id: (judge(record, turn.body), record["reads"]) for path in FILES for turn, record in records(path)}


@pytest.mark.parametrize("turn", TURNS, ids=lambda turn: turn.id)
def test_request(turn: Turn) -> None:
    verdict, reads = verdicts()[turn.id]
    told = f"{turn.say}\n  read as: {reads}\n  {verdict.why}"
    gap = NOT_YET.get(turn.id)
    assert verdict.kind != "wrong", told
    if gap is not None:
        assert verdict.kind not in ("right", "asked"), f"it is understood now: take {turn.id} out of not_yet.toml"
        assert verdict.kind == gap["kind"], told
    else:
        assert verdict.kind in ("right", "asked"), told


def test_enough_of_them_are_right() -> None:
    counts = Counter(verdict.kind for verdict, _ in verdicts().values())
    total = counts.total()
    assert (counts["right"] + counts["asked"]) / total >= LEAST_GOOD, counts
    assert counts["mislabelled"] / total <= MOST_MISLABELLED, counts


def test_the_list_of_gaps_is_true() -> None:
    known = {turn.id for turn in TURNS}
    rows = tomllib.loads((REQUESTS / "not_yet.toml").read_text(encoding="utf-8"))["gap"]
    for row in rows:
        assert row["id"] in known, f"not_yet.toml: there is no request {row['id']}"
        assert row["kind"] in GAPS, f"not_yet.toml, {row['id']}: {row['kind']} is not excused"
        assert len(row["why"]) > 10, f"not_yet.toml, {row['id']}: say why"
    assert len(rows) == len({(row["id"], row["kind"] == "reads-back") for row in rows}), "not_yet.toml: a request stands twice"


def test_the_data_says_what_it_means() -> None:
    ids = Counter(turn.id for turn in TURNS)
    assert [one for one, count in ids.items() if count > 1] == []
    assert len(TURNS) >= 200
    for turn in TURNS:
        for expect in turn.body.get("any_of") or [turn.body["expect"]]:
            assert set(expect) <= KEYS, f"{turn.id}: {set(expect) - KEYS}"
            assert expect.get("status", "answered") in ("answered", "asks", "unread"), turn.id
