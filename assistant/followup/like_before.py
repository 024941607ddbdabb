"""What a place that comes on top gets as those before it: the same share, the same amount each."""

from __future__ import annotations

import copy

from grammar.draft import Draft, PlaceDraft
from grammar.reads import span as span_in_words

from .joining import as_those_before
from .leaning import cleared

#: Spoken once for all places of a conversation, where no one place is named.
SHARED = ("share", "depth", "layer")


def same_again(merged: Draft, new: Draft, place: PlaceDraft) -> None:
    """ "plus 6 pots of 10 L, same share": what the place before has; "12 leeks, same": what each of those before gets."""
    before = merged.places[-2] if len(merged.places) > 1 else None
    if before is None:
        return
    if as_those_before(new.text) and place.kind in ("plant", "hole") and not (place.share or place.layer or place.rate or place.has_size):
        _as_each_before(merged, place)
    for name in SHARED:
        if f"same:{name}" in new.hints and not getattr(place, name):
            setattr(place, name, copy.copy(getattr(before, name)))
    if "same:depth" in new.hints and not place.depth:
        place.depth = before.fill
    if "same:share" in new.hints and not (place.share or place.layer or place.rate):
        place.layer, place.rate, place.rate_per, place.recipe = list(before.layer), before.rate, before.rate_per, list(before.recipe)


def same_value(old: Draft, new: Draft) -> Draft | None:
    """ "same depth" alone: the last place has it as the one before; None where the line says anything else, or it has that already."""
    names = [name for name in SHARED if f"same:{name}" in new.hints]
    if not names or len(old.places) < 2 or new.places or new.unsure or new.figures or new.asks or new.way:
        return None
    draft = old.copy()
    before, last = draft.places[-2], draft.places[-1]
    for name in names:
        value = getattr(before, name) or (before.fill if name == "depth" else None)
        if not value:
            return None
        setattr(last, name, copy.copy(value))
        if name == "depth":
            last.fill = None
    return None if draft.places == old.places else cleared(draft, new)


def _as_each_before(merged: Draft, place: PlaceDraft) -> None:
    """Gives plants what each of the plants before them gets, which is said; asks where those get different amounts."""
    told = [one for one in merged.places[:-1] if one.kind in ("plant", "hole") and one.rate is not None and one.rate_per is None and not one.rate_whole]
    rates = {(one.rate, one.way) for one in told}
    if len({one.rate for one in told}) > 1 and merged.question is None:
        merged.question = ("rate", f"as which of those before? Say how much each of the {place.printed} gets")
    elif told:
        place.rate = told[-1].rate
        place.way = place.way or (told[-1].way if len(rates) == 1 else "")
        assert place.rate is not None
        merged.flags.append(("as-before", f"{span_in_words(place.rate)} each for the {place.printed}, as the {told[-1].printed} before"))
