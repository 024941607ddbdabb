"""What each gets put in other words: "20 tomato plants, one plant 250 gram", "every tree 3 kilos"."""

from __future__ import annotations

from ...draft import Draft
from ...phrases import Measure, Number, Phrase, Said
from ...said import dimension, is_said, single

_ONE = ("plant", "hole")


def _ends(phrases: list[Phrase], at: int) -> bool:
    after = phrases[at] if at < len(phrases) else None
    return after is None or is_said(after, "stop") or is_said(after, "castings") or is_said(after, "ask") or is_said(after, "link", "and", "altogether")


def find_one_gets(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "20 tomato plants, one plant 250 gram", "ten olive trees, every tree 3 kilo": so much for each of them."""
    for at in range(len(phrases) - 2):
        lead, noun, amount = phrases[at], phrases[at + 1], phrases[at + 2]
        number = single(lead)
        each = is_said(lead, "link", "each") or is_said(lead, "per")  # "per plant 200 grams"
        one = type(number) is Number and number.low == number.high == 1 and not number.role
        if not (each or one) or type(noun) is not Said or noun.kind not in _ONE or not _ends(phrases, at + 3):
            continue
        what = single(amount)
        if type(what) is not Measure or what.per is not None or what.role or dimension(what) not in ("volume", "weight"):
            continue
        before = [p for p in phrases[:at] if type(p) is Said and p.kind in _ONE]
        if one and not before and not any(is_said(p, noun.kind) for p in phrases[at + 3 :]):
            continue  # "one tree, 3 kilos": it is the only one
        after = Said("link", "each", "each", amount.end, amount.end)
        told = [] if before and (noun.id in ("plant", "tree", "shrub") or noun.id == before[-1].id) else [noun]
        return [*phrases[:at], *told, amount, after, *phrases[at + 3 :]]
    return phrases
