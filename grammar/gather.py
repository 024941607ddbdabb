"""From phrases to a draft: which amount belongs to which place, and what is asked.

One pass over the phrases in order. A phrase fills a slot of the place that is being spoken of, opens a new
place, or waits (`unsure`, `stray`) for `settle` to find it a job. Nothing is assumed here. The parts of the
pass stand in `gathering`, each on the one before.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from .draft import Draft, PlaceDraft
from .gathering.line_end import notice
from .gathering.links import Links
from .gathering.state import PLACE_KINDS
from .naming import ORDINAL, find_letters
from .parse import parse
from .phrases import Amount, Measure, Number, Part, Phrase, Price, Ratio, Said, Share
from .readers.asides import set_asides
from .readers.boards import BOARDS, find_boards
from .readers.counter import COUNTER, find_counter
from .readers.coverage import COVERED, find_coverage
from .readers.discounts import DISCOUNTED, find_discount
from .readers.holders import VESSELS, find_holders
from .readers.left_out import find_left_out
from .readers.listed import COUNTED, find_list
from .readers.needs import find_need
from .readers.odd_one import ODD_ONE, find_odd_one
from .readers.priced_amounts import PRICED, find_priced_amounts
from .readers.recipes import find_recipe
from .readers.rephrasing.readers import find_rephrased
from .readers.shared_group import SHARED_GROUP, find_shared_group
from .readers.spaced import SPACED, find_spacing
from .readers.taken_back import TAKES_BACK, take_back
from .readers.times import DATED, find_doses
from .readers.to_a_pot import SHARED, find_shared_pots
from .readers.told_apart import TOLD_APART, find_told_apart
from .readers.trade import find_trade, waits_for_trade
from .readers.used_up import find_used_up
from .readers.walls import WALLS, find_walls
from .readers.weighed_up import WEIGHED_UP, find_weighed_up
from .readers.weighing import find_tare, find_weighed
from .said import Waits, is_said, kinds_of, single, stands


def gather(text: str, *, leaning: bool = False) -> Draft:
    """The draft of one line; `leaning` where it follows other lines of a conversation. Never raises."""
    return Gatherer(text, parse(text), leaning).run()


def gather_all(texts: Sequence[str]) -> list[Draft]:
    """The draft of each of some lines that do not follow one another; all are parsed before any is gathered."""
    return [Gatherer(text, parsed, False).run() for text, parsed in zip(texts, [parse(text) for text in texts], strict=True)]


#: A reader that needs no more than the phrases: it gives them back with its own taken out or put in other words.
Reader = Callable[[list[Phrase], Draft], list[Phrase]]

_MEASURED: Waits = (frozenset({Measure}),)
#: What places told side by side are and get.
_BESIDE_EACH_OTHER: tuple[tuple[Waits, Reader], ...] = (
    (BOARDS, find_boards), (TOLD_APART, find_told_apart), (ODD_ONE, find_odd_one), (SHARED_GROUP, find_shared_group), (COVERED, find_coverage),
)  # fmt: skip
#: Prices, and amounts weighed against what they go into.
_WHAT_IS_SET_AGAINST: tuple[tuple[Waits, Reader], ...] = (
    (DISCOUNTED, find_discount), (PRICED, find_priced_amounts), (WEIGHED_UP, find_weighed_up),
)  # fmt: skip
#: How many of something there are, how much they hold, and what is left or needed of it.
_HOW_MUCH_THERE_IS: tuple[tuple[Waits, Reader], ...] = (
    (SHARED, find_shared_pots), (COUNTED, find_list), (SPACED, find_spacing), (WALLS, find_walls), (VESSELS, find_holders),
    (_MEASURED, find_used_up), (_MEASURED, find_need), (_MEASURED, find_tare), (_MEASURED, find_weighed), ((frozenset({Number}),), find_doses),
)  # fmt: skip


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
        self._read(_BESIDE_EACH_OTHER)
        self._take(find_rephrased(self.phrases, draft, self.kinds))
        self._take(find_left_out(self.phrases, draft, self.kinds, self.leaning))
        self._read(_WHAT_IS_SET_AGAINST)
        if stands(COUNTER, self.kinds):
            self._take(find_counter(self.phrases, draft, self.leaning))
        self._read(_HOW_MUCH_THERE_IS)
        if waits_for_trade(draft, self.kinds):
            self._take(find_trade(self.phrases, draft, self.kinds))
        self._take(set_asides(self.phrases, draft, self.kinds, self.leaning))
        self.dated = DATED in draft.hints
        if stands(TAKES_BACK, self.kinds):
            self._take(take_back(self.phrases, draft))
        self.phrases = find_recipe(self.phrases, draft, self.kinds)
        self._figures()
        while self.at < len(self.phrases):
            phrase = self.phrases[self.at]
            before = self.at
            if type(phrase) is Said:
                self._said(phrase)
            elif type(phrase) is Amount:
                self._amount(phrase)
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
        notice(draft, self.phrases, leaning=self.leaning)
        return draft

    def _read(self, readers: tuple[tuple[Waits, Reader], ...]) -> None:
        """Lets each reader go over the phrases that the ones before it left, where what it waits for stands in them."""
        for wanted, read in readers:
            if stands(wanted, self.kinds):
                self._take(read(self.phrases, self.draft))

    def _take(self, phrases: list[Phrase]) -> None:
        """Goes on with the phrases that a reader left; many readers leave all of them, in a list of their own."""
        if phrases is not self.phrases and phrases != self.phrases:
            self.phrases, self.kinds = phrases, kinds_of(phrases)

    def _ordinal(self, phrase: Said) -> None:
        """ "the second bed", or "the second" alone, which in a conversation stands for a place."""
        self.draft.ordinal = int(phrase.id)
        following = self.peek()
        if type(following) is Said and following.kind in PLACE_KINDS:
            self.pending_names = frozenset({ORDINAL + phrase.id})
        elif self.leaning:
            self._named_place().described |= {ORDINAL + phrase.id}

    def _percent_word(self, phrase: Said) -> None:
        """ "… = ? %" asks for the share; "the percent is 10" and "percent: 10" tell it."""
        at = self.at + 1
        while is_said(self._at(at), "link", "is") or is_said(self._at(at), "stop", "colon") or is_said(self._at(at), "is"):
            at += 1
        number = single(self._at(at))
        after = self._at(at + 1)
        if type(number) is Number and not number.role and (after is None or is_said(after, "stop")):
            self.at = at
            self._share(Share(number.low, number.high, number.start, number.end))
            self.at = at + 1
        else:
            self._trailing_ask("share")

    def _named_place(self) -> PlaceDraft:
        """A place that is spoken of by its name alone."""
        if self.place is not None and self.place.is_empty and not (self.place.name or self.place.described or self.place.noun):
            return self.place
        nameless = self.place is not None and not (self.place.name or self.place.described or self.place.noun or self.place.has_size)
        if nameless and self.place is not None and is_said(self.peek(-1), "link", "for"):
            return self.place  # "15 % for the second one"
        return self._new_place()

    def _said(self, phrase: Said) -> None:
        read = _OF_KIND.get(phrase.kind)
        if read is not None:
            read(self, phrase)
        else:
            self._seldom_said(phrase)

    def _stop(self, phrase: Said) -> None:
        if phrase.id != "comma":
            self.excluding = False
            if self.count is not None:
                self._drop_count()

    def _castings(self, _phrase: Said) -> None:
        self.draft.hints.add("castings-named")

    def _topic(self, phrase: Said) -> None:
        if phrase.text.lower() == "how many quarts in" and type(one := single(self.peek())) is Measure and not one.article:
            self.draft.asks.append("how-many")  # "how many quarts in 3 cubic feet": so much is told in another measure
            self.draft.asked, self.draft.asked_unit = "by-unit", "quart"
            return
        self.draft.topics.append(phrase.id)
        if "bag" in phrase.text.lower().split():
            self.draft.hints.add("topic:bag")

    def _seldom_said(self, phrase: Said) -> None:
        """A word of one of the kinds that few lines have."""
        kind = phrase.kind
        if kind == "reply":
            self.draft.replies.append((phrase.id, phrase.text))
            if phrase.id == "add-place":
                self.tie = "and"
        elif kind == "weak-topic":
            self.draft.weak_topics.append(phrase.id)
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
            self._percent_word(phrase)
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


#: What reads a word of each kind; the others are read by `_seldom_said`.
_OF_KIND: dict[str, Callable[[Gatherer, Said], None]] = {
    **dict.fromkeys(PLACE_KINDS, Gatherer._noun),
    "link": Gatherer._link, "hint": Gatherer._hint, "way": Gatherer._way, "form": Gatherer._form, "ask": Gatherer._ask,
    "pack": Gatherer._pack_noun, "topic": Gatherer._topic, "component": Gatherer._component, "castings": Gatherer._castings,
    "deny": Gatherer._deny, "unit": Gatherer._loose_unit, "unclear-unit": Gatherer._loose_unit, "role": Gatherer._loose_role,
    "about": Gatherer._about, "limit": Gatherer._about, "unknown": Gatherer._unknown, "stop": Gatherer._stop,
}  # fmt: skip
