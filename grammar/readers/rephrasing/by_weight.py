"""Whether an amount is weighed or measured, said beside it: "4 oz of castings by weight per plant", "8 oz by volume each"."""

from __future__ import annotations

from ...draft import Draft
from ...phrases import Amount, Measure, Phrase, Said
from ...said import Waits, dimension, is_said, single

WEIGHED: Waits = (frozenset({("link", "by-weight"), ("link", "by-volume")}), frozenset({Measure}))
#: Words of what an amount may be for each of.
_ONES = ("plant", "container", "hole", "ground")


def find_by_weight(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without the word, where the amount is a weight, or ounces that are fluid ones; shares and offers keep it."""
    if any(is_said(p, "ask", "cheaper", "compare-at") for p in phrases):
        return phrases
    at = 1
    while at < len(phrases):
        if not is_said(phrases[at], "link", "by-weight", "by-volume"):
            at += 1
            continue
        back = at - 1
        while back > 0 and (is_said(phrases[back], "castings") or is_said(phrases[back], "link", "of")):
            back -= 1
        one = single(phrases[back])
        weighed = is_said(phrases[at], "link", "by-weight")
        fits = type(one) is Measure and (dimension(one) == "weight" if weighed else one.unit == "ounce" or dimension(one) == "volume")
        if weighed and type(one) is Measure and dimension(one) == "volume" and draft.question is None:
            said = draft.text[one.start : phrases[at].end].strip()
            draft.question = ("by-weight", f"“{said}”: that measures a volume; is it that, or how many pounds, ounces or grams is it?")
        if type(one) is not Measure or not fits or one.role:
            at += 1
            continue
        if not weighed and one.unit == "ounce":
            one = one._replace(unit="fluid_ounce")
        end = at + 1
        per = phrases[end] if end < len(phrases) else None
        noun = phrases[end + 1] if end + 1 < len(phrases) else None
        if is_said(per, "per") and one.per is None and type(noun) is Said and noun.kind in _ONES:
            one, end = one._replace(per=noun, end=noun.end), end + 2
        phrases = [*phrases[:back], Amount((one,), one.start, one.end), *(phrases[back + 1 : at] if one.per is None else ()), *phrases[end:]]
        at = back + 1
    return phrases
