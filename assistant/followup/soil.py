"""Which soil a follow-up says there is: to be filled in new, there already, or only now found to be there."""

from __future__ import annotations

import re

from grammar.draft import Draft
from grammar.quantities import DOUBTFUL, factor
from grammar.reads import many_of

from .laid_over import set_way

#: "it already has 10 inches of soil in it", "there's 6 inches of dirt in there"
_SOIL_IN_IT = re.compile(
    r"\b(?:has|have|got|there(?:['’]s| is| are)|holds?|contains?)\b[^.;]*\b(?:soil|dirt|earth|compost|mix)\b[^.;]*\b(?:in (?:it|there|them)|already|now|left)\b|\balready\b[^.;]*\b(?:soil|dirt|earth|compost|mix)\b",
    re.IGNORECASE)


def told_of_soil(merged: Draft, old: Draft, new: Draft) -> None:
    """New soil or the old one holds of every place once a line says so; asks of soil that turns out to be there."""
    if "new-fill" in new.hints and "existing-soil" not in new.hints:
        if merged.way == "incorporate":
            set_way(merged, "")
        for kept in merged.places:
            kept.hints -= {"existing-soil", "top-of"}
        merged.hints -= {"existing-soil", "top-of"}
    if merged.question is None and new.question is None and (asked := _soil_below(old, new)) is not None:
        new.question = ("role", asked)
    if "existing-soil" in new.hints:
        merged.hints.discard("new-fill")
        for kept in merged.places:
            kept.hints.discard("new-fill")


def _soil_below(old: Draft, new: Draft) -> str | None:
    """What is asked where a bed that was to be filled turns out to hold some soil: are the castings for what is above that, or dug into it?"""
    place = old.places[0] if len(old.places) == 1 else None
    told = [one.span for one in new.unsure] + [p.depth for p in new.places if p.depth is not None and not p.has_size]
    deep = None if place is None else place.depth or place.fill or (place.size[2] if len(place.size) == 3 else None)
    if place is None or deep is None or len(told) != 1 or not _SOIL_IN_IT.search(new.text) or old.way in ("incorporate", "top-dress") or place.layer:
        return None
    soil = told[0]
    if soil.unit in DOUBTFUL or soil.dimension != "length" or not soil.is_point or not deep.is_point or not soil.base[0] < deep.base[0] * (1 - 1e-9):
        return None
    if "existing-soil" in place.hints | old.hints:
        return None
    left = deep.base[0] - soil.base[0]
    above = left / factor(soil.unit)
    return (f"Is the mix for the {above:.3g} {many_of(soil.unit)} above that soil, or are castings dug into the soil? "
            f"Say “{above:.3g} {many_of(soil.unit)} deep”, or “dig it into {soil.low:g} {many_of(soil.unit)} of soil”.")  # fmt: skip
