"""What carries over from turn to turn: the places and values spoken of, the question asked last, the names given.

A line is a reply to the question just asked, a change to what was said, a question about it, or a new
request. Nothing is kept but what the user said; every turn is worked out anew from the whole of it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from grammar.draft import Draft
from grammar.gather import gather
from grammar.query import Query, Question
from grammar.reads import reads
from grammar.settle import settle, with_roles
from grammar.words import Word, plural, vocabulary

from . import bare_numbers, changes, choices, corrected, engine, orders, turns, units_meant
from .answer import Answer, Assumed
from .followup import BACKWARDS as _BACKWARDS
from .knowledge import facts
from .pointing import NUMBERED, by_number, pointed, unresolved
from .questions import refuse
from .replies import BESIDE, as_asked, without_opening
from .spoken_of import by_size, is_another_kind, is_bare, is_named, spoken_of, touched, which
from .unsaid import in_full, sides_in_full
from .waiting import UNCLEAR, Waiting, completed, only_wants
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
    #: the question about something said that could not be taken, until it is answered or passed over
    waiting: Waiting | None = None
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

    def _say(self, line: str, *, full: bool = False) -> Answer:
        """The answer to one line of the conversation; `full` where nothing is to be put into it any more."""
        was_total, self.totalled, self.meant = self.totalled, False, None
        ordered = orders.steered(line)
        if ordered is not None and self.finished:
            return self._on_line(ordered, line)
        if not full and (answer := self._set_right(line)) is not None:
            return answer
        told = sides_in_full(in_full(orders.removing(line), self.now.draft), self.now.draft)
        told = by_number(told, [place for draft in ([self.now.draft] if self.now.draft is not None else []) + self.finished for place in draft.places])
        if self.now.draft is not None and NUMBERED.search(told):
            return self._ask(line, "Which are those? Say their size with its unit, as “the 8 inch pots”.")
        if self.now.draft is not None:
            told = pointed(told, self.now.draft.places)
        named, rest = self._named(told)
        new = gather(rest, leaning=self.now.draft is not None)
        if new.by_weight and self.now.draft is not None and not any(p.share for p in new.places) and not (new.recipe or new.parts_share):
            new.by_weight, new.asked, new.asks = False, "weight", [one for one in new.asks if one != "what-is"]  # "how much is that by weight"
        if new.asked == "cost" and new.asked_unit and not new.price and self.now.draft is not None:
            new.asked = ""  # "what's the total in cubic feet"
        if new.asked_unit and not new.topics and turns.IN_UNITS.search(line):
            new.asks = [one for one in new.asks if one != "what-is"]  # "what's that in gallons?"
        units_meant.carried(self.now.draft, new)
        if named is not None:
            return self._back_to(named, new, line)
        if was_total and (new.asked or new.asked_unit) and asks_of_all(new):
            return self._total(new, line)
        if self.finished and (asked := orders.asks_total(line)):
            return self._total(gather(asked), line)
        if (unsure := changes.gone_already(self.now.draft, new)) is not None:
            return self._ask(line, unsure)
        past = self._leaning().past
        if (there := changes.put_back(self.now.draft, new, past)) is not None:
            return self._answer(there, line)
        whole = changes.all_again(self.now.draft, new, past)
        if whole is not None:
            return self._ask(line, whole) if isinstance(whole, str) else self._answer(whole, line)
        more = changes.one_more(self.now.draft, new)
        if more is not None:
            return self._answer(more, line)
        steered = self._steer(new, line)
        if steered is not None:
            return steered
        old = self.now.draft
        waiting, self.now.waiting = self.now.waiting, None
        if waiting is not None:
            meant = completed(waiting, new, line)
            if meant is not None:
                if waiting.kept:
                    self.now = self.past.pop()
                self.now.open = ""
                return self._say(meant).model_copy(update={"request": line})
            if new.times is not None and waiting.needs == "season":
                self.now.open = ""
            if (waiting.kept or waiting.instead) and not waiting.again and only_wants(new):
                self.now.waiting = replace(waiting, again=True)
                return waiting.question.model_copy(update={"request": line})
        if (one := self._chosen(waiting, line)) is not None:
            return self._say(one, full=True).model_copy(update={"request": line})
        if old is None:
            return self._answer(new, line)
        if not full and (answer := self._with_number(new, line)) is not None:
            return answer
        two = changes.one_and_the_other(old, new)
        if two is not None:
            return self._answer(two, line)
        if (old.places or old.have) and _priced_apart(new):
            return self._aside(new, line)
        replies = {name for name, _ in new.replies}
        if new.pack_noun and bare_but_asks(new) and not (new.packs_count and old.asked in _BACKWARDS) and not new.asks and not new.price and not new.budget and (
            line.rstrip().endswith("?") or line.lower().startswith("in ")
        ):  # fmt: skip
            new.asked, new.asks = "packs", ["how-many"]  # "bags?"
        if any(place.clear or place.outer for place in new.places):
            new.weak_topics = []  # "keep it 1 ft off the trunk" is no question about keeping castings
        if new.asks == ["cheaper"] and (beside := changes.packs_told(new, self._answered())):
            return self._aside(beside, line)
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
        fewer = changes.without_component(old, new)
        if fewer is not None:
            return self._doubt(fewer, new, line) if isinstance(fewer, choices.Doubt) else self._answer(fewer, line)
        if "role:clear-of-trunk" in new.hints and any(p.diameter for p in new.places) and any(p.diameter or p.outer for p in old.places):
            return self._ask(line, "How far from the trunk do the castings begin? Say it as “1 ft from the trunk”.")
        if turns.SOME_ONES.search(line) and not any(p.has_size for p in new.places):
            return self._ask(line, "What do those get, and what do the others get? Say it of each, as “8 hostas 2 cups each, 12 hostas 1 cup each”.")
        changed = changes.by_so_much(old, new, self._leaning())
        if changed is not None:
            return self._ask(line, changed) if isinstance(changed, str) else self._answer(changed, line)
        if len(old.places) == 1 and (old.places[0].count or 1) > 1 and turns.OTHER_ONE.search(line) and any(p.has_size for p in new.places):
            return self._ask(line, "How big is each of them? Say all the sizes in one line.")
        if (unresolved(told, old.places) or (len(old.places) > 1 and turns.SIZED_ONE.search(told))) and (new.figures or new.unsure):
            several = len(old.places) > 1
            return self._ask(line, which(old.places) if several else "Which of them is that, and what is it to be for the others? Say all of them in one line.")
        if self._is_fresh(new, replies):
            return self._answer(new, line, fresh=True)
        if "drop-place" in replies:
            return self._dropped(old, new, line)
        draft = self._change(old, new, replies)
        if draft is None:
            return self._nothing(new, line)
        if isinstance(draft, str):
            return self._ask(line, draft)
        if changes.says_of_plants(new) and self.now.answer is not None and isinstance(read := settle(draft.copy()), Query) and reads(read) == self.now.answer.reads:
            return self._ask(line, "That changes nothing. Say what is to change, as “make it 15 %”, or what comes next.")
        another = "same-for" in replies and len(draft.places) == 1 and any(p.has_size for p in new.places)
        return self._answer(draft, line, awaiting=self.now.awaiting, another=another)

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
        if len(self.finished) > 1 and turns.EVERYTHING.search(line) and (new.asked or new.asked_unit or new.pack is not None):
            replies.append("both-of")
        if "both-of" in replies and (self.finished or bare) and not (new.places or new.unsure or new.stray or new.have or new.topics or new.way):
            return self._total(new, line)
        if bare and "altogether" in new.hints and self.now.draft is not None and not new.asked and not new.asked_unit:
            if self.now.draft.price is not None or self.now.draft.pack is not None:
                new.asked = "cost" if self.now.draft.price is not None else "packs"
            elif len(self.finished) > 1:
                return self._total(new, line)
            elif self.now.answer is not None and self.now.answer.status == "answered":
                return self.now.answer.model_copy(update={"request": line})
        settled = self.now.answer is not None and self.now.answer.status == "answered"
        looked = self._looks_back(new, line)
        if looked is not None:
            return looked
        if bare and ("thanks" in replies or ("yes" in replies and settled and self.now.waiting is None)):
            return self._ask(line, "Good. What else?")
        content = _CONTENT.match(line) is not None and len(line.split()) <= _FEW_WORDS
        if bare and self.now.draft is not None and (new.words == 0 or content or turns.YES_OR_NO.match(line)) and not self.now.awaiting and (
            self.now.waiting is None
        ):  # fmt: skip
            return self._ask(line, "Good. What else?" if content else
                             "That changes nothing. Say what is to change, as “make it 15 %”, or what comes next.")  # fmt: skip
        return None

    def _looks_back(self, new: Draft, line: str) -> Answer | None:
        """A line about what was answered or changed last: how it was read, for which place it was meant, what one of them takes."""
        now, before, answer = self.now.draft, self.past[-1].draft if self.past else None, self.now.answer
        if now is None or answer is None:
            return None
        answered = answer.status == "answered"
        if answered and turns.ABOUT_READING.match(line):
            return answer.model_copy(update={"request": line, "set_aside": (line.strip()[:80],)})
        if now.enough and turns.SHORT_OR_OVER.match(line):
            return answer.model_copy(update={"request": line})
        if answered and turns.PER_ONE.match(line) and len(now.places) == 1 and now.places[0].kind in ("ground", "container") and (now.places[0].count or 1) > 1:
            one = now.copy()
            one.places[0].count, one.text, one.figures = 1.0, line, []
            return self._aside(one, line)
        answers = [turn.answer for turn in [*self.past, self.now] if turn.answer is not None and turn.answer.status == "answered"]
        if (told := turns.FIRST_ANSWER.search(line)) is not None and answers:
            first = (told[1] or told[2]).lower() == "first" or len(answers) < 2
            return answers[0 if first else -2].model_copy(update={"request": line})
        changed = self._meant_elsewhere(before, now, new, line) if before is not None else None
        if changed is not None:
            return self._answer(changed, line)
        if turns.WRONG_ONE.search(line) and not new.figures:
            return self._ask(line, which(now.places))
        return None

    @staticmethod
    def _meant_elsewhere(before: Draft, now: Draft, new: Draft, line: str) -> Draft | None:
        """What was changed last, done to another place or to all of them: "wrong bed", "no, for the peppers", "same for both"."""
        if turns.SAME_FOR_ALL.match(line):
            return changes.same_change(before, now, new, range(len(now.places)))
        if turns.NO_THAT.match(line) and changes.only_names(new):
            there = changes.meant(new, now, ())
            if there and not isinstance(there, str):
                return changes.moved_over(before, now, new, there)
        return changes.moved_over(before, now, new) if turns.WRONG_ONE.search(line) and not new.figures else None

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
        """ "remove line 2", "change line 2 to 12 inches deep": lines are counted as the total shows them."""
        shown = orders.shown(self.finished)
        if not 1 <= said.number <= len(shown):
            count = len(shown)
            return self._ask(line, f"There {'is one line' if count == 1 else f'are {count} lines'} so far; which one is it?")
        index, at, mixed = shown[said.number - 1]
        if mixed:
            return self._ask(line, "That line holds several places; say which one by its name, as “take the peppers off”.")
        old = self.finished[index]
        if said.removes:
            left = None if at is None else old.copy()
            if left is not None and at is not None:
                del left.places[at]
                changes.cleared(left, Draft(text=line))
            return self._without(index, line, left)
        new = gather(said.rest, leaning=True)
        self.meant = index
        if at is None:
            return self._answer(self._put(old, new, adding=False), line)
        alone = old.copy()
        alone.places = [alone.places[at]]
        changed = self._put(alone, new, adding=False)
        kept = old.copy().places
        changed.places = [*kept[:at], *changed.places, *kept[at + 1 :]]
        return self._answer(changed, line)

    def _without(self, index: int | None, line: str, instead: Draft | None = None) -> Answer:
        """The order without one of its lines, or with less in its place, or without the request in hand that is no line yet: added up."""
        self._leave()
        if index is not None:
            kept = [] if instead is None else [instead]
            self.finished = [*self.finished[:index], *kept, *self.finished[index + 1 :]]
        last = len(self.finished) - 1
        if last < 0:
            self.now = _Turn()
            was = "That was all there was" if index is None else "That was the only line"
            return self._ask(line, f"{was}; nothing is left. What are the castings for?")
        answer = self._total(Draft(), line)
        self.now = _Turn(self.finished[last], answer, line=last, order=tuple(self.finished))
        return answer

    def _dropped(self, old: Draft, new: Draft, line: str) -> Answer:
        """ "take the peppers off", "drop the second": a place of the line in hand, or of another line of the order."""
        named = [place for place in new.places if place.noun or place.name or place.described or place.has_size]
        if not named:
            if len(old.places) < 2:
                few = changes.by_so_much(old, replace(new, by_so_much="fewer", hints=new.hints | {"by-so-much"}), changes.Leaning()) if new.stray else None
                return self._answer(few, line) if isinstance(few, Draft) else self._nothing(new, line)
            gone = self._leaning().touched
            if new.unread or new.stray or not (gone and turns.THAT.search(line)):
                return self._ask(line, which(old.places))
            return self._answer(changes.without(old, new, gone), line)
        lines = self._lines_with(new)
        elsewhere = len(lines) == 1 and lines[0] != self.now.line and not any(
            spoken_of(place, old.places, to_the_word=True) for place in named
        )
        here = [] if elsewhere else changes.meant(new, old, self._leaning().touched)
        if isinstance(here, str):
            return self._ask(line, here)
        if here:
            fewer = changes.fewer(old, new, here)
            if fewer is not None:
                return self._answer(fewer, line)
            if len(here) < len(old.places):
                return self._answer(changes.without(old, new, here), line)
            return self._without(self.now.line, line)
        lines = lines or self._lines_with(new, to_the_word=False)
        if len(lines) > 1:
            return self._ask(line, "Several lines have that; which one? Say “remove line 2”, counting as they came.")
        if not lines:
            return self._ask(line, which(old.places))
        draft = self.finished[lines[0]]
        there = changes.meant(new, draft, ())
        if isinstance(there, str):
            return self._ask(line, there)
        if not there or len(there) == len(draft.places):
            return self._without(lines[0], line)
        self.meant = lines[0]
        return self._answer(changes.without(draft, new, there), line)

    def _lines_with(self, new: Draft, *, to_the_word: bool = True) -> list[int]:
        """The lines of the order that hold all the places a line of the talk names."""
        told = [(at, place) for at, draft in enumerate(self.finished) for place in draft.places]
        places = [place for _, place in told]
        found: set[int] | None = None
        for one in new.places:
            hits = by_size(one, places) if one.has_size else spoken_of(one, places, to_the_word=to_the_word)
            lines = {told[at][0] for at in hits}
            found = lines if found is None else found & lines
        return sorted(found or ())

    def _leave(self) -> None:
        """Puts the turn in hand behind, so that it can be come back to."""
        self.now.names = dict(self.names)
        self.past.append(self.now)

    def _put_in_line(self, index: int, draft: Draft) -> None:
        """Changes a line of the order; a place that was named keeps its name when it is changed."""
        for name in [name for name, one in self.names.items() if one == self.finished[index]]:
            self.names[name] = draft.copy()
        self.finished[index] = draft

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
        if self.now.draft is not None and any(one.isdigit() for one in line):
            self.now.open = line.strip()  # what it says is not taken so far
        return Answer(request=line, status="asks", reads="", question=text)

    # ---- what kind of line ---------------------------------------------------------------------------

    def _is_reply(self, new: Draft, replies: set[str]) -> bool:
        """Whether a line answers the question just asked."""
        if replies & {"drop-place", "only-these"}:
            return False
        if replies & {"unknown", "yes"} or (self.now.awaiting == "by-volume" and turns.BY_VOLUME.search(new.text)) or BESIDE.match(new.text):
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
        asked_for = self.now.draft if self.now.awaiting == "place" else None
        if asked_for is not None and not asked_for.places and (asked_for.pack or asked_for.have or asked_for.price or asked_for.packs_count):
            return False  # "30 lb bags at $19.99", "for a 10x12 bed at half an inch"
        if new.way == "tea" and (new.ratio or new.ratio_spans or new.water) and self.now.draft is not None and self.now.draft.way != "tea":
            return isinstance(settle(new), Query)
        if self._is_another_job(new):
            return True
        most = "most" in new.text.lower().split()
        at_hand = new.have is not None or bool(new.packs_count and (new.pack or new.asked in _BACKWARDS or most)) or new.budget is not None
        told = most or bool(new.unsure) or any(p.layer or p.share or p.rate or p.depth for p in new.places) or (new.have is not None and bool(new.asked))
        if not (at_hand or told or new.way) and self._counts_again(new):
            return False
        if not any(p.has_size or p.count for p in new.places) and not (at_hand and told and (new.asked or "cover" in new.asks)):
            return False
        if self._is_another_kind(new):
            return True
        strong = bool(new.way or new.recipe or new.parts_share or new.asked) or at_hand or any(p.layer or p.share or p.rate for p in new.places)
        if not strong:
            return False
        return not _leans(new.text) and isinstance(settle(new), Query)

    def _counts_again(self, new: Draft) -> bool:
        """Whether a line only says how many there are of plants spoken of before: "have 30 roses, how many bags", of roses at a litre each."""
        places = self.now.draft.places if self.now.draft is not None else []
        return bool(new.places) and all(p.kind == "plant" and not p.has_size and spoken_of(p, places, to_the_word=True) for p in new.places)

    def _is_another_job(self, new: Draft) -> bool:
        """Whether a line begins another piece of work, whatever it lacks yet: a way, and plants or a place not spoken of so far."""
        old = self.now.draft
        return bool(
            old is not None and old.places and new.way and new.places and not _leans(new.text) and all(p.noun and not spoken_of(p, old.places) for p in new.places)
        )

    def _is_another_kind(self, new: Draft) -> bool:
        """Whether a line tells the size of a place that none of those in hand can be: a lawn, after a bed."""
        old = self.now.draft
        if old is None or not old.places or _leans(new.text) or not any(p.has_size for p in new.places):
            return False
        return all(is_another_kind(p, q) for p in old.places for q in new.places)

    def _chosen(self, waiting: Waiting | None, line: str) -> str | None:
        """What a reply as "the second" picks of what was just put to the choice, in words; None where it picks nothing."""
        asked = waiting.question if waiting is not None else self.now.answer
        if asked is None or asked.status != "asks" or asked.question is None or (waiting is None and not self.now.awaiting):
            return None
        return choices.picked(without_opening(line), asked.question, asked.offers)

    def _set_right(self, line: str) -> Answer | None:
        """The answer to the line before with a figure of it set right, or to how many are left of what there was; None else."""
        last, draft = self.now.answer, self.now.draft
        if last is None or draft is None:
            return None
        right = corrected.set_right(line, last.request)
        if right is None and last.status == "asks" and self.now.awaiting == "unit" and last.question:
            right = corrected.with_unit(line, last.question, last.request)
        if right is not None and self.past:
            self.now = self.past.pop()
            self.finished = list(self.now.order)
            return self._say(right, full=True).model_copy(update={"request": line})
        told = corrected.was_wrong(line)
        if told is not None and (instead := bare_numbers.instead(draft, *told)) is not None:
            return self._say(instead, full=True).model_copy(update={"request": line})
        left = corrected.what_is_left(line)
        place = draft.places[-1] if draft.places else None
        if left is None or place is None or place.count is None:
            return None
        lost = gather(left[0], leaning=True)
        gone = {place.count * value if value < 1 else value for value, _ in lost.figures}
        if len(gone) == 1 and abs(place.count - gone.pop() - left[1]) >= 1:
            return self._ask(line, f"There were {place.count:g}, and {left[0]}: are {left[1]:g} left? Say how many there are now.")
        return self._say(f"{left[1]:g} of them", full=True).model_copy(update={"request": line})

    def _with_number(self, new: Draft, line: str) -> Answer | None:
        """The answer to a line whose one number has no unit, by what it most likely stands for; None where it is no such line."""
        old = self.now.draft
        if old is None or {name for name, _ in new.replies} & {"drop-place"} or {"by-so-much", "cut"} & new.hints:
            return None
        used = self.now.answer is not None and self.now.answer.share is not None
        before = bare_numbers.Before(old, self.now.awaiting, used, [turn.draft for turn in reversed(self.past) if turn.draft is not None])
        found = bare_numbers.in_full(new, before)
        if found is None:
            return None
        if isinstance(found, bare_numbers.Meant):
            answer = self._say(found.line, full=True).model_copy(update={"request": line})
            if answer.status != "answered":
                return answer
            note = Assumed(code="bare-number", text=found.note)
            return answer.model_copy(update={"assumed": (*answer.assumed, note)})
        return self._doubt(found, new, line)

    def _doubt(self, found: choices.Doubt, new: Draft, line: str) -> Answer:
        """Asks which of several readings is meant; the line waits for the answer."""
        doubt = Answer(request=line, status="asks", reads="", question=found.question, needs="amount", offers=found.shown)
        self.now.open = line.strip()
        self.now.waiting = Waiting(new.text, found.about, "", doubt, kept=False, choices=found.choices)
        return doubt

    # ---- replies and changes -------------------------------------------------------------------------

    def _reply(self, old: Draft, new: Draft, line: str, replies: set[str]) -> Answer:
        awaiting = self.now.awaiting
        if awaiting == "by-volume" and turns.BY_VOLUME.search(line) and (agreed := self._agreed(old, new)) is not None:
            return self._answer(agreed, line)
        if replies & {"unknown", "yes"} and not (new.unsure or new.stray or new.places or new.way):
            usual = _USUAL.get(awaiting)
            if "yes" in replies and (agreed := self._agreed(old, new)) is not None:
                return self._answer(agreed, line)
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
            return self._answer(draft, line)
        if awaiting == "water" and len(new.unsure) == 1 and not new.places and (new.unsure[0].span.unit in _LIQUID or new.unsure[0].span.dimension == "volume"):
            new.water, new.unsure = new.unsure[0].span, []
        if awaiting in ("volume", "size"):
            for place in new.places:
                if place.rate is not None and not place.noun and place.rate_per is None:
                    place.volume, place.rate, place.each = place.rate, None, True  # "30 litres each"
        old = old.copy()
        unit_missing = as_asked(old, new, awaiting)
        if unit_missing:
            return self._ask(line, unit_missing)
        draft = self._put(old, new, adding=False)
        changes.place_stray(draft, self._leaning(), awaiting)
        return self._answer(draft, line, awaiting=awaiting)

    def _agreed(self, old: Draft, new: Draft) -> Draft | None:
        """ "yes" to a question that only wants it: is it castings, is the share by volume."""
        draft = old.copy()
        if self.now.awaiting == "castings":
            draft.hints.add("castings-named")
        elif self.now.awaiting == "by-volume":
            draft.by_weight = False
        else:
            return None
        return changes.cleared(draft, new)

    def _again(self, line: str) -> Answer:
        """The same question in other words, for a user who does not know."""
        awaiting, draft, last = self.now.awaiting, self.now.draft, self.now.answer
        if awaiting == "way":
            plants = draft is not None and bool(draft.places) and draft.places[-1].kind in ("plant", "hole")
            return self._ask(line, _WHICH_PLANTS if plants else _WHICH_GROUND)
        text = last.question if last is not None and last.question else "What are the castings for?"
        rough = "A rough count will do: " if awaiting == "count" else "A rough measure will do: " if awaiting in changes.MEASURES else ""
        return self._ask(line, f"It cannot be worked out without that. {rough}{text[0].lower() if rough else text[0]}{text[1:]}")

    def _change(self, old: Draft, new: Draft, replies: set[str]) -> Draft | str | None:
        """The draft that a follow-up makes of the one before, the question it raises, or None where it changes nothing."""
        if ("only-these" in replies and new.places) or (changes.says_only(new.text) and changes.only_names(new)):
            kept = self._only(new)
            if kept is not None:
                return kept
        if (changes.says_too(new.text) or "same-for" in replies) and changes.only_names(new):
            there = changes.meant(new, old, self._leaning().touched)
            if isinstance(there, str):
                return there
            before = self.past[-1].draft if self.past else None
            if there and before is not None and (same := changes.same_change(before, old, new, there)) is not None:
                return same
        if "same-for" in replies and any(p.noun or p.has_size for p in new.places):
            return changes.same_for(old, new)
        if "one-of-them" in replies and old.places:
            return changes.one_of_them(old, new)
        if not (new.places or new.unsure or new.stray or new.have or new.asked or new.asked_unit or new.way or new.not_ways or new.pack
                or new.price or new.budget or new.per_volume or new.ratio_spans or new.density or new.weighed or new.moisture or new.recipe or new.parts_share or new.ratio or new.water
                or new.charges or new.tax or new.question or new.refusal or new.is_compared or new.packs_count or new.soil or new.limit or new.hints & _CHANGING
                or new.enough or new.end or new.times or new.minus or changes.says_whole(new.text, old)):  # fmt: skip
            return None
        changes.part_restated(old, new)
        adding = "add-place" in replies or (
            without_opening(new.text.lower()).startswith(("and another", "plus", "and also", "also", "and a ", "and ")) and not changes.adds_nothing(new.text)
        )
        index = None if adding else self._line_meant(old, new)
        if isinstance(index, str):
            return index
        if index is not None:
            old, self.meant = self.finished[index], index
            if len(old.places) == 1:
                new = changes.uncounted(new)
        if (right := units_meant.set_right(old, new)) is not None:
            return right
        if changes.names_the_sides(old, new):
            return changes.only_the_sides(old, new)
        if (new.asked_unit or new.not_unit) and not new.asks and re.search(r"\b(?:mean|meant|not)\b", new.text.lower()) and (
            not new.places and not new.unsure
        ):  # fmt: skip
            return changes.other_unit(old, new)
        if new.not_unit:
            new.asked_unit = ""
        if new.asked_unit and (new.places or new.unsure) and not new.asks and "mean" in new.text.lower():
            new.asked_unit = ""
        layer = changes.layer_alone(new)
        last = old.places[-1] if old.places else None
        if layer is not None and last is not None and last.has_size and (last.share or last.recipe) and changes.says_as_well(new.text):
            return changes.and_on_top(old, new, layer)
        if new.minus and not any(p.has_size for p in new.places):
            return changes.taken_off(old, new, self._leaning().touched)
        more = changes.more_of_them(old, new) if adding else None
        if more is not None:
            return more
        draft = self._put(old, new, adding=adding)
        if len(old.places) < 2 or not any(is_named(place) for place in new.places):
            changes.place_stray(draft, self._leaning(), "count")
        return draft

    def _only(self, new: Draft) -> Draft | str | None:
        """ "just the pots", of the last turn that had them beside others."""
        for turn in [self.now, *reversed(self.past)]:
            if turn.draft is not None and len(turn.draft.places) > 1:
                kept = changes.meant(new, turn.draft, ())
                if isinstance(kept, str):
                    return kept
                if kept:
                    only = changes.keep_only(turn.draft, new, kept)
                    rest = new.copy()
                    rest.places = []
                    return self._put(only, rest, adding=False) if new.asked or new.pack or new.asked_unit else only
        return None

    def _line_meant(self, old: Draft, new: Draft) -> int | str | None:
        """The line of the order that a follow-up goes back to, where it names what only that one holds; None for the one in hand."""
        named = Draft(places=[place for place in changes.refers(new) if not place.has_size])
        lately = self._leaning().touched
        for to_the_word in (True, False):
            if not named.places or any(spoken_of(place, old.places, lately, to_the_word=to_the_word) for place in named.places):
                return None
            lines = self._lines_with(named, to_the_word=to_the_word)
            if len(lines) > 1:
                return which([place for at in lines for place in self.finished[at].places])
            if lines:
                return lines[0]
        return None

    def _not_spoken_of(self, old: Draft, new: Draft) -> str | None:
        """The places that a line names and says nothing of, where this conversation had none of them; None else."""
        if new.unsure or new.stray or new.have or new.asked or new.asked_unit or new.asks or new.way or new.replies or new.topics or new.figures or (
            not old.places
        ):  # fmt: skip
            return None
        for place in new.places:
            bare = place.noun and place.kind not in ("plant", "hole") and is_bare(place)
            if bare and not any(spoken_of(place, draft.places) for draft in [old, *self.finished]):
                return plural(place.noun.replace("-", " "))
        return None

    def _answered(self) -> list[Draft]:
        """The drafts that were answered so far, the last one last."""
        return [turn.draft for turn in (*self.past, self.now) if turn.draft is not None and turn.answer is not None and turn.answer.status == "answered"]

    def _leaning(self) -> changes.Leaning:
        """What a line leans on besides the draft before it."""
        before = self.past[-1].draft if self.past else None
        return changes.Leaning(self.now.awaiting, self.now.slot, self.now.unit, touched(before, self.now.draft),
                               tuple(turn.draft for turn in self.past if turn.draft is not None))  # fmt: skip

    def _put(self, old: Draft, new: Draft, *, adding: bool) -> Draft:
        lately = self._leaning()
        if old is not self.now.draft:
            lately.touched = ()
        draft, slot = changes.put(old, new, lately, adding=adding)
        self.slot = slot if slot[0] else self.slot
        return draft

    # ---- answering -----------------------------------------------------------------------------------

    def _answer(self, draft: Draft, line: str, *, fresh: bool = False, awaiting: str = "", another: bool = False) -> Answer:
        """Works a draft out; `fresh` where it leans on nothing, `another` where it is a line of the order of its own all the same."""
        read = settle(draft, awaiting)
        if isinstance(read, Question):
            answer = refuse(read, line)
        else:
            found = engine.answer(read, line, self.shop)
            answer = refuse(found, line) if isinstance(found, Question) else found
        about = read if isinstance(read, Question) else Question(status="asks", code="", text="")
        unclear = answer.status == "asks" and (draft.question is not None or (answer.needs == "stray" and not fresh))
        if unclear and self.now.answer is not None and self.now.draft is not None and not self.now.awaiting:
            self.now.open = line.strip()  # the change could not be taken: what was said before still holds
            self.now.waiting = Waiting(line, about.about, about.instead, answer, kept=False)
            return answer
        if answer.status == "asks" and answer.needs == "have" and self.now.answer is not None and self.now.answer.status == "answered":
            return answer  # asked backwards, with nothing to go by: what was worked out still stands
        keep = answer.status == "answered" or (answer.status == "asks" and _worth_keeping(draft))
        if keep:
            self._leave()
            kept = with_roles(draft, awaiting)
            if answer.status == "asks":
                kept.question = None
                kept.stray = []
            index = self.meant if self.meant is not None else None if fresh or another or self.now.draft is None else self.now.line
            if answer.status == "answered" and isinstance(read, Query) and read.asked != "explanation":
                if index is not None and index < len(self.finished):
                    # a question about a line of the order leaves the line as it is
                    if orders.asks_for_castings(read) or not orders.is_need(self.finished[index]):
                        self._put_in_line(index, kept)
                else:
                    index = len(self.finished)
                    self.finished.append(kept)
            slot = self.slot if self.slot[0] else (self.now.slot, self.now.unit)
            unsettled = answer.status == "asks" and answer.needs in ("stray", "role", "each", "amount") and (self.now.answer is not None or bool(about.about))
            not_taken = self.now.open
            waits = answer.status == "asks" and answer.needs in UNCLEAR
            waiting = Waiting(line, about.about, about.instead, answer, kept=True) if waits else None
            self.now = _Turn(kept, answer, answer.needs if answer.status == "asks" else "", slot[0], slot[1], (about.about if self.now.answer is None else line.strip()) if unsettled else "",
                             waiting, index, tuple(self.finished))  # fmt: skip
            if not_taken and answer.status == "answered" and awaiting in ("", "stray"):
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


#: Which way suits, for a user who does not know.
_WHICH_GROUND = "Mixed in suits soil that is being filled in or dug; on top suits a place where things are growing. Which shall it be?"
_WHICH_PLANTS = "Beside the stem suits plants that are growing; in the hole suits plants that are being set out. Which shall it be?"

#: Said by one who is content.
_CONTENT = re.compile(r"^\W*(?:bye|goodbye|ok|okay|oki|great|good|fine|perfect|right|sure|nice|lovely|cool|super|brilliant|excellent|wonderful|thank|thx|cheers|ta|got it"
                      r"|all ?right|alright|thanks|see you|that will do|that'll do|done|sorted|that's all|that is all|very good|very well|wow|yes|yep|yeah)\b", re.I)  # fmt: skip
_FEW_WORDS = 4
#: "the small one": one of several places by how big it is.
#: Units of volume that had more than one meaning
_LIQUID = ("gallon", "quart", "pint")
#: Hints that change a request by themselves.
_CHANGING = frozenset({"say-metric", "say-imperial", "established", "no-dig", "new-fill", "existing-soil", "mixed-in", "seedlings"})


#: Question words that ask in words and change nothing.
_ASKING = frozenset({"what-is", "difference", "can-i", "how-to", "which", "why"})


def _only_asks(new: Draft) -> bool:
    """Whether a line only asks something in words: it never changes what is being worked out."""
    return bool(new.asks) and set(new.asks) <= _ASKING and not (
        new.figures or new.asked_unit or new.unsure or new.stray or new.replies or new.have or new.price
        or any(p.has_size or p.layer or p.share or p.rate or p.count for p in new.places)
    )  # fmt: skip


def _priced_apart(new: Draft) -> bool:
    """Whether a line only asks what packs cost, side by side or those of one size: what is being worked out stays as it is."""
    if not (new.pack_noun or new.pack) or new.places or new.have or new.replies or new.budget:
        return False
    read = settle(new.copy())
    if not isinstance(read, Query):
        return False
    priced = read.asked == "cost" and read.pack is not None and read.pack.size is not None and read.pack.price is None
    return (read.asked == "cheaper" and not read.offers) or (priced and bool(read.pack and read.pack.count))


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
    text = without_opening(text.lower())
    return any(text.startswith(word) or (word in ("instead", "actually") and word in text) for word in _LEANS)


def _is_plain_word(name: str) -> bool:
    """Whether a name is no more than a word of the trade, which would then be taken for that place wherever it is said."""
    word = vocabulary().single.get(name)
    return isinstance(word, Word) and word.kind in ("ground", "container", "plant", "mix", "seed-mix", "hole", "castings", "pack", "unit")


def _worth_keeping(draft: Draft) -> bool:
    return bool(draft.places or draft.have or draft.way or draft.water or draft.recipe or (draft.pack and draft.price))


def _clean(text: str) -> str:
    name = _NAME.sub(" ", text).strip()
    name = re.sub(r"^(?:the|my|a|it|that)\s+", "", name)
    return re.sub(r"\s+(?:please|thanks|then|now)$", "", name).strip()[:40]
