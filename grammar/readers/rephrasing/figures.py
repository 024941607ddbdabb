"""Figures put in other words: "min 5 max 10 percent", "npk on the bag is 1-0-0"."""

from __future__ import annotations

from ...draft import Draft
from ...phrases import Number, Phrase, Share
from ...said import is_said, single


def find_least_and_most(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "min 5 max 10 percent": from the one to the other."""
    for at in range(len(phrases) - 3):
        least, low, most, high = phrases[at : at + 4]
        number = single(low)
        if not (is_said(least, "unit", "minute") or is_said(least, "limit", "at-least")) or not is_said(most, "limit", "at-most"):
            continue
        if type(number) is Number and type(high) is Share and number.low < high.low:
            return [*phrases[:at], Share(number.low, high.high, number.start, high.end), *phrases[at + 4 :]]
    return phrases


def find_feed_label(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "npk on the bag is 1-0-0": the three figures of a feed, said of the castings."""
    for at, phrase in enumerate(phrases):
        if not is_said(phrase, "label-word", "npk") or phrase.text.lower().replace("-", "").replace(" ", "") != "npk":  # type: ignore[union-attr]
            continue
        end = at + 1
        while end < len(phrases) and (is_said(phrases[end], "link", "on", "is", "of", "at") or is_said(phrases[end], "pack")):
            end += 1
        first = at
        if first and is_said(phrases[first - 1], "label"):
            first -= 1  # "1-0-0 npk"
        label = phrases[end] if end < len(phrases) else None
        if not is_said(label, "label") and first == at:
            continue
        stop = end + 1 if is_said(label, "label") else at + 1
        draft.noted.append((draft.text[phrases[first].start : phrases[stop - 1].end], "the figures of a label"))
        return [*phrases[:first], *phrases[stop:]]
    return phrases
