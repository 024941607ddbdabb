"""A contributor adds a component, a container class or a caution by one edit of a data file, and it works."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

import assistant.knowledge
import assistant.knowledge.shelf as shelf
from assistant.ask import ask
from assistant.knowledge import Facts, facts
from assistant.knowledge.checking import check

#: Every module that asks for the facts by their function.
_USERS = (
    "backwards", "beside", "brings", "conversation", "dimensions", "engine", "fill", "judge", "products", "remarks", "season", "teas", "work",
)  # fmt: skip

Edited = Callable[[str, str], Facts]


@pytest.fixture
def edited(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Edited]:
    """Gives the program a copy of the knowledge base with a table put at the end of one of its files."""
    import importlib

    from assistant import judge

    def edit(file: str, table: str) -> Facts:
        folder = tmp_path / "knowledge"
        shutil.copytree(Path(shelf.__file__).parent, folder, ignore=shutil.ignore_patterns("*.py", "__pycache__"))
        with (folder / file).open("a", encoding="utf-8") as out:
            out.write(table)
        base = Facts(folder)
        check(base)
        for name in _USERS:
            module = importlib.import_module(f"assistant.{name}")
            if hasattr(module, "facts"):
                monkeypatch.setattr(module, "facts", lambda: base)
        judge.said_for.cache_clear()
        return base

    yield edit
    judge.said_for.cache_clear()


def test_a_container_class(edited: Edited) -> None:
    assert ask("12 #4 pots, 10%").status == "asks"
    table = """
[nursery-4]
name = "#4 nursery pot"
kind = "nursery class"
volume = { low = 700, high = 800, unit = "cubic_inch" }
standing = "common practice"
"""
    edited("containers.toml", table)
    answer = ask("12 #4 pots, 10%")
    # 12 x 700 to 800 cu in x 0.1 = 840 to 960 cu in
    assert answer.castings is not None and answer.castings.litres == pytest.approx((13.7651, 15.7316), rel=1e-4)
    assert any("#4" in one.text for one in answer.assumed)


def test_a_tray(edited: Edited) -> None:
    assert ask("2 104-cell trays of seed mix").status == "asks"
    table = """
[tray-104]
name = "104-cell tray"
kind = "tray"
cells = 104
volume = { value = 30, unit = "millilitre" }
standing = "common practice"
"""
    edited("containers.toml", table)
    answer = ask("2 104-cell trays of seed mix at 10%")
    assert answer.castings is not None and answer.castings.litres == pytest.approx((0.624, 0.624))


def test_a_caution(edited: Edited) -> None:
    table = """
[gate]
level = "caution"
text = "Shut the gate, or the dog rolls in it; wait {top-dress.apart} before the next."
applies = ["lawn"]
standing = "common practice"
"""
    request = "top dress a lawn of 400 sq ft with 1/4 inch"
    assert "gate" not in {one.code for one in ask(request).advice}
    edited("cautions.toml", table)
    told = {one.code: one for one in ask(request).advice}
    assert "6 to 8 weeks" in told["gate"].text
    assert "gate" not in {one.code for one in ask("top dress a 4x8 ft bed half an inch").advice}


def test_a_component(edited: Edited) -> None:
    table = """
[pumice-dust]
name = "pumice dust"
dry = { low = 0.5, high = 0.8, unit = "kilogram / litre", standing = "common practice" }
note = "Only an example."
"""
    base = edited("components.toml", table)
    added = base.component("pumice-dust")
    assert added is not None and added.dry is not None and added.dry.span.low == 0.5
    from assistant.listing import rules

    assert "pumice dust" in rules(base)
    assert facts().component("pumice-dust") is None


@pytest.fixture
def said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Callable[[str, str, str], None]]:
    """Gives the reader a copy of its vocabulary with a line put under one table of one of its files."""
    from grammar import words

    class Fresh:
        def load(self) -> object:
            return words._to_plain()

    def edit(file: str, table: str, line: str) -> None:
        folder = tmp_path / "grammar" / "vocabulary"
        shutil.copytree(Path(words.__file__).parent / "vocabulary", folder)
        text = (folder / file).read_text(encoding="utf-8")
        assert f"[{table}]\n" in text
        (folder / file).write_text(text.replace(f"[{table}]\n", f"[{table}]\n{line}\n", 1), encoding="utf-8")
        monkeypatch.setattr(words, "package_file", lambda *names: folder.parent.joinpath(*names))
        monkeypatch.setattr(words, "WORDS", Fresh())
        words.vocabulary.cache_clear()
        words._printed.cache_clear()

    yield edit
    monkeypatch.undo()
    words.vocabulary.cache_clear()
    words._printed.cache_clear()


def test_a_component_in_a_recipe(said: Callable[[str, str, str], None]) -> None:
    request = "50% kelp flakes, 40% coir, 10% castings, 20 L"
    before = ask(request)
    assert "kelp-flakes" not in {one.name for one in before.components}
    said("things.toml", "component", 'kelp-flakes = ["kelp flakes", "dried kelp flakes"]')
    answer = ask(request)
    parts = {one.name: one.litres[0] for one in answer.components}
    assert parts == pytest.approx({"kelp-flakes": 10.0, "coir": 8.0, "castings": 2.0})
    assert {one.name for one in ask(answer.reads).components} == parts.keys()


def test_a_component_calls_for_its_caution(said: Callable[[str, str, str], None], edited: Edited) -> None:
    """What is known of a component is one more table: its weight, and the cautions that it calls for."""
    request = "50% kelp flakes, 40% leaf mould, 10% castings, 20 L"
    said("things.toml", "component", 'kelp-flakes = ["kelp flakes"]')
    assert "dust" not in {one.code for one in ask(request).advice}
    table = """
[kelp-flakes]
name = "kelp flakes"
note = "Only an example."
raises = ["dusty-component"]
"""
    edited("components.toml", table)
    assert "dust" in {one.code for one in ask(request).advice}


def test_the_program_s_own_facts_are_untouched() -> None:
    assert assistant.knowledge.facts() is facts()
    assert facts().container("nursery-4") is None
