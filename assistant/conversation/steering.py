"""Lines that change the conversation and not the request: undo, start over, a name, the total, thanks."""

from __future__ import annotations

import re

from grammar.draft import Draft

from ..answer import Answer
from . import whole_lines
from .answers import CHANGES_NOTHING, answered, asks
from .kinds import bare_but_asks
from .line import Line
from .looking_back import looks_back
from .names import given, is_plain_word
from .order_lines import total
from .remembered import Remembered, Turn

#: Said by one who is content.
_CONTENT = re.compile(r"^\W*(?:bye|goodbye|ok|okay|oki|great|good|fine|perfect|right|sure|nice|lovely|cool|super|brilliant|excellent|wonderful|thank|thx|cheers|ta|got it"
                      r"|all ?right|alright|thanks|see you|that will do|that'll do|done|sorted|that's all|that is all|very good|very well|wow|yes|yep|yeah)\b", re.I)  # fmt: skip
_FEW_WORDS = 4


def steered(talk: Remembered, said: Line) -> Answer | None:
    """Undo, start over, thanks, why, a name: lines that change the conversation and not the request."""
    new, line = said.new, said.text
    replies = [name for name, _ in new.replies]
    if "both" in new.hints and len(talk.finished) < 2 and talk.now.draft is not None and len(talk.now.draft.places) == 1 and (
        bare_but_asks(new) and not any(p.has_size or p.layer or p.share for p in new.places)
    ):  # fmt: skip
        return asks(talk, line, "Both of what? Say the two of them with their sizes.")
    if "both" in new.hints and len(talk.finished) >= 2 and bare_but_asks(new) and not any(p.has_size for p in new.places):
        replies.append("both-of")
    bare = not (new.places or new.unsure or new.stray or new.have or new.asks or new.topics)
    if bare and whole_lines.AS_IT_WAS.match(line) and _was_supposed(talk):
        return _undone(talk, line)
    if whole_lines.NEVER_MIND.match(line) and talk.now.draft is not None:
        return _never_mind(talk, line)
    if "start-over" in replies:
        return _started_over(talk, new, line)
    if "undo" in replies and talk.past:
        return _undone(talk, line)
    if "call-it" in replies and talk.now.draft is not None and not new.unsure and not any(p.has_size for p in new.places):
        named = _called(talk, talk.now.draft, new, line)
        if named is not None:
            return named
    if new.asks and set(new.asks) <= {"why"} and talk.now.answer is not None and (bare_but_asks(new) or _is_of_the_answer(new, talk.now.answer)):
        _share_is_said(talk.now.draft, new)
        return talk.now.answer.model_copy(update={"request": line})
    if len(talk.finished) > 1 and whole_lines.EVERYTHING.search(line) and (new.asked or new.asked_unit or new.pack is not None):
        replies.append("both-of")
    if "both-of" in replies and (talk.finished or bare) and not (new.places or new.unsure or new.stray or new.have or new.topics or new.way):
        return total(talk, new, line)
    if bare and "altogether" in new.hints and talk.now.draft is not None and not new.asked and not new.asked_unit:
        whole = _altogether(talk, talk.now.draft, new, line)
        if whole is not None:
            return whole
    settled = talk.now.answer is not None and talk.now.answer.status == "answered"
    looked = looks_back(talk, new, line)
    if looked is not None:
        return looked
    if bare and ("thanks" in replies or ("yes" in replies and settled and talk.now.waiting is None)):
        return asks(talk, line, "Good. What else?")
    content = _CONTENT.match(line) is not None and len(line.split()) <= _FEW_WORDS
    if bare and talk.now.draft is not None and (new.words == 0 or content or whole_lines.YES_OR_NO.match(line)) and not talk.now.awaiting and (
        talk.now.waiting is None
    ):  # fmt: skip
        return asks(talk, line, "Good. What else?" if content else CHANGES_NOTHING)
    return None


