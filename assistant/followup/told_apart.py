"""One of several alike, told apart from the rest by what it gets or by its size."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from grammar.draft import Draft, PlaceDraft
from grammar.gather import gather
from grammar.quantities import Span

from ..pointing import compared
from ..replies import bare_number
from ..spoken_of import by_size, spoken_of, which
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


#: "8 of the big ones instead": how many there are of one sort
_HOW_MANY_OF = re.compile(
    r"^\W*(?:(?:and|but|ok|okay|no|only|just|actually|make it|make that|do|let's do|i have|we have|there are|there's|with|say|so|now)\W+)*(?P<many>\d+|one|two|three|four|five|six|seven|eight|nine|ten|twelve)"
    r" of the (?:(?P<which>small|smaller|smallest|little|big|bigger|biggest|large|larger|largest)|(?P<size>\d[^,;.?!]*?)) (?:ones?|pots?|tubs?|beds?|baskets?|trays?|boxes|planters?)(?:\W+(?:instead|then|now|please|only|rather))*\W*$",
    re.IGNORECASE)


def so_many_of(old: Draft, text: str) -> Draft | str | None:
    """ "8 of the big ones instead", "only 3 of the small ones": that many of one sort, the others as they were; None for any other line."""
    found = _HOW_MANY_OF.match(text)
    if found is None:
        return None
    at = compared(found["which"], old.places) if found["which"] else _of_size(found["size"], old)
    many = bare_number(found["many"])
    if at is None and found["size"] and len(old.places) > 1 and all(place.kind in ("container", "ground") for place in old.places):
        return which(old.places)
    if at is None or not many or old.places[at].kind not in ("container", "ground"):
        return None
    draft = old.copy()
    draft.places[at].count = many
    return cleared(draft, Draft(text=text))


def _of_size(size: str, old: Draft) -> int | None:
    """Which of several places has a size that is told in words; None where none or several have it."""
    noun = next((place.printed for place in reversed(old.places) if place.printed), "")
    told = gather(f"{size} {noun}", leaning=True).places
    hits = by_size(told[0], old.places) if len(told) == 1 and len(old.places) > 1 else []
    return hits[0] if len(hits) == 1 else None


#: "48 of them are 6 inch", "three of the 5 gallon ones at 15 %": so many of those spoken of, and what is told of them.
_SOME = re.compile(
    r"^\W*(?:(?:and|but|oh|ok|so|only|actually|also|now|well)\W+)*(?P<some>\d+|[a-z]+(?:[ -][a-z]+)?) of (?:(?P<all>them|those|these)|(?:the|my|our|those|these) [^,;.?!]+?)"
    r" (?:are|is|have|has|get|gets|need|needs|take|takes|at|with|will|should)\b",
    re.IGNORECASE)


def some_of_them(old: Draft | None, new: Draft) -> None:
    """Marks a line that tells some of several apart: "48 of them are 6 inch" of 96 pots, "half of them get an inch"."""
    found = _SOME.match(new.text)
    if found is None or old is None or {"by-so-much", "cut"} & new.hints or any(name in ("one-of-them", "drop-place") for name, _ in new.replies):
        return
    value = bare_number(found["some"])
    said = found["some"].lower()
    told = [replace(one, count=None) for one in new.places if one.count == value or one.portion == value] or new.places
    at = 0 if len(old.places) == 1 else _which_of(told, old) if not found["all"] else -1
    place = old.places[at] if 0 <= at < len(old.places) else None
    if value is None or place is None or place.count is None:
        return
    some = value * place.count if value < 1 else value
    if not (some.is_integer() and 1 <= some < place.count):
        return
    new.replies.append(("one-of-them", f"{some:g} of them"))
    new.stray = [one for one in new.stray if one[0].lower() != said]
    new.figures = [one for one in new.figures if one[1].lower() != said]
    for one in new.places:
        one.count = None if one.count == value else one.count
        one.portion = None if one.portion == value else one.portion
    new.places = [one for one in new.places if not one.is_empty or one.noun or one.volume or one.rate or one.portion]


def _which_of(told: Sequence[PlaceDraft], old: Draft) -> int:
    """The one place of several that a line tells some of: by its size, else by its noun; -1 where none or several may be."""
    if not told:
        return -1
    hits = by_size(told[0], old.places) if told[0].has_size else spoken_of(told[0], old.places)
    return hits[0] if len(hits) == 1 else -1


def one_of_them(old: Draft, new: Draft) -> Draft:
    """ "one of them is 15 litres": one of several told apart from the rest."""
    draft = old.copy()
    at = max(_which_of(new.places, old), -1) if len(old.places) > 1 else 0
    place = draft.places[at]
    said = next(text for name, text in new.replies if name == "one-of-them")
    some = bare_number(said.split()[0]) or 1.0
    if not (new.places or new.unsure or new.stray or new.question):
        place.count = some  # "and two of them"
        return cleared(draft, new)
    if place.count is None or place.count <= some:
        return merge(old, new, adding=False)
    other = old.copy().places[at]
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
