"""What is asked: of castings at hand before a follow-up came, and once it is told."""

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


def asked_now(merged: Draft, old: Draft, new: Draft) -> None:
    """What is asked once the line is told: as it asks, else as it was asked before where that still fits what is told."""
    if new.enough and not new.asked and merged.asked in BACKWARDS and any(place.has_size for place in new.places):
        merged.asked, merged.asked_noun = "castings", ""  # how far it goes was asked before; now, if it is enough for a place
    at_hand = merged.have is not None or merged.packs_count
    if "cover" in old.asks and not (merged.asked or new.asked or new.asks or new.enough) and at_hand and not any(p.has_size or p.count or p.rate for p in merged.places):
        merged.asked = "area"  # "what does a cubic yard cover", "and two yards"
    if new.asked:
        merged.asked, merged.asked_noun = new.asked, new.asked_noun
    if new.asked_unit:
        merged.asked_unit = new.asked_unit
        if not new.asked and merged.asked in ("by-unit", "weight"):
            merged.asked = ""
    if new.pack is not None and not new.asked and new.text.rstrip().endswith("?") and merged.asked in ("weight", "by-unit", "castings", ""):
        merged.asked = "packs"
    if new.charges and not new.asked and merged.price is not None:
        merged.asked = "cost"
    if merged.asked in ("area", "length") and any(place.kind == "plant" and place.rate is not None for place in new.places):
        merged.asked, merged.places = "plants", []  # "how far does a bag go", "on roses instead, a litre each"
