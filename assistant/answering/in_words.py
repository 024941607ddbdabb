"""A question in words: an explanation or the meaning of a term, out of the facts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from grammar.query import Query
from grammar.reads import reads
from grammar.unchecked import unchecked

from ..answer import Advice, Answer, Assumed, Explained
from ..judge import said_for
from ..knowledge import facts
from ..worked import Unworkable

if TYPE_CHECKING:
    from ..knowledge.words import Term


_answer, _explained, _advice = unchecked(Answer), unchecked(Explained), unchecked(Advice)


def explained(query: Query, request: str) -> Answer:
    """The answer to a question in words: an explanation or a term of the glossary. Raises Unworkable where the topic has neither."""
    topic = query.topic or query.asked_noun
    explanation = facts().explanation(topic)
    term = facts().glossary().get(topic) if explanation is None else None
    if term is not None:
        return _term(query, request, topic, term)
    if explanation is None:
        raise Unworkable("topic", f"nothing is written here about {topic.replace('-', ' ')}")
    source = facts().cite(explanation)
    extra: tuple[Advice, ...] = ()
    if query.analysis:
        from ..remarks import salts

        extra = tuple(salts(query, "seedlings" in query.told))
    if explanation.raises:
        extra += said_for(frozenset(explanation.raises))
    return _answer(
        request=request, status="answered", reads=reads(query), answer=_explained(of="explanation", topic=topic),
        advice=(_advice(code=f"explanation-{topic}", level="note", text=explanation.text, source=source),
                _advice(code="next-step", level="note", text=f"Next you might ask: {explanation.next_step}", source=source), *extra),
        assumed=tuple(Assumed(code=note.code, text=note.text) for note in query.assumed if note.code == "not-an-amount"),
        set_aside=query.set_aside,
    )  # fmt: skip


def _term(query: Query, request: str, name: str, term: Term) -> Answer:
    """What a word of the trade means, and the explanation that says more, where there is one."""
    meaning = Advice(code=f"term-{name}", level="note", text=f"{_headed(name)}: {term.means}", source=facts().cite(term))
    more = facts().explanation(term.see) if term.see else None
    topic = name if more is None else more.id
    step = facts().explanation("what-are-castings") if more is None else more
    assert step is not None
    source = facts().cite(step)
    advice = [meaning, Advice(code="next-step", level="note", text=f"Next you might ask: {step.next_step}", source=source)]
    if more is not None:
        advice.insert(1, Advice(code=f"explanation-{more.id}", level="note", text=more.text, source=source))
    return Answer(request=request, status="answered", reads=reads(query), answer=Explained(topic=topic),
                  advice=tuple(advice), set_aside=query.set_aside)  # fmt: skip


def _headed(name: str) -> str:
    """A term at the head of its meaning: "Drip line", "EC"."""
    words = name.replace("-", " ")
    return words.upper() if len(words) <= 2 else words.capitalize()
