"""The turns of a conversation: what kind of line each is, tried one after the other.

A line is a reply to the question just asked, a change to what was said, a question about it, or a new
request. Nothing is kept but what the user said; every turn is worked out anew from the whole of it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from grammar.draft import Draft
from grammar.query import Query
from grammar.reads import reads
from grammar.settle import settle

from .. import orders
from ..answer import Answer
from ..knowledge import facts
from . import asides, changed, unclear
from .answers import answered
from .by_how_much import by_how_much
from .fresh import is_fresh
from .in_its_stead import answers_question, of_the_refused, picks, set_right, with_money, with_number
from .line import Instead, Line
from .names import back_to_named, named_in
from .order_lines import dropped, of_the_total, on_line
from .reading import drafted, numbered_in_full, places_in_full
from .remembered import Remembered
from .reply import replied
from .steering import steered
from .the_rest import of_the_rest

Outcome = Answer | Instead | None


def _fresh(talk: Remembered, old: Draft, said: Line) -> Answer | None:
    """A request of its own, as the first line of a talk is."""
    return answered(talk, said.new, said.text, fresh=True) if is_fresh(talk.now, said.new, said.replies) else None


#: What a line may be at any time, in the order in which it is tried.
_ALWAYS: tuple[Callable[[Remembered, Line], Outcome], ...] = (
    back_to_named, of_the_total, changed.as_it_was, steered, answers_question, picks,
)  # fmt: skip
#: What it may be after a request, in the order in which it is tried; what is none of them is a change of that.
_AFTER_REQUEST: tuple[Callable[[Remembered, Draft, Line], Outcome], ...] = (
    of_the_rest, unclear.of_which, changed.so_many_of_a_sort, changed.other_parts_of_a_mix, by_how_much, with_number, changed.each_of_two, asides.of_prices, asides.asked_only, unclear.never_told, replied, asides.in_words, asides.told_only,
    changed.less_of_a_mix, unclear.off_the_trunk, unclear.some_of_them, changed.more_or_less, unclear.one_of_several, _fresh, dropped,
)  # fmt: skip


@dataclass
class Conversation(Remembered):
    """One conversation; `say` takes a line and gives its answer. Never raises for any text."""

    def say(self, line: str) -> Answer:
        """The answer to one line; a caution that was given before in this conversation is not given again."""
        answer = self._said(line)
        again = {advice.code for advice in answer.advice if advice.level != "warning" and advice.code in self.cautioned}
        self.cautioned |= {advice.code for advice in answer.advice if facts().is_caution(advice.code)}
        if not again:
            return answer
        return answer.model_copy(update={"advice": tuple(one for one in answer.advice if one.code not in again)})

    def memory(self) -> dict[str, str]:
        """What is remembered, in words: the places being spoken of, the names given, a stated density."""
        found: dict[str, str] = {}
        if self.now.answer is not None and self.now.answer.reads:
            found["now"] = self.now.answer.reads
        for name, draft in self.names.items():
            read = settle(draft)
            if isinstance(read, Query):
                found[name] = reads(orders.as_need(read))
        return found

    def words(self, *, packs: bool) -> str:
        """What is being spoken of in words without what was asked of it, with or without what it is bought in; empty where nothing is."""
        read = settle(self.now.draft) if self.now.draft is not None else None
        return reads(orders.as_need(read, packs=packs)) if isinstance(read, Query) else ""

    def _said(self, line: str, *, full: bool = False) -> Answer:
        """The answer to one line of the conversation; `full` where nothing is to be put into it any more."""
        found = self._taken(line, full)
        if isinstance(found, Answer):
            return found
        answer = self._said(found.line, full=found.full).model_copy(update={"request": line})
        if found.note is None or answer.status != "answered":
            return answer
        return answer.model_copy(update={"assumed": (*answer.assumed, found.note)})

    def _taken(self, line: str, full: bool) -> Answer | Instead:
        """The answer to a line, or the line that is read in its stead."""
        after_total, self.totalled, self.meant = self.totalled, False, None
        refused, self.refused = self.refused, ""
        found: Outcome = on_line(self, line) or (None if full else set_right(self, line) or of_the_refused(refused, line) or with_money(self, line))
        if found is not None:
            return found
        told = numbered_in_full(self, line)
        if (asked := unclear.numbered(self, told, line)) is not None:
            return asked
        told = places_in_full(self, told)
        named, rest = named_in(self.names, told)
        said = Line(line, told, drafted(self.now.draft, rest, line), named, full, after_total)
        for take in _ALWAYS:
            if (found := take(self, said)) is not None:
                return found
        old = self.now.draft
        if old is None:
            return answered(self, said.new, line)
        for take_after in _AFTER_REQUEST:
            if (found := take_after(self, old, said)) is not None:
                return found
        return changed.follow_up(self, old, said)
