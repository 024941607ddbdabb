"""Money that goes unsaid in a line of a conversation: "cost at 60 a yard", "and at 65 a yard", "what about 25 each".

It is the money of the price that was told before, else that of the catalogue in force, and the answer says so.
"""

from __future__ import annotations

import re

from grammar.draft import Draft

#: A number for one of what castings are sold by; one with a unit or a sign of money has that.
_FOR_ONE = re.compile(
    r"(?<![$£€¥\w.,/:-])(?<!x )(\d+(?:\.\d{1,2})?)(?= (?:a|an|per|for an?|for each|for one|each) (?:cubic |cu\.? ?|loose |bulk )?(?:yards?|yd|yds|foot|feet|ft|metres?|meters?|m3|bags?|sacks?|lit(?:er|re)s?|tons?|tonnes?|gallons?|buckets?|loads?)\b)",
    re.IGNORECASE)
_EACH = re.compile(r"^(\W*(?:(?:and|or|ok|so|but|hm+)\W+)*(?:(?:what|how) about |what if (?:they(?:'re| are| were|'re| cost)|it'?s|it was|it were) |make (?:it|them) |say |at |they(?:'re| are) (?:now )?|it'?s (?:now )?)?(?:at )?)(\d+(?:\.\d{1,2})?)(?= (?:each|apiece|a piece)\W*$)", re.IGNORECASE)
#: A line that speaks of money.
_OF_MONEY = re.compile(r"\b(?:costs?|costing|prices?|priced|charges?|charging|pay|paying|they want|asking|sells? (?:it )?for|for sale|quoted?|total)\b", re.IGNORECASE)
#: What was paid once.
_PAST = re.compile(r"\b(?:paid|bought|last (?:year|season|time|spring|fall|autumn|summer|winter|month|week)|ago|used to|was)\b", re.IGNORECASE)
#: A line that only tells the price of one.
_ALONE = re.compile(r"^\W*(?:(?:and|or|ok|so|but|hm+|actually|sorry|no)\W+)*(?:(?:what|how) about |what if (?:it'?s|it was|it were|they(?:'re| are)) |make it |say |it'?s (?:now )?|they(?:'re| are) )?(?:at )?$", re.IGNORECASE)


def in_money(line: str, old: Draft, usual: str) -> tuple[str, str] | None:
    """The line with the money of its one price, and the price as it is taken; None where it tells no such price.

    `usual` is the money of the catalogue in force, for where no price was told before.
    """
    money = old.price[1] if old.price is not None else usual
    if _PAST.search(line):
        return None
    found = _FOR_ONE.search(line)
    if found is not None:
        told = _OF_MONEY.search(line) is not None or (old.price is not None and _ALONE.match(line[: found.start()]) is not None)
        return _with(line, found.start(1), found[1], money) if told else None
    each = _EACH.match(line)
    if each is not None and old.price is not None and old.pack is not None:
        return _with(line, each.start(2), each[2], money)
    return None


def _with(line: str, at: int, number: str, money: str) -> tuple[str, str]:
    price = f"{number} {money}"
    return f"{line[:at]}{price}{line[at + len(number) :]}", price
