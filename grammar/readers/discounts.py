"""What is taken off a price: "20 L bags at $15, 20% off this week". It is taken off the price that stands before it, or set aside by name."""

from __future__ import annotations

import re

from ..draft import Draft
from ..later import later
from ..phrases import Number, Phrase, Price, Share
from ..said import Waits, is_said, single

#: What this reader waits for: the word for it, behind a number or a share.
DISCOUNTED: Waits = (frozenset({("link", "relative")}), frozenset({Number, Share}))
#: The words for it; the others of their kind compare amounts.
_WORDS = later(r"%\s*off|percent off|discount", re.IGNORECASE)
#: What else could be a fifth less: an amount, and no price.
_OFF_AN_AMOUNT = later(
    r"\s*(?:on|of|from)?\s*(?:the |my |your |that |this |what )?(?:usual|normal|amount|rate|dose|layer|depth|share|top|mix|volume|castings\b(?! price)|length|width|i )", re.IGNORECASE
)
#: A discount that hangs on something.
_ON_TERMS = later(r"\b(?:when|if|over|above|or more|minimum|at least|once|per|for \d+)\b", re.IGNORECASE)
#: A price that is told as the one before a discount, wherever it stands.
_BEFORE = later(r"\b(?:normally|usually|regular(?:ly)?|reg\.?|was|list(?:ed)?|full price|before)\b[^,;.]*$", re.IGNORECASE)
#: A price that may be the one after a discount.
_REDUCED = later(r"\b(?:sale|now|down to|reduced|special|today|offer|with the discount|discounted)\b[^.;]*$", re.IGNORECASE)


def find_discount(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without a discount, and with the one price that stands before it less by so much."""
    for at in range(1, len(phrases)):
        word, told = phrases[at], phrases[at - 1]
        number = single(told)
        rate = told.low if type(told) is Share else number.low if type(number) is Number and not number.role and number.low == number.high else 0.0
        if not is_said(word, "link", "relative") or not _WORDS.search(word.text) or not 0 < rate < 100:  # type: ignore[union-attr]
            continue
        if type(told) is Share and told.low != told.high:
            continue
        prices = [i for i, p in enumerate(phrases) if type(p) is Price]
        if not prices and _OFF_AN_AMOUNT.match(draft.text[word.end :]):
            continue
        said = draft.text[told.start : word.end].strip()
        draft.noted.append((said, "a discount"))
        left = [p for i, p in enumerate(phrases) if i not in (at - 1, at)]
        if len(prices) == 1 and not _ON_TERMS.match(draft.text[word.end :].lstrip(" ,")):
            price = phrases[prices[0]]
            assert type(price) is Price
            reduced = _REDUCED.search(draft.text[: price.start])
            if (prices[0] < at and not reduced) or _BEFORE.search(draft.text[: price.start]):
                return [_less(price, rate, draft) if p is price else p for p in left]
        draft.hints.add("discount")
        return left
    return phrases


def _less(price: Price, rate: float, draft: Draft) -> Price:
    """A price with so many per cent taken off, to the cent."""
    low, high = (round(end * (1 - rate / 100) + 1e-9, 2) for end in (price.low, price.high))
    was = draft.text[price.start : price.end].strip()
    draft.flags.append(("discount", f"{rate:g} % off {was}: {low:.2f} {price.currency}"))
    return price._replace(low=low, high=high)

