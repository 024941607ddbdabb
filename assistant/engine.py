"""The engine: given a query, the relations that reach what was asked, solved and recorded.

The answer is a pure function of the query and the facts: the same request gives the same answer. What kind of answer a
query wants is decided here; how each kind is worked out stands in `answering`, of which the seldom kinds are imported where they are wanted.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from grammar.query import Query, Question
from grammar.reads import reads

from . import backwards
from .answer import Answer
from .answering.forwards import forwards
from .answering.job import Job, begin
from .worked import Unworkable

if TYPE_CHECKING:
    from .shop import Catalogue


def answer(query: Query, request: str, shop: Catalogue | None = None) -> Answer | Question:
    """The answer to a query; a Question where the facts show that a detail is missing or out of scale.

    `shop` is a shop's own catalogue: every forward answer then lists what to buy.
    """
    try:
        if query.asked == "explanation":
            from .answering.in_words import explained

            return explained(query, request)
        job = begin(query, request, shop)
        found = _worked_out(job)
        if job.query.asked == "cost" and (job.query.tax is not None or job.query.charges):
            from .answering.money import with_charges

            return with_charges(job.query, found)
        return found
    except Unworkable as problem:
        return Question(status="asks", code=problem.code, text=problem.text, needs=problem.needs, reads=reads(query),
                        set_aside=query.set_aside)  # fmt: skip
    except ArithmeticError:
        # an amount of nothing that something is divided by, or one beyond any number
        text = "one of the amounts is nothing at all, or beyond any scale known here; what are the amounts meant?"
        return Question(status="asks", code="scale", text=text, needs="size", reads=reads(query), set_aside=query.set_aside)


def _worked_out(job: Job) -> Answer:
    """The answer by the kind of the query: the first that it is of."""
    query = job.query
    if query.asked == "cheaper":
        from .answering import side_by_side

        return side_by_side.products_compared(job) if query.offers else side_by_side.packs_compared(job)
    if query.filled:
        from .answering.filled import filled

        return filled(job)
    if query.asked in backwards.ASKED:
        from .answering.how_far import how_far

        return how_far(job)
    if query.tea is not None or query.asked == "batches":
        from .answering.brewing import brewed, is_tea

        if query.asked == "batches" or is_tea(query):
            return brewed(job)
    if query.asked == "packs" and query.budget is not None and query.pack is not None and query.pack.price and not query.places:
        from .answering.money import bags_for_money

        return bags_for_money(job)
    if not query.places:
        from .answering.at_hand import at_hand

        return at_hand(job)
    return forwards(job)
