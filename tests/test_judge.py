"""The judge itself: each kind of verdict, each key, and the edges of its tolerance."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

import pytest

from tests.judge import KEYS, agree, judge

RECORD: dict[str, Any] = {
    "status": "answered",
    "reads": "a bed",
    "way": "blend",
    "answer": {"of": "castings", "low": 100.0, "high": 100.0, "unit": "L"},
    "castings": {"litres": [100.0, 100.0], "kg": [60.0, 60.0]},
    "share": [0.1, 0.1],
    "layer_mm": None,
    "parts": [],
    "cost": {"amount": "57.90", "currency": "USD"},
    "assumed": [],
    "advice": [],
    "question": None,
}
ASKS = {"status": "asks", "question": "How deep is it?", "answer": None}


def case(**expect: Any) -> dict[str, Any]:
    return {"expect": {"status": "answered", **expect}}


def changed(**changes: Any) -> dict[str, Any]:
    return {**deepcopy(RECORD), **changes}


@pytest.mark.parametrize(
    ("expect", "kind"),
    [
        ({}, "right"),
        ({"litres": 100}, "right"),
        ({"litres": [100.9, 99.1]}, "right"),
        ({"litres": [102, 102]}, "wrong"),
        ({"litres": [100, 110]}, "wrong"),
        ({"litres": [100]}, "wrong"),
        ({"kg": 60}, "right"),
        ({"kg": 61}, "wrong"),
        ({"share": 0.1}, "right"),
        ({"share": 0.12}, "wrong"),
        ({"layer_mm": 25}, "wrong"),
        ({"value": 100}, "right"),
        ({"value": [50, 100]}, "wrong"),
        ({"cost": 57.90}, "right"),
        ({"cost": 57.91}, "wrong"),
        ({"not_litres": 100}, "wrong"),
        ({"not_litres": 90}, "right"),
        ({"of": "castings"}, "right"),
        ({"of": "weight"}, "right"),
        ({"of": "area"}, "mislabelled"),
        ({"topic": "storage"}, "mislabelled"),
        ({"way": "blend"}, "right"),
        ({"way": "top-dress"}, "mislabelled"),
        ({"warn": False}, "right"),
        ({"warn": True}, "mislabelled"),
        ({"parts": 1}, "right"),
        ({"parts": 2}, "mislabelled"),
        ({"must_flag": True}, "mislabelled"),
        ({"way": "top-dress", "litres": 5}, "wrong"),
    ],
)
def test_each_key(expect: dict[str, Any], kind: str) -> None:
    assert judge(RECORD, case(**expect)).kind == kind


def test_every_key_is_tried() -> None:
    tried = {"status", "litres", "kg", "share", "layer_mm", "value", "cost", "not_litres", "of", "topic", "way", "warn", "parts",
             "must_flag"}  # fmt: skip
    assert tried == KEYS


def test_a_warning_and_a_flag() -> None:
    warned = changed(advice=[{"level": "warning", "code": "share-harm"}])
    assert judge(warned, case(warn=True, must_flag=True)).kind == "right"
    assert judge(warned, case(warn=False)).kind == "mislabelled"
    assert judge(changed(advice=[{"level": "note"}]), case(warn=True)).kind == "mislabelled"
    assert judge(changed(assumed=[{"code": "way"}]), case(must_flag=True)).kind == "right"


def test_parts_are_counted() -> None:
    assert judge(changed(parts=[{}, {}]), case(parts=2)).kind == "right"
    assert judge(changed(parts=[{}, {}, {}]), case(parts=2)).kind == "mislabelled"


def test_a_question_where_an_answer_is_due() -> None:
    assert judge(ASKS, case(litres=1)).kind == "missed"
    assert judge(ASKS, {**case(litres=1), "accept_asks": True}).kind == "asked"
    assert judge({**ASKS, "status": "unread"}, case(litres=1)).kind == "missed"


def test_an_answer_where_a_question_is_due() -> None:
    for due in ("asks", "unread"):
        assert judge(RECORD, {"expect": {"status": due}, "accept_asks": True}).kind == "wrong"
        assert judge(ASKS, {"expect": {"status": due}}).kind == "right"


def test_an_error_is_wrong_whatever_is_due() -> None:
    raised = {"status": "raised", "question": "ValueError()"}
    assert judge(raised, case()).kind == "wrong"
    assert judge(raised, {"expect": {"status": "unread"}, "accept_asks": True}).kind == "wrong"


def test_the_best_of_several_counts() -> None:
    several = {"any_of": [{"status": "answered", "litres": 1}, {"status": "answered", "litres": 100}]}
    assert judge(RECORD, several).kind == "right"
    assert judge(RECORD, {"any_of": [{"litres": 1}, {"status": "asks"}]}).kind == "wrong"
    assert judge(ASKS, {"any_of": [{"litres": 1}, {"status": "asks"}]}).kind == "right"
    assert judge(RECORD, {"any_of": [{"litres": 1}, {"way": "tea"}]}).kind == "mislabelled"


def test_nothing_where_a_figure_is_due_is_wrong() -> None:
    assert judge(changed(castings=None), case(litres=1)).kind == "wrong"
    assert judge(changed(answer={"of": "explanation", "topic": "storage"}), case(value=1)).kind == "wrong"
    assert judge(changed(cost=None), case(cost=1)).kind == "wrong"


def test_the_edge_of_the_tolerance() -> None:
    assert agree(101, 100)
    assert not agree(101.1, 100)
    assert agree([99, 101], [100, 100])
    assert agree(0, 0)
    assert not agree(None, 0)
    assert not agree([None, None], [0, 0])
