"""Signs and unit marks written out as words, so that a screen reader says them rightly."""

from __future__ import annotations

import re
from functools import lru_cache

from grammar.words import Word, vocabulary

from .units import SYMBOL

_SIGNS = (("×", " times "), ("÷", " divided by "), ("−", " minus "), ("=", " equals "), ("≥", " at least "), ("≤", " at most "))
_ONE_WORD = {"foot": "feet", "inch": "inches", "percent": "percent"}
_NATIONS = {"us": "US"}


def _written(name: str) -> tuple[str, str]:
    """A unit's name for one and for many: ("cubic foot", "cubic feet")."""
    words = [_NATIONS.get(word, word) for word in name.split("_")]
    if SYMBOL[name] == words[-1]:
        words = words[-1:]  # the mark is the word already: "cup", "ton"
    last = words[-1]
    many = _ONE_WORD.get(last, last if last.endswith("s") else last + "s")
    return " ".join(words), " ".join([*words[:-1], many])


@lru_cache(maxsize=1)
def _marks() -> tuple[re.Pattern[str], re.Pattern[str], dict[str, tuple[str, str]]]:
    """What finds a figure with its mark, what finds a mark behind "per", and the words for each mark."""
    names: dict[str, tuple[str, str]] = {}
    for name, mark in SYMBOL.items():
        if mark:
            names.setdefault(mark, _written(name))
    either = "|".join(re.escape(mark) for mark in sorted(names, key=len, reverse=True))
    packs = "|".join(sorted({re.escape(one.printed) for one in vocabulary().single.values() if isinstance(one, Word) and one.kind == "pack"}))
    figure = rf"(?<![\w.,])(\d[\d.,]*) ({either})(?:/({either}))?(?![\w²³])(?: ({packs})\b)?"
    return re.compile(figure), re.compile(rf"\bper ({either})(?![\w²³])"), names


def aloud(text: str) -> str:
    """The text with "4.5 cu ft", "0.6 kg/L", "10 %" and "×" in words.

    "4.5 cubic feet", "0.6 kilograms per litre", "10 percent", "times"; of a pack "40 pound bag".
    """
    figures, per, names = _marks()

    def words(found: re.Match[str]) -> str:
        figure, mark, over, pack = found.groups()
        one, many = names[mark]
        text = f"{figure} {one if figure == '1' or pack else many}"
        text = f"{text} per {names[over][0]}" if over else text
        return f"{text} {pack}" if pack else text

    text = figures.sub(words, text)
    text = per.sub(lambda found: f"per {names[found.group(1)][0]}", text)
    for sign, word in _SIGNS:
        text = text.replace(sign, word)
    return re.sub(r"  +", " ", text)
