"""What was asked of castings at hand before a follow-up came."""

from __future__ import annotations

from grammar.draft import Draft

#: What is asked of castings at hand: a place in a follow-up takes the place of the one before.
BACKWARDS = frozenset({"area", "plants", "containers", "beds", "layer", "share", "mix", "soil", "length"})


def asked_enough(old: Draft) -> bool:
    """Whether it was asked of castings at hand if they would do: "will 60 litres do for 10 m2?"."""
    at_hand = old.have is not None or old.packs_count or old.budget
    told = any(place.has_size or place.count for place in old.places)
    return old.enough or bool({"cover", "enough"} & {*old.asks} and told and at_hand and old.asked not in BACKWARDS)


def answered_by_itself(merged: Draft, new: Draft) -> None:
    """A value said for what was asked before ends that question: "what share is that?", "use 5%"."""
    if new.asked or new.asks:
        return
    given = {"share": any(p.share for p in new.places) or new.parts_share is not None, "layer": any(p.layer for p in new.places)}
    if given.get(merged.asked):
        merged.asked, merged.asked_noun, merged.have, merged.more_have = "castings", "", None, []
    elif merged.asked in given and merged.have is None and (new.places or new.unsure) and not (merged.packs_count and any(p.has_size for p in new.places)):
        merged.asked, merged.asked_noun = "castings", ""  # the share was read off, and the talk goes on
