"""What a follow-up says of a mix: other parts, a share in their stead, a recipe."""

from __future__ import annotations

from grammar.draft import Draft


def told_of_mix(merged: Draft, new: Draft) -> None:
    """Parts or a recipe of a line hold of every place, in the stead of what was said before."""
    others = [name for name, _ in merged.recipe if name != "castings"]
    if new.parts_share is not None and len(others) == 1 and len(merged.recipe) == 2:
        part = new.parts_share.low / 100  # "1:4" after "1:9 castings to soil": the soil stays the other part
        new.recipe, new.parts_share = [("castings", part), (others[0], 1 - part)], None
    if new.parts_share is not None:
        merged.recipe = []
        for place in merged.places:
            place.share, place.recipe = None, []
            if place.layer and merged.way != "incorporate":
                place.layer = []  # a share instead of a layer, as a percentage would be
    if new.recipe:
        merged.recipe, merged.parts_share = list(new.recipe), None
        new.figures = []
        merged.figures = []
        for place in merged.places:
            place.share, place.recipe = None, []
