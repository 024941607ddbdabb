"""A line that changes what was said: the draft it makes of the one before, and of which line of the order."""

from __future__ import annotations

import re

from grammar.draft import Draft, PlaceDraft
from grammar.query import Query
from grammar.reads import reads
from grammar.settle import settle

from .. import units_meant
from ..answer import Answer
from ..choices import Doubt
from ..followup.by_so_much import by_so_much
from ..followup.component import without_component
from ..followup.joining import of_the_others, opens_on_top, says_as_well, says_only, says_too
from ..followup.left_out import gone_already, keep_only, put_back, taken_off
from ..followup.like_before import same_value
from ..followup.lone_number import place_number
from ..followup.meant import meant, only_names, refers, uncounted
from ..followup.more_places import and_on_top, layer_alone, more_of_them, one_more, same_for
from ..followup.moved import same_change
from ..followup.one_end import one_end
from ..followup.other_unit import names_the_sides, only_the_sides, other_unit
from ..followup.part import all_again, all_of_how_many, part_restated, says_whole
from ..followup.parts import other_parts
from ..followup.told_apart import one_and_the_other, one_of_them, so_many_of
from ..spoken_of import is_named, spoken_of, which
from .answers import CHANGES_NOTHING, answered, aside, asks, doubtful, nothing_changed
from .kinds import says_of_plants
from .line import Line
from .order_lines import lines_with
from .remembered import Remembered
from .stock import with_stock

#: Hints that change a request by themselves.
_CHANGING = frozenset({"say-metric", "say-imperial", "established", "no-dig", "new-fill", "existing-soil", "mixed-in", "seedlings"})

#: A question, by which nothing of the talk is dropped.
_ASKED = re.compile(r"^\W*(?:(?:and|so|ok|but|hm+)\W+)*(?:how much|how many|what)\b", re.IGNORECASE)


def _outcome(talk: Remembered, found: Draft | Doubt | str | None, said: Line) -> Answer | None:
    """The answer to a changed draft, or the question that the change raises; None where there is no change."""
    if found is None:
        return None
    if isinstance(found, str):
        return asks(talk, said.text, found)
    return doubtful(talk, found, said.new, said.text) if isinstance(found, Doubt) else answered(talk, found, said.text)


def as_it_was(talk: Remembered, said: Line) -> Answer | None:
    """ "put the roses back", "all twelve", "another one the same", "the thinner amount": what was there before, once more what is there, or one end of it."""
    old, new = talk.now.draft, said.new
    found = gone_already(old, new) or put_back(old, new, talk.earlier()) or all_again(old, new, talk.earlier()) or one_more(old, new)
    if found is None and old is not None and talk.now.waiting is None:
        found = one_end(old, talk.now.answer, said.text)
    return _outcome(talk, found, said)


def each_of_two(talk: Remembered, old: Draft, said: Line) -> Answer | None:
    """ "10 inches one and 12 the other"."""
    return _outcome(talk, one_and_the_other(old, said.new), said)


def so_many_of_a_sort(talk: Remembered, old: Draft, said: Line) -> Answer | None:
    """ "8 of the big ones instead"."""
    return _outcome(talk, so_many_of(old, said.text), said)


def other_parts_of_a_mix(talk: Remembered, old: Draft, said: Line) -> Answer | None:
    """ "make it 3 parts coir"."""
    return None if talk.now.awaiting else _outcome(talk, other_parts(old, said.new, talk.earlier()), said)


def less_of_a_mix(talk: Remembered, old: Draft, said: Line) -> Answer | None:
    """ "no perlite"."""
    return _outcome(talk, without_component(old, said.new), said)


def more_or_less(talk: Remembered, old: Draft, said: Line) -> Answer | None:
    """ "two more pots", "double the mix"."""
    return _outcome(talk, by_so_much(old, said.new, talk.leaning()), said)


def follow_up(talk: Remembered, old: Draft, said: Line) -> Answer:
    """The answer to what a line makes of the draft before, or to the line by itself where it changes nothing."""
    new = said.new
    if "only-these" in said.replies and new.places and _ASKED.match(said.told) and not talk.now.awaiting:
        alone = _only(talk, new)
        if isinstance(alone, Draft):
            there = meant(new, old, ())
            talk.now.about = tuple(there) if not isinstance(there, str) else ()
            return aside(talk, alone, said.text)  # "how much for just the pots?" is asked beside the talk
    draft = made_of(talk, old, new, said.replies)
    if draft is None:
        return nothing_changed(talk, new, said.text)
    if isinstance(draft, str):
        return asks(talk, said.text, draft)
    if says_of_plants(new) and talk.now.answer is not None and isinstance(read := settle(draft.copy()), Query) and reads(read) == talk.now.answer.reads:
        return asks(talk, said.text, CHANGES_NOTHING)
    if draft.enough:
        draft = with_stock(talk, draft)
    another = "same-for" in said.replies and len(draft.places) == 1 and any(p.has_size for p in new.places)
    return answered(talk, draft, said.text, awaiting=talk.now.awaiting, another=another)


