"""How thick a layer an amount makes, asked as how high it comes."""

from __future__ import annotations

import re

from ...draft import Draft
from ...later import later
from ...phrases import Measure, Phrase, Said, Share
from ...said import dimension, is_said, single
from ...things import is_ground_size

_HOW_HIGH = later(r"\b(?:how|what)\s+$", re.IGNORECASE)


def find_how_high(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "how high would a 1 cubic foot bag pile up over a 3 by 8 foot bed": how thick a layer an amount makes on a place."""
    if any(is_said(p, "hint", "new-fill", "existing-soil") or is_said(p, "container") or type(p) is Share for p in phrases):
        return phrases
    amounts = [one for p in phrases if type(one := single(p)) is Measure and one.per is None and dimension(one) in ("volume", "weight")]
    if len(amounts) != 1 or not any(is_ground_size(p) for p in phrases):
        return phrases
    for at, phrase in enumerate(phrases):
        if is_said(phrase, "role", "height") and _HOW_HIGH.search(draft.text[: phrase.start]):
            asks = Said("ask", "how-deep", draft.text[phrase.start : phrase.end], phrase.start, phrase.end)
            rest = phrases[at + 2 :] if at + 1 < len(phrases) and is_said(phrases[at + 1], "role", "thick") else phrases[at + 1 :]
            return [*phrases[:at], asks, *rest]
    return phrases