def _was_supposed(talk: Remembered) -> bool:
    """Whether the turn in hand is a "what if" over one that was worked out, and nothing of it waits for an answer."""
    before = talk.past[-1].answer if talk.past else None
    now = talk.now.answer
    return (
        now is not None and before is not None and now.status == before.status == "answered" and whole_lines.SUPPOSED.search(now.request) is not None
        and not talk.now.open and talk.now.waiting is None
    )  # fmt: skip


def _is_of_the_answer(new: Draft, answer: Answer) -> bool:
    """Whether "why 10 %?" asks of a share or a figure that the answer rests on, be it said or usual: why stands with the answer."""
    if answer.status != "answered" or not new.figures or new.unread or new.topics:
        return False
    shares = {round(100 * one, 6) for one in answer.share or ()}
    told = {float(one) for one in re.findall(r"(?<![\w.])\d+(?:\.\d+)?", f"{answer.reads} {' '.join(one.text for one in answer.assumed)}")}
    return {round(value, 6) for value, _ in new.figures} <= shares | told


def _share_is_said(draft: Draft | None, new: Draft) -> None:
    """The usual share is one that was spoken of, once "why 10 %?" names it: a number that follows may be another."""
    told = [place.share for place in new.places if place.share is not None]
    place = draft.places[0] if draft is not None and len(draft.places) == 1 and not (draft.recipe or draft.parts_share) else None
    if place is not None and len(told) == 1 and place.share is None and not (place.layer or place.rate or place.recipe):
        place.share = told[0]


def _started_over(talk: Remembered, new: Draft, line: str) -> Answer:
    """All that was said is left behind, but for the names; what the line itself tells is the first of the new talk."""
    talk.leave()
    talk.now, talk.finished, talk.cautioned = Turn(), [], set()
    talk.starts += 1
    if new.places or new.unsure:
        return answered(talk, new, line)
    return asks(talk, line, "Starting afresh. What are the castings for, and how big is it?")


def _never_mind(talk: Remembered, line: str) -> Answer:
    """The change that could not be taken is let go, else the request in hand; the other lines of the order stay."""
    last, index = talk.now.answer, talk.now.line
    if (talk.now.open or talk.now.waiting is not None) and last is not None and last.status == "answered":
        talk.now.open, talk.now.waiting = "", None
        return last.model_copy(update={"request": line})
    talk.leave()
    if index is not None:
        talk.finished = [*talk.finished[:index], *talk.finished[index + 1 :]]
    talk.now = Turn(order=tuple(talk.finished))
    return asks(talk, line, "That is let go; “undo” brings it back. What are the castings for?")


def _undone(talk: Remembered, line: str) -> Answer:
    """The turn before, with its answer, its order and the names it had."""
    talk.take_back()
    talk.names |= talk.now.names
    if talk.now.answer is not None:
        return talk.now.answer.model_copy(update={"request": line})
    return asks(talk, line, "Back at the start. What are the castings for?")


def _called(talk: Remembered, draft: Draft, new: Draft, line: str) -> Answer | None:
    """ "call it the long bed": the request in hand gets that name. None where there is none to give, or nothing to name."""
    said = next(text for name, text in new.replies if name == "call-it")
    name = given(line.lower().split(said.lower(), 1)[1])
    if is_plain_word(name):
        return asks(talk, line, f"“{name}” may be any: give it a name of its own, as “call it the long bed”.")
    if not name or talk.now.answer is None:
        return None
    talk.names[name] = draft.copy()
    return talk.now.answer.model_copy(update={"request": line})


def _altogether(talk: Remembered, draft: Draft, new: Draft, line: str) -> Answer | None:
    """ "altogether?" alone: the money or the packs where those were told, else all lines of the order, else the answer before."""
    if draft.price is not None or draft.pack is not None:
        new.asked = "cost" if draft.price is not None else "packs"
    elif len(talk.finished) > 1:
        return total(talk, new, line)
    elif talk.now.answer is not None and talk.now.answer.status == "answered":
        return talk.now.answer.model_copy(update={"request": line})
    return None
