"""One of several that differs: "4 beds 3 by 6 ft, 12 inches deep except one that is 6 inches", "six 20 L pots at 10%, one of them at 15%".

It is told as a place of its own with the size of the others, and they are so many fewer. Only where what it is told has its
like in what the others are told; elsewhere the line stays as it is.
"""

from __future__ import annotations

import re

from ..draft import Draft
from ..later import later
from ..parse import parse
from ..phrases import Amount, Measure, Number, Phrase, Said, Share
from ..said import Waits, dimension, is_said, is_sides, past_describing, single
from ..things import whole

#: Several of one size, and a word that sets one apart.
ODD_ONE: Waits = (frozenset({Number}), frozenset({"ground", "container"}), frozenset({"deny", ("link", "but"), ("reply", "one-of-them")}))

#: "but one is", where the one has no phrase of its own.
_BUT_ONE = later(r"\b(?:but|except|only)(?: for| that)? one\s+(?:of them )?(?:is|that is|that's|which is|has|at|gets|needs)\b", re.IGNORECASE)

_GETS = later(r"\b(?:gets?|needs?|takes?|receives?|with|wants?|uses?)\b", re.IGNORECASE)


def find_odd_one(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with those that differ told in full, and the others counted without them."""
    heads = [at for at in range(len(phrases)) if whole(phrases[at]) >= 2 and _noun_and_size(phrases, at) is not None]
    if len(heads) != 1:
        return phrases
    head = heads[0]
    found = _noun_and_size(phrases, head)
    assert found is not None
    noun, size, first_end = found
    odd = next((found for found in (_odd(phrases, at, draft) for at in range(first_end, len(phrases))) if found is not None), None)
    if odd is None:
        return phrases
    start, value_at, few = odd
    many = whole(phrases[head])
    value = phrases[value_at]
    like = [at for at in range(head + 1, start) if at != _index(phrases, size) and _sort(phrases[at]) and _sort(phrases[at]) == _sort(value)]
    bigger = _sort(value) == "volume" and _sort(size) == "volume"
    if bigger and _GETS.search(draft.text[phrases[start].start : value.start]):
        return phrases  # "one of them gets 1 L" of castings
    if few >= many or not (len(like) == 1 or (bigger and not like)):
        return phrases
    rest = phrases[value_at + 1 :]
    if any(_sort(p) == _sort(value) for p in rest):
        return phrases
    if like and type(one := single(phrases[like[0]])) is Measure and type(other := single(value)) is Measure and not other.role:
        value = Amount((other._replace(role=one.role),), value.start, value.end)
    counted = single(phrases[head])
    assert type(counted) is Number
    left = Amount((counted._replace(low=many - few, high=many - few),), counted.start, counted.end)
    place = phrases[start].start
    again: list[Phrase] = [Said("link", "and", "and", place, place), Amount((Number(few, few, place, place),), place, place)]
    told = Said(noun.kind, noun.id, noun.text, place, place)
    own = value if bigger else size
    again += [own, told] if noun.kind == "container" else [told, own]
    again += [] if bigger else [value]
    pause = Said("stop", "comma", ",", value.end, value.end)
    draft.flags.append(("odd-one", f"“{draft.text[phrases[start].start : phrases[value_at].end].strip(' ,')}”: {few:g} of the {many:g}, and {many - few:g} as told before"))
    return [*phrases[:head], left, *phrases[head + 1 : start], pause, *again, pause, *rest]


def _index(phrases: list[Phrase], size: Phrase) -> int:
    return next(at for at, phrase in enumerate(phrases) if phrase is size)


def _noun_and_size(phrases: list[Phrase], at: int) -> tuple[Said, Phrase, int] | None:
    """The noun and the size that a number counts, in either order, and the index after both: "4 beds 3 by 6 ft", "six 20 L pots"."""
    at = past_describing(phrases, at + 1)
    noun: Said | None = None
    size: Phrase | None = None
    while at < len(phrases) and (noun is None or size is None):
        phrase = phrases[at]
        if noun is None and isinstance(phrase, Said) and phrase.kind in ("ground", "container"):
            noun = phrase
        elif size is None and (is_sides(phrase) or (type(one := single(phrase)) is Measure and one.per is None and not one.role and dimension(one) in ("volume", "area"))):
            size = phrase
        elif not (is_said(phrase, "link", "of", "is", "each") or is_said(phrase, "hint") or is_said(phrase, "form") or is_said(phrase, "stop", "comma", "colon")):
            return None
        at += 1
    if noun is None or size is None or not noun.text.lower().endswith("s"):
        return None
    return noun, size, at


def _odd(phrases: list[Phrase], at: int, draft: Draft) -> tuple[int, int, float] | None:
    """Where it begins that some differ, where the value stands that they have, and how many they are."""
    phrase = phrases[at]
    start, few = at, 0.0
    value_at = at + 1
    if is_said(phrase, "reply", "one-of-them") and isinstance(phrase, Said):
        word = phrase.text.split()[0].lower()
        few = 1.0 if word == "one" else next((whole(p) for p in parse(word).phrases if whole(p)), 0.0)
    elif is_said(phrase, "deny", "without", "all-but") or is_said(phrase, "link", "but"):
        if at + 1 < len(phrases) and is_said(phrases[at + 1], "reply", "one-of-them"):
            return None  # found at the next phrase
        if at + 1 < len(phrases) and whole(phrases[at + 1]):
            few, value_at = whole(phrases[at + 1]), at + 2
        elif _BUT_ONE.match(draft.text, phrase.start):
            few = 1.0
    if not few:
        return None
    if start and (is_said(phrases[start - 1], "stop", "comma") or is_said(phrases[start - 1], "link", "but", "and") or is_said(phrases[start - 1], "deny", "without")):
        start -= 1
    while value_at < len(phrases) and (
        is_said(phrases[value_at], "link", "is", "at", "with", "on-hand", "of", "count-word") or is_said(phrases[value_at], "is") or is_said(phrases[value_at], "about")
    ):  # fmt: skip
        value_at += 1
    if value_at >= len(phrases) or not _sort(phrases[value_at]):
        return None
    after = phrases[value_at + 1] if value_at + 1 < len(phrases) else None
    return (start, value_at, few) if after is None or is_said(after, "stop") or type(after) is Share else None


def _sort(phrase: Phrase) -> str:
    """What a value is a value of: a share, a depth or height, a volume; empty for anything else."""
    one = single(phrase)
    if type(phrase) is Share:
        return "share"
    if type(one) is Measure and one.per is None:
        kind = dimension(one)
        return "deep" if kind == "length" and one.role in ("", "depth", "height", "thick") else kind if kind == "volume" else ""
    return ""
