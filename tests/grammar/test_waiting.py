"""Readers that wait for what they are for: a line that they are not run over reads the same when they are.

Nobody who changes a reader has to think of what it waits for: every request of the test data is read as it is, and
once more with all readers run.
"""

from __future__ import annotations

import sys
import tomllib
from pathlib import Path

import pytest

from grammar.gather import gather
from grammar.said import kinds_of

REQUESTS = Path(__file__).parent.parent / "requests"


class Everything(set[object]):
    """The kinds of a line in which every kind of phrase stands."""

    def __contains__(self, _one: object) -> bool:
        return True

    def __and__(self, others: object) -> object:  # type: ignore[override]
        return others

    def __bool__(self) -> bool:
        return True

    def isdisjoint(self, _others: object) -> bool:
        return False


def _lines() -> list[str]:
    found: dict[str, None] = {}
    for path in sorted(REQUESTS.glob("*.toml")):
        table = tomllib.loads(path.read_text(encoding="utf-8"))
        found.update((case["say"], None) for case in table.get("case", ()))
        found.update((turn["say"], None) for talk in table.get("conversation", ()) for turn in talk["turns"])
    return list(found)


@pytest.mark.parametrize("leaning", [False, True])
def test_no_reader_is_missed_where_it_waits(monkeypatch: pytest.MonkeyPatch, leaning: bool) -> None:
    lines = _lines()
    assert len(lines) > 2000
    waiting = [gather(line, leaning=leaning) for line in lines]
    modules = [one for name, one in sys.modules.items() if name.startswith("grammar.") and getattr(one, "kinds_of", None) is kinds_of]
    assert {"grammar.said", "grammar.gather"} <= {one.__name__ for one in modules}
    for module in modules:
        monkeypatch.setattr(module, "kinds_of", lambda _phrases: Everything())
    missed = [line for line, draft in zip(lines, waiting, strict=True) if gather(line, leaning=leaning) != draft]
    assert missed == []
