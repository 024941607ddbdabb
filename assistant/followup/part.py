"""A part of a place or of so many, and all of it again."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from grammar.draft import Draft, PlaceDraft

from ..replies import bare_number
from ..spoken_of import is_bare
from .by_so_much import times
from .leaning import cleared
from .meant import meant

#: What was left out is put back: "all twelve", "the whole lot", "every one of them".
_NUMBER = r"\d+|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|fifteen|twenty|thirty|forty|fifty|hundred"
_WHOLE_OF_IT = re.compile(r"\b(?:the (?:whole|entire)|all of (?:it|the))\b", re.IGNORECASE)
_ALL_OF_THEM = re.compile(
    rf"\ball (?:of )?(?:them|those|these|it|the|my|our|{_NUMBER})\b|\b(?:them|those|it) all\b|\bevery (?:single )?one\b|\bthe (?:whole|full|entire)\b|^\W*(?:no\W+)?all\W*$",
    re.IGNORECASE,
)
_ALL_AT_ONCE = re.compile(rf"\ball (?:of )?(?:them|those|these|{_NUMBER}|(?:the|my|our) \w+)\b", re.IGNORECASE)
_GETS_NONE = re.compile(r"\b(?:gets?|needs?|has|takes?) (?:none|nothing|no castings)\b|\b(?:is|are) (?:left out|skipped|fallow|paved|gravel)\b")


def says_whole(line: str, old: Draft) -> bool:
    """ "do all of it" after a part of it."""
    return _WHOLE_OF_IT.search(line) is not None and any(place.portion is not None for place in old.places)


def all_told(text: str) -> bool:
    """Whether a line speaks of all there is, be it one or several: "the whole bed", "all of them"."""
    return _WHOLE_OF_IT.search(text) is not None or _ALL_AT_ONCE.search(text) is not None


def part_restated(old: Draft, new: Draft) -> None:
    """ "the half of it, 50 sq ft", of 100 sq ft: the part and what it comes to are one and the same, where they agree."""
    here, was = new.places[0] if len(new.places) == 1 else None, old.places[0] if len(old.places) == 1 else None
    part = bare_number(new.stray[0][0]) if len(new.stray) == 1 else None
    if here is None or was is None or here.area is None or was.area is None or part is None or not part < 1 or was.count not in (None, 1):
        return
    if abs(here.area.base[0] - part * was.area.base[0]) <= 0.01 * here.area.base[0]:
        said = new.stray[0][0]
        new.stray, new.figures = [], [figure for figure in new.figures if figure[1] != said]
        new.noted.append((said, "the part that the size tells"))


def all_again(old: Draft | None, new: Draft, past: Sequence[Draft]) -> Draft | str | None:
    """ "all twelve", "no, all of them" after "half the pots" or "only 8": as many as there were before.

    None where nothing was left out before or the line says something else; a question where it counts otherwise.
    """
    if old is None or not old.places or not _ALL_OF_THEM.search(new.text) or new.unsure or new.have or new.asked or new.asked_unit or new.way or new.topics or (
        new.price or new.pack or any(not is_bare(replace(place, count=None, portion=None)) for place in new.places)
    ):  # fmt: skip
        return None
    draft = old.copy()
    hits = meant(Draft(places=[replace(place, count=None) for place in new.places]), old, ()) if new.places else list(range(len(old.places)))
    if isinstance(hits, str):
        return hits
    fewer = False
    for at in hits:
        place = draft.places[at]
        most = max((one.places[at].count or 0 for one in past if len(one.places) == len(old.places)), default=0)
        fewer = fewer or place.portion is not None or most > (place.count or 0)
        place.portion, place.count = None, most if most > (place.count or 0) else place.count
    if not fewer:
        return None
    told = [place.count for place in new.places if place.count] + [n for n in (bare_number(said) for said, _, _ in new.stray) if n is not None]
    if told and sum(told) != sum(draft.places[at].count or 0 for at in hits):
        return f"There were {sum(draft.places[at].count or 0 for at in hits):g}; how many are there now?"
    return cleared(draft, new)


_ALL_SO_MANY = re.compile(rf"\ball (?P<many>{_NUMBER})\b", re.IGNORECASE)


def all_of_how_many(old: Draft, new: Draft) -> str | None:
    """ "do all three the same", where two are left: what is asked then; None where they are so many, or the line tells of others."""
    found = _ALL_SO_MANY.search(new.text)
    number = bare_number(found["many"]) if found is not None else None
    if number is None or len(old.places) < 2 or any(place.has_size or place.noun for place in new.places):
        return None
    counts = {float(len(old.places)), sum(place.count or 1 for place in old.places)}
    return None if number in counts else f"There are {len(old.places)} of them now; which are meant? Say what each is to get."


def part_of_it(draft: Draft, place: PlaceDraft, value: float) -> None:
    """ "only half of it", "half of them": a part of the place, or of so many; "half the layer" of its value."""
    text = draft.text.lower()
    if _GETS_NONE.search(text) and value < 1:
        draft.flags.append(("left-out", f"{draft.stray[0][0]} of it gets none"))
        value, draft.figures = 1 - value, []  # "a third of it gets none"
    if draft.unsure or len({said for _, said in draft.figures}) > 1 or re.search(r"\b(?:rest|other)\b", text):
        return  # "half of it with half an inch, the rest an inch"
    if re.search(r"\bof (?:it|that|this|the (?:bed|plot|lawn|row|border|patch))\b", text) and (place.count or 1) == 1 and place.portion is None:
        place.portion, draft.stray = value, []
    elif re.search(r"\bof (?:them|those|these)\b", text) and place.count and (place.count * value).is_integer():
        place.count, draft.stray, draft.figures = place.count * value, [], []
    elif "role:thick" in draft.hints and place.layer:
        place.layer, draft.stray, draft.figures = [times(one, value) for one in place.layer], [], []
    elif "role:depth" in draft.hints and place.depth is not None:
        place.depth, draft.stray, draft.figures = times(place.depth, value), [], []
    elif "share-word" in draft.hints and place.share is not None:
        place.share, draft.stray, draft.figures = times(place.share, value), [], []
        draft.asked = "" if draft.asked == "share" else draft.asked  # the word names what is halved, and asks for nothing
    draft.hints -= {"role:thick", "role:depth", "share-word"}
