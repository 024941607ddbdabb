"""What several years take in all: "every spring and fall, for 3 years in total", "twice a year, how much over 5 years"."""

from __future__ import annotations

import re

from ..draft import Draft
from ..later import later
from ..phrases import Amount, Measure, Phrase
from ..said import is_said, single

#: What comes before so many years that something is done in.
_FOR = later(r"\b(?:for|over|across|through|throughout|during)\s+(?:(?:the|all|next|coming|whole|full|these|those|about)\s+)*$", re.IGNORECASE)
#: That all of them together are wanted.
_IN_ALL = later(
    r"\b(?:total(?:ling)?|altogether|in all|all told|all up|overall|all together|grand total|how much (?:\w+ ){0,6}over|over (?:the |all )?(?:\w+ )?\w+ years)\b", re.IGNORECASE
)
#: How often in a year, where it is told by its seasons.
_BOTH_SEASONS = later(
    r"\b(?:spring|fall|autumn)s? and (?:(?:every|each|in|again|then|once|the) )*(?:fall|autumn|spring)s?\b|\bboth seasons\b", re.IGNORECASE
)
_ONCE = later(r"\b(?:(?:every|each) (?:spring|fall|autumn|summer|year|season)|once (?:a|per|each|every) year|yearly|annually)\b", re.IGNORECASE)


def find_years(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without so many years, which go onto the draft where all of them together are wanted; else it is asked."""
    for at, phrase in enumerate(phrases):
        one = single(phrase)
        if type(one) is not Measure or one.unit != "year" or one.per is not None or one.low != one.high or one.low < 2 or one.low != int(one.low):
            continue
        if not _FOR.search(draft.text[: one.start]) or not any(type(p) is Amount for p in phrases if p is not phrase):
            continue
        times = 2.0 if _BOTH_SEASONS.search(draft.text) else 1.0 if _ONCE.search(draft.text) else None
        often = times is not None or any(is_said(p, "topic", "how-often") or is_said(p, "weak-topic", "how-often") or is_said(p, "link", "cut") for p in phrases)
        if not often:
            if at + 1 < len(phrases) and is_said(phrases[at + 1], "link", "altogether"):
                draft.hints.add("repeated")  # "2 cups each, for 3 years in total"
            return phrases
        if not _IN_ALL.search(draft.text):
            draft.hints.add("repeated")
            return phrases
        draft.years = one.low
        drop = {at}
        for beside in (at - 1, at + 1):
            if 0 <= beside < len(phrases) and is_said(phrases[beside], "link", "for", "on", "altogether"):
                drop.add(beside)
        if times is not None:
            draft.times = times
            drop |= {i for i, p in enumerate(phrases) if is_said(p, "weak-topic", "how-often") or is_said(p, "topic", "how-often") or is_said(p, "link", "now", "again")}
        return [p for i, p in enumerate(phrases) if i not in drop]
    return phrases
