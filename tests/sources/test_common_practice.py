"""Facts of common practice, written out once more by hand: `common_practice.toml`. None of them claims to be published."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from assistant.knowledge import facts
from assistant.listing import rules
from grammar.quantities import registry

FACTS = tomllib.loads((Path(__file__).parent / "common_practice.toml").read_text(encoding="utf-8"))["fact"]
LISTED = " ".join(rules().split())


@pytest.mark.parametrize("fact", FACTS, ids=lambda fact: fact["id"])
def test_a_fact_of_common_practice(fact: dict[str, Any]) -> None:
    found = facts().rate(fact["id"])
    for name in ("low", "typical", "high"):
        if name in fact:
            value = registry().Quantity(getattr(found, name), found.unit).to(fact["unit"])
            assert value.magnitude == pytest.approx(fact[name], rel=5e-6), name
    assert ("typical" in fact) == (found.typical is not None and found.low != found.high)
    assert found.standing == "common practice"
    assert f"name: {found.id} standing: common practice source: {facts().cite(found)}" in LISTED


def test_there_are_enough_of_them() -> None:
    assert len({fact["id"] for fact in FACTS}) == len(FACTS) >= 40


def test_every_fact_has_one_of_three_standings() -> None:
    """The scale of a sane request (`limits`) is the program's own; it is counted apart from the trade's practice."""
    practice = [id for id, fact in facts().rates().items() if fact.standing == "common practice" and not id.startswith("limits.")]
    assert len(practice) >= 60
    every = [*facts().rates().values(), *facts().containers().values(), *facts().components().values(),
             *facts().explanations().values(), *facts().cautions().values(), *facts().plants().values(),
             *facts().glossary().values()]  # fmt: skip
    assert {one.standing for one in every} == {"published", "common practice", "from memory"}
