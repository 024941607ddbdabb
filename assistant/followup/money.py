"""What a follow-up says of money: a price for what packs were told before, charges, a tax."""

from __future__ import annotations

import re

from grammar.draft import Draft

_OF_EACH = re.compile(r"\b(?:they|each|bags?|price|costs?)\b")


def told_of_money(merged: Draft, new: Draft) -> None:
    """ "they are $15", "$15 each", after a bag was told: money is its price, and not what there is to spend."""
    if new.budget is not None and merged.pack is not None and "budget" not in new.hints and (
        _OF_EACH.search(new.text.lower()) or (merged.budget is None and "on-hand" not in new.hints)
    ):  # fmt: skip
        new.price, new.budget = new.budget, None
