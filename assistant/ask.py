"""One request in, one answer out: the whole way through the house in one documented call."""

from __future__ import annotations

from grammar.gather import gather
from grammar.query import Question
from grammar.settle import settle

from . import engine
from .answer import Answer


def ask(request: str) -> Answer:
    """The answer to one request: a pure function of the line and the facts. Never raises for any text."""
    read = settle(gather(request))
    if isinstance(read, Question):
        return engine.refuse(read, request)
    found = engine.answer(read, request)
    return engine.refuse(found, request) if isinstance(found, Question) else found
