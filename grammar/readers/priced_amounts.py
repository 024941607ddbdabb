"""A price told right after an amount of castings: "1 yd castings $180", "20 lb of castings for $25". It is what that amount costs.

So it is put as other prices are: by the unit where castings are sold loose ("$180 a yard"), else as that of a bag of so much.
"""

from __future__ import annotations

from ..draft import Draft
from ..phrases import Measure, Phrase, Price, Said
from ..said import Waits, dimension, is_said, single

#: What this reader waits for.
PRICED: Waits = (frozenset({Price}), frozenset({"castings"}), frozenset({Measure}))
#: Units in which castings are sold loose.
_LOOSE = frozenset({"yard", "cubic_yard", "cubic_metre", "ton", "us_ton", "tonne"})


def find_priced_amounts(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with such a price put after a unit or a bag; as they are where there is another price or a bag."""
    prices = [at for at, phrase in enumerate(phrases) if type(phrase) is Price]
    if len(prices) != 1 or any(is_said(p, "pack") for p in phrases):
        return phrases
    at = prices[0]
    price = phrases[at]
    assert type(price) is Price
    castings = at - 1
    while castings > 0 and (is_said(phrases[castings], "link", "for", "at", "is") or is_said(phrases[castings], "is")):
        castings -= 1
    amount_at = castings - (2 if castings > 1 and is_said(phrases[castings - 1], "link", "of") else 1)
    amount = single(phrases[amount_at]) if amount_at >= 0 else None
    if price.per is not None or not is_said(phrases[castings], "castings") or type(amount) is not Measure or amount.per is not None:
        return phrases
    before = phrases[amount_at - 1] if amount_at else None
    if dimension(amount) not in ("volume", "weight", "length or volume") or not (before is None or is_said(before, "stop")):
        return phrases  # "I have 20 lb of castings for $25": there already, or needed
    if amount.unit in _LOOSE and amount.low == amount.high == 1:
        kept: list[Phrase] = [phrases[castings], price._replace(per=amount)]
    else:
        kept = [phrases[amount_at], Said("pack", "bag", "bag", amount.end, amount.end), price]
    return [*phrases[:amount_at], *kept, *phrases[at + 1 :]]
