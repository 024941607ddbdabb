"""A question back, as it is asked: with the usual value where the trade has one, and never more than one."""

from __future__ import annotations

from grammar.query import Question
from grammar.unchecked import unchecked

from .answer import Answer
from .knowledge import facts

_answer = unchecked(Answer)

#: What is usual, by what the question needs: the fact, what it is usual of, and a unit of the other system.
_USUAL = {"depth": ("bed.depth", "Most raised beds are {} deep", "centimetre")}


def sentence(text: str) -> str:
    """A question as a sentence of its own."""
    text = text[0].upper() + text[1:] if text else text
    return text if text.endswith(("?", ".", "!", "”")) else text + "."


def with_usual(question: Question) -> str:
    """The text of a question, led by the usual value of what it asks for."""
    usual = _USUAL.get(question.needs)
    if usual is None or question.code != "depth":
        return sentence(question.text)
    fact_id, text, other = usual
    fact = facts().rate(fact_id)
    return f"{text.format(f'{fact.said} ({fact.written_in(other).said})')}; {question.text}"


def refuse(question: Question, request: str) -> Answer:
    """A question, as an answer."""
    return _answer(request=request, status=question.status, reads=question.reads, question=with_usual(question),
                  set_aside=question.set_aside, needs=question.needs, offers=question.offers)  # fmt: skip
