"""One request in, one answer out: the whole way through the house in one documented call."""

from __future__ import annotations

from typing import TYPE_CHECKING

from grammar.gather import gather
from grammar.query import Question
from grammar.settle import settle

from . import engine
from .answer import Answer
from .questions import refuse

if TYPE_CHECKING:
    from .shop import Catalogue


def ask(request: str, shop: Catalogue | None = None) -> Answer:
    """The answer to one request: a pure function of the line, the facts and the shop's catalogue. Never raises for any text.

    It keeps no state and can be pickled; letters that are half a character (lone surrogates) are replaced.
    """
    if not request.isascii():
        request = request.encode("utf-8", "surrogatepass").decode("utf-8", "replace")
    read = settle(gather(request))
    if isinstance(read, Question):
        return refuse(read, request)
    found = engine.answer(read, request, shop)
    return refuse(found, request) if isinstance(found, Question) else found
