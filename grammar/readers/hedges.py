"""A hedge that is given so much a foot: it is a row, and the length told beside it is how long it is."""

from __future__ import annotations

from ..draft import Draft, PlaceDraft
from ..quantities import DOUBTFUL, unit


def along_its_length(draft: Draft) -> None:
    """ "1 cup per foot, 30 feet of hedge": plants with no number of their own, told by how far they reach."""
    if not 1 <= len(draft.places) <= 2:
        return
    place, further = draft.places[0], draft.places[1:]
    if further and further[0] != PlaceDraft(length=further[0].length, tie=further[0].tie, hints=further[0].hints):
        return
    if place.kind != "plant" or place.rate_per is None or place.rate_per.dimension != "length" or place.count:
        return
    if further:
        if place.has_size or further[0].length is None:
            return
        place.length, draft.places = further[0].length, [place]
    elif place.length is None:
        far = [one for one in draft.unsure if one.span.unit not in ("", *DOUBTFUL) and unit(one.span.unit).dimension == "length"]
        if len(far) != 1 or place.has_size:
            return
        place.length = far[0].span
        draft.unsure = [one for one in draft.unsure if one is not far[0]]
    place.crop = place.crop or place.noun
    place.noun, place.kind, place.printed = "row", "ground", "row"
