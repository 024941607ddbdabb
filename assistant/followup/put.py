"""A line laid over the draft before it, with its bare measures in the slots of their kind."""

from __future__ import annotations

from grammar.draft import Draft
from grammar.quantities import DOUBTFUL

from ..at_hand import more_vessels
from ..units_meant import spans
from .leaning import Leaning
from .lone_measure import place_measure
from .merge import merge
from .part import all_told


def put(old: Draft, new: Draft, leaning: Leaning, *, adding: bool) -> tuple[Draft, tuple[str, str]]:
    """The old draft with a line laid over it; and the slot and unit of a bare amount that it set."""
    if (vessels := more_vessels(old, new, leaning.past)) is not None:
        new = vessels
    draft = merge(old, new.copy(), adding=adding, touched=leaning.touched)
    if all_told(new.text):
        for place in draft.places:
            place.portion = None
    slot = place_measure(draft, leaning)
    draft.flags = [flag for flag in draft.flags if flag[0] not in DOUBTFUL or (_holds(draft, flag[0]) and flag[0] not in new.asked_unit)]
    return draft, slot


def _holds(draft: Draft, name: str) -> bool:
    """Whether some measure of a draft is still in a unit that had more than one meaning."""
    return any(name in span.unit for span in spans(draft))
