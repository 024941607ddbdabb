"""What carries over from turn to turn: the places and values spoken of, the question asked last, the names given.

A line is a reply to the question just asked, a change to what was said, a question about it, or a new
request. Nothing is kept but what the user said; every turn is worked out anew from the whole of it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from grammar.draft import Draft, PlaceDraft, Unsure
from grammar.gather import gather
from grammar.quantities import Span
from grammar.query import Query, Question
from grammar.reads import reads
from grammar.settle import settle, with_roles
from grammar.words import Word, plural, vocabulary

from . import engine, orders
from .answer import Answer, Assumed
from .followup import BACKWARDS as _BACKWARDS
from .followup import is_another_kind, lay_over, merge, target_of
from .knowledge import facts
from .questions import refuse
from .replies import BESIDE, as_asked, bare_number
from .work import default_span

if TYPE_CHECKING:
    from .shop import Catalogue

#: What the trade would say where a user does not know.
_USUAL = {"depth": "bed.depth", "layer": "lawn.layer"}
_NAME = re.compile(r"[^\w' -]+")


@dataclass
class _Turn:
    """What is remembered after a turn, so that it can be taken back."""

    draft: Draft | None = None
    answer: Answer | None = None
    awaiting: str = ""
    #: the last value that was set by a bare amount: its slot and unit, for a bare number that follows
    slot: str = ""
    unit: str = ""
    #: what was said and could not be taken
    open: str = ""
    #: which line of the order this turn is about, and the order as it was after it
    line: int | None = None
    order: tuple[Draft, ...] = ()
    #: the places that had a name when the turn was left, as they were then
    names: dict[str, Draft] = field(default_factory=dict)


@dataclass
class Conversation:
    """One conversation; `say` takes a line and gives its answer. Never raises for any text.

    `finished` is the order: one line for each request, as it was last changed. `shop` is a shop's own catalogue.
    """

    now: _Turn = field(default_factory=_Turn)
    past: list[_Turn] = field(default_factory=list)
    names: dict[str, Draft] = field(default_factory=dict)
    finished: list[Draft] = field(default_factory=list)
    slot: tuple[str, str] = ("", "")
    #: the cautions that have been given
    cautioned: set[str] = field(default_factory=set)
    shop: Catalogue | None = None
    #: the last answer was the total of the order, and a line that only asks is about that
    totalled: bool = False
    #: how often it was begun afresh
    starts: int = 0
    #: the line of the order that the line in hand changes, where it is not the last turn's
    meant: int | None = None

    def say(self, line: str) -> Answer:
        """The answer to one line; a caution that was given before in this conversation is not given again."""
        answer = self._say(line)
        again = {advice.code for advice in answer.advice if advice.level != "warning" and advice.code in self.cautioned}
        self.cautioned |= {advice.code for advice in answer.advice if facts().is_caution(advice.code)}
        if not again:
            return answer
        return answer.model_copy(update={"advice": tuple(one for one in answer.advice if one.code not in again)})

    def _say(self, line: str) -> Answer:
        """The answer to one line of the conversation."""
        was_total, self.totalled, self.meant = self.totalled, False, None
        ordered = orders.steered(line)
        if ordered is not None and self.finished:
            return self._on_line(ordered, line)
        named, rest = self._named(orders.removing(line))
        new = gather(rest, leaning=self.now.draft is not None)
        if named is not None:
            return self._back_to(named, new, line)
        if was_total and (new.asked or new.asked_unit) and asks_of_all(new):
            return self._total(new, line)
        steered = self._steer(new, line)
        if steered is not None:
            return steered
        old = self.now.draft
        if old is not None and any(reply == "back-to" for reply, _ in new.replies) and new.places and not (
            new.unsure or new.stray or new.price or any(p.has_size for p in new.places)
        ):  # fmt: skip
            earlier = self._spoken_of(old, new)
            known = earlier is not old or any(
                p.noun == q.noun and p.printed == q.printed for p in new.places for q in old.places if not _lettered(line)
            )
            if not known:
                return self._ask(line, "Which place is that? Say its size again, or give it a name with “call it …”.")
        if old is None:
            return self._answer(new, line)
        replies = {name for name, _ in new.replies}
        if _only_asks(new):
            new.topics += new.weak_topics
            return self._aside(new, line)
        if (unknown := self._not_spoken_of(old, new)) is not None:
            return self._ask(line, f"There were no {unknown} before: how many are there, how big, and what are the castings to do there?")
        if self.now.awaiting and self._is_reply(new, replies):
            return self._reply(old, new, line, replies)
        new.topics += new.weak_topics
        if self._is_question_in_words(new):
            return self._aside(new, line)
        if new.noted and self.now.answer is not None and not (
            new.places or new.unsure or new.stray or new.have or new.asks or new.way or new.figures or new.asked_unit
            or not any("somebody" in why or "time" in why for _, why in new.noted)
        ):  # fmt: skip
            return self.now.answer.model_copy(update={"request": line, "set_aside": (*self.now.answer.set_aside, line.strip()[:80])})
        changed = self._by_so_much(old, new, line)
        if changed is not None:
            return changed
        if len(old.places) == 1 and (old.places[0].count or 1) > 1 and _OTHER_ONE.search(line) and any(p.has_size for p in new.places):
            return self._ask(line, "How big is each of them? Say all the sizes in one line.")
        if len(old.places) > 1 and _SIZED_ONE.search(line) and (new.figures or new.unsure):
            return self._ask(line, "Which one is that? Say its size, or “the second bed”.")
        if self._is_fresh(new, replies):
            return self._answer(new, line, fresh=True)
        if "drop-place" in replies and (dropped := self._line_dropped(old, new, line)) is not None:
            return dropped
        draft = self._change(old, new, replies)
        if draft is None:
            return self._nothing(new, line)
        return self._answer(draft, line, awaiting=self.now.awaiting)

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

    # ---- steering ------------------------------------------------------------------------------------

    def _steer(self, new: Draft, line: str) -> Answer | None:
        """Undo, start over, thanks, why, a name: lines that change the conversation and not the request."""
        replies = [name for name, _ in new.replies]
        if "both" in new.hints and len(self.finished) < 2 and self.now.draft is not None and len(self.now.draft.places) == 1 and (
            bare_but_asks(new) and not any(p.has_size or p.layer or p.share for p in new.places)
        ):  # fmt: skip
            return self._ask(line, "Both of what? Say the two of them with their sizes.")
        if "both" in new.hints and len(self.finished) >= 2 and bare_but_asks(new) and not any(p.has_size for p in new.places):
            replies.append("both-of")
        bare = not (new.places or new.unsure or new.stray or new.have or new.asks or new.topics)
        if "start-over" in replies:
            self._leave()
            self.now, self.finished, self.cautioned = _Turn(), [], set()
            self.starts += 1
            if new.places or new.unsure:
                return self._answer(new, line)
            return self._ask(line, "Starting afresh. What are the castings for, and how big is it?")
        if "undo" in replies and self.past:
            self.now = self.past.pop()
            self.finished = list(self.now.order)
            self.names |= self.now.names
            if self.now.answer is not None:
                return self.now.answer.model_copy(update={"request": line})
            return self._ask(line, "Back at the start. What are the castings for?")
        if "call-it" in replies and self.now.draft is not None and not new.unsure and not any(p.has_size for p in new.places):
            said = next(text for name, text in new.replies if name == "call-it")
            name = _clean(line.lower().split(said.lower(), 1)[1])
            if _is_plain_word(name):
                return self._ask(line, f"“{name}” may be any: give it a name of its own, as “call it the long bed”.")
            if name and self.now.answer is not None:
                self.names[name] = self.now.draft.copy()
                return self.now.answer.model_copy(update={"request": line})
        if new.asks and set(new.asks) <= {"why"} and bare_but_asks(new) and self.now.answer is not None:
            return self.now.answer.model_copy(update={"request": line})
        if len(self.finished) > 1 and _EVERYTHING.search(line) and (new.asked or new.asked_unit or new.pack is not None):
            replies.append("both-of")
        if "both-of" in replies and (self.finished or bare) and not (new.places or new.unsure or new.stray or new.have or new.topics or new.way):
            return self._total(new, line)
        if bare and "thanks" in replies:
            return self._ask(line, "Good. What else?")
        content = _CONTENT.match(line) is not None and len(line.split()) <= _FEW_WORDS
        if bare and self.now.draft is not None and (new.words == 0 or content or _YES_OR_NO.match(line)) and not self.now.awaiting:
            return self._ask(line, "Good. What else?" if content else
                             "That changes nothing. Say what is to change, as “make it 15 %”, or what comes next.")  # fmt: skip
        return None

    # ---- the order -----------------------------------------------------------------------------------

    def _total(self, new: Draft, line: str) -> Answer:
        """Everything so far, added up: nothing is changed by it."""
        found = orders.total(self.finished, new, line, self.shop)
        if found is None:
            return self._ask(line, "Nothing has been worked out so far. What are the castings for, and how big is it?")
        if isinstance(found, Question):
            return refuse(found, line)
        self.totalled = True
        return found

    def _on_line(self, said: orders.Steered, line: str) -> Answer:
        """ "remove line 2", "change line 2 to 12 inches deep": lines are counted as they came."""
        if not 1 <= said.number <= len(self.finished):
            count = len(self.finished)
            return self._ask(line, f"There {'is one line' if count == 1 else f'are {count} lines'} so far; which one is it?")
        if said.removes:
            return self._without(said.number - 1, line)
        old, new = self.finished[said.number - 1], gather(said.rest, leaning=True)
        self.meant = said.number - 1
        return self._answer(self._put(old, new, adding=False), line)

    def _without(self, index: int | None, line: str) -> Answer:
        """The order without one of its lines, or without the request in hand that is no line yet: what is left, added up."""
        self._leave()
        self.finished = [draft for at, draft in enumerate(self.finished) if at != index]
        last = len(self.finished) - 1
        if last < 0:
            self.now = _Turn()
            was = "That was all there was" if index is None else "That was the only line"
            return self._ask(line, f"{was}; nothing is left. What are the castings for?")
        answer = self._total(Draft(), line)
        self.now = _Turn(self.finished[last], answer, line=last, order=tuple(self.finished))
        return answer

    def _line_dropped(self, old: Draft, new: Draft, line: str) -> Answer | None:
        """ "take the peppers off", where they are a whole line of the order or stand in another line; else None."""
        names = {place.noun for place in new.places} | {place.crop for place in new.places if place.crop}
        printed = {place.printed for place in new.places if " " in place.printed}  # "the herb bed"
        told_apart = any(place.printed in printed for draft in self.finished for place in draft.places)

        def meant(place: PlaceDraft) -> bool:
            return place.printed in printed if told_apart else place.noun in names or bool(place.crop and place.crop in names)

        if not names:
            index = new.ordinal - 1 if new.ordinal > 0 else len(self.finished) + new.ordinal
            alone = new.ordinal and len(old.places) < 2 and len(self.finished) > 1 and 0 <= index < len(self.finished)
            return self._without(index, line) if alone else None
        if new.ordinal:
            return None
        here = any(meant(place) for place in old.places)
        if here and self.now.line is None and all(meant(place) for place in old.places):
            return self._without(None, line)
        holding = [self.now.line] if here else [at for at, one in enumerate(self.finished) if any(meant(place) for place in one.places)]
        if len(holding) > 1:
            return self._ask(line, "Several lines have that; which one? Say “remove line 2”, counting as they came.")
        if not holding or holding[0] is None:
            return None
        draft = self.finished[holding[0]]
        if here and len(self.finished) < 2 and not all(meant(place) for place in draft.places):
            return None
        if all(meant(place) for place in draft.places):
            return self._without(holding[0], line)
        if here:
            return None
        self.meant = holding[0]
        return self._answer(self._dropped(draft, new), line)

    def _leave(self) -> None:
        """Puts the turn in hand behind, so that it can be come back to."""
        self.now.names = dict(self.names)
        self.past.append(self.now)

    def _put_in_line(self, index: int, draft: Draft) -> None:
        """Changes a line of the order; a place that was named keeps its name when it is changed."""
        for name in [name for name, one in self.names.items() if one == self.finished[index]]:
            self.names[name] = draft.copy()
        self.finished[index] = draft

    def _line_of(self, draft: Draft) -> int | None:
        """Which line of the order a draft is, where it is one."""
        return next((at for at, one in enumerate(self.finished) if one is draft), None)

    def _named(self, line: str) -> tuple[str | None, str]:
        """A place's name in a line, and the line without it."""
        low = line.lower()
        for name in sorted(self.names, key=len, reverse=True):
            if re.search(rf"\b{re.escape(name)}\b", low) and "call" not in low:
                return name, re.sub(rf"\b(?:the\s+)?{re.escape(name)}\b", " ", low)
        return None, line

    def _back_to(self, name: str, new: Draft, line: str) -> Answer:
        draft = self.names[name].copy()
        if new.places or new.unsure or new.asked or new.asks or new.way:
            draft = self._put(draft, new, adding=False)
        self.meant = next((at for at, one in enumerate(self.finished) if one == self.names[name]), len(self.finished))
        answer = self._answer(draft, line)
        if self.now.draft is not None and answer.status == "answered":
            self.names[name] = self.now.draft.copy()
        return answer

    def _ask(self, line: str, text: str) -> Answer:
        return Answer(request=line, status="asks", reads="", question=text)

    # ---- what kind of line ---------------------------------------------------------------------------

    def _is_reply(self, new: Draft, replies: set[str]) -> bool:
        """Whether a line answers the question just asked."""
        if replies & {"drop-place", "only-these"}:
            return False
        if replies & {"unknown", "yes"} or BESIDE.match(new.text):
            return True
        if self._is_question_in_words(new) and not (new.way or new.unsure or new.stray or new.places):
            return False
        if new.way or new.unsure or new.stray or (new.question is not None and new.question[0] in ("unit", "yard")):
            return not self._is_fresh(new, replies)
        return bool(new.places or new.hints) and not self._is_fresh(new, replies)

    @staticmethod
    def _is_question_in_words(new: Draft) -> bool:
        if new.places and any(p.has_size or p.layer or p.share or p.rate for p in new.places):
            return False
        if new.topics and new.text.rstrip().endswith("?") and not (new.unsure or new.have or any(p.has_size for p in new.places)):
            new.figures, new.places, new.stray, new.question = [], [], [], None  # "is 5% too little?"
        if set(new.asks) & {"difference", "what-is"} and new.unsure and all(u.article for u in new.unsure):
            read = settle(new)
            return isinstance(read, Query) and read.asked == "explanation"
        if new.unsure or new.have or new.stray or new.weighed or new.density or new.asked_unit or new.pack or new.price:
            return False
        if set(new.asks) <= {"how-heavy"} and not new.topics:
            return False
        read = settle(new)
        return isinstance(read, Query) and read.asked == "explanation"

    def _is_fresh(self, new: Draft, replies: set[str]) -> bool:
        """Whether a line is a whole request of its own, not leaning on what came before."""
        if replies & {"same-for", "add-place", "drop-place", "one-of-them"} or "correcting" in new.hints:
            return False
        if new.way == "tea" and (new.ratio or new.ratio_spans or new.water) and self.now.draft is not None and self.now.draft.way != "tea":
            return isinstance(settle(new), Query)
        if self._is_another_job(new):
            return True
        if not any(p.has_size or p.count for p in new.places) and not (new.have and new.asked):
            return False
        if self._is_another_kind(new):
            return True
        strong = bool(new.way or new.recipe or new.parts_share or new.asked) or any(p.layer or p.share or p.rate for p in new.places)
        if not strong:
            return False
        return not _leans(new.text) and isinstance(settle(new), Query)

    def _is_another_job(self, new: Draft) -> bool:
        """Whether a line begins another piece of work, whatever it lacks yet: a way, and plants or a place not spoken of so far."""
        old = self.now.draft
        return bool(
            old is not None and old.places and new.way and new.places and not _leans(new.text) and all(p.noun and target_of(old, p) is None for p in new.places)
        )

    def _is_another_kind(self, new: Draft) -> bool:
        """Whether a line tells the size of a place that none of those in hand can be: a lawn, after a bed."""
        old = self.now.draft
        if old is None or not old.places or _leans(new.text) or not any(p.has_size for p in new.places):
            return False
        return all(is_another_kind(p, q) for p in old.places for q in new.places)

    def _by_so_much(self, old: Draft, new: Draft, line: str) -> Answer | None:
        """ "two more pots", "double the mix", "2 inches deeper": worked out where it can only mean one thing, else asked."""
        if _PART_OF.search(line) and len(new.stray) == 1 and not (new.places or new.unsure or new.have or new.way):
            new.hints.add("cut")
            new.stray, new.figures = [], []
        if not ({"by-so-much", "cut"} & new.hints) and not (new.replies and new.replies[0][0] == "add-place"):
            return None
        place = self._place_meant(old, new)
        numbers = [p.count for p in new.places if p.count is not None]
        numbers += [n for n in (bare_number(said) for said, _, _ in new.stray) if n is not None]
        if "cut" in new.hints:
            return self._scaled(old, new, place, line)
        adding = bool(new.replies) and new.replies[0][0] == "add-place"
        if adding and (not new.places or any(p.has_size for p in new.places) or place is None or not place.has_size
                       or new.places[0].noun != place.noun):  # fmt: skip
            return None
        if place is not None and place.count is not None and len(numbers) == 1 and (adding or new.by_so_much in ("more", "fewer")) and (
            not new.unsure and not any(p.share or p.depth or p.layer for p in new.places)
        ):  # fmt: skip
            draft = old.copy()
            index = old.places.index(place)
            count = place.count + (numbers[0] if adding or new.by_so_much == "more" else -numbers[0])
            if count <= 0:
                return self._ask(line, f"That leaves none of the {place.count:g}; how many are there?")
            draft.places[index].count = count
            return self._answer(_cleared(draft, new), line)
        if adding:
            return None
        return self._ask(line, "From what to what? Say the new amount itself, as “12 inches deep” or “15 %”.")

    def _scaled(self, old: Draft, new: Draft, place: PlaceDraft | None, line: str) -> Answer | None:
        text = new.text.lower()
        part = _PART_OF.search(text)
        factor = _PARTS[next(filter(None, part.groups()))] if part else 0.5 if "hal" in text else 3.0 if "triple" in text else 4.0 if "quadruple" in text else 2.0
        if new.figures or place is None:
            return self._ask(line, "Of what? Say the amount itself, please.")
        draft = old.copy()
        target = draft.places[old.places.index(place)]
        named = {p.kind for p in new.places}
        if re.search(r"\b(?:deep|depth)\b", text) and target.depth is not None:
            target.depth = _times(target.depth, factor)
        elif "share-word" in new.hints and target.share is not None:
            target.share = _times(target.share, factor)
        elif named & {"mix"} and target.volume is not None:
            target.volume = _times(target.volume, factor)
        elif named and target.count is not None:
            target.count *= factor
        elif target.rate is not None and not named:
            target.rate = _times(target.rate, factor)
        elif target.layer and not named:
            target.layer = [_times(one, factor) for one in target.layer]
        else:
            return self._ask(line, "Of what? Say the amount itself, please.")
        return self._answer(_cleared(draft, new), line)

    @staticmethod
    def _place_meant(old: Draft, new: Draft) -> PlaceDraft | None:
        if not old.places:
            return None
        for one in new.places:
            for place in reversed(old.places):
                if one.noun and (one.noun == place.noun or (one.kind == place.kind and one.noun in ("plant", "bed", "pot", "mix"))):
                    return place
        return old.places[-1]

    # ---- replies and changes -------------------------------------------------------------------------

    def _reply(self, old: Draft, new: Draft, line: str, replies: set[str]) -> Answer:
        awaiting = self.now.awaiting
        if replies & {"unknown", "yes"} and not (new.unsure or new.stray or new.places or new.way):
            usual = _USUAL.get(awaiting)
            if usual is None or not old.places:
                return self._again(line)
            draft = old.copy()
            draft.question, draft.replies = None, []
            span = default_span(usual)
            fact = facts().rate(usual)
            draft.flags = [("usual", f"the usual {awaiting}, {fact.said} ({facts().cite(fact)})")]
            target = draft.places[-1]
            if awaiting == "depth":
                target.depth = span
            else:
                target.layer = [span]
            if "yes" in replies:
                return self._answer(draft, line)
            return self._both_ends(draft, awaiting, fact.said, line)
        if awaiting in ("volume", "size"):
            for place in new.places:
                if place.rate is not None and not place.noun and place.rate_per is None:
                    place.volume, place.rate, place.each = place.rate, None, True  # "30 litres each"
        old = old.copy()
        unit_missing = as_asked(old, new, awaiting)
        if unit_missing:
            return self._ask(line, unit_missing)
        draft = self._put(old, new, adding=False)
        self._place_stray(draft, awaiting)
        return self._answer(draft, line, awaiting=awaiting)

    def _both_ends(self, draft: Draft, awaiting: str, usual: str, line: str) -> Answer:
        """The question once more, with what the usual values would come to, for a user who does not know."""
        read = settle(draft)
        found = engine.answer(read, line) if isinstance(read, Query) else read
        if isinstance(found, Question):
            return self._again(line)
        return Answer(request=line, status="asks", reads=found.reads, needs=awaiting, offers=("the usual", usual.split(" to ")[0]),
                      question=f"A rough measure will do. With the usual {awaiting} of {usual} it would be {found.figure} "
                      f"({found.beside}). Shall that be used, or what is the {awaiting}?")  # fmt: skip

    def _again(self, line: str) -> Answer:
        """The same question in other words, for a user who does not know."""
        awaiting, draft, last = self.now.awaiting, self.now.draft, self.now.answer
        if awaiting == "way":
            plants = draft is not None and bool(draft.places) and draft.places[-1].kind in ("plant", "hole")
            return self._ask(line, _WHICH_PLANTS if plants else _WHICH_GROUND)
        text = last.question if last is not None and last.question else "What are the castings for?"
        rough = "A rough count will do: " if awaiting == "count" else "A rough measure will do: " if awaiting in _MEASURES else ""
        return self._ask(line, f"It cannot be worked out without that. {rough}{text[0].lower() if rough else text[0]}{text[1:]}")

    def _change(self, old: Draft, new: Draft, replies: set[str]) -> Draft | None:
        if "drop-place" in replies:
            return self._dropped(old, new)
        if "only-these" in replies and new.places:
            nouns = {p.noun for p in new.places}
            for turn in [self.now, *reversed(self.past)]:
                if turn.draft is not None and len(turn.draft.places) > 1 and any(p.noun in nouns for p in turn.draft.places):
                    return self._only(turn.draft, new)
        if "same-for" in replies and any(p.noun or p.has_size for p in new.places):
            return self._same_for(old, new)
        if "one-of-them" in replies and old.places:
            return self._one_of_them(old, new)
        if not (new.places or new.unsure or new.stray or new.have or new.asked or new.asked_unit or new.way or new.not_ways or new.pack
                or new.price or new.budget or new.density or new.weighed or new.moisture or new.recipe or new.parts_share or new.ratio or new.water
                or new.question or new.refusal or new.compare or new.packs_count or new.soil or new.limit or new.hints & _CHANGING
                or new.enough):  # fmt: skip
            return None
        adding = "add-place" in replies or new.text.lower().startswith(("and another", "plus", "and also", "also", "and a ", "and "))
        old = self._spoken_of(old, new)
        if old is not self.now.draft:
            self.meant = self._line_of(old)
        if (new.asked_unit or new.not_unit) and not new.asks and re.search(r"\b(?:mean|meant|not)\b", new.text.lower()) and (
            not new.places and not new.unsure
        ):  # fmt: skip
            return self._other_unit(old, new)
        if new.not_unit:
            new.asked_unit = ""
        if new.asked_unit and (new.places or new.unsure) and not new.asks and "mean" in new.text.lower():
            new.asked_unit = ""
        on_top = [p for p in new.places if p.layer and not p.noun and not p.has_size]
        last = old.places[-1] if old.places else None
        if on_top and last is not None and last.has_size and (last.share or last.recipe) and re.search(
            r"\b(?:too|also|as well)\b", new.text.lower()
        ):  # fmt: skip
            return self._and_on_top(old, new, on_top[0])
        draft = self._put(old, new, adding=adding)
        self._place_stray(draft, "count")
        return draft

    @staticmethod
    def _and_on_top(old: Draft, new: Draft, layer: PlaceDraft) -> Draft:
        """ "and 1 cm on top of it too": the same place once more, dressed."""
        draft = old.copy()
        again = old.copy().places[-1]
        draft.places[-1].way = draft.places[-1].way or draft.way or "blend"
        again.share, again.recipe, again.depth, again.fill = None, [], None, None
        again.layer, again.way = list(layer.layer), "top-dress"
        draft.way = ""
        draft.places.append(again)
        return _cleared(draft, new)

    @staticmethod
    def _only(old: Draft, new: Draft) -> Draft:
        """ "just the pots": the other places are dropped."""
        draft = old.copy()
        nouns = {p.noun for p in new.places}
        kept = [p for p in draft.places if p.noun in nouns or p.crop in nouns]
        draft.places = kept or draft.places
        return _cleared(draft, new)

    def _spoken_of(self, old: Draft, new: Draft) -> Draft:
        """The draft a follow-up leans on: an earlier request, where it names what only that one spoke of."""
        printed = {p.printed for p in new.places if " " in p.printed}
        if printed and not any(p.printed in printed for p in old.places):
            for earlier in reversed(self.finished):
                if any(p.printed in printed for p in earlier.places):
                    return earlier
        names = {(p.noun, p.name) for p in new.places if p.name}
        if names and not any((p.noun, p.name) in names for p in old.places):
            for earlier in reversed(self.finished):
                if any((p.noun, p.name) in names for p in earlier.places):
                    return earlier
        crops = {p.crop for p in new.places if p.crop}
        if crops and not any(p.crop in crops or p.noun in crops for p in old.places):
            for earlier in reversed(self.finished):
                if any(p.crop in crops or p.noun in crops for p in earlier.places):
                    return earlier
        nouns = {p.noun for p in new.places if p.noun}
        elsewhere = all(is_another_kind(p, q) for p in old.places for q in new.places)
        if nouns and (elsewhere or not any(p.has_size or p.count for p in new.places)) and not nouns & {n for p in old.places for n in (p.noun, p.crop)}:
            for earlier in reversed(self.finished):
                if any(p.noun in nouns or p.crop in nouns for p in earlier.places):
                    return earlier
        return old

    def _not_spoken_of(self, old: Draft, new: Draft) -> str | None:
        """The places that a line names and says nothing of, where this conversation had none of them; None else."""
        if new.unsure or new.stray or new.have or new.asked or new.asked_unit or new.asks or new.way or new.replies or new.topics or new.figures or (
            not old.places
        ):  # fmt: skip
            return None
        for place in new.places:
            bare = place.noun and place.kind not in ("plant", "hole") and not (place.count or place.has_size or place.layer or place.share or place.rate or place.depth)
            if bare and all(target_of(draft, place) is None for draft in [old, *self.finished]):
                return plural(place.noun.replace("-", " "))
        return None

    @staticmethod
    def _other_unit(old: Draft, new: Draft) -> Draft:
        """ "I meant US gallons": the number stays and its unit changes."""
        from grammar.quantities import unit

        draft = old.copy()
        draft.text, draft.flags, draft.noted = new.text, [], []
        wrong, right = new.not_unit, new.asked_unit
        if not right:
            return draft
        doubtful = ("quart", "pint", "gallon", "ton", "yard")
        wanted = unit(right).dimension if right not in doubtful else ""

        def changed(span: Span) -> Span:
            fits = span.unit not in doubtful and span.dimension == wanted
            return span._replace(unit=right) if fits and (not wrong or span.unit == wrong) else span

        only_last = not wrong and wanted == "length"
        for place in draft.places:
            if only_last and place.layer:
                place.layer = [changed(one) for one in place.layer]  # "an inch … I meant cm": what was said last
                continue
            for name in ("volume", "area", "rate", "depth", "length", "width", "diameter", "radius", "height", "fill"):
                span = getattr(place, name)
                if span is not None and not (only_last and name == "depth" and place.size):
                    setattr(place, name, changed(span))
            place.size = tuple(changed(one) for one in place.size)
            place.layer = [changed(one) for one in place.layer]
        return draft

    def _put(self, old: Draft, new: Draft, *, adding: bool) -> Draft:
        new = new.copy()
        draft = merge(old, new, adding=adding)
        self._place_unsure(draft)
        return draft

    def _place_unsure(self, draft: Draft) -> None:
        """A bare measure in a follow-up takes the place of the value of its kind."""
        if self.now.awaiting in _MEASURES:
            return
        if not draft.places:
            for unsure in draft.unsure:
                if draft.have is not None:
                    draft.have, draft.more_have = unsure.span, []
                    draft.unsure = [one for one in draft.unsure if one is not unsure]
                elif draft.water is not None and unsure.span.unit in (draft.water.unit, "gallon", "litre"):
                    draft.water = unsure.span  # "5 gallons of tea at 1:10", "10 gallons"
                    draft.unsure = [one for one in draft.unsure if one is not unsure]
            return
        left: list[Unsure] = []
        for unsure in draft.unsure:
            kind = unsure.span.dimension if unsure.span.unit not in ("quart", "pint", "gallon", "ton", "yard") else "volume"
            slot = ""
            place = _place_of(draft, unsure, kind)
            if kind == "length" and place.diameter is not None and unsure.span.unit == place.diameter.unit and (
                place.depth is None or place.depth.unit != unsure.span.unit
            ):  # fmt: skip
                slot = "diameter"
            elif kind == "length":
                slot = "layer" if place.layer or draft.way == "top-dress" else "depth" if place.depth else "fill" if place.fill else ""
                if slot == "" and place.area and not place.share:
                    slot = "layer"
            elif kind in ("volume", "weight"):
                if draft.have is not None and (
                    unsure.cues & {"before:link:on-hand", "before:link:with"}
                    or (draft.asked in _BACKWARDS and (re.search(r"\b(?:had|have|got)\b", draft.text.lower()) or (
                        unsure.span.unit == draft.have.unit and (place.rate is None or place.rate.unit != unsure.span.unit))))
                ):  # fmt: skip
                    draft.have = unsure.span
                    continue
                if place.rate is not None or (place.kind in ("plant", "hole") and draft.have is None):
                    slot = "rate"
                elif draft.have is not None:
                    draft.have = unsure.span
                    continue
                elif draft.water is not None:
                    draft.water = unsure.span
                    continue
                elif place.volume is not None:
                    slot = "volume"
            if slot:
                self.slot = (slot, unsure.span.unit)
            if slot == "layer":
                place.layer = [unsure.span]
                place.share = None
            elif slot:
                setattr(place, slot, unsure.span)
            else:
                left.append(unsure)
        draft.unsure = left

    def _place_stray(self, draft: Draft, awaiting: str) -> None:
        """A bare number in a follow-up: how many, or the depth in the unit that goes with the sides."""
        if len(draft.stray) != 1:
            return
        ratio = _RATIO.fullmatch(draft.stray[0][0].strip())
        if ratio is not None and (draft.parts_share is not None or draft.recipe):
            parts = sorted(float(one) for one in ratio.groups())
            share = 100 * parts[0] / sum(parts)
            draft.parts_share, draft.recipe, draft.stray = Span(share, share, "percent"), [], []
            draft.flags.append(("ratio-order", f"the smaller part of {ratio.group(0)} is taken as castings"))
            draft.figures = []
            return
        number = bare_number(draft.stray[0][0])
        if number is None or not draft.places:
            return
        place = draft.places[-1]
        if self.now.slot and not self.now.awaiting and place.count is None and not re.search(r"\bof (?:them|those|these|it|that|this)\b", draft.text.lower()):
            span = Span(number, number, self.now.unit)
            if self.now.slot == "layer":
                place.layer = [span]
            else:
                setattr(place, self.now.slot, span)
            draft.flags.append(("bare-number", f"{number:g} {self.now.unit.replace('_', ' ')}, the unit spoken before"))
            draft.stray = []
            return
        if awaiting in ("depth", "layer"):
            metric = any("metre" in span.unit for span in place.size)
            unit_name = "centimetre" if metric else "inch"
            span = Span(number, number, unit_name)
            if awaiting == "depth":
                place.depth = span
            else:
                place.layer = [span]
            draft.flags.append(("bare-number", f"{number:g} {'cm' if metric else 'inches'}"))
            draft.stray = []
        elif awaiting == "count" and number == int(number) and number > 0 and (
            place.count is not None or place.kind in ("plant", "hole", "container") or self.now.awaiting == "count"
            or re.search(r"\bof (?:them|those|these)\b", draft.text.lower())
        ):  # fmt: skip
            place.count = number
            draft.stray = []

    def _dropped(self, old: Draft, new: Draft) -> Draft:
        draft = old.copy()
        nouns = {place.noun for place in new.places}
        same = [p for p in draft.places if p.noun in nouns]
        if new.ordinal and len(same) >= 2 and abs(new.ordinal) <= len(same):
            gone = same[new.ordinal - 1 if new.ordinal > 0 else new.ordinal]
            draft.places = [p for p in draft.places if p is not gone]
            return _cleared(draft, new)
        kept = [p for p in draft.places if p.noun not in nouns and not (p.crop and p.crop in nouns)]
        if len(kept) == len(draft.places) and len(kept) > 1:
            kept = kept[:-1]
        draft.places = kept or draft.places
        draft.text, draft.stray, draft.unsure, draft.flags, draft.noted, draft.figures = new.text, [], [], [], [], []
        draft.question, draft.asks, draft.replies = None, [], []
        return draft

    @staticmethod
    def _same_for(old: Draft, new: Draft) -> Draft:
        draft = old.copy()
        pattern = old.places[-1] if old.places else PlaceDraft()
        draft.places = []
        for place in new.places:
            if place.kind == pattern.kind and not place.has_size and (place.noun == pattern.noun or place.count):
                copy = old.copy().places[-1]
                lay_over(copy, place)
                draft.places.append(copy)
                continue
            copy = PlaceDraft(share=pattern.share, layer=list(pattern.layer), rate=pattern.rate, rate_per=pattern.rate_per,
                              recipe=list(pattern.recipe), way=pattern.way)  # fmt: skip
            if place.kind == pattern.kind == "ground" and pattern.depth is not None and not place.depth:
                copy.depth = pattern.depth
            lay_over(copy, place)
            draft.places.append(copy)
        draft.text, draft.flags, draft.noted, draft.stray, draft.unsure = new.text, [], [], list(new.stray), list(new.unsure)
        draft.question, draft.asks, draft.replies, draft.figures = new.question, [], [], list(new.figures)
        return draft

    @staticmethod
    def _one_of_them(old: Draft, new: Draft) -> Draft:
        draft = old.copy()
        place = draft.places[-1]
        if place.count is None or place.count < 2:
            return merge(old, new, adding=False)
        other = old.copy().places[-1]
        place.count -= 1
        other.count = 1.0
        for one in new.places:
            lay_over(other, one)
        draft.places.append(other)
        draft.text, draft.flags, draft.noted, draft.stray, draft.unsure = new.text, [], [], [], []
        draft.question, draft.asks, draft.replies, draft.figures = new.question, [], [], list(new.figures)
        return draft

    # ---- answering -----------------------------------------------------------------------------------

    def _answer(self, draft: Draft, line: str, *, fresh: bool = False, awaiting: str = "") -> Answer:
        read = settle(draft, awaiting)
        if isinstance(read, Question):
            answer = refuse(read, line)
        else:
            found = engine.answer(read, line, self.shop)
            answer = refuse(found, line) if isinstance(found, Question) else found
        if answer.status == "asks" and draft.question is not None and self.now.answer is not None and self.now.draft is not None and not (
            self.now.awaiting
        ):  # fmt: skip
            self.now.open = line.strip()  # the change could not be taken: what was said before still holds
            return answer
        keep = answer.status == "answered" or (answer.status == "asks" and _worth_keeping(draft))
        if keep:
            self._leave()
            kept = with_roles(draft, awaiting)
            if answer.status == "asks":
                kept.question = None
                kept.stray = []
            index = self.meant if self.meant is not None else None if fresh or self.now.draft is None else self.now.line
            if answer.status == "answered" and isinstance(read, Query) and read.asked != "explanation":
                if index is not None and index < len(self.finished):
                    # a question about a line of the order leaves the line as it is
                    if orders.asks_for_castings(read) or not orders.is_need(self.finished[index]):
                        self._put_in_line(index, kept)
                else:
                    index = len(self.finished)
                    self.finished.append(kept)
            slot = self.slot if self.slot[0] else (self.now.slot, self.now.unit)
            unsettled = answer.status == "asks" and answer.needs in ("stray", "role", "each", "amount") and self.now.answer is not None
            not_taken = self.now.open
            self.now = _Turn(kept, answer, answer.needs if answer.status == "asks" else "", slot[0], slot[1], line.strip() if unsettled else "",
                             index, tuple(self.finished))  # fmt: skip
            if not_taken and answer.status == "answered" and (not awaiting or (awaiting == "stray" and not _same_number(not_taken, line))):
                note = Assumed(code="not-taken", text=f"“{not_taken[:60]}” was not understood and is left out")
                answer = answer.model_copy(update={"assumed": (*answer.assumed, note)})
        self.slot = ("", "")
        return answer

    def _aside(self, new: Draft, line: str) -> Answer:
        """A question in words between two turns: answered, and nothing is forgotten."""
        read = settle(new)
        if isinstance(read, Question):
            return refuse(read, line)
        found = engine.answer(read, line, self.shop)
        return refuse(found, line) if isinstance(found, Question) else found

    def _nothing(self, new: Draft, line: str) -> Answer:
        read = settle(new)
        if isinstance(read, Question):
            return refuse(read, line)
        return self._answer(new, line)


