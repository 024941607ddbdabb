"""A line that answers the question just asked."""

from __future__ import annotations

from grammar.draft import Draft

from ..answer import Answer
from ..followup.joining import opens_on_top
from ..followup.leaning import cleared
from ..followup.lone_measure import MEASURES
from ..followup.lone_number import place_number
from ..knowledge import facts
from ..replies import BESIDE, as_asked
from ..units_meant import FAMILIES
from ..worked import default_span
from . import whole_lines
from .answers import answered, asks
from .fresh import is_fresh
from .kinds import is_question_in_words
from .line import Line
from .remembered import Remembered

#: What the trade would say where a user does not know.
_USUAL = {"depth": "bed.depth", "layer": "lawn.layer"}
#: Which way suits, for a user who does not know.
_WHICH_GROUND = "Mixed in suits soil that is being filled in or dug; on top suits a place where things are growing. Which shall it be?"
_WHICH_PLANTS = "Beside the stem suits plants that are growing; in the hole suits plants that are being set out. Which shall it be?"


def replied(talk: Remembered, old: Draft, said: Line) -> Answer | None:
    """The request with the answer to what was asked of it; None where nothing was asked or the line is no answer."""
    if not talk.now.awaiting or not _is_reply(talk, said.new, said.replies):
        return None
    awaiting, new, line = talk.now.awaiting, said.new, said.text
    if awaiting == "by-volume" and whole_lines.BY_VOLUME.search(line) and (agreed := _agreed(talk, old, new)) is not None:
        return answered(talk, agreed, line)
    if said.replies & {"unknown", "yes"} and not (new.unsure or new.stray or new.places or new.way):
        if "yes" in said.replies and (agreed := _agreed(talk, old, new)) is not None:
            return answered(talk, agreed, line)
        return _as_usual(talk, old, line)
    if awaiting == "water" and len(new.unsure) == 1 and not new.places and (new.unsure[0].span.unit in FAMILIES or new.unsure[0].span.dimension == "volume"):
        new.water, new.unsure = new.unsure[0].span, []
    if awaiting in ("volume", "size"):
        for place in new.places:
            if place.rate is not None and not place.noun and place.rate_per is None:
                place.volume, place.rate, place.each = place.rate, None, True  # "30 litres each"
    old = old.copy()
    unit_missing = as_asked(old, new, awaiting)
    if unit_missing:
        return asks(talk, line, unit_missing)
    draft = talk.put(old, new, adding=False)
    place_number(draft, talk.leaning(), awaiting)
    return answered(talk, draft, line, awaiting=awaiting)


def _is_reply(talk: Remembered, new: Draft, replies: set[str]) -> bool:
    """Whether a line answers the question just asked."""
    if replies & {"drop-place", "only-these"}:
        return False
    old = talk.now.draft
    if opens_on_top(new.text) and old is not None and any(p.has_size for p in old.places) and any(p.has_size and (p.noun or p.size) for p in new.places):
        return False  # "and a 3x5 bed", before the depth of the first is told
    if replies & {"unknown", "yes"} or (talk.now.awaiting == "by-volume" and whole_lines.BY_VOLUME.search(new.text)) or BESIDE.match(new.text):
        return True
    of_units = {"difference", "what-is"} & {*new.asks} and all(one.article for one in new.unsure)  # "is a dry quart the same as a liquid quart?"
    if is_question_in_words(new) and not (new.way or (new.unsure and not of_units) or new.stray or new.places):
        return False
    if new.way or new.unsure or new.stray or (new.question is not None and new.question[0] in ("unit", "yard")):
        return not is_fresh(talk.now, new, replies)
    return bool(new.places or new.hints) and not is_fresh(talk.now, new, replies)


def _agreed(talk: Remembered, old: Draft, new: Draft) -> Draft | None:
    """ "yes" to a question that only wants it: is it castings, is the share by volume."""
    draft = old.copy()
    if talk.now.awaiting == "castings":
        draft.hints.add("castings-named")
    elif talk.now.awaiting == "by-volume":
        draft.by_weight = False
    else:
        return None
    return cleared(draft, new)


def _as_usual(talk: Remembered, old: Draft, line: str) -> Answer:
    """The usual depth or layer, for a user who does not know; the question in other words where there is no usual one."""
    awaiting = talk.now.awaiting
    usual = _USUAL.get(awaiting)
    if usual is None or not old.places:
        return _again(talk, line)
    draft = old.copy()
    draft.question, draft.replies = None, []
    span = default_span(usual)
    fact = facts().rate(usual)
    draft.flags = [("usual", f"the usual {awaiting}, {fact.said} ({facts().cite(fact)})")]
    target = draft.places[-1]
    if awaiting == "depth":
        target.depth = span
    else:
        target.layer = [span]
    return answered(talk, draft, line)


def _again(talk: Remembered, line: str) -> Answer:
    """The same question in other words, for a user who does not know."""
    awaiting, draft, last = talk.now.awaiting, talk.now.draft, talk.now.answer
    if awaiting == "way":
        plants = draft is not None and bool(draft.places) and draft.places[-1].kind in ("plant", "hole")
        return asks(talk, line, _WHICH_PLANTS if plants else _WHICH_GROUND)
    text = last.question if last is not None and last.question else "What are the castings for?"
    rough = "A rough count will do: " if awaiting == "count" else "A rough measure will do: " if awaiting in MEASURES else ""
    return asks(talk, line, f"It cannot be worked out without that. {rough}{text[0].lower() if rough else text[0]}{text[1:]}")
