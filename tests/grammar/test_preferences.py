"""Preferences between readings: how they are weighed, and that a broken file is refused."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from pydantic import ValidationError

import grammar
from grammar import preferences
from grammar.preferences import weigh

SHIPPED = Path(grammar.__file__).parent / "vocabulary" / "preferences.toml"

GOOD = """
lead = 2
length = [{ reading = "layer", signs = ["thin", "not deep"], points = 5, why = "thin things are layers" },
          { reading = "depth", signs = ["deep"], points = 4, why = "deep things are depths" },
          { reading = "depth", signs = ["bed"], points = 4, why = "beds are spoken of by depth" }]
volume = []
weight = []
way = []
number = []
"""


@pytest.fixture
def use(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[object]:
    """Makes the reader use another preferences file."""
    (tmp_path / "vocabulary").mkdir()
    monkeypatch.setattr(preferences, "files", lambda _: tmp_path)

    def put(text: str) -> None:
        (tmp_path / "vocabulary" / "preferences.toml").write_text(text, encoding="utf-8")
        forget()

    def forget() -> None:
        preferences._loaded.cache_clear()
        preferences._weighed.cache_clear()

    forget()
    yield put
    forget()


def test_points_are_added_and_the_lead_decides(use: object) -> None:
    use(GOOD)  # type: ignore[operator]
    assert weigh("length", {"thin"}).clear == "layer"
    assert weigh("length", {"deep"}).clear == "depth"
    assert weigh("length", {"thin", "bed"}).clear == ""  # 5 against 4: closer than the lead
    assert weigh("length", {"deep", "bed"}).readings == (("depth", 8, "deep things are depths"),)


def test_an_absent_sign_and_a_barred_reading(use: object) -> None:
    use(GOOD)  # type: ignore[operator]
    assert weigh("length", {"thin", "deep"}).clear == "depth"
    assert weigh("length", {"thin"}, {"layer"}).readings == ()
    assert weigh("length", set()).clear == ""


@pytest.mark.parametrize(
    ("broken", "named"),
    [
        (GOOD.replace("lead = 2", "lead = 0"), "lead"),
        (GOOD.replace("lead = 2\n", ""), "lead"),
        (GOOD.replace("way = []", ""), "way"),
        (GOOD.replace("weight = []", 'weight = []\ncolour = "red"'), "colour"),
        (GOOD.replace("points = 5", "points = 0"), "points"),
        (GOOD.replace("points = 5", "points = 11"), "points"),
        (GOOD.replace('signs = ["deep"]', "signs = []"), "signs"),
        (GOOD.replace('why = "thin things are layers"', 'why = "thin"'), "why"),
        (GOOD.replace("points = 4, ", "", 1), "points"),
        (GOOD.replace("points = 5", "points = 5, weight = 3"), "weight"),
    ],
)
def test_a_broken_file_is_refused(use: object, broken: str, named: str) -> None:
    assert broken != GOOD
    use(broken)  # type: ignore[operator]
    with pytest.raises(ValidationError, match=named):
        weigh("length", {"thin"})


def test_a_file_that_is_no_toml_is_refused(use: object) -> None:
    use("lead = = 2")  # type: ignore[operator]
    with pytest.raises(tomllib.TOMLDecodeError):
        weigh("length", {"thin"})


def test_the_shipped_file_says_each_thing_once() -> None:
    read = tomllib.loads(SHIPPED.read_text(encoding="utf-8"))
    for table in ("length", "volume", "weight", "way", "number"):
        lines = [(line["reading"], frozenset(line["signs"])) for line in read[table]]
        assert len(lines) == len(set(lines)), table
        for line in read[table]:
            signs = set(line["signs"])
            assert not {f"not {sign}" for sign in signs} & signs, f"{table}: {line['why']} can never hold"


def test_every_sign_is_one_that_the_reader_makes() -> None:
    """A sign that nothing makes would be a line that never counts (or always, after "not")."""
    sources = "".join(path.read_text(encoding="utf-8") for path in Path(grammar.__file__).parent.rglob("*.py"))
    read = tomllib.loads(SHIPPED.read_text(encoding="utf-8"))
    lines = [line for table in ("length", "volume", "weight", "way") for line in read[table]]  # of "number": test_bare_numbers.py
    signs = {sign.removeprefix("not ") for line in lines for sign in line["signs"]}
    missing = {sign for sign in signs if f'"{sign}"' not in sources and not sign.startswith(("way ", "awaits "))}
    assert not missing


