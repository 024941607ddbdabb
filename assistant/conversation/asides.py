"""Lines that ask something and change nothing of what is being worked out."""

from __future__ import annotations

import re

from grammar.draft import Draft

from ..answer import Answer
from ..followup.asked import BACKWARDS
from ..followup.packs import packs_told
from .answers import aside
from .changed import made_of
from .kinds import bare_but_asks, is_priced_apart, is_question_in_words, only_asks
from .line import Line
from .remembered import Remembered


def of_prices(talk: Remembered, old: Draft, said: Line) -> Answer | None:
    """ "what do two 20 lb bags at $15 cost?", in a talk about a bed."""
    return aside(talk, said.new, said.text) if (old.places or old.have) and is_priced_apart(said.new) else None


def asked_only(talk: Remembered, old: Draft, said: Line) -> Answer | None:
    """ "what is a yard?", "which is cheaper?": answered beside the talk. A line as "bags?" is told what it asks for."""
    new, line = said.new, said.text
    if new.pack_noun and bare_but_asks(new) and not (new.packs_count and old.asked in BACKWARDS) and not new.asks and not new.price and not new.budget and (
        line.rstrip().endswith("?") or line.lower().startswith("in ")
    ):  # fmt: skip
        new.asked, new.asks = "packs", ["how-many"]  # "bags?"
    if any(place.clear or place.outer for place in new.places):
        new.weak_topics = []  # "keep it 1 ft off the trunk" is no question about keeping castings
    if new.asks == ["cheaper"]:
        told = [turn.draft for turn in talk.answered() if turn.draft is not None]
        if (beside := packs_told(new, told)) is not None:
            return aside(talk, beside, line)
    if only_asks(new):
        new.topics += new.weak_topics
        return aside(talk, new, line)
    return None


def in_words(talk: Remembered, old: Draft, said: Line) -> Answer | None:
    """A question that touches a topic, where the line answers nothing that was asked."""
    said.new.topics += said.new.weak_topics
    if (found := _too_much(talk, old, said)) is not None:
        return found
    return aside(talk, said.new, said.text) if is_question_in_words(said.new) else None


def _too_much(talk: Remembered, old: Draft, said: Line) -> Answer | None:
    """ "is 5 % too little?": of the share in hand it is a question in words, and of another what that would take; neither changes the talk."""
    new, answer = said.new, talk.now.answer
    topics = {*new.topics} & {"too-much", "too-little"}
    share = new.places[0].share if len(new.places) == 1 else None
    if not topics or share is None or answer is None or answer.status != "answered" or not said.text.rstrip().endswith("?"):
        return None
    if new.unsure or new.stray or new.have or new.places[0].has_size or not _OF_A_SHARE.search(said.text):
        return None
    if answer.share is not None and all(abs(100 * one - share.low) < 1e-6 for one in answer.share):
        new.places, new.figures, new.topics = [], [], [next(iter(topics))]
        return aside(talk, new, said.text)
    made = made_of(talk, old, new, said.replies)
    return aside(talk, made, said.text) if isinstance(made, Draft) else None


#: "is 25 % too much?"
_OF_A_SHARE = re.compile(r"\b(?:is|isn'?t|would|wouldn'?t|are)\b[^.;?]*(?:%|percent|per cent|pct)[^.;?]*\btoo (?:much|little|high|low|strong|weak)\b", re.IGNORECASE)


def told_only(talk: Remembered, old: Draft, said: Line) -> Answer | None:
    """ "my neighbour says an inch", "I did it last Sunday": the answer stands, and the line is set aside."""
    new = said.new
    if new.noted and talk.now.answer is not None and not (
        new.places or new.unsure or new.stray or new.have or new.asks or new.way or new.figures or new.asked_unit
        or not any("somebody" in why or "time" in why for _, why in new.noted)
    ):  # fmt: skip
        return talk.now.answer.model_copy(update={"request": said.text, "set_aside": (*talk.now.answer.set_aside, said.text.strip()[:80])})
    return None
