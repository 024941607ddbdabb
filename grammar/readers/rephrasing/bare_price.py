"""A price without a sign of money: "40 L bags @ 16.50", "bags at 14.99 each", "25 lb bag @ 22, total cost?".

A figure with two decimals beside a bag is money, and so is a whole one after "@" or "cost" where a cost is asked. Which money it
is goes unsaid; it is read as dollars, and the reading says so.
"""

from __future__ import annotations

import re

from ...draft import Draft
from ...later import later
from ...phrases import Number, Phrase, Price, Said
from ...said import Waits, is_said, single

BARE_PRICE: Waits = (frozenset({Number}), frozenset({"pack"}), frozenset({("link", "at"), ("link", "price-word"), ("link", "each"), "per", "pack"}))
_CENTS = later(r"\d+[.,]\d\d")
#: A bag that costs less may as well hold so many cubic feet: "8 bags at 1.25 each".
_LEAST = 4.0
_AT = later(r"(?:@|\b(?:at|costs?|price[ds]?(?: at)?|is|are|for)\b)\W*$", re.IGNORECASE)
_SURELY = later(r"(?:@|\bcosts?|\bprice[ds]?(?: at| is)?)\W*$", re.IGNORECASE)
_EACH = later(r"\s*(?:/\s*|an?\s+|per\s+|each\b|ea\b|apiece\b)", re.IGNORECASE)


def find_bare_price(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with such a figure as a price."""
    if any(type(p) is Price for p in phrases):
        return phrases
    cost = any(is_said(p, "ask", "what-cost") or is_said(p, "link", "altogether", "price-word") for p in phrases)
    for at, phrase in enumerate(phrases):
        number = single(phrase)
        if type(number) is not Number or number.role or number.low != number.high or number.low <= 0:
            continue
        before, said = draft.text[: number.start].rstrip(), draft.text[number.start : number.end]
        each = _EACH.match(draft.text, number.end) is not None
        lead = at - 1
        while lead >= 0 and (is_said(phrases[lead], "link", "at", "price-word", "is", "for") or is_said(phrases[lead], "is") or is_said(phrases[lead], "stop", "comma")
                             or is_said(phrases[lead], "ask", "what-cost")):  # fmt: skip
            lead -= 1
        named = lead - 2 if lead > 1 and is_said(phrases[lead - 1], "link", "of") else lead - 1
        sized = named >= 0 and is_said(phrases[named], "pack") and not any(is_said(p, "stop") for p in phrases[lead:at])
        beside = lead >= 0 and (is_said(phrases[lead], "pack") or sized)  # "bags 20 L @ 12.50"
        after = phrases[at + 1] if at + 1 < len(phrases) else None
        a_bag = is_said(after, "pack") and each
        if not (beside or a_bag) or (is_said(after, "pack") and not a_bag) or (type(after) is Said and after.kind in ("container", "plant", "ground", "hole")):
            continue
        cents = _CENTS.fullmatch(said) is not None and (cost or number.low >= _LEAST)
        if not ((cents and (each or _AT.search(before))) or (cost and _SURELY.search(before))):
            continue
        draft.flags.append(("money", f"“{said}” is taken as a price in dollars, since no money is named"))
        rest = at + 2 if a_bag or is_said(after, "link", "each") else at + 1
        tie = [] if at and is_said(phrases[at - 1], "link", "at") else [Said("link", "at", "at", number.start, number.start)]
        return [*phrases[:at], *tie, Price(number.low, number.high, "USD", number.start, number.end), *phrases[rest:]]
    return phrases
