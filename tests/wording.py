"""Ways of writing one amount, for tests that say the same thing in other words."""

from __future__ import annotations

import tomllib
from fractions import Fraction
from functools import lru_cache
from importlib.resources import files

_SMALL = [
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "thirteen",
    "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
]  # fmt: skip
_TENS = ["", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
_UNDER = {2: "half", 3: "third", 4: "quarter", 8: "eighth"}


def words(value: int) -> str:
    """A whole number below ten thousand in words: "one hundred and twenty-five"."""
    if value < 20:
        return _SMALL[value]
    if value < 100:
        tens, ones = divmod(value, 10)
        return _TENS[tens] + (f"-{_SMALL[ones]}" if ones else "")
    if value < 1000:
        hundreds, rest = divmod(value, 100)
        return f"{_SMALL[hundreds]} hundred" + (f" and {words(rest)}" if rest else "")
    thousands, rest = divmod(value, 1000)
    joint = " and " if 0 < rest < 100 else " "
    return f"{words(thousands)} thousand" + (joint + words(rest) if rest else "")


def figure(value: Fraction) -> str:
    """A number in figures, as a decimal with up to six places."""
    return f"{float(value):.6f}".rstrip("0").rstrip(".")


def mixed(value: Fraction) -> str | None:
    """ "2 1/2", or None where the number has no common fraction."""
    whole, part = divmod(value, 1)
    if not part or part.denominator not in _UNDER:
        return None
    return f"{whole} {part}" if whole else str(part)


def in_words(value: Fraction) -> str | None:
    """ "two and a half", "three quarters", or None where nobody would say it so."""
    whole, part = divmod(value, 1)
    if whole >= 10_000:
        return None
    if not part:
        return words(int(whole))
    if part.denominator not in _UNDER:
        return None
    under, many = _UNDER[part.denominator], part.numerator
    if many == 1:
        said = "half" if under == "half" else f"{'an' if under == 'eighth' else 'a'} {under}"
        return f"{words(int(whole))} and {'a half' if under == 'half' else said}" if whole else said
    said = f"{_SMALL[many]} {under}s"
    return f"{words(int(whole))} and {said}" if whole else said


#: Spellings that `units.toml` cannot hold, since they mean other things elsewhere in a line.
_ALSO = {"inch": ["in"], "metre": ["m"], "litre": ["l"], "gram": ["g"]}
#: Spellings that are left to the tests of single words: they need a certain word beside them.
_NOT_HERE = {"mil", "inchs", "feets", "cubic foots", "cups of"}


@lru_cache(maxsize=1)
def _units() -> dict[str, list[str]]:
    text = (files("grammar") / "vocabulary" / "units.toml").read_text(encoding="utf-8")
    table: dict[str, list[str]] = tomllib.loads(text)["unit"]
    return table


@lru_cache(maxsize=64)
def unit_spellings(name: str) -> tuple[str, ...]:
    """Every way the vocabulary writes a unit that stands for that unit alone."""
    return tuple(one for one in (*_units()[name], *_ALSO.get(name, ())) if one not in _NOT_HERE)


@lru_cache(maxsize=256)
def spellings(kind: str, name: str) -> tuple[str, ...]:
    """Every way the vocabulary's `things.toml` writes a place or thing."""
    text = (files("grammar") / "vocabulary" / "things.toml").read_text(encoding="utf-8")
    return tuple(tomllib.loads(text)[kind][name])