#: What a question may ask for that a bare measure answers.
_MEASURES = frozenset({"depth", "layer", "height", "width", "length", "diameter", "size", "volume", "have", "water", "pack", "mix", "area"})

#: Which way suits, for a user who does not know.
_WHICH_GROUND = "Mixed in suits soil that is being filled in or dug; on top suits a place where things are growing. Which shall it be?"
_WHICH_PLANTS = "Beside the stem suits plants that are growing; in the hole suits plants that are being set out. Which shall it be?"

#: "the small one": one of several places by how big it is.
_OTHER_ONE = re.compile(r"\b(?:the other|one of (?:them|those))\b", re.I)
_SIZED_ONE = re.compile(r"\b(?:small|smaller|big|bigger|large|larger|long|longer|short|shorter|other)\s+(?:one|bed|row|pot|plot|lawn)\b", re.I)
#: Words that mean every line of the order, and not the places of one.
_EVERYTHING = re.compile(r"\b(?:everything|for the lot|the whole order|across all|grand total|for all(?: of (?:it|them|this|that))?)\b", re.I)
#: Said by one who is content.
_CONTENT = re.compile(r"^\W*(?:ok|okay|oki|great|good|fine|perfect|right|sure|nice|lovely|cool|super|brilliant|excellent|wonderful|thank|thx|cheers|ta|got it"
                      r"|all ?right|alright|done|sorted|that's all|that is all|very good|very well|wow|yes|yep|yeah)\b", re.I)  # fmt: skip
