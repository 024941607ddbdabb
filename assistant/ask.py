"""One request in, one answer out: the whole way through the house in one documented call."""

from __future__ import annotations

from grammar.gather import gather
from grammar.query import Question
from grammar.settle import settle

from . import engine
from .answer import Answer
from .questions import refuse


def ask(request: str) -> Answer:
    """The answer to one request: a pure function of the line and the facts. Never raises for any text.

    It keeps no state and can be pickled; letters that are half a character (lone surrogates) are replaced.
    """
    if not request.isascii():
        request = request.encode("utf-8", "replace").decode("utf-8")
    read = settle(gather(request))
    if isinstance(read, Question):
        return refuse(read, request)
    found = engine.answer(read, request)
    return refuse(found, request) if isinstance(found, Question) else found
