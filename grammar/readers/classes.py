"""Nursery classes in words: "number 5 nursery containers", "six no. 5 pots", "nursery pots, class 5"."""

from __future__ import annotations

import re

from ..draft import Draft
from ..later import later
from ..phrases import Amount, Number, NurseryClass, Phrase, Said
from ..said import is_said, single

#: What stands before the number of a class. A "size" or a "number" alone may be anything, as in "row number 5".
_BEFORE = later(r"\b(number|no\.?|nr\.?|class|size|trade size)\s*$", re.IGNORECASE)
_NURSERY = ("nursery", "trade")
#: Phrases that such a word leaves behind.
_LEFT = ("class", "size", "trade size", "no.")


def find_classes(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with each number that is a nursery class made one."""
    found: list[Phrase] = []
    for at, phrase in enumerate(phrases):
        number = single(phrase)
        word = _BEFORE.search(draft.text[: phrase.start]) if type(number) is Number else None
        if type(number) is not Number or word is None or number.role or number.low != number.high or number.low != int(number.low):
            found.append(phrase)
            continue
        if found and type(found[-1]) is Said and found[-1].text.lower() in _LEFT:
            left: list[Phrase] = [found.pop()]
        else:
            left = []
        if _is_class(word[1].lower(), found, phrases[at + 1] if at + 1 < len(phrases) else None):
            found.append(Amount((NurseryClass(int(number.low), word.start(), number.end),), word.start(), number.end))
        else:
            found += [*left, phrase]
    return found


def _is_class(word: str, before: list[Phrase], after: Phrase | None) -> bool:
    """Whether pots of a nursery stand beside such a number, or so many pots of it."""
    if is_said(after, "container", "pot") and isinstance(after, Said):
        counted = bool(before) and type(single(before[-1])) is Number
        return counted or word == "class" or after.text.lower().startswith(_NURSERY)
    back = [phrase for phrase in before[-2:] if not is_said(phrase, "stop", "comma")]
    pots = back[-1] if back else None
    return is_said(pots, "container", "pot") and isinstance(pots, Said) and (word == "class" or pots.text.lower().startswith(_NURSERY))