_FEW_WORDS = 4
_YES_OR_NO = re.compile(r"^\W*(?:yes|yep|yeah|no|nope|nah)\W*$", re.I)
#: "half of that", "a third as much": a part of what was worked out last; "half of it" may be half of the place.
_PART_OF = re.compile(r"\b(?:(half)|(?:an?|one) (third|quarter|fifth|tenth)|(two thirds|three quarters)) (?:of )?(?:that|as much"
                      r"|the (?:amount|layer|depth|share|rate))\b", re.I)  # fmt: skip
_PARTS = {"half": 1 / 2, "third": 1 / 3, "quarter": 1 / 4, "fifth": 1 / 5, "tenth": 1 / 10, "two thirds": 2 / 3, "three quarters": 3 / 4}
_FIGURES = re.compile(r"\d[\d.,]*")
#: A bare ratio in a follow-up.
_RATIO = re.compile(r"(\d+)\s*(?:to|:)\s*(\d+)")

#: Hints that change a request by themselves.
_CHANGING = frozenset({"established", "no-dig", "new-fill", "existing-soil", "mixed-in", "seedlings"})


#: Question words that ask in words and change nothing.
_ASKING = frozenset({"what-is", "difference", "can-i", "how-to", "which", "why"})


def _only_asks(new: Draft) -> bool:
    """Whether a line only asks something in words: it never changes what is being worked out."""
    return bool(new.asks) and set(new.asks) <= _ASKING and not (
        new.figures or new.asked_unit or new.unsure or new.stray or new.replies or new.have or new.price
        or any(p.has_size or p.layer or p.share or p.rate or p.count for p in new.places)
    )  # fmt: skip


