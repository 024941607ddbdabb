"""The answer to a draft, and the turn that is remembered of it; the answers of which nothing is remembered."""

from __future__ import annotations

from grammar.draft import Draft
from grammar.query import Query, Question
from grammar.settle import settle, with_roles

from .. import engine, orders
from ..answer import Answer, Assumed
from ..choices import Doubt
from ..questions import refuse
from ..waiting import UNCLEAR, Waiting
from .remembered import Remembered, Turn

CHANGES_NOTHING = "That changes nothing. Say what is to change, as “make it 15 %”, or what comes next."


def answered(talk: Remembered, draft: Draft, line: str, *, fresh: bool = False, awaiting: str = "", another: bool = False) -> Answer:
    """Works a draft out; `fresh` where it leans on nothing, `another` where it is a line of the order of its own all the same."""
    read = settle(draft, awaiting)
    answer = of_query(talk, read, line)
    about = read if isinstance(read, Question) else Question(status="asks", code="", text="")
    unclear = answer.status == "asks" and (draft.question is not None or (answer.needs == "stray" and not fresh))
    if unclear and talk.now.answer is not None and talk.now.draft is not None and not talk.now.awaiting:
        talk.now.open = line.strip()  # the change could not be taken: what was said before still holds
        talk.now.waiting = Waiting(line, about.about, about.instead, answer, kept=False)
        return answer
    if answer.status == "asks" and answer.needs == "have" and talk.now.answer is not None and talk.now.answer.status == "answered":
        return answer  # asked backwards, with nothing to go by: what was worked out still stands
    if answer.status == "unread" and talk.now.draft is not None and talk.now.answer is not None and len({value for value, _ in draft.figures}) <= 1:
        talk.refused = line
    keep = answer.status == "answered" or (answer.status == "asks" and _worth_keeping(draft))
    if keep:
        talk.leave()
        kept = with_roles(draft, awaiting)
        if answer.status == "asks":
            kept.question = None
            kept.stray = []
        index = talk.meant if talk.meant is not None else None if fresh or another or talk.now.draft is None else talk.now.line
        if answer.status == "answered" and isinstance(read, Query) and read.asked != "explanation":
            index = _in_order(talk, index, kept, read)
        slot = talk.slot if talk.slot[0] else (talk.now.slot, talk.now.unit)
        unsettled = answer.status == "asks" and answer.needs in ("stray", "role", "each", "amount") and (talk.now.answer is not None or bool(about.about))
        not_taken = talk.now.open
        waits = answer.status == "asks" and answer.needs in UNCLEAR
        talk.now = Turn(
            draft=kept, answer=answer, awaiting=answer.needs if answer.status == "asks" else "", slot=slot[0], unit=slot[1],
            open=(about.about if talk.now.answer is None else line.strip()) if unsettled else "",
            waiting=Waiting(line, about.about, about.instead, answer, kept=True) if waits else None, line=index, order=tuple(talk.finished),
        )  # fmt: skip
        if not_taken and answer.status == "answered" and awaiting in ("", "stray"):
            note = Assumed(code="not-taken", text=f"“{not_taken[:60]}” was not understood and is left out")
            answer = answer.model_copy(update={"assumed": (*answer.assumed, note)})
    talk.slot = ("", "")
    return answer


def of_query(talk: Remembered, read: Query | Question, line: str) -> Answer:
    """The answer to what was read, or what it lacks."""
    found = read if isinstance(read, Question) else engine.answer(read, line, talk.shop)
    return refuse(found, line) if isinstance(found, Question) else found


def _in_order(talk: Remembered, index: int | None, kept: Draft, read: Query) -> int:
    """Puts an answered draft into its line of the order, or makes it a new one; gives which line it is."""
    if index is None or index >= len(talk.finished):
        talk.finished.append(kept)
        return len(talk.finished) - 1
    # a question about a line of the order leaves the line as it is
    if orders.asks_for_castings(read) or not orders.is_need(talk.finished[index]):
        talk.put_in_line(index, kept)
    return index


def _worth_keeping(draft: Draft) -> bool:
    return bool(draft.places or draft.have or draft.way or draft.water or draft.recipe or (draft.pack and draft.price))


def aside(talk: Remembered, new: Draft, line: str) -> Answer:
    """A question in words between two turns: answered, and nothing is forgotten."""
    return of_query(talk, settle(new), line)


def nothing_changed(talk: Remembered, new: Draft, line: str) -> Answer:
    """The answer to a line that changes nothing of what was said: by itself, where it can be read so."""
    read = settle(new)
    if not isinstance(read, Question):
        return answered(talk, new, line)
    settled = talk.now.answer is not None and talk.now.answer.status == "answered"
    if settled and read.code == "unread" and not (new.unread or new.figures or new.asks or line.rstrip().endswith("?")):
        return asks(talk, line, CHANGES_NOTHING)
    return refuse(read, line)


def asks(talk: Remembered, line: str, text: str) -> Answer:
    """A question to the user, after which all that was said before still holds."""
    if talk.now.draft is not None and any(one.isdigit() for one in line):
        talk.now.open = line.strip()  # what it says is not taken so far
    return Answer(request=line, status="asks", reads="", question=text)


def doubtful(talk: Remembered, found: Doubt, new: Draft, line: str) -> Answer:
    """Asks which of several readings is meant; the line waits for the answer."""
    doubt = Answer(request=line, status="asks", reads="", question=found.question, needs="amount", offers=found.shown)
    talk.now.open = line.strip()
    talk.now.waiting = Waiting(new.text, found.about, "", doubt, kept=False, choices=found.choices)
    return doubt