def made_of(talk: Remembered, old: Draft, new: Draft, replies: set[str]) -> Draft | str | None:
    """The draft that a follow-up makes of the one before, the question it raises, or None where it changes nothing."""
    if ("only-these" in replies and new.places) or (says_only(new.text) and only_names(new)):
        kept = _only(talk, new)
        if kept is not None:
            return kept
    if (says_too(new.text) or "same-for" in replies) and only_names(new):
        there = meant(new, old, talk.leaning().touched)
        if isinstance(there, str):
            return there
        before = talk.past[-1].draft if talk.past else None
        if there and before is not None and (same := same_change(before, old, new, there)) is not None:
            return same
    if "same-for" in replies and any(p.noun or p.has_size for p in new.places):
        return same_for(old, new)
    if "one-of-them" in replies and old.places:
        return one_of_them(old, new)
    if (again := same_value(old, new)) is not None:
        return again
    if not _changes_anything(old, new):
        return None
    if of_the_others(new.text) and talk.now.answer is not None and of_the_others(talk.now.answer.request) and len(old.places) > 1:
        return which(old.places)  # twice in a row: the same ones, or those that were not meant then
    if (asked := all_of_how_many(old, new)) is not None:
        return asked
    part_restated(old, new)
    adding = "add-place" in replies or opens_on_top(new.text)
    index = None if adding else _line_meant(talk, old, new)
    if isinstance(index, str):
        return index
    if index is not None:
        old, talk.meant = talk.finished[index], index
        if len(old.places) == 1:
            new = uncounted(new)
    if (right := units_meant.set_right(old, new)) is not None:
        return right
    if names_the_sides(old, new):
        return only_the_sides(old, new)
    if (new.asked_unit or new.not_unit) and not new.asks and re.search(r"\b(?:mean|meant|not)\b", new.text.lower()) and (
        not new.places and not new.unsure
    ):  # fmt: skip
        return other_unit(old, new)
    if new.not_unit:
        new.asked_unit = ""
    if new.asked_unit and (new.places or new.unsure) and not new.asks and "mean" in new.text.lower():
        new.asked_unit = ""
    layer = layer_alone(new)
    last = old.places[-1] if old.places else None
    if layer is not None and last is not None and last.has_size and (last.share or last.recipe or _is_mixed(talk, old, last)) and says_as_well(new.text):
        return and_on_top(old, new, layer)
    if new.minus and not any(p.has_size for p in new.places):
        return taken_off(old, new, talk.leaning().touched)
    more = more_of_them(old, new) if adding else None
    if more is not None:
        return more
    draft = talk.put(old, new, adding=adding)
    if len(old.places) < 2 or not any(is_named(place) for place in new.places):
        place_number(draft, talk.leaning(), "count")
    return draft


def _is_mixed(talk: Remembered, old: Draft, place: PlaceDraft) -> bool:
    """Whether a bed was worked out as a mix at the usual share, no share being said."""
    share = talk.now.answer.share if talk.now.answer is not None else None
    return bool(share) and place.kind == "ground" and bool(place.depth or place.fill) and not place.layer and old.way != "top-dress"


def _changes_anything(old: Draft, new: Draft) -> bool:
    """Whether a line says anything that could change the draft before it."""
    return bool(
        new.places or new.unsure or new.stray or new.have or new.asked or new.asked_unit or new.way or new.not_ways or new.pack
        or new.price or new.budget or new.per_volume or new.ratio_spans or new.density or new.weighed or new.moisture or new.recipe
        or new.parts_share or new.ratio or new.water or new.charges or new.tax or new.question or new.refusal or new.is_compared
        or new.packs_count or new.soil or new.limit or new.hints & _CHANGING or new.enough or new.end or new.times or new.minus
        or says_whole(new.text, old)
    )  # fmt: skip


def _only(talk: Remembered, new: Draft) -> Draft | str | None:
    """ "just the pots", of the last turn that had them beside others."""
    for turn in [talk.now, *reversed(talk.past)]:
        if turn.draft is not None and len(turn.draft.places) > 1:
            kept = meant(new, turn.draft, ())
            if isinstance(kept, str):
                return kept
            if kept:
                only = keep_only(turn.draft, new, kept)
                rest = new.copy()
                rest.places = []
                return talk.put(only, rest, adding=False) if new.asked or new.pack or new.asked_unit else only
    return None


def _line_meant(talk: Remembered, old: Draft, new: Draft) -> int | str | None:
    """The line of the order that a follow-up goes back to, where it names what only that one holds; None for the one in hand."""
    named = Draft(places=[place for place in refers(new) if not place.has_size])
    lately = talk.leaning().touched
    for to_the_word in (True, False):
        if not named.places or any(spoken_of(place, old.places, lately, to_the_word=to_the_word) for place in named.places):
            return None
        lines = lines_with(talk.finished, named, to_the_word=to_the_word)
        if len(lines) > 1:
            return which([place for at in lines for place in talk.finished[at].places])
        if lines:
            return lines[0]
    return None
