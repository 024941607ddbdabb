"""A rate of the field that is asked for: "200 kg on 400 square metres, how many tonnes per hectare is that".

It is turned into the weight for the area that is named last: "200 kg per 400 square metres, how heavy on 1 hectare".
"""

from __future__ import annotations

from ..draft import Draft
from ..phrases import Amount, Measure, Phrase, Said
from ..quantities import UnknownUnit, unit
from ..said import dimension, is_said, single


def find_field_rate(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with the asked rate made a weight over the area that it is for."""
    for at, phrase in enumerate(phrases):
        if not is_said(phrase, "per") or at + 1 >= len(phrases):
            continue
        area = _area(phrases[at + 1])
        start, weight = _asked(phrases, at)
        if area is None or start < 0:
            continue
        rest = [p for p in (*phrases[:start], *phrases[at + 2 :]) if not is_said(p, "link", "is")]
        given = _given(rest)
        if given is None:
            return phrases
        draft.asked_unit = weight or _weight_unit(given)
        end = phrases[at + 1].end
        ask = Said("ask", "how-heavy", "how heavy", phrases[start].start, phrases[start].end)
        return [ask, *given, Said("link", "on", "on", phrase.start, phrase.end), Amount((area,), area.start, end)]
    return phrases


def _measure(phrase: Phrase | None, what: str) -> Measure | None:
    one = single(phrase)
    return one if type(one) is Measure and one.per is None and dimension(one) == what else None


def _area(phrase: Phrase) -> Measure | None:
    """ "hectare", "1000 sq ft"."""
    if isinstance(phrase, Said):
        return Measure(1.0, 1.0, phrase.id, phrase.kind, phrase.start, phrase.end) if _measures(phrase, "area") else None
    return _measure(phrase, "area")


def _measures(phrase: Said, what: str) -> bool:
    try:
        return phrase.kind == "unit" and unit(phrase.id).dimension == what
    except UnknownUnit:
        return False


def _asked(phrases: list[Phrase], at: int) -> tuple[int, str]:
    """Where "how many tonnes" or "what rate is that" begins before an index, and the unit asked for; -1 where it does not."""
    before = phrases[at - 1] if at else None
    if at > 1 and isinstance(before, Said) and is_said(phrases[at - 2], "ask", "how-many", "how-much"):
        if _measures(before, "weight"):
            return at - 2, before.id
        if (before.kind, before.id) == ("unclear-unit", "ton"):
            return at - 2, "ton"
    if is_said(before, "ask", "what-share") and isinstance(before, Said) and "rate" in before.text.lower():
        return at - 1, ""
    return -1, ""


def _given(rest: list[Phrase]) -> list[Phrase] | None:
    """What the rate follows from: a weight made one with its area, or a layer; None where it follows from neither."""
    weights = [at for at, phrase in enumerate(rest) if _measure(phrase, "weight")]
    areas = [at for at, phrase in enumerate(rest) if _measure(phrase, "area")]
    if not weights and not areas:
        return rest if any(_measure(phrase, "length") for phrase in rest) else None
    if len(weights) != 1 or len(areas) != 1:
        return None
    weight, area = _measure(rest[weights[0]], "weight"), _measure(rest[areas[0]], "area")
    assert weight is not None and area is not None
    rate = Amount((weight._replace(per=area),), weight.start, weight.end)
    kept = [phrase for at, phrase in enumerate(rest) if at not in (weights[0], areas[0]) and not is_said(phrase, "link", "on", "into", "of")]
    return [*kept, rate]


def _weight_unit(given: list[Phrase]) -> str:
    for phrase in given:
        one = single(phrase)
        if type(one) is Measure and one.per is not None:
            return one.unit
    return ""
