"""What comes on top of what was told: another place like it, more of the same, a layer on it."""

from __future__ import annotations

import re

from grammar.draft import Draft, PlaceDraft
from grammar.quantities import DOUBTFUL

from ..spoken_of import is_another_sort, is_bare, is_named
from .asked import asked_enough
from .joining import says_more
from .laid_over import lay_over
from .leaning import cleared
from .lone_measure import THIN

_AND_SO_MANY = re.compile(r"^\W*(?:(?:oh|ok|so)\W+)*and (?:\d+|two|three|four|five|six|seven|eight|nine|ten|twelve) [a-z -]+[.!]*$", re.IGNORECASE)
_ONE_MORE = re.compile(
    r"^\W*(?:and )?(?:also )?(?:another(?: one)?|one more|the same again)(?:[ ,]+(?:of )?(?:the )?(?:same(?: size)?|like (?:it|that|this)|just like (?:it|that)))?\W*$"
    r"|^\W*(?:and )?(?:the |a )?(?:second|third|next|other) (?:one|bed|pot|tub|box|lawn|row|plot)?,?(?: is)?(?: the)?(?: exactly)? same(?: size| again)?\W*$",
    re.IGNORECASE,
)



def layer_alone(new: Draft) -> PlaceDraft | None:
    """The one layer that a line tells, without a place of its own; None where it tells anything else."""
    told = [place for place in new.places if place.layer and not place.noun and not place.has_size]
    if told:
        return told[0]
    thin = [one.span for one in new.unsure if one.span.unit not in DOUBTFUL and one.span.dimension == "length" and one.span.base[1] <= THIN]
    on_top = new.way == "top-dress" or "role:thick" in new.hints or re.search(r"\b(?:on top|layer)\b", new.text.lower())
    if len(thin) == len(new.unsure) == 1 and on_top and not any(place.has_size or place.noun for place in new.places):
        return PlaceDraft(layer=thin)
    return None



def and_on_top(old: Draft, new: Draft, layer: PlaceDraft) -> Draft:
    """ "and 1 cm on top of it too": the same place once more, dressed."""
    draft = old.copy()
    again = old.copy().places[-1]
    draft.places[-1].way = draft.places[-1].way or draft.way or "blend"
    again.share, again.recipe, again.depth, again.fill = None, [], None, None
    again.layer, again.way = list(layer.layer), "top-dress"
    draft.way = ""
    draft.places.append(again)
    return cleared(draft, new)


def same_for(old: Draft, new: Draft) -> Draft:
    """ "the same for 12 tubs": another place that is to get what the last one gets."""
    draft = old.copy()
    draft.enough = asked_enough(old)
    pattern = old.places[-1] if old.places else PlaceDraft()
    draft.places = []
    for place in new.places:
        if place.kind == pattern.kind and not place.has_size and (place.noun == pattern.noun or place.count):
            copy = old.copy().places[-1]
            lay_over(copy, place)
            draft.places.append(copy)
            continue
        copy = PlaceDraft(share=pattern.share, layer=list(pattern.layer), rate=pattern.rate, rate_per=pattern.rate_per,
                          recipe=list(pattern.recipe), way=pattern.way)  # fmt: skip
        if place.kind == pattern.kind == "ground" and pattern.depth is not None and not place.depth:
            copy.depth = pattern.depth
        lay_over(copy, place)
        draft.places.append(copy)
    draft.text, draft.flags, draft.noted, draft.stray, draft.unsure = new.text, [], [], list(new.stray), list(new.unsure)
    draft.question, draft.asks, draft.replies, draft.figures = new.question, [], [], list(new.figures)
    return draft


def more_of_them(old: Draft, new: Draft) -> Draft | str | None:
    """ "plus 17 peppers", of 12 peppers: so many more of the same; None where the line brings in something else."""
    one = new.places[0] if len(new.places) == 1 else None
    if one is None or not one.count or one.kind not in ("plant", "container") or one.has_size or one.layer or one.share or one.rate or new.unsure or new.way:
        return None
    hits = [i for i, place in enumerate(old.places) if place.noun == one.noun and place.count and not is_another_sort(place, one)]
    if len(hits) != 1 or is_named(one):
        return None
    place = old.places[hits[0]]
    assert place.count is not None
    if not says_more(new.text):
        return None if not _AND_SO_MANY.match(new.text) else f"Are there {one.count:g} {one.printed} more than the {place.count:g}, or {one.count:g} in all? Say how many there are in all."
    draft = old.copy()
    draft.places[hits[0]].count = place.count + one.count
    return cleared(draft, new)


def one_more(old: Draft | None, new: Draft) -> Draft | None:
    """ "another one the same", "one more like that": the last place once more."""
    if _ONE_MORE.match(new.text) is None or not all(is_bare(place) for place in new.places) or new.unsure or new.have or old is None or not old.places:
        return None
    draft = old.copy()
    draft.places[-1].count = (draft.places[-1].count or 1) + 1
    return cleared(draft, new)
