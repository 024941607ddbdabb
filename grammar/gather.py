"""From phrases to a draft: which amount belongs to which place, and what is asked.

One pass over the phrases in order. A phrase fills a slot of the place that is being spoken of, opens a new
place, or waits (`unsure`, `stray`) for `settle` to find it a job. Nothing is assumed here. The parts of the
pass stand in `gathering`, each on the one before.
"""

from __future__ import annotations

import re

from .asides import TAKES_BACK, is_said, kinds_of, set_asides, stands, take_back
from .counter import COUNTER, find_counter
from .draft import Draft, PlaceDraft
from .gathering.links import Links
from .gathering.state import PLACE_KINDS
from .holders import VESSELS, find_holders
from .left_out import find_left_out
from .listed import COUNTED, find_list
from .naming import ORDINAL, find_letters
from .needs import find_need
from .parse import parse
from .phrases import Amount, Measure, Part, Phrase, Price, Ratio, Said, Share
from .recipes import find_recipe
from .rephrased import find_rephrased
from .spaced import SPACED, find_spacing
from .times import DATED, times_alone
from .trade import find_trade
from .walls import WALLS, find_walls
from .weighing import find_tare

_WITHOUT_AND_WITH = re.compile(r"\bwithout (?:the|its|my)\b.*\bwith (?:it|them)\b", re.IGNORECASE | re.DOTALL)
_EACH_ASKED = re.compile(r"\bhow (?:much|many \w+) (?:\w+ ){0,3}(?:each|apiece|per (?:plant|pot|tree|bush|head))\b|\bhow much does each\b", re.IGNORECASE)
#: Forms by which two sides give another area than those of a rectangle.
_TELLING_FORMS = ("oval", "triangle", "round")
_LETTER_D = re.compile(r"\b[dD]\b[\s=:]*\d|\d\s*[a-z]*\s*\b[dD]\b")


def gather(text: str, *, leaning: bool = False) -> Draft:
    """The draft of one line; `leaning` where it follows other lines of a conversation. Never raises."""
    return Gatherer(text, parse(text), leaning).run()


