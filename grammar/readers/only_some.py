"""Some of what is counted gets castings, and the others none: "30 plants but only 12 need feeding", "20 pots, half of which get some"."""

from __future__ import annotations

import re

from ..draft import Draft
from ..later import later
from ..phrases import Amount, Number, Phrase
from ..said import Waits, is_said, single
from ..things import text_of, whole
from .gone import counted

#: What comes before the number of those that get some.
_ONLY = later(r"\b(?:only|just)\s+(?:(?:the|about|around|these|my|one in)\s+)*$|\bof (?:which|them|those|these)\s+(?:only |just )?(?:the )?$", re.IGNORECASE)
#: After it: that they are to get some, and castings or so much rather than stakes or shade.
_NEED = later(
    r"\s*(?:of (?:which|them|those|these)\s+)?(?:(?!(?:and|or|but|with|at|for|in|on|by|of|to|cups?|litres?|liters?)\b)[a-z]+\s+){0,2}?"
    r"(?:needs?|wants?|requires?|gets?|takes?|have to|are|is|will|should|must)\b"
    r"(?:\s+(?:to|be|been|get|getting|have|due|being|going|some|any|this|worm|a|an|the|more|good|bit of|of))*\s*"
    r"(?:castings|feeding|feed|fed|it|some|any|them|treat\w*|doing|done|dress\w*|(?:top|side)[- ]?dress\w*|amend\w*|fill\w*|boost\w*|top(?:ping)?[- ]?up|help|hungry|"
    r"attention|refresh\w*|\d|half|quarter|third|one|two|three|four|five|cups?|inch|cm|litre|liter|quart|pint|gallon|kilo|pound|scoop|handful|[,.;:?!]|$)",
    re.IGNORECASE,
)
#: Where the others are to get some as well.
_OTHERS = later(r"\b(?:the rest|others?|remaining|remainder|the (?:small|big|little|young|old)\w* ones)\b", re.IGNORECASE)
#: "only one needs feeding", where the one is no number of its own.
_ONLY_ONE = later(r"\b(?:only|just) one(?= )((?: of (?:them|those|these))? \w+)", re.IGNORECASE)
#: What this reader waits for.
SOME: Waits = (frozenset({Number}), frozenset({"plant", "container", "ground", "hole"}))


def only_some(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with the number of all replaced by that of those that get some, where that is told and the others get none."""
    said = draft.text.lower()
    if "one" in said and (lone := _ONLY_ONE.search(draft.text)) is not None and _NEED.match(draft.text, lone.start(1)):
        return _the_one(phrases, lone, draft)
    if "only" not in said and "just" not in said and "of which" not in said and "of them" not in said and "of th" not in said:
        return phrases
    for at, phrase in enumerate(phrases):
        number = single(phrase)
        if type(number) is not Number or number.role or number.low != number.high or number.low <= 0:
            continue
        before, after = draft.text[: phrase.start], draft.text[phrase.end :]
        if not (_NEED.match(after) and (_ONLY.search(before) or re.match(r"\s*of (?:which|them|those|these)\b", after, re.IGNORECASE))):
            continue
        totals = [i for i in counted(phrases, range(at, at + 1)) if i < at]
        if len(totals) != 1 or _OTHERS.search(after):
            return phrases
        total = whole(phrases[totals[0]])
        some = whole(phrase) or total * number.low
        if not 0 < some < total or some != int(some):
            return phrases
        one = single(phrases[totals[0]])
        assert type(one) is Number
        draft.noted.append((text_of(draft, phrases, totals[0], totals[0] + 1), "how many there are in all"))
        draft.flags.append(("left-out", f"“{draft.text[phrase.start : phrase.end].strip()}” of {total:g}: {some:g} get castings"))
        drop = {at}
        if at + 1 < len(phrases) and is_said(phrases[at + 1], "link", "count-word", "of"):
            drop.add(at + 1)
        first = Amount((number._replace(low=some, high=some, start=phrase.start, end=phrase.end),), one.start, one.end)
        return [first if i == totals[0] else p for i, p in enumerate(phrases) if i not in drop]
    return phrases


def _the_one(phrases: list[Phrase], lone: re.Match[str], draft: Draft) -> list[Phrase]:
    """ "30 plants, only one needs feeding": one of them."""
    last = next((i for i, p in enumerate(phrases) if p.start >= lone.start()), len(phrases))
    totals = [i for i in counted(phrases, range(0)) if i < last]
    if len(totals) != 1 or _OTHERS.search(draft.text[lone.end() :]):
        return phrases
    one = single(phrases[totals[0]])
    assert type(one) is Number
    draft.noted.append((text_of(draft, phrases, totals[0], totals[0] + 1), "how many there are in all"))
    draft.flags.append(("left-out", f"“{lone.group(0).strip()}”: one of {one.low:g}"))
    first = Amount((one._replace(low=1.0, high=1.0),), one.start, one.end)
    inside = range(lone.start(), lone.end())
    return [first if i == totals[0] else p for i, p in enumerate(phrases) if not (p.start in inside and (whole(p) == 1 or is_said(p, "reply", "one-of-them")))]
