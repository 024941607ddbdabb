"""Whether a line is a request of its own, or leans on what was said before."""

from __future__ import annotations

from grammar.draft import Draft
from grammar.query import Query
from grammar.settle import settle

from ..followup.asked import BACKWARDS
from ..followup.joining import leans
from ..spoken_of import is_another_kind, spoken_of
from .remembered import Turn


def is_fresh(now: Turn, new: Draft, replies: set[str]) -> bool:
    """Whether a line is a whole request of its own, not leaning on what came before."""
    if replies & {"same-for", "add-place", "drop-place", "one-of-them"} or "correcting" in new.hints:
        return False
    if "more-needed" in new.hints and not new.places and now.draft is not None and now.draft.places:
        return False  # "I have 5 litres, how much more do I need"
    asked_for = now.draft if now.awaiting == "place" else None
    if asked_for is not None and not asked_for.places and (asked_for.pack or asked_for.have or asked_for.price or asked_for.packs_count):
        return False  # "30 lb bags at $19.99", "for a 10x12 bed at half an inch"
    if new.way == "tea" and (new.ratio or new.ratio_spans or new.water) and now.draft is not None and now.draft.way != "tea":
        return isinstance(settle(new), Query)
    if now.draft is not None and now.draft.way == "tea" and not new.way and "enough" in new.asks and new.have is None and not any(p.has_size for p in new.places):
        return False  # "for 30 plants at a cup each, enough?", of the tea
    if _is_another_job(now.draft, new):
        return True
    most = "most" in new.text.lower().split()
    at_hand = new.have is not None or bool(new.packs_count and (new.pack or new.asked in BACKWARDS or most)) or new.budget is not None
    told = most or bool(new.unsure) or any(p.layer or p.share or p.rate or p.depth for p in new.places) or (new.have is not None and bool(new.asked))
    if not (at_hand or told or new.way) and _counts_again(now.draft, new):
        return False
    if not any(p.has_size or p.count for p in new.places) and not (at_hand and told and (new.asked or "cover" in new.asks)):
        return False
    if _is_another_place(now.draft, new):
        return True
    strong = bool(new.way or new.recipe or new.parts_share or new.asked) or at_hand or any(p.layer or p.share or p.rate for p in new.places)
    if not strong:
        return False
    return not leans(new.text) and isinstance(settle(new), Query)


def _counts_again(old: Draft | None, new: Draft) -> bool:
    """Whether a line only says how many there are of plants spoken of before: "have 30 roses, how many bags", of roses at a litre each."""
    places = old.places if old is not None else []
    return bool(new.places) and all(p.kind == "plant" and not p.has_size and spoken_of(p, places, to_the_word=True) for p in new.places)


def _is_another_job(old: Draft | None, new: Draft) -> bool:
    """Whether a line begins another piece of work, whatever it lacks yet: a way, and plants or a place not spoken of so far."""
    return bool(
        old is not None and old.places and new.way and new.places and not leans(new.text) and all(p.noun and not spoken_of(p, old.places) for p in new.places)
    )


def _is_another_place(old: Draft | None, new: Draft) -> bool:
    """Whether a line tells the size of a place that none of those in hand can be: a lawn, after a bed."""
    if old is None or not old.places or leans(new.text) or not any(p.has_size for p in new.places):
        return False
    return all(is_another_kind(p, q) for p in old.places for q in new.places)
