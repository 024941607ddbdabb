"""Two products or more set side by side: "which is cheaper per cubic foot, 25 lb at $20 or 1 cu ft at $28"."""

from __future__ import annotations

from ..draft import Draft
from ..phrases import Amount, Measure, Phrase, Price, Said
from ..quantities import Span
from ..said import dimension, is_said, single

_BETWEEN = ("at", "for", "is", "of")


def find_offers(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without the offers, where two or more are compared; they go onto the draft."""
    if not any(is_said(p, "ask", "cheaper", "compare-at") for p in phrases):
        return phrases
    split = _split(phrases)
    found: list[tuple[Span, float, str]] = []
    used: set[int] = set()
    size: tuple[int, Measure] | None = None
    price: tuple[int, Price] | None = None
    for at, phrase in enumerate(split):
        one = single(phrase)
        if type(one) is Measure and one.per is None and dimension(one) in ("volume", "weight", "length or volume"):
            size = (at, one)
        elif type(phrase) is Price and phrase.per is None:
            price = (at, phrase)
        elif type(phrase) is Price and type(phrase.per) is Measure and dimension(phrase.per) in ("volume", "weight"):
            price, size = (at, phrase), (at, phrase.per)  # "$20 per 25 lb"
        else:
            continue
        if size is not None and price is not None:
            (where, measure), (beside, money) = size, price
            if measure.low == measure.high and money.low == money.high and money.low > 0 and _near(split, where, beside):
                unit = "cubic_yard" if measure.unit == "yard" else measure.unit
                found.append((Span(measure.low, measure.high, unit), money.low, money.currency))
                used |= {where, beside}
            size = price = None
    if len(found) < 2 or len({currency for _, _, currency in found}) != 1:
        return phrases
    draft.offers = found
    left = [
        phrase
        for at, phrase in enumerate(split)
        if at not in used and not is_said(phrase, "pack") and not is_said(phrase, "link", *_BETWEEN, "or", "and", "with")
    ]
    return _per(left, draft)


def _near(phrases: list[Phrase], one: int, other: int) -> bool:
    """Whether only a pack's name and small words stand between a size and its price."""
    return all(
        is_said(p, "pack")
        or is_said(p, "castings")
        or is_said(p, "link", *_BETWEEN)
        or is_said(p, "per")
        or is_said(p, "link", "each")
        for p in phrases[min(one, other) + 1 : max(one, other)]
    )


def _split(phrases: list[Phrase]) -> list[Phrase]:
    """ "at $20 or 1 cu ft" is a price and a size, not a span of prices."""
    made: list[Phrase] = []
    skip = False
    for at, phrase in enumerate(phrases):
        if skip:
            skip = False
            continue
        after = phrases[at + 1] if at + 1 < len(phrases) else None
        if (
            type(phrase) is Price
            and phrase.low != phrase.high
            and isinstance(after, Said)
            and after.kind in ("unit", "unclear-unit")
        ):
            made.append(phrase._replace(high=phrase.low))
            one = Measure(phrase.high, phrase.high, after.id, after.kind, after.start, after.end)
            made.append(Amount((one,), after.start, after.end))
            skip = True
            continue
        made.append(phrase)
    return made


def _per(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "per cubic foot", "by weight": the measure that they are compared by."""
    left: list[Phrase] = []
    for phrase in phrases:
        if isinstance(phrase, Said) and phrase.text.lower() in ("a", "an"):
            continue
        if isinstance(phrase, Said) and phrase.kind in ("unit", "unclear-unit") and not draft.asked_unit:
            draft.asked_unit = phrase.id
        elif is_said(phrase, "per"):
            continue
        elif is_said(phrase, "link", "by-weight"):
            draft.asked_unit = draft.asked_unit or "pound"
        elif is_said(phrase, "link", "by-volume"):
            draft.asked_unit = draft.asked_unit or "cubic_foot"
        else:
            left.append(phrase)
    return left
