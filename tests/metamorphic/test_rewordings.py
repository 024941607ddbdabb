"""The same request in other words gives the same answer: each request of `requests.toml` in a dozen rewordings."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from fractions import Fraction
from functools import lru_cache
from pathlib import Path

import pytest

from assistant.answer import Answer
from assistant.ask import ask
from grammar.words import plural
from tests.wording import figure, in_words, mixed

REQUESTS: list[list[str]] = [
    phrases
    for group in tomllib.loads((Path(__file__).parent / "requests.toml").read_text(encoding="utf-8")).values()
    for phrases in group
]

#: How a unit is written short, long and in the plural.
SHORT = {
    "inch": "in", "foot": "ft", "centimetre": "cm", "millimetre": "mm", "metre": "m", "square_foot": "sq ft",
    "square_metre": "sq m", "litre": "L", "millilitre": "ml", "us_gallon": "US gal", "us_dry_quart": "dry qt",
    "cubic_foot": "cu ft", "cubic_yard": "cu yd", "us_cup": "cup", "gram": "g", "kilogram": "kg", "ounce": "oz", "pound": "lb",
    "percent": "%", "square_inch": "sq in", "square_centimetre": "sq cm", "cubic_inch": "cu in", "tablespoon": "tbsp",
    "cubic_metre": "m3",
}  # fmt: skip
LONG = {"us_gallon": "US gallon", "us_dry_quart": "dry quart", "us_cup": "cup"} | {
    name: name.replace("_", " ") for name in SHORT if not name.startswith("us_")
}

_INCH = Fraction("2.54")
#: The same amount in another unit of the same system, and in the other system: by exact definitions.
WITHIN = {
    "inch": ("foot", Fraction(1, 12)), "foot": ("inch", Fraction(12)), "centimetre": ("millimetre", Fraction(10)),
    "millimetre": ("centimetre", Fraction(1, 10)), "metre": ("centimetre", Fraction(100)),
    "square_foot": ("square_inch", Fraction(144)), "square_metre": ("square_centimetre", Fraction(10_000)),
    "litre": ("millilitre", Fraction(1000)), "millilitre": ("litre", Fraction(1, 1000)),
    "us_gallon": ("cubic_inch", Fraction(231)), "cubic_foot": ("cubic_inch", Fraction(1728)),
    "us_dry_quart": ("cubic_inch", Fraction("67.200625")), "cubic_yard": ("cubic_foot", Fraction(27)),
    "us_cup": ("tablespoon", Fraction(16)), "gram": ("kilogram", Fraction(1, 1000)), "kilogram": ("gram", Fraction(1000)),
    "ounce": ("pound", Fraction(1, 16)), "pound": ("ounce", Fraction(16)),
}  # fmt: skip
ACROSS = {
    "inch": ("centimetre", _INCH), "foot": ("centimetre", 12 * _INCH), "centimetre": ("inch", 1 / _INCH),
    "millimetre": ("inch", 1 / (10 * _INCH)), "metre": ("foot", 100 / (12 * _INCH)),
    "square_foot": ("square_metre", (12 * _INCH) ** 2 / 10_000), "square_metre": ("square_foot", 10_000 / (12 * _INCH) ** 2),
    "litre": ("us_gallon", 1000 / (231 * _INCH**3)), "millilitre": ("us_cup", 16 / (231 * _INCH**3)),
    "us_gallon": ("litre", 231 * _INCH**3 / 1000), "us_dry_quart": ("litre", Fraction("67.200625") * _INCH**3 / 1000),
    "cubic_foot": ("litre", 1728 * _INCH**3 / 1000), "cubic_yard": ("cubic_metre", 46656 * _INCH**3 / 1_000_000),
    "us_cup": ("millilitre", Fraction(231, 16) * _INCH**3), "gram": ("ounce", 1 / Fraction("28.349523125")),
    "kilogram": ("pound", 1 / Fraction("0.45359237")), "ounce": ("gram", Fraction("28.349523125")),
    "pound": ("kilogram", Fraction("0.45359237")),
}  # fmt: skip

Write = Callable[[Fraction, str], str]


def _short(value: Fraction, unit: str) -> str:
    return figure(value) + (f" {SHORT[unit]}" if unit else "")


def _long(value: Fraction, unit: str) -> str:
    """Figures with whole unit words, in the plural where there are several."""
    name = LONG.get(unit, "")
    many = {"inch": "inches", "foot": "feet"}
    last = name.rsplit(" ", 1)[-1]
    if name and value > 1 and unit != "percent":
        name = name.removesuffix(last) + (many.get(last) or plural(last))
    return f"{figure(value)} {name}".strip()


def _singular(value: Fraction, unit: str) -> str:
    return f"{figure(value)} {LONG.get(unit, '')}".strip()


def _words(value: Fraction, unit: str) -> str:
    return f"{in_words(value) or figure(value)} {SHORT.get(unit, '')}".strip()


def _fractions(value: Fraction, unit: str) -> str:
    return f"{mixed(value) or figure(value)} {SHORT.get(unit, '')}".strip()


def _decimals(value: Fraction, unit: str) -> str:
    return f"{float(value):.2f}{' ' + SHORT[unit]}" if unit and (value * 100).denominator == 1 else _short(value, unit)


def _hyphens(value: Fraction, unit: str) -> str:
    return f"{figure(value)}-{LONG[unit]}" if unit in ("inch", "foot", "litre") else _short(value, unit)


def _converted(table: dict[str, tuple[str, Fraction]]) -> Write:
    def write(value: Fraction, unit: str) -> str:
        other, factor = table.get(unit, (unit, Fraction(1)))
        exact = value * factor
        return f"{float(exact):.10f}".rstrip("0").rstrip(".") + (f" {SHORT[other]}" if other else "")

    return write


def _amounts(phrases: list[str], write: Write) -> list[str]:
    def one(found: re.Match[str]) -> str:
        number, _, unit = found[1].partition(" ")
        return write(Fraction(number), unit)

    return [re.sub(r"\{([^}]*)\}", one, phrase) for phrase in phrases]


def _joined(phrases: list[str], write: Write = _short, joint: str = ", ") -> str:
    return joint.join(_amounts(phrases, write))


REWORDINGS: dict[str, Callable[[list[str]], str]] = {
    "order turned round": lambda phrases: _joined(phrases[::-1]),
    "first phrase last": lambda phrases: _joined([*phrases[1:], phrases[0]]),
    "capitals": lambda phrases: _joined(phrases).upper(),
    "numbers in words": lambda phrases: _joined(phrases, _words),
    "numbers as fractions": lambda phrases: _joined(phrases, _fractions),
    "numbers with decimals": lambda phrases: _joined(phrases, _decimals),
    "whole unit words": lambda phrases: _joined(phrases, _long),
    "units in the singular": lambda phrases: _joined(phrases, _singular),
    "other units": lambda phrases: _joined(phrases, _converted(WITHIN)),
    "the other system": lambda phrases: _joined(phrases, _converted(ACROSS)),
    "filler": lambda phrases: f"Hi there, good morning! {_joined(phrases)}, please. Thanks a lot",
    "semicolons": lambda phrases: _joined(phrases, joint="; "),
    "sentences": lambda phrases: _joined(phrases, joint=". ") + "?",
    "hyphens": lambda phrases: _joined(phrases, _hyphens),
}


def figures(answer: Answer) -> list[float]:
    """Every figure of an answer, in an order that is always the same."""
    asked = answer.answer
    found: list[float | None] = [asked.low, asked.high] if asked else []
    if answer.castings is not None:
        found += [*answer.castings.litres, *answer.castings.kg]
    for pair in (answer.share, answer.layer_mm):
        found += pair or (0.0, 0.0)
    found += [one for component in answer.components for one in component.litres]
    found += [float(pack.count) for pack in answer.packs]
    return [one or 0.0 for one in found]


def labels(answer: Answer) -> tuple[object, ...]:
    warned = any(one.level == "warning" for one in answer.advice)
    return answer.status, answer.way, answer.answer.of if answer.answer else None, warned, len(answer.parts)


answered = lru_cache(maxsize=None)(ask)


@pytest.mark.parametrize("phrases", REQUESTS, ids=lambda phrases: _joined(phrases))
@pytest.mark.parametrize("how", REWORDINGS)
def test_the_same_answer(phrases: list[str], how: str) -> None:
    plain, said = _joined(phrases), REWORDINGS[how](phrases)
    first, other = answered(plain), ask(said)
    assert first.status == "answered", f"{plain}: {first.question}"
    assert labels(other) == labels(first), f"{said}: {other.reads}: {other.question}"
    assert figures(other) == pytest.approx(figures(first), rel=1e-6), f"{said}: {other.reads}"


@pytest.mark.parametrize("phrases", REQUESTS, ids=lambda phrases: _joined(phrases))
def test_a_dash_is_a_pause_or_asked_about(phrases: list[str]) -> None:
    """A dash between two amounts may be a span: it is asked about where it may, and never changes a figure."""
    said = _joined(phrases, joint=" - ")
    first, other = answered(_joined(phrases)), ask(said)
    if other.status == "answered":
        assert labels(other) == labels(first), f"{said}: {other.reads}"
        assert figures(other) == pytest.approx(figures(first), rel=1e-6), f"{said}: {other.reads}"


def test_there_are_enough() -> None:
    assert len(REQUESTS) >= 100
    assert len(REWORDINGS) >= 10


def test_a_rewording_changes_something() -> None:
    """A rewording that left most requests as they are would prove nothing."""
    for how, reword in REWORDINGS.items():
        changed = sum(1 for phrases in REQUESTS if reword(phrases) != _joined(phrases))
        assert changed >= (15 if how == "numbers as fractions" else 50), how
