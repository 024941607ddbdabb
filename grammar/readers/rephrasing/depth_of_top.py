"""How deep a bed is in all, beside its top part that castings go into: "the top 6 inches of a 20 inch deep bed"."""

from __future__ import annotations

import re

from ...draft import Draft
from ...later import later
from ...phrases import Amount, Measure, Phrase
from ...quantities import factor
from ...said import Waits, dimension, is_said, is_sides, single, words_of

TOP_OF: Waits = (frozenset({("link", "top-of")}), frozenset({Measure}))
#: A top that is left free is no part that is filled.
_FREE = later(r"\b(?:leav\w*|left|empty|free|clear|unfilled|below|short|except|without|minus|not)\b", re.IGNORECASE)


def find_depth_of_top(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without how deep the whole is, where the top of it is told and is less; the whole is noted."""
    at = next((i for i, p in enumerate(phrases[:-1]) if is_said(p, "link", "top-of") and _length(phrases[i + 1]) is not None), -1)
    if at < 0 or _FREE.search(draft.text):
        return phrases
    top = _length(phrases[at + 1])
    deep = [i for i, p in enumerate(phrases) if i != at + 1 and _whole_depth(phrases, i, at)]
    sizes = sum(1 for p in phrases if is_sides(p) or (type(m := single(p)) is Measure and m.per is None and dimension(m) == "area"))
    if top is None or top.kind != "unit" or len(deep) != 1 or sizes != 1:
        return phrases
    whole = single(phrases[deep[0]])
    if type(whole) is not Measure or whole.kind != "unit" or not top.high * factor(top.unit) < whole.low * factor(whole.unit):
        return phrases
    draft.noted.append((words_of(draft, phrases[deep[0]]), "how deep the whole is"))
    made_new = any(is_said(p, "hint", "new-fill") for p in phrases) or (
        any(is_said(p, "mix") or is_said(p, "other-goods", "goods") for p in phrases)
        and not any(is_said(p, "hint", "mixed-in", "existing-soil") or is_said(p, "way", "incorporate") for p in phrases)
    )
    if made_new:  # "the top 6 inches of a 20 inch deep bed is mix at 10 %": that is what is filled
        phrases = [*phrases[: at + 1], Amount((top._replace(role="depth"),), top.start, top.end), *phrases[at + 2 :]]
    return [p for i, p in enumerate(phrases) if i != deep[0] and not (made_new and i == at)]


def _length(phrase: Phrase) -> Measure | None:
    one = single(phrase)
    return one if type(phrase) is Amount and type(one) is Measure and one.per is None and dimension(one) == "length" and one.role in ("", "depth") else None


def _whole_depth(phrases: list[Phrase], at: int, top: int) -> bool:
    """ "20 inches deep", or "of a 20 inch bed" right after its top."""
    one = _length(phrases[at])
    if one is None:
        return False
    beside = at == top + 3 and is_said(phrases[at - 1], "link", "of") and at + 1 < len(phrases) and is_said(phrases[at + 1], "ground")
    return one.role == "depth" or beside
