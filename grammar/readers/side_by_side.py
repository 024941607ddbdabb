"""The same job at several amounts: "show me 1/4, 1/2 and 1 inch", "1, 2 and 3 cups each side by side", "tea at 1:5 and 1:10".

Shares in per cent are found where shares are read (`gathering/amounts.py`); here stand layers, amounts for one and
the strengths of a tea.
"""

from __future__ import annotations

from ..draft import Draft
from ..phrases import Amount, Measure, Number, Phrase, Ratio, Said
from ..quantities import Span
from ..said import dimension, is_said, single

#: Values of one kind and where they stand: `used` is everything between the first and the last.
_Run = tuple[list[float], str, set[int]]


def find_side_by_side(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without values that are to be set side by side, which go onto the draft."""
    if any(is_said(phrase, "way", "tea") or is_said(phrase, "hint", "spray") for phrase in phrases):
        return _strengths(phrases, draft)
    for start, phrase in enumerate(phrases):
        if type(phrase) is not Amount:
            continue
        run = _run(phrases, start)
        if run is None:
            continue
        values, name, used = run
        spans = [Span(value, value, name) for value in values]
        end = max(used) + 1
        each = end < len(phrases) and (is_said(phrases[end], "link", "each") or is_said(phrases[end], "per"))
        if spans[0].dimension == "length" and not each:
            draft.compare_layers = spans
        elif spans[0].dimension in ("volume", "weight") and (each or any(is_said(p, "plant") or is_said(p, "hole") for p in phrases)):
            draft.compare_rates = spans
            used |= {end} if each else set()
            if each and end + 1 < len(phrases) and is_said(phrases[end], "per"):
                used.add(end + 1)
        else:
            continue
        draft.figures += [(value, f"{value:g}") for value in values]
        return [p for at, p in enumerate(phrases) if at not in used]
    return phrases


def _run(phrases: list[Phrase], start: int) -> _Run | None:
    """Two values or more in a row, the last of which names the unit: "1/4, 1/2 and 1 inch", "1 cup, 2 cups and 3 cups"."""
    values: list[float] = []
    name = ""
    used: set[int] = set()
    last = -1
    for at in range(start, len(phrases)):
        phrase = phrases[at]
        one = single(phrase)
        if type(one) is Number and not one.role and not name:
            values += [one.low] if one.low == one.high else [one.low, one.high]
            last = at
        elif type(one) is Measure and _plain(one) and name in ("", one.unit):
            values += [one.low] if one.low == one.high else [one.low, one.high]
            name, last = one.unit, at
            if type(one.per) is Said:
                used.add(at)
                break
        elif not (is_said(phrase, "stop", "comma") or is_said(phrase, "link", "and", "or")):
            break
        used.add(at)
    if not name or len(set(values)) < 2 or type(single(phrases[last])) is Number:
        return None
    return list(dict.fromkeys(values)), name, {at for at in used if at <= last}


def _plain(one: Measure) -> bool:
    """Whether a measure is an amount alone or for one plant, in a unit of one meaning."""
    what = dimension(one)
    alone = one.per is None or is_said(one.per, "plant") or is_said(one.per, "hole")
    return one.kind == "unit" and (
        (what == "length" and one.per is None and one.role in ("", "thick")) or (what in ("volume", "weight") and alone and not one.role)
    )


def _strengths(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "5 gallons of tea at 1:5, 1:10 and 1:20 side by side"."""
    found = [(at, phrase) for at, phrase in enumerate(phrases) if type(phrase) is Ratio and len(phrase.terms) == 2 and min(phrase.terms) > 0]
    if len(found) < 2:
        return phrases
    first, last = found[0][0], found[-1][0]
    between = [p for p in phrases[first:last] if type(p) is not Ratio]
    if not all(is_said(p, "stop", "comma") or is_said(p, "link", "and", "or", "at") for p in between):
        return phrases
    draft.compare_ratios = [(phrase.terms[0], phrase.terms[1]) for _, phrase in found]
    draft.figures += [(term, f"{term:g}") for terms in draft.compare_ratios for term in terms]
    return [*phrases[:first], *phrases[last + 1 :]]
