"""A line about what was answered or changed last: how it was read, for which place it was meant, what one of them takes."""

from __future__ import annotations

from grammar.draft import Draft

from ..answer import Answer
from ..followup.meant import meant, only_names
from ..followup.moved import moved_over, same_change
from ..spoken_of import which
from . import whole_lines
from .answers import answered, aside, asks
from .remembered import Remembered


def looks_back(talk: Remembered, new: Draft, line: str) -> Answer | None:
    """The answer to a line about what was answered or changed last; None for any other."""
    now, before, answer = talk.now.draft, talk.past[-1].draft if talk.past else None, talk.now.answer
    if now is None or answer is None:
        return None
    settled = answer.status == "answered"
    if settled and whole_lines.ABOUT_READING.match(line):
        return answer.model_copy(update={"request": line, "set_aside": (line.strip()[:80],)})
    if now.enough and whole_lines.SHORT_OR_OVER.match(line):
        return answer.model_copy(update={"request": line})
    if settled and answer.packs and whole_lines.LEFT_OF_PACKS.match(line) and now.have is None and not now.packs_count and not new.figures:
        return answer.model_copy(update={"request": line})
    if settled and whole_lines.PER_ONE.match(line) and len(now.places) == 1 and now.places[0].kind in ("ground", "container") and (now.places[0].count or 1) > 1:
        one = now.copy()
        one.places[0].count, one.text, one.figures = 1.0, line, []
        return aside(talk, one, line)
    answers = [turn.answer for turn in talk.answered() if turn.answer is not None]
    if (told := whole_lines.FIRST_ANSWER.search(line)) is not None and answers:
        first = (told[1] or told[2]).lower() == "first" or len(answers) < 2
        return answers[0 if first else -2].model_copy(update={"request": line})
    changed = _meant_elsewhere(before, now, new, line) if before is not None else None
    if changed is not None:
        return answered(talk, changed, line)
    if whole_lines.WRONG_ONE.search(line) and not new.figures:
        return asks(talk, line, which(now.places))
    return None


def _meant_elsewhere(before: Draft, now: Draft, new: Draft, line: str) -> Draft | None:
    """What was changed last, done to another place or to all of them: "wrong bed", "no, for the peppers", "same for both"."""
    if whole_lines.SAME_FOR_ALL.match(line):
        return same_change(before, now, new, range(len(now.places)))
    if whole_lines.NO_THAT.match(line) and only_names(new):
        there = meant(new, now, ())
        if there and not isinstance(there, str):
            return moved_over(before, now, new, there)
    return moved_over(before, now, new) if whole_lines.WRONG_ONE.search(line) and not new.figures else None
