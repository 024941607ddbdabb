"""One place for each of some people: "the 3 kids each get a 2 by 2 ft plot", "each of my 4 grandkids has a 3 by 3 ft bed"."""

from __future__ import annotations

import re

from ...draft import Draft
from ...later import later
from ...phrases import Amount, Measure, Number, Phrase, Said
from ...said import Waits, dimension, is_said, past_describing, single
from ...things import is_ground_size, whole

ONE_APIECE: Waits = (frozenset({("other-thing", "person")}), frozenset({("link", "each")}), frozenset({Number}), frozenset({"ground", "container"}))
_ONE = later(r"\b(?:an?|one|(?:their|his|her) own)\s+(?:\w+\s+)?$", re.IGNORECASE)


def find_one_apiece(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with as many places as there are people; the reading says so."""
    for at in range(len(phrases) - 2):
        many = whole(phrases[at])
        if many < 2 or not is_said(phrases[at + 1], "other-thing", "person"):
            continue
        first = at - 1 if at and is_said(phrases[at - 1], "link", "each") else at
        here = at + 2
        each = first < at
        while here < len(phrases) and (is_said(phrases[here], "link", "each", "with", "on-hand", "is") or is_said(phrases[here], "is")):
            each = each or is_said(phrases[here], "link", "each")
            here += 1
        noun_at = _place(phrases, here)
        if not each or noun_at < 0 or not _ONE.search(draft.text[: phrases[here].start]) or any(is_said(p, "link", "each") for p in phrases[noun_at:]):
            continue
        said = draft.text[phrases[first].start : phrases[noun_at].end].strip()
        draft.flags.append(("one-apiece", f"“{said}”: {many:g} in all"))
        start = phrases[here].start
        return [*phrases[:first], Amount((Number(many, many, start, start),), start, start), *phrases[here:]]
    return phrases


def _place(phrases: list[Phrase], at: int) -> int:
    """Where a place of one size is named, its size before its name or after: "2 by 2 ft plot", "a plot 2 by 2 ft"; -1 where there is none."""
    if at >= len(phrases):
        return -1
    if _size(phrases[at]):
        noun = past_describing(phrases, at + 1)
        return noun if noun < len(phrases) and _named(phrases[noun]) else -1
    noun = past_describing(phrases, at)
    return noun if noun < len(phrases) and _named(phrases[noun]) else -1


def _size(phrase: Phrase) -> bool:
    one = single(phrase)
    return is_ground_size(phrase) or (type(one) is Measure and one.per is None and dimension(one) in ("volume", "length"))


def _named(phrase: Phrase) -> bool:
    return type(phrase) is Said and phrase.kind in ("ground", "container") and not phrase.text.lower().endswith("s")
