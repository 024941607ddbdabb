"""Two places of one size and two depths: "two beds 3 by 6 ft, one is 10 inches deep and the other 14 inches deep"."""

from __future__ import annotations

import re

from ...draft import Draft
from ...later import later
from ...phrases import Amount, Measure, Number, Phrase, Said
from ...said import Waits, dimension, is_said, past_describing, single
from ...things import is_ground_size, whole

#: What this reader waits for: so many places, and depths.
ONE_AND_OTHER: Waits = (frozenset({Number}), frozenset({Measure}), frozenset({"ground", "container"}))
_ONE = later(r"\b(?:one(?: of them)?|the first)(?: one| bed| box| planter)?(?:,? (?:is|at|being))?(?: about| only)?(?: an?)?\s+$", re.IGNORECASE)
_OTHER = later(r"\b(?:the other|the second|and one)(?: one| bed| box| planter)?(?:,? (?:is|at|being))?(?: about| only)?(?: an?)?\s+$", re.IGNORECASE)


def find_one_and_other(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with each of the two told in full: its size and its depth."""
    depths = [at for at, p in enumerate(phrases) if _is_depth(p)]
    if len(depths) != 2 or not any(_one(phrases[at]).role == "depth" for at in depths):
        return phrases
    first, second = depths
    if not _ONE.search(draft.text[: phrases[first].start]) or not _OTHER.search(draft.text[: phrases[second].start]):
        return phrases
    head = _head(phrases[:first])
    if head is None:
        return phrases
    count_at, size_at, noun_at = head
    count, size, noun = phrases[count_at], phrases[size_at], phrases[noun_at]
    number = single(count)
    assert type(number) is Number and type(size) is Amount and isinstance(noun, Said)
    one = Amount((number._replace(low=1.0, high=1.0),), number.start, number.end)
    named = noun._replace(text=noun.id)
    place = phrases[second].start
    again: list[Phrase] = [Said("link", "and", "and", place, place), one, size, named]
    gone = {at for at in range(first) if is_said(phrases[at], "link", "each", "is") or is_said(phrases[at], "ordinal")}
    gone |= {at for at in range(first + 1, second) if is_said(phrases[at], "link", "and", "is", "but") or is_said(phrases[at], "ordinal") or is_said(phrases[at], "stop")}
    made: list[Phrase] = []
    for at, phrase in enumerate(phrases):
        if at == second:
            made += again
        if at == count_at:
            made.append(one)
        elif at == noun_at:
            made.append(named)
        elif at in depths:
            made.append(Amount((_one(phrase)._replace(role="depth"),), phrase.start, phrase.end))
        elif at not in gone:
            made.append(phrase)
    return made


def _is_depth(phrase: Phrase) -> bool:
    one = single(phrase)
    return type(one) is Measure and one.per is None and one.role in ("", "depth") and dimension(one) == "length"


def _one(phrase: Phrase) -> Measure:
    one = single(phrase)
    assert type(one) is Measure
    return one


def _head(phrases: list[Phrase]) -> tuple[int, int, int] | None:
    """Where two places are counted, sized and named, in any order; None where anything else is told of a size before."""
    counts = [at for at, p in enumerate(phrases) if whole(p)]
    sizes = [at for at, p in enumerate(phrases) if is_ground_size(p)]
    nouns = [at for at, p in enumerate(phrases) if is_said(p, "ground") or is_said(p, "container")]
    if len(counts) != 1 or whole(phrases[counts[0]]) != 2 or len(sizes) != 1 or len(nouns) != 1:
        return None
    near = past_describing(phrases, counts[0] + 1)
    return (counts[0], sizes[0], nouns[0]) if near in (nouns[0], sizes[0]) else None
