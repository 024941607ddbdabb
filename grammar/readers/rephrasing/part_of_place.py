"""The part of a place that castings go on, told after it: "bed is 4 by 8 ft, only the back third", "we split it, just my half"."""

from __future__ import annotations

import re

from ...draft import Draft
from ...later import later
from ...phrases import Amount, Number, Phrase, Said, Share
from ...said import Waits, is_said, single
from ...things import is_ground_size

PART_OF_PLACE: Waits = (frozenset({Number}), frozenset({"sides", ("measures", "area")}))
#: Before the part: which one of it. What is at the top or the bottom is a part of its depth.
_WHICH = later(
    r"(?P<only>\b(?:only|just)\s+)?\b(?P<whose>the|my|our|his|her|its|a)\s+(?P<side>(?:back|front|left|right|far|near|north|south|east|west|northern|southern|eastern|western|"
    r"sunny|shady|first|last|end|outer|inner|left[- ]hand|right[- ]hand|other)\s+)?$",
    re.IGNORECASE,
)
_SHARED = later(r"\b(?:split\w*|shar(?:e|es|ed|ing)|halv\w*|divid\w*|between us|with (?:my|a|the|our))\b", re.IGNORECASE)
#: After it: what it gets, or nothing more of it.
_ENDS = later(r"\s*(?:only|alone)?\s*(?:of (?:it|that|this|the (?:bed|plot|lawn|garden|border))\b)?\s*(?:$|[,.;:!?)]|(?:only|alone|gets?|needs?|is|will|wants?|has to|should|to be|at|and|but)\b)", re.IGNORECASE)
_GETS = later(r"\s*(?:is |are )?(?:to )?(?:gets?|needs?|wants?|be given)\b", re.IGNORECASE)


def find_part_of_place(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with that part put before the size of the place, as "a third of the bed"; the reading says so."""
    sizes = [i for i, p in enumerate(phrases) if is_ground_size(p)]
    if len(sizes) != 1:
        return phrases
    size = phrases[sizes[0]]
    phrases = _gets_castings(phrases, sizes[0], draft)
    for at, phrase in enumerate(phrases):
        number = single(phrase)
        if at < sizes[0] or type(number) is not Number or number.role or not 0 < number.low == number.high < 1:
            continue
        which = _WHICH.search(draft.text[: number.start])
        after = phrases[at + 1] if at + 1 < len(phrases) else None
        if which is None or not _ENDS.match(draft.text, number.end) or type(after) is Amount:
            continue
        mine = which["whose"].lower() in ("my", "our") and (which["only"] or re.match(r"\s*(?:only|alone)\b", draft.text[number.end :])) and _SHARED.search(draft.text)
        gets = _GETS.match(draft.text, number.end) is not None and (is_said(after, "castings") or type(after) is Share)
        alone = which["only"] or re.match(r"\s*(?:only|alone)\b", draft.text[number.end :]) or gets
        if not (which["side"] and which["side"].strip().lower() != "other" and alone) and not mine:
            continue  # "the back third is in shade" says nothing of castings
        said = draft.text[which.start() : number.end].strip()
        draft.flags.append(("part-of-place", f"“{said}” is taken as that part of the {draft.text[size.start : size.end].strip()}"))
        moved: list[Phrase] = [Amount((number._replace(start=size.start, end=size.start),), size.start, size.start), Said("link", "of", "of", size.start, size.start)]
        left = [p for i, p in enumerate(phrases) if i != at and not (which.start() <= p.start < number.end and type(p) is Said)]
        where = left.index(size)
        return [*left[:where], *moved, *left[where:]]
    return phrases


def _gets_castings(phrases: list[Phrase], size_at: int, draft: Draft) -> list[Phrase]:
    """ "the front half of my 4 by 8 ft bed gets castings": half of the bed, and no half castings."""
    part = single(phrases[size_at - 2]) if size_at > 1 and is_said(phrases[size_at - 1], "link", "of") else None
    if type(part) is not Number or part.role or not 0 < part.low < 1:
        return phrases
    for at in range(size_at + 1, min(size_at + 3, len(phrases))):
        if is_said(phrases[at], "castings") and re.search(r"\b(?:gets?|needs?)\s*(?:worm\s*)?$", draft.text[: phrases[at].start], re.IGNORECASE):
            draft.hints.add("castings-named")
            return [*phrases[:at], *phrases[at + 1 :]]
    return phrases
