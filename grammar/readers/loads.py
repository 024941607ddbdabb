"""Loads as measures: "a wheelbarrow of castings", "3 buckets of castings", "how many wheelbarrows".

What a load holds is a fact of the trade and is not known here; the draft keeps its name and how many.
"""

from __future__ import annotations

from ..draft import Draft
from ..phrases import Measure, Number, Phrase, Said
from ..said import is_said, single

#: The words that name a load, and the name of its facts.
LOADS = {"wheelbarrow": "wheelbarrow", "pickup-load": "pickup-bed", "pail-full": "bucket-5-gallon", "bucket": "bucket-5-gallon"}


def find_loads(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without the loads of castings, which go onto the draft."""
    if sum(1 for phrase in phrases if _load(phrase)) != 1:
        return phrases  # several loads are parts of one another
    for at, phrase in enumerate(phrases):
        name = _load(phrase)
        if not name:
            continue
        if type(phrase) is Said:
            if at and is_said(phrases[at - 1], "ask", "how-many") and (name != "bucket-5-gallon" or _castings_next(phrases, at)):
                draft.asked_load = name
                ask = phrases[at - 1]
                return [*phrases[: at - 1], Said("ask", "how-much", "how much", ask.start, phrase.end), *phrases[at + 1 :]]
            if at > 1 and _five_gallons(phrases[at - 1]) and is_said(phrases[at - 2], "ask", "how-many") and (
                at + 1 < len(phrases) and is_said(phrases[at + 1], "link", "for", "on") and any(is_said(p, "ground") for p in phrases)
            ):  # fmt: skip
                draft.asked_load = name  # "how many 5 gallon buckets for a 4 by 8 ft bed": of castings, since a bed takes them
                ask = phrases[at - 2]
                return [*phrases[: at - 2], Said("ask", "how-much", "how much", ask.start, phrase.end), *phrases[at + 1 :]]
            if name != "bucket-5-gallon" or not at:
                return phrases
            number = single(phrases[at - 1])
            if type(number) is not Number or number.role:
                return phrases
            first, low, high = at - 1, number.low, number.high
        else:
            one = single(phrase)
            assert isinstance(one, Measure)
            first, low, high = at, one.low, one.high
        last = at + 1
        if last < len(phrases) and is_said(phrases[last], "link", "of"):
            last += 1
        if last >= len(phrases) or not is_said(phrases[last], "castings"):
            if name == "bucket-5-gallon" or not _asked_of(phrases):
                return phrases
            last = at  # "how far does a pickup load go": of what it does, and of castings
        if any(is_said(p, "link", "each") for p in phrases[last + 1 : last + 3]):
            return phrases
        draft.loads.append((name, low, high))
        return [*phrases[:first], *phrases[last + 1 :]]
    return phrases


def _five_gallons(phrase: Phrase) -> bool:
    one = single(phrase)
    return type(one) is Measure and one.per is None and (one.low, one.high) == (5.0, 5.0) and one.unit in ("gallon", "us_gallon")


def _asked_of(phrases: list[Phrase]) -> bool:
    """Whether it is asked what a load does: how far it goes, how thick it lies, how many it is enough for, what it weighs."""
    return any(is_said(p, "ask", "how-far", "how-deep", "how-long", "how-many", "how-heavy", "enough") for p in phrases)


def _castings_next(phrases: list[Phrase], at: int) -> bool:
    """ "how many buckets of castings": a bucket of mix, or of a size, is a container to be filled."""
    after = phrases[at + 2] if at + 2 < len(phrases) and is_said(phrases[at + 1], "link", "of") else None
    return is_said(after, "castings")


def _load(phrase: Phrase) -> str:
    if is_said(phrase, "loose-measure") or is_said(phrase, "container", "bucket"):
        assert isinstance(phrase, Said)
        return LOADS.get(phrase.id, "")
    one = single(phrase)
    if type(one) is Measure and one.kind == "loose-measure" and one.per is None:
        return LOADS.get(one.unit, "")
    return ""
