"""The lines of a slip: each answered by itself, and all of them bought at once.

A question in the place of an answer says why there is no slip.
"""

from __future__ import annotations

from collections.abc import Sequence

from grammar.draft import Draft
from grammar.gather import gather
from grammar.query import Query, Question
from grammar.reads import reads
from grammar.settle import settle

from .. import engine
from ..answer import Answer
from ..ask import ask
from ..orders import is_need, total
from ..questions import refuse
from ..shop import Catalogue

#: The answers of the lines, and the one that holds the purchase for them all: the same where there is one line only.
Lines = tuple[list[Answer], Answer]


def of_requests(requests: Sequence[str], catalogue: Catalogue) -> Lines | Answer:
    """The lines of requests, or the first answer that makes none."""
    return _together([(gather(request), ask(request, catalogue)) for request in requests], catalogue)


def of_drafts(drafts: Sequence[Draft], catalogue: Catalogue) -> Lines | Answer:
    """The lines of a conversation, or the first answer that makes none."""
    each = []
    for draft in drafts:
        read = settle(draft.copy())
        if isinstance(read, Query):
            found = engine.answer(read, reads(read), catalogue)
            each.append((draft, found if isinstance(found, Answer) else refuse(found, reads(read))))
        else:
            each.append((draft, refuse(read, draft.text)))
    return _together(each, catalogue)


def _together(lines: Sequence[tuple[Draft, Answer]], catalogue: Catalogue) -> Lines | Answer:
    for _, answer in lines:
        if answer.status != "answered":
            return answer
        if answer.castings is None and not answer.packs:
            return _not_so(answer, "There is nothing to buy in that. Say what the castings are for, and how big it is")
    each = [answer for _, answer in lines]
    if len(each) == 1:
        return each, each[0]
    for draft, answer in lines:
        if not is_need(draft):
            return _not_so(answer, "That is no amount to buy for, so it cannot stand on one slip with others")
    request = " + ".join(answer.request for answer in each)
    whole = total([draft for draft, _ in lines], Draft(), request, catalogue)
    assert whole is not None
    return refuse(whole, request) if isinstance(whole, Question) else (each, whole)


def _not_so(answer: Answer, why: str) -> Answer:
    return Answer(request=answer.request, status="asks", reads=answer.reads, question=why)
