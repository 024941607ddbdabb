"""What castings are made of, told in percent: "100 % organic castings, 10 % in a 30 gallon tub"."""

from __future__ import annotations

import re

from ...draft import Draft
from ...later import later
from ...phrases import Measure, Phrase, Share
from ...said import Waits, is_said, single, words_of

PURITY: Waits = (frozenset({Share}),)
_PURE = later(r"\s*(?:certified |all[- ])?(?:organic|pure|natural|worm|earthworm|vermi\w*|genuine|real|red wiggler|peat[- ]free|vegan)\b(?! matter)", re.IGNORECASE)


def find_purity(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without a hundred percent that says how pure the castings are, where another amount of them is told."""
    if not [p for p in phrases if type(p) is Share and p.low == 100]:
        return phrases
    if any(is_said(p, "link", "or") or is_said(p, "ask", "compare-at", "which", "cheaper", "difference") or is_said(p, "deny") for p in phrases):
        return phrases
    for at, phrase in enumerate(phrases):
        if type(phrase) is not Share or phrase.low != 100 or phrase.high != 100:
            continue
        said = _PURE.match(draft.text, phrase.end)
        if said is None or not any(_other_amount(p) for i, p in enumerate(phrases) if i != at):
            continue
        draft.noted.append((draft.text[phrase.start : said.end()].strip() if said else words_of(draft, phrase), "how pure they are"))
        return [p for i, p in enumerate(phrases) if i != at and not (is_said(p, "topic") and p.start < said.end() + 9 and p.start >= phrase.end) and not (
            is_said(p, "other-thing", "animal") and phrase.end <= p.start < said.end())]  # fmt: skip
    return phrases


def _other_amount(phrase: Phrase) -> bool:
    """Whether castings are told otherwise: another share, or so much for each."""
    if type(phrase) is Share:
        return phrase.high < 100
    one = single(phrase)
    return (type(one) is Measure and one.per is not None) or is_said(phrase, "way", "top-dress", "side-dress")
