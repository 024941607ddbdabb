"""The demo conversations: said again word for word, and their figures against hand-worked ones.

That a reply is as it was written blesses no number; the figures below were worked out by hand from exact unit
definitions (1 cu ft = 28.316847 L, 1 US cup = 0.2365882 L, 1 US dry quart = 1.1012209 L) and apart from the program.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from assistant.chat.talk import Talk
from assistant.replay import LOOK, Turn, differences, read

DEMO = Path(__file__).parents[1] / "transcripts_demo"
TALKS = sorted(DEMO.glob("*.talk"))
FIRST_VISITS = [path for path in TALKS if path.name.startswith("first-")]
WORKED = tomllib.loads((Path(__file__).parent / "transcripts_by_hand.toml").read_text(encoding="utf-8"))


def _turns(path: Path) -> list[Turn]:
    return [item for item in read(path.read_text(encoding="utf-8")) if isinstance(item, Turn)]


@pytest.mark.parametrize("path", TALKS, ids=lambda path: path.stem)
def test_every_reply_is_as_written(path: Path) -> None:
    assert differences(path.read_text(encoding="utf-8"), path.name) == []


def test_there_are_conversations_of_a_garden_and_of_a_shop() -> None:
    assert len([path for path in TALKS if path.name.startswith(("garden-", "shop-"))]) >= 6
    assert {path.name.partition("-")[0] for path in TALKS} == {"first", "garden", "shop"}


def test_ten_jobs_take_a_novice_three_lines_at_the_most() -> None:
    assert len(FIRST_VISITS) >= 10
    assert len({WORKED[path.stem][-1]["way"] for path in FIRST_VISITS}) >= 6, "the jobs are of different kinds"
    for path in FIRST_VISITS:
        assert 1 <= len(_turns(path)) <= 3, path.name


@pytest.mark.parametrize("stem", sorted(path.stem for path in TALKS))
def test_the_figures_are_those_worked_by_hand(stem: str) -> None:
    worked = {one["say"]: one for one in WORKED[stem]}
    talk = Talk(LOOK, may_write=False)
    checked = set()
    for turn in _turns(DEMO / f"{stem}.talk"):
        before = talk.last
        talk.reply(turn.said)
        answer = talk.judged or talk.last
        is_new = talk.judged is not None or talk.last is not before
        expected: dict[str, Any] | None = worked.get(turn.said)
        if expected is None:
            figures = is_new and answer is not None and answer.castings is not None
            again = turn.said in ("why?", "undo") or turn.said.startswith("call it")
            assert not figures or again, f"{turn.said}: its figures are worked out nowhere"
            continue
        assert answer is not None and is_new, turn.said
        if "litres" in expected:
            assert answer.castings is not None
            assert answer.castings.litres == pytest.approx(expected["litres"], rel=1e-4), turn.said
        if "value" in expected:
            assert answer.answer is not None
            assert [answer.answer.low, answer.answer.high] == pytest.approx(expected["value"], rel=1e-4), turn.said
        if "share" in expected:
            assert answer.share == pytest.approx(expected["share"], rel=1e-4), turn.said
        if "cost" in expected:
            assert answer.cost is not None and answer.cost.amount == expected["cost"], turn.said
        if "way" in expected:
            assert (answer.way or "") == expected["way"], turn.said
        if "verdict" in expected:
            assert answer.figure == expected["verdict"], turn.said
        warned = any(advice.level == "warning" for advice in answer.advice)
        assert warned is expected.get("warn", False), turn.said
        checked.add(turn.said)
    assert checked == worked.keys(), "every figure worked by hand was looked at"
