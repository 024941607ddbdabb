"""Lines in whose stead another is read, the one they come to: with a figure set right, what waited completed, one of two picked."""

from __future__ import annotations

import re
from dataclasses import replace

from grammar.draft import Draft
from grammar.gather import gather

from .. import bare_numbers, choices, corrected
from ..answer import Answer, Assumed
from ..money_meant import in_money
from ..purchase import in_force
from ..replies import without_opening
from ..waiting import completed, only_wants
from .answers import asks, doubtful
from .line import Instead, Line
from .remembered import Remembered


def set_right(talk: Remembered, line: str) -> Answer | Instead | None:
    """The line before with a figure of it set right, or how many are left of what there was; None for any other line."""
    last, draft = talk.now.answer, talk.now.draft
    if last is None or draft is None:
        return None
    right = corrected.set_right(line, last.request)
    if right is None and last.status == "asks" and talk.now.awaiting == "unit" and last.question:
        right = corrected.with_unit(line, last.question, last.request)
    if right is not None and talk.past:
        talk.take_back()
        return Instead(right, full=True)
    told = corrected.was_wrong(line)
    if told is not None and (instead := bare_numbers.instead(draft, *told)) is not None:
        return Instead(instead, full=True)
    left = corrected.what_is_left(line)
    place = draft.places[-1] if draft.places else None
    if left is None or place is None or place.count is None:
        return None
    lost = gather(left[0], leaning=True)
    gone = {place.count * value if value < 1 else value for value, _ in lost.figures}
    if len(gone) == 1 and abs(place.count - gone.pop() - left[1]) >= 1:
        return asks(talk, line, f"There were {place.count:g}, and {left[0]}: are {left[1]:g} left? Say how many there are now.")
    return Instead(f"{left[1]:g} of them", full=True)


#: A figure alone: "12 then", "no, 15".
_FIGURE = re.compile(r"\W*(?:(?:ok|okay|no|oh|sorry|oops|then|make it|i meant?|it's|say|well|so)\W+)*(\d+(?:[./]\d+)?)(?:\W+(?:then|instead|please))*\W*", re.IGNORECASE)
_NUMBER = re.compile(r"\d+(?:[.,/]\d+)?")


def of_the_refused(refused: str, line: str) -> Instead | None:
    """The line that was refused with another figure: "make it 0 inches deep", "12 then"; None where the line is no figure alone."""
    found = _FIGURE.fullmatch(line) if refused else None
    if found is None or len(_NUMBER.findall(refused)) != 1:
        return None
    return Instead(_NUMBER.sub(found[1], refused), full=True)


def with_money(talk: Remembered, line: str) -> Instead | None:
    """ "cost at 60 a yard": the line with the money that goes unsaid; None where it tells no price without it."""
    if talk.now.draft is None or not any(one.isdigit() for one in line):
        return None
    found = in_money(line, talk.now.draft, in_force(talk.shop).currency.code)
    if found is None:
        return None
    whose = "the price before" if talk.now.draft.price is not None else "the catalogue"
    return Instead(found[0], note=Assumed(code="money", text=f"the price is taken as {found[1]}, in the money of {whose}"))


def answers_question(talk: Remembered, said: Line) -> Answer | Instead | None:
    """The line that waits for an answer, with what came in its place; the same question where what came has to wait for it."""
    new = said.new
    waiting = said.waiting = talk.now.waiting
    talk.now.waiting = None  # it is answered now, or passed over
    if waiting is None:
        return None
    meant = completed(waiting, new, said.text)
    if meant is not None:
        if waiting.kept:
            talk.now = talk.past.pop()
        talk.now.open = ""
        return Instead(meant)
    if new.times is not None and waiting.needs == "season":
        talk.now.open = ""
    if (waiting.kept or waiting.instead) and not waiting.again and only_wants(new):
        talk.now.waiting = replace(waiting, again=True)
        return waiting.question.model_copy(update={"request": said.text})
    return None


def picks(talk: Remembered, said: Line) -> Instead | None:
    """What a reply as "the second" picks of what was just put to the choice, in words; None where it picks nothing."""
    asked = said.waiting.question if said.waiting is not None else talk.now.answer
    if asked is None or asked.status != "asks" or asked.question is None or (said.waiting is None and not talk.now.awaiting):
        return None
    one = choices.picked(without_opening(said.text), asked.question, asked.offers)
    return None if one is None else Instead(one, full=True)


def with_number(talk: Remembered, old: Draft, said: Line) -> Answer | Instead | None:
    """A line whose one number has no unit, by what that most likely stands for; None where it is no such line."""
    new = said.new
    if said.full or said.replies & {"drop-place"} or {"by-so-much", "cut"} & new.hints:
        return None
    used = talk.now.answer is not None and talk.now.answer.share is not None
    found = bare_numbers.in_full(new, bare_numbers.Before(old, talk.now.awaiting, used, talk.earlier()[::-1]))
    if found is None:
        return None
    if isinstance(found, bare_numbers.Meant):
        return Instead(found.line, full=True, note=Assumed(code="bare-number", text=found.note))
    return doubtful(talk, found, new, said.text)
