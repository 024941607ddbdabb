"""One of several alike, told apart from the rest by what it gets or by its size."""

from __future__ import annotations

import re
from dataclasses import replace

from grammar.draft import Draft
from grammar.quantities import Span

from ..replies import bare_number
from .laid_over import lay_over
from .leaning import Leaning, cleared
from .lone_measure import place_measure
from .merge import merge

_ONE_OTHER = re.compile(
    r"\b(\d+(?:\.\d+)?) ?(inch(?:es)?|in|cm|ft|feet|foot|m)?(?: deep)? (?:for |in )?(?:the |)one,? (?:and|but) (\d+(?:\.\d+)?) ?(inch(?:es)?|in|cm|ft|feet|foot|m)?(?: deep)? (?:for |in )?the other\b"
    , re.IGNORECASE)


def one_and_the_other(old: Draft, new: Draft) -> Draft | None:
    """ "10 inches one and 12 the other", of two beds of one size; None where it is no such line."""
    found = _ONE_OTHER.search(new.text)
    place = old.places[-1] if len(old.places) == 1 else None
    if found is None or place is None or place.count != 2:
        return None
    name = next((unit_ for unit_, says in (("centimetre", "cm"), ("inch", "in"), ("foot", "f"), ("metre", "m")) if (found[2] or found[4] or "").lower().startswith(says)), "")
    if not name:
        return None
    draft = old.copy()
    draft.places.append(draft.copy().places[0])
    for one, value in zip(draft.places, (float(found[1]), float(found[3])), strict=True):
        one.count, one.depth = 1.0, Span(value, value, name)
    return cleared(draft, new)


def one_of_them(old: Draft, new: Draft) -> Draft:
    """ "one of them is 15 litres": one of several told apart from the rest."""
    draft = old.copy()
    place = draft.places[-1]
    said = next(text for name, text in new.replies if name == "one-of-them")
    some = bare_number(said.split()[0]) or 1.0
    if not (new.places or new.unsure or new.stray or new.question):
        place.count = some  # "and two of them"
        return cleared(draft, new)
    if place.count is None or place.count <= some:
        return merge(old, new, adding=False)
    other = old.copy().places[-1]
    place.count -= some
    other.count = some
    for one in new.places:
        lay_over(other, one)
    draft.places.append(other)
    draft.text, draft.flags, draft.noted, draft.stray = new.text, [], [], list(new.stray)
    draft.unsure = [replace(unsure, place=len(draft.places) - 1) for unsure in new.unsure]
    draft.question, draft.asks, draft.replies, draft.figures = new.question, [], [], list(new.figures)
    place_measure(draft, Leaning())
    return draft
