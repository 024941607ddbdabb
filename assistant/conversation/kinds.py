"""What a line says, told by its draft alone: a question in words, a form in which an answer is wanted, plants spoken of."""

from __future__ import annotations

from grammar.draft import Draft
from grammar.query import Query
from grammar.settle import settle

from ..spoken_of import is_bare

#: Question words that ask in words and change nothing.
_ASKING = frozenset({"what-is", "difference", "can-i", "how-to", "which", "why"})


def only_asks(new: Draft) -> bool:
    """Whether a line only asks something in words: it never changes what is being worked out."""
    return bool(new.asks) and set(new.asks) <= _ASKING and not (
        new.figures or new.asked_unit or new.unsure or new.stray or new.replies or new.have or new.price
        or any(p.has_size or p.layer or p.share or p.rate or p.count for p in new.places)
    )  # fmt: skip


def is_priced_apart(new: Draft) -> bool:
    """Whether a line only asks what packs cost, side by side or those of one size: what is being worked out stays as it is."""
    if not (new.pack_noun or new.pack) or new.places or new.have or new.replies or new.budget:
        return False
    read = settle(new.copy())
    if not isinstance(read, Query):
        return False
    priced = read.asked == "cost" and read.pack is not None and read.pack.size is not None and read.pack.price is None
    return (read.asked == "cheaper" and not read.offers) or (priced and bool(read.pack and read.pack.count))


def asks_of_all(new: Draft) -> bool:
    """Whether a line after a total only asks for it in another way: "what does that cost?", "in cubic feet"."""
    return not (
        new.places or new.unsure or new.stray or new.have or new.topics or new.way or new.replies or new.density or new.budget
    )


def bare_but_asks(new: Draft) -> bool:
    """Whether a line holds no place, amount or topic."""
    return not (new.places or new.unsure or new.stray or new.have or new.topics or new.way or new.pack)


def is_question_in_words(new: Draft) -> bool:
    """Whether a line asks for an explanation; what it names as an example of what it asks about is taken off it."""
    if new.places and any(p.has_size or p.layer or p.share or p.rate for p in new.places):
        return False
    if new.topics and new.text.rstrip().endswith("?") and not (new.unsure or new.have or any(p.has_size for p in new.places)):
        new.figures, new.places, new.stray, new.question = [], [], [], None  # "is 5% too little?"
    if set(new.asks) & {"difference", "what-is"} and new.unsure and all(u.article for u in new.unsure):
        return _is_explanation(new)
    if new.unsure or new.have or new.stray or new.weighed or new.density or new.asked_unit or new.pack or new.price:
        return False
    if set(new.asks) <= {"how-heavy"} and not new.topics:
        return False
    return _is_explanation(new)


def _is_explanation(new: Draft) -> bool:
    read = settle(new)
    return isinstance(read, Query) and read.asked == "explanation"



def says_of_plants(new: Draft) -> bool:
    """Whether a line only says something of plants, with no figure in it: "the plants are quite tall"."""
    return new.words > 1 and bool(new.places) and all(place.kind == "plant" and is_bare(place) for place in new.places) and not (
        new.figures or new.asks or new.replies or new.asked or new.asked_unit or new.way or new.recipe
    )  # fmt: skip
