"""What the turn before changed, done to other places as well or in the stead of those."""

from __future__ import annotations

from collections.abc import Sequence

from grammar.draft import Draft, PlaceDraft

from .laid_over import lay_over
from .leaning import cleared


def same_change(before: Draft, now: Draft, new: Draft, there: Sequence[int]) -> Draft | None:
    """ "the pots too": what the turn before changed, for these places as well."""
    if len(before.places) != len(now.places):
        return None
    changed = {
        name: getattr(place, name)
        for was, place in zip(before.places, now.places, strict=True) for name in ("share", "depth", "layer", "rate")
        if getattr(was, name) != getattr(place, name) and getattr(place, name)
    }  # fmt: skip
    if len(changed) != 1:
        return None
    draft = now.copy()
    for at in there:
        lay_over(draft.places[at], PlaceDraft(**changed))
    return cleared(draft, new)


def moved_over(before: Draft, now: Draft, new: Draft, there: Sequence[int] = ()) -> Draft | None:
    """ "wait, wrong bed": what the turn before changed of a place is taken back there and done to the other, or to the one that is named; None where it is not so plain."""
    if len(before.places) != len(now.places):
        return None
    at = [i for i, (was, one) in enumerate(zip(before.places, now.places, strict=True)) if was != one]
    others = list(there) or [i for i in range(len(now.places)) if i not in at]
    if len(at) != 1 or len(others) != 1 or others[0] == at[0]:
        return None
    was, one = before.places[at[0]], now.places[at[0]]
    draft = before.copy()
    for name in ("share", "depth", "layer", "rate", "count", "fill"):
        if getattr(was, name) != getattr(one, name):
            setattr(draft.places[others[0]], name, getattr(one, name))
    return cleared(draft, new)