def _place_of(draft: Draft, unsure: Unsure, kind: str) -> PlaceDraft:
    """The place that a bare measure is said of: the one named with it, else the last that has such a measure, else the last."""
    if 0 <= unsure.place < len(draft.places) and any(cue.startswith("place:") for cue in unsure.cues):
        return draft.places[unsure.place]
    if kind == "length" and draft.places[-1].kind in ("plant", "hole"):
        return next((place for place in reversed(draft.places) if place.layer or place.depth or place.fill), draft.places[-1])
    return draft.places[-1]


def _times(span: Span, factor: float) -> Span:
    return Span(span.low * factor, span.high * factor, span.unit)


def _cleared(draft: Draft, new: Draft) -> Draft:
    """A changed draft with nothing left of how the change was said."""
    draft.text, draft.flags, draft.noted, draft.stray, draft.unsure, draft.figures = new.text, [], [], [], [], []
    draft.question, draft.asks, draft.replies = None, [], []
    draft.hints -= {"by-so-much", "cut"}
    return draft


def _lettered(line: str) -> bool:
    """Whether a place is spoken of by a letter: "bed A"."""
    return re.search(r"\b(?:bed|row|plot|pot|box)\s+[A-Z]\b", line) is not None


def asks_of_all(new: Draft) -> bool:
    """Whether a line after a total only asks for it in another way: "what does that cost?", "in cubic feet"."""
    return not (
        new.places or new.unsure or new.stray or new.have or new.topics or new.way or new.replies or new.density or new.budget
    )