class Gatherer(Links):
    """One pass over the phrases of a line."""

    def run(self) -> Draft:
        draft = self.draft
        self._take(self.all)
        if "minus" in self.kinds:
            self._impossible()
        if self.leaning:
            self._take(find_letters(self.phrases, draft.text))
            self.all = self.phrases
        self._take(find_rephrased(self.phrases, draft, self.kinds))
        self._take(find_left_out(self.phrases, draft, self.kinds, self.leaning))
        if stands(COUNTER, self.kinds):
            self._take(find_counter(self.phrases, draft, self.leaning))
        if stands(COUNTED, self.kinds):
            self._take(find_list(self.phrases, draft))
        if stands(SPACED, self.kinds):
            self._take(find_spacing(self.phrases, draft))
        if stands(WALLS, self.kinds):
            self._take(find_walls(self.phrases, draft))
        if stands(VESSELS, self.kinds):
            self._take(find_holders(self.phrases, draft))
        if Measure in self.kinds:
            self._take(find_need(self.phrases, draft))
            self._take(find_tare(self.phrases, draft))
        self._take(find_trade(self.phrases, draft))
        self._take(set_asides(self.phrases, draft, self.kinds, self.leaning))
        self.dated = DATED in draft.hints
        if stands(TAKES_BACK, self.kinds):
            self._take(take_back(self.phrases, draft))
        self.phrases = find_recipe(self.phrases, draft, self.kinds)
        self._figures()
        while self.at < len(self.phrases):
            phrase = self.phrases[self.at]
            before = self.at
            if type(phrase) is Amount:
                self._amount(phrase)
            elif type(phrase) is Said:
                self._said(phrase)
            elif type(phrase) is Share:
                self._share(phrase)
            elif type(phrase) is Price:
                self._price(phrase)
            elif type(phrase) in (Part, Ratio):
                self._leave(phrase)
            if self.at == before:
                self.at += 1
        if self.count is not None:
            self._drop_count()
        if self.leaning:
            times_alone(draft)
        self._with_and_without()
        if _EACH_ASKED.search(draft.text):
            draft.hints.add("each-asked")
        self._depth_or_diameter()
        self._forms()
        self._half_round()
        self._side_or_layer()
        if "each-person" in draft.hints and draft.question is None and any(p.count for p in draft.places):
            draft.question = ("count", "is that for one of you, or for all? Say how many there are in all")
        return draft

    def _take(self, phrases: list[Phrase]) -> None:
        """Goes on with the phrases that a reader left."""
        if phrases is not self.phrases:
            self.phrases, self.kinds = phrases, kinds_of(phrases)

    def _side_or_layer(self) -> None:
        """ "12' x 4' 2" top dress": the inches may be of the side, or the layer that is not said otherwise."""
        if self.draft.way != "top-dress" or self.draft.question is not None or any(p.layer for p in self.draft.places):
            return
        for phrase in self.phrases:
            last = phrase.dims[-1] if type(phrase) is Amount and len(phrase.dims) == 2 else None
            if type(last) is Measure and last.note == "compound-apart" and not last.role:
                said = self.text_of(last)
                self.draft.question = ("role", f"“{said}”: one side, or a side and a layer of castings? Say the layer as “an inch thick”")

    def _with_and_without(self) -> None:
        """ "without the border the bed is 3 by 9 ft, with it 4 by 10": two sizes of one place."""
        if _WITHOUT_AND_WITH.search(self.draft.text) and sum(p.has_size for p in self.draft.places) > 1 and self.draft.question is None:
            self.draft.question = ("two-values", "two sizes of one place: which of them do castings go on?")

    def _forms(self) -> None:
        """A form that was said and that no place has: the one place of sides has it, or it is asked which."""
        for phrase in self.phrases:
            if not is_said(phrase, "form", *_TELLING_FORMS) or not isinstance(phrase, Said):
                continue
            if any(place.form == phrase.id for place in self.draft.places):
                continue
            sided = [place for place in self.draft.places if not place.form and (place.size or place.length or place.width)]
            if len(sided) == 1:
                sided[0].form = phrase.id
            elif sided and self.draft.question is None:
                self.draft.question = ("form", f"which of them is “{phrase.text}”? Say it beside its size")

    def _half_round(self) -> None:
        """ "a semicircle bed 10 ft across": half of the round one."""
        if "half-round" in self.draft.hints:
            places = [p for p in self.draft.places if "half-round" in p.hints] or self.draft.places[:1]
            for place in places:
                place.portion, place.form = place.portion or 0.5, "round"
                place.hints.discard("half-round")
                if place.size or place.area or place.length:
                    self.draft.question = ("size", "of the half circle say how far it is across its straight side")

    def _depth_or_diameter(self) -> None:
        """ "pot D 12 in H 10 in": beside a height a bare D is the diameter."""
        for place in self.draft.places:
            if place.depth is not None and place.height is not None and not place.has_size and _LETTER_D.search(self.draft.text):
                place.diameter, place.depth = place.depth, None
                place.form = place.form or ("" if place.kind == "container" else "round")
                self.draft.flags.append(("diameter", "“d” beside a height is the diameter"))

    def _ordinal(self, phrase: Said) -> None:
        """ "the second bed", or "the second" alone, which in a conversation stands for a place."""
        self.draft.ordinal = int(phrase.id)
        following = self.peek()
        if type(following) is Said and following.kind in PLACE_KINDS:
            self.pending_names = frozenset({ORDINAL + phrase.id})
        elif self.leaning:
            self._named_place().described |= {ORDINAL + phrase.id}

    def _named_place(self) -> PlaceDraft:
        """A place that is spoken of by its name alone."""
        if self.place is not None and self.place.is_empty and not (self.place.name or self.place.described or self.place.noun):
            return self.place
        nameless = self.place is not None and not (self.place.name or self.place.described or self.place.noun or self.place.has_size)
        if nameless and self.place is not None and is_said(self.peek(-1), "link", "for"):
            return self.place  # "15 % for the second one"
        return self._new_place()

    def _said(self, phrase: Said) -> None:
        kind = phrase.kind
        if kind in PLACE_KINDS:
            self._noun(phrase)
        elif kind == "link":
            self._link(phrase)
        elif kind == "hint":
            self._hint(phrase)
        elif kind == "way":
            self._way(phrase)
        elif kind == "form":
            self._form(phrase)
        elif kind == "ask":
            self._ask(phrase)
        elif kind == "pack":
            self._pack_noun(phrase)
        elif kind == "topic":
            self.draft.topics.append(phrase.id)
            if "bag" in phrase.text.lower().split():
                self.draft.hints.add("topic:bag")
        elif kind == "component":
            self._component(phrase)
        elif kind == "castings":
            self.draft.hints.add("castings-named")
        elif kind == "reply":
            self.draft.replies.append((phrase.id, phrase.text))
            if phrase.id == "add-place":
                self.tie = "and"
        elif kind == "deny":
            self._deny(phrase)
        elif kind in ("unit", "unclear-unit"):
            self._loose_unit(phrase)
        elif kind == "role":
            self._loose_role(phrase)
        elif kind in ("about", "limit"):
            self._about(phrase)
        elif kind == "unknown":
            self._unknown(phrase)
        elif kind == "weak-topic":
            self.draft.weak_topics.append(phrase.id)
        elif kind == "stop":
            if phrase.id != "comma":
                self.excluding = False
            if self.count is not None and phrase.id != "comma":
                self._drop_count()
        elif kind == "currency":
            if is_said(self.peek(), "stop") or self.peek() is None:
                self._trailing_ask("cost")
            else:
                self.draft.unread.append(phrase.text)
        elif kind == "loose-measure" and not self.draft.recipe and not is_said(self.peek(-1), "link", "into"):
            self._loose_measure(Measure(1.0, 1.0, phrase.id, "loose-measure", phrase.start, phrase.end))
        elif kind == "label":
            if any(is_said(p, "component") for p in self.phrases) and "-" in phrase.text:
                self.draft.question = ("recipe", f"{phrase.text}: which part is which? Say it as “1 part castings to 9 parts soil”")
            self.draft.noted.append((phrase.text, "a label"))
        elif kind == "percent":
            self._trailing_ask("share")
        elif kind == "ordinal":
            self._ordinal(phrase)
        elif kind == "letter":
            self._named_place().name = phrase.id
        elif kind == "called":
            self._named_place().described |= {phrase.id}
        elif kind == "by-so-much":
            self._by_so_much(phrase)
        elif kind == "other-goods":
            self.draft.hints.add("elsewhere")
        elif kind == "other-material" or (kind == "label-word" and phrase.id == "npk"):
            self.draft.hints.add("goods:" + phrase.text.lower())
