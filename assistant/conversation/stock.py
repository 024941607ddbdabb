"""The castings at hand that an earlier turn told by themselves: "I've got 3 bags of 30 L", before the bed that they are for."""

from __future__ import annotations

from grammar.draft import Draft

from .remembered import Remembered


def with_stock(talk: Remembered, draft: Draft) -> Draft:
    """The draft with the castings that were told last, where it has none of its own; the draft itself where none were told alone."""
    if draft.have is not None or draft.more_have or draft.packs_count or draft.loads or draft.budget is not None or draft.pack is not None:
        return draft
    for before in reversed(talk.earlier()):
        told = before.have is not None or (before.pack is not None and before.packs_count)
        if told and not before.places and not before.have_is_tea and not before.asked and before.price is None:
            made = draft.copy()
            made.have, made.more_have = before.have, list(before.more_have)
            made.pack, made.pack_noun, made.packs_count = before.pack, before.pack_noun, before.packs_count
            made.hints |= before.hints & {"on-hand"}
            return made
    return draft