def bare_but_asks(new: Draft) -> bool:
    """Whether a line holds no place, amount or topic."""
    return not (new.places or new.unsure or new.stray or new.have or new.topics or new.way or new.pack)


#: Words by which a line leans on what came before.
_LEANS = ("make it", "make that", "instead", "actually", "what about", "how about", "what if", "and if", "same ", "also", "add ", "change", "rather", "no,",
          "sorry", "go with", "it's ", "its ", "and ", "plus ", "but ", "only ", "just ")  # fmt: skip


def _leans(text: str) -> bool:
    """Whether a line leans on what was said before it."""
    text = text.lower()
    return any(text.startswith(word) or (word in ("instead", "actually") and word in text) for word in _LEANS)


def _is_plain_word(name: str) -> bool:
    """Whether a name is no more than a word of the trade, which would then be taken for that place wherever it is said."""
    word = vocabulary().single.get(name)
    return isinstance(word, Word) and word.kind in ("ground", "container", "plant", "mix", "seed-mix", "hole", "castings", "pack", "unit")


def _same_number(before: str, line: str) -> bool:
    """Whether a line says a number of an earlier line again, and so says what it was."""
    return bool(set(_FIGURES.findall(before)) & set(_FIGURES.findall(line)))


def _worth_keeping(draft: Draft) -> bool:
    return bool(draft.places or draft.have or draft.way or draft.water or draft.recipe)


def _clean(text: str) -> str:
    name = _NAME.sub(" ", text).strip()
    name = re.sub(r"^(?:the|my|a|it|that)\s+", "", name)
    return re.sub(r"\s+(?:please|thanks|then|now)$", "", name).strip()[:40]
