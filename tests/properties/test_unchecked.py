"""What is made without a check is what a check would have let through, at every request of the test data."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from pydantic import BaseModel, ValidationError

from assistant.answer import Answer, Asked
from assistant.ask import ask
from grammar.gather import gather
from grammar.query import Place, Shape
from grammar.settle import settle
from grammar.unchecked import unchecked

REQUESTS = Path(__file__).parent.parent / "requests"


def _lines() -> list[str]:
    found: dict[str, None] = {}
    for path in sorted(REQUESTS.glob("*.toml")):
        found.update((case["say"], None) for case in tomllib.loads(path.read_text(encoding="utf-8")).get("case", ()))
    return list(found)


def _models(one: object) -> Iterator[BaseModel]:
    """A model and every model in it, the inner ones first."""
    if isinstance(one, BaseModel):
        for part in one.__dict__.values():
            yield from _models(part)
        yield one
    elif type(one) in (tuple, list):
        for part in one:  # type: ignore[attr-defined]
            yield from _models(part)


def _unlike(whole: BaseModel) -> list[str]:
    """The models within one that a check would refuse or change."""
    found = []
    for one in _models(whole):
        checked = type(one)(**one.__dict__)
        if _told(checked) != _told(one):
            found.append(f"{one!r} would be {checked!r}")
    return found


def _told(model: BaseModel) -> list[str]:
    """The fields of a model in their order, each with its value told to the type: 3 is not 3.0."""
    return [f"{name} {_value(value)}" for name, value in model.__dict__.items()]


def _value(one: object) -> str:
    if isinstance(one, BaseModel):
        return type(one).__name__  # what is in it is told by itself
    if type(one) is tuple:
        return f"({', '.join(_value(part) for part in one)})"
    return repr(sorted(one) if isinstance(one, frozenset) else one)


def test_every_query_and_answer_is_sound() -> None:
    lines = _lines()
    assert len(lines) > 2000
    assert [line for line in lines if _unlike(settle(gather(line))) or _unlike(ask(line))] == []


def test_an_unsound_one_would_be_found() -> None:
    made = unchecked(Answer)(request="", status="answered", reads="", answer=unchecked(Asked)(of="castings", low=3, high=3.0, unit="L"))
    assert _unlike(made) == ["Asked(of='castings', low=3, high=3.0, unit='L') would be Asked(of='castings', low=3.0, high=3.0, unit='L')"]
    with pytest.raises(ValidationError):
        _unlike(unchecked(Shape)(form="heap"))  # type: ignore[arg-type]


def test_each_has_parts_of_its_own_and_is_like_a_checked_one() -> None:
    one, other = unchecked(Shape)(form="none"), unchecked(Shape)(form="none")
    assert one == other == Shape(form="none") and one.dims is not other.dims
    place = unchecked(Place)(noun="bed")
    assert place == Place(noun="bed") and place.model_copy(update={"noun": "lawn"}) == Place(noun="lawn") and place.noun == "bed"
    with pytest.raises(ValidationError):
        place.noun = "lawn"  # type: ignore[misc]
