"""Lines that leave open of which place they speak, or what the others are to get: what is asked then."""

from __future__ import annotations

import re

from grammar.draft import Draft
from grammar.words import plural

from ..answer import Answer
from ..pointing import NUMBERED, unresolved
from ..spoken_of import is_bare, spoken_of, which
from . import whole_lines
from .answers import asks
from .line import Line
from .remembered import Remembered


def numbered(talk: Remembered, told: str, line: str) -> Answer | None:
    """ "the 8s", where no place of the talk has that number."""
    return asks(talk, line, "Which are those? Say their size with its unit, as “the 8 inch pots”.") if talk.now.draft is not None and NUMBERED.search(told) else None


def never_told(talk: Remembered, old: Draft, said: Line) -> Answer | None:
    """ "the tubs", where this conversation had none."""
    unknown = _not_spoken_of(talk, old, said.new)
    if unknown is None:
        return None
    return asks(talk, said.text, f"There were no {unknown} before: how many are there, how big, and what are the castings to do there?")


def _not_spoken_of(talk: Remembered, old: Draft, new: Draft) -> str | None:
    """The places that a line names and says nothing of, where this conversation had none of them; None else."""
    if new.unsure or new.stray or new.have or new.asked or new.asked_unit or new.asks or new.way or new.replies or new.topics or new.figures or (
        not old.places
    ):  # fmt: skip
        return None
    for place in new.places:
        bare = place.noun and place.kind not in ("plant", "hole") and is_bare(place)
        if bare and not any(spoken_of(place, draft.places) for draft in [old, *talk.finished]):
            return plural(place.noun.replace("-", " "))
    return None


_HOW_MANY_OF = re.compile(r"\bhow many of (?:those|these|them)\b", re.IGNORECASE)


def of_which(talk: Remembered, old: Draft, said: Line) -> Answer | None:
    """ "how many of those could I do with 20 gallons", where several kinds were told."""
    if len(old.places) < 2 or not _HOW_MANY_OF.search(said.text) or not (said.new.unsure or said.new.have or said.new.pack):
        return None
    return asks(talk, said.text, which(old.places))


def off_the_trunk(talk: Remembered, old: Draft, said: Line) -> Answer | None:
    """A length that may be the ring's own or how far it keeps off the trunk."""
    if "role:clear-of-trunk" in said.new.hints and any(p.diameter for p in said.new.places) and any(p.diameter or p.outer for p in old.places):
        return asks(talk, said.text, "How far from the trunk do the castings begin? Say it as “1 ft from the trunk”.")
    return None


def some_of_them(talk: Remembered, old: Draft, said: Line) -> Answer | None:
    """ "there are 8 big ones", of twenty."""
    if whole_lines.SOME_ONES.search(said.text) and not any(p.has_size for p in said.new.places):
        return asks(talk, said.text, "What do those get, and what do the others get? Say it of each, as “8 hostas 2 cups each, 12 hostas 1 cup each”.")
    return None


def one_of_several(talk: Remembered, old: Draft, said: Line) -> Answer | None:
    """ "the other is 3 by 4", "the small one gets an inch", where it cannot be told which that is."""
    new = said.new
    apart = "one-of-them" in said.replies and bool(old.places) and old.places[0].has_size  # what the others are is known
    if len(old.places) == 1 and (old.places[0].count or 1) > 1 and whole_lines.OTHER_ONE.search(said.text) and any(p.has_size for p in new.places) and not apart:
        return asks(talk, said.text, "How big is each of them? Say all the sizes in one line.")
    if (unresolved(said.told, old.places) or (len(old.places) > 1 and whole_lines.SIZED_ONE.search(said.told))) and (new.figures or new.unsure):
        several = len(old.places) > 1
        return asks(talk, said.text, which(old.places) if several else "Which of them is that, and what is it to be for the others? Say all of them in one line.")
    return None
