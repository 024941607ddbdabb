"""The machine output as it is laid down, field by field, over every request of the test data.

The tables below are the contract and not the program's models: names, order, types, units, and where nothing may be missing.
"""

from __future__ import annotations

import json
import tomllib
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from assistant.batch import answer_line
from assistant.relations import every, told, whole_ones

REQUESTS = Path(__file__).parent.parent / "requests"
FIELDS = ["line", "request", "status", "reads", "way", "answer", "castings", "share", "layer_mm", "parts", "components", "packs", "cost",
          "assumed", "advice", "working", "question", "set_aside"]  # fmt: skip
WAYS = {"blend", "incorporate", "top-dress", "side-dress", "planting-hole", "seed-mix", "tea"}
#: What can be asked for, and its unit; where a unit is free, "".
UNIT = {"castings": "L", "weight": "kg", "area": "m2", "share": "fraction", "layer": "mm", "plants": "count", "containers": "count",
        "beds": "count", "mix": "L", "soil": "L", "water": "L", "density": "kg/L", "packs": "", "cost": ""}  # fmt: skip
TEXTS = {"assumed": ["code", "text"], "advice": ["code", "level", "text", "source"], "working": ["rule", "formula", "with", "gives", "source"]}


@cache
def lines() -> list[str]:
    found: dict[str, None] = {}
    for path in sorted(REQUESTS.glob("*.toml")):
        table = tomllib.loads(path.read_text(encoding="utf-8"))
        found.update((case["say"], None) for case in table.get("case", ()))
    return [line for line in found if line.strip()]


@cache
def records() -> list[dict[str, Any]]:
    made = [json.loads(answer_line(number, line)) for number, line in enumerate(lines(), 1)]
    assert len(made) > 1500
    return made


def number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def pair(value: object) -> bool:
    return isinstance(value, list) and len(value) == 2 and all(map(number, value)) and value[0] <= value[1]


def amount(value: object) -> bool:
    return isinstance(value, dict) and list(value) == ["litres", "kg"] and all(map(pair, value.values()))


def test_every_record_has_every_field_in_its_order() -> None:
    for line, record in zip(lines(), records(), strict=True):
        assert list(record) == FIELDS, line
        assert record["request"] == line
        assert all(isinstance(record[name], str) for name in ("request", "status", "reads"))
        assert all(isinstance(record[name], list) for name in ("parts", "components", "packs", "assumed", "advice", "working", "set_aside"))
        assert record["castings"] is None or amount(record["castings"]), line
        assert all(record[name] is None or pair(record[name]) for name in ("share", "layer_mm")), line
        assert record["way"] is None or record["way"] in WAYS, line
        assert all(isinstance(words, str) for words in record["set_aside"])


def test_what_was_asked_for_has_its_own_unit() -> None:
    seen = set()
    for line, record in zip(lines(), records(), strict=True):
        answer = record["answer"]
        if record["status"] != "answered":
            assert answer is None and isinstance(record["question"], str) and record["question"], line
            continue
        assert record["question"] is None, line
        seen.add(answer["of"])
        if answer["of"] == "explanation":
            assert list(answer) == ["of", "topic"] and isinstance(answer["topic"], str), line
            continue
        assert list(answer) == ["of", "low", "high", "unit"], line
        assert number(answer["low"]) and number(answer["high"]) and answer["low"] <= answer["high"], line
        assert UNIT[answer["of"]] in ("", answer["unit"]), line
        if answer["of"] == "share":
            assert 0 <= answer["low"] <= answer["high"] <= 1, line
    assert seen == {*UNIT, "explanation"}


def test_parts_components_packs_and_cost_are_as_laid_down() -> None:
    for line, record in zip(lines(), records(), strict=True):
        for part in record["parts"]:
            assert list(part) == ["reads", "way", "castings", "share", "layer_mm"], line
            assert part["castings"] is None or amount(part["castings"]), line
        for component in record["components"]:
            assert list(component) == ["name", "litres"] and pair(component["litres"]), line
        for pack in record["packs"]:
            assert list(pack) == ["id", "name", "count"] and pack["count"] > 0, line
        if record["cost"] is not None:
            assert list(record["cost"]) == ["amount", "currency"], line
            assert Decimal(record["cost"]["amount"]) >= 0 and len(record["cost"]["currency"]) == 3, line


@pytest.mark.parametrize("name", TEXTS)
def test_notes_and_steps_are_whole(name: str) -> None:
    for line, record in zip(lines(), records(), strict=True):
        for one in record[name]:
            assert list(one) == TEXTS[name], line
            assert all(isinstance(text, str) for text in one.values()) and all(text for key, text in one.items() if key != "with"), line
            assert one.get("level", "note") in ("note", "caution", "warning"), line


def test_a_share_past_a_fifth_always_warns() -> None:
    met = 0
    for line, record in zip(lines(), records(), strict=True):
        if record["share"] is not None and record["share"][1] > 0.2 + 1e-9:
            met += 1
            assert any(advice["level"] == "warning" for advice in record["advice"]), line
    assert met > 30


def test_the_parts_make_the_whole() -> None:
    for line, record in zip(lines(), records(), strict=True):
        parts = [part["castings"] for part in record["parts"] if part["castings"] is not None]
        if parts and "applications together" not in str(record["assumed"]):
            for unit in ("litres", "kg"):
                whole = [sum(part[unit][end] for part in parts) for end in (0, 1)]
                assert record["castings"][unit] == pytest.approx(whole), line


def test_kilograms_rest_on_a_density_that_is_said() -> None:
    """Where castings are in the record, their weight was told with its density, or the density is listed as assumed."""
    for line, record in zip(lines(), records(), strict=True):
        if record["castings"] is None:
            continue
        assumed = {one["code"] for one in record["assumed"]}
        told = any(words in record["reads"] for words in (" weigh", "weighs", "per litre", "/"))
        assert assumed & {"default-density", "density-of-kilograms", "density-span", "shop-density"} or told, line


def test_what_is_out_of_any_scale_is_asked_about() -> None:
    for line in ("bed 4 by 9 ft 6 ft deep 10%", "100 acres top dress 1 inch", "300 lb of castings per plant for 20 tomatoes",
                 "side dress 5000000 tomatoes, 1 cup", "20000 beds 4 by 8 ft, 10 in deep, 10%"):  # fmt: skip
        record = json.loads(answer_line(1, line))
        assert (record["status"], record["answer"]) == ("asks", None), line
        assert "scale" in record["question"], line


def test_every_step_rests_on_a_declared_rule_and_says_it_as_it_is_declared() -> None:
    declared = {rule.id: rule for rule in (*every(), *whole_ones(), *told())}
    renamed = {"mix-is-volume", "soil-is-volume"}
    seen = set()
    for line, record in zip(lines(), records(), strict=True):
        for step in record["working"]:
            assert step["rule"] in declared.keys() - renamed, (line, step)
            rule = declared[step["rule"]]
            assert step["formula"].endswith(rule.formula), (line, step)
            assert step["source"] == rule.source or rule.id == "pack-choice", (line, step)
            seen.add(rule.id)
    assert {"whole-packs", "cost", "sum", "whole-ones", "left-over", "packs-for-money", "loads", "pack-choice"} <= seen
