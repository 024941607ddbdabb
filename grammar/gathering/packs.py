"""Packs, prices and budgets, and what a pack weighs."""

from __future__ import annotations

import re

from ..later import later
from ..phrases import Measure, Number, Price, Said
from ..quantities import Span
from ..said import dimension, is_said, single
from .sizes import Sizes
from .state import LIQUID, dimension_of

#: Kitchen measures: castings are given out by them, and never bagged.
DOSES = frozenset({"us_cup", "metric_cup", "imperial_cup", "tablespoon", "teaspoon", "fluid_ounce"})


#: What comes after is told of something else than the pack.
_APART = later(r"\b(?:if|when|where|given|assuming|since|because|with)\b", re.IGNORECASE)


class Packs(Sizes):
    """Packs, prices and budgets, and what a pack weighs."""

    def _weight_and_volume(self, span: Span, other: Measure, index: int) -> bool:
        kinds = {("weight" if span.unit == "ton" else "volume" if span.unit in LIQUID else span.dimension), dimension(other)}
        if kinds != {"weight", "volume"}:
            return False
        one = self._span(other)
        self.draft.weighed = (span, one) if dimension(other) == "volume" else (one, span)
        self.phrases.pop(index)
        return True

    def _pack_also(self, span: Span, index: int) -> None:
        """ "18 kg bag holds 25 litres", "40 lb bag is 1 cubic foot": a pack by weight and by volume."""
        tie, other = self._at(index + 1), single(self._at(index + 2))
        if type(other) is not Measure or other.per is not None or not (
            is_said(tie, "link", "is", "volume-word", "or", "and", "at") or is_said(tie, "range")
        ):  # fmt: skip
            return
        if is_said(self._at(index + 3), "ask", "how-heavy") or _APART.search(self.draft.text[tie.start : other.start]):  # type: ignore[union-attr]
            return  # "how many 20 lb bags is that if a cubic foot weighs 40 lb"
        if self.draft.asked == "packs" and is_said(tie, "link", "is") and self.draft.asks and self.count is None:
            return  # "how many 20 lb bags is 3 cubic feet"
        if is_said(tie, "link", "at") and (other.unit in DOSES or is_said(self._at(index + 3), "link", "each")):
            return  # "from a 40 lb bag at 1 cup each": what each plant gets
        self._weight_and_volume(span, other, index + 2)

    def _size_of_pack(self, span: Span) -> bool:
        """ "bags are 30 litres", "bag says 1 cu ft", "bags 25 L", "£12 a bag of 20 L"."""
        at = self.at - 1
        while at >= 0 and (is_said(self.phrases[at], "link", "is", "of", "at", "volume-word") or is_said(self.phrases[at], "about")
                           or is_said(self.phrases[at], "other-person")):  # fmt: skip
            at -= 1
        if at > 1 and is_said(self.phrases[at], "link", "each") and type(self.phrases[at - 1]) is Price and is_said(self.phrases[at - 2], "pack"):
            at -= 2  # "bags $22 each 1 cu ft"
        priced = at > 2 and is_said(self.phrases[at], "stop", "comma") and type(self.phrases[at - 2]) is Price and is_said(self.phrases[at - 3], "pack")
        if priced and span.unit not in DOSES and is_said(self.phrases[at - 1], "link", "each") and (self.peek() is None or is_said(self.peek(), "stop")):
            at -= 3  # "bags $32 each, 1.5 cu ft"
        before = self.phrases[at] if at >= 0 else None
        label = self.phrases[at + 1] if at + 1 < self.at else None
        on_label = is_said(label, "other-person") and isinstance(label, Said) and "bag" in label.text.lower() and (
            before is None or is_said(before, "stop", "sentence")
        ) and self._bags_are_spoken_of(span)  # fmt: skip
        if on_label and span.unit not in DOSES:
            before = Said("pack", "bag", "bag", label.start, label.end)  # type: ignore[union-attr]
        if not is_said(before, "pack") and not (type(before) is Price and type(before.per) is Said and before.per.kind == "pack"):
            return False
        of_them = is_said(self.peek(-1), "link", "of") and is_said(self.peek(-2), "pack")  # "2 bags of 20 L castings"
        if self.draft.pack is not None or is_said(self.ahead()[0], "pack") or (is_said(self.peek(), "castings") and not of_them):
            return False
        if is_said(self.peek(-1), "link", "at") and span.unit in DOSES:
            return False  # "with three bags at 1 cup each": what each plant gets
        tie, other = self.peek(), single(self.peek(2))
        if type(other) is not Measure and is_said(tie, "stop", "comma"):
            tie, other = (self.peek(2), single(self.peek(3))) if type(single(self.peek(2))) is not Measure else (tie, single(self.peek(2)))
        weighs = any(is_said(p, "ask", "how-heavy") for p in self.phrases[self.at : self.at + 5])
        here, text = self.phrases[self.at], self.draft.text
        says = on_label or (before is not None and re.search(r"\bsay(?:s|ing)?\b", text[before.end : here.start]) is not None)
        listed = says and type(other) is Measure and other.per is None and text[here.end : other.start].strip() == "," and (
            text[other.end :].lstrip()[:1] in ("", ".", ";", ",", ")")  # "the bag says 0.5 cu ft, 20 lb."
        )  # fmt: skip
        if type(other) is Measure and (listed or is_said(tie, "link", "or", "is", "and")) and not weighs:
            self._weight_and_volume(span, other, self.phrases.index(next(p for p in self.phrases[self.at :] if single(p) is other)))
        self.draft.pack = span
        self.draft.pack_noun = self.draft.pack_noun or (before.id if isinstance(before, Said) else "bag")
        return True

    def _bags_are_spoken_of(self, span: Span) -> bool:
        """Whether "the bag says 25 litres" is its size: bags are counted or asked for, how far it goes is, or its weight is told beside it."""
        if is_said(self.peek(), "link", "for", "on", "each") or is_said(self.peek(), "per"):
            return False  # "the bag says 5 kg for 10 m2": how to use it
        beside = single(self.peek(2)) if is_said(self.peek(), "stop", "comma") else None
        pair = type(beside) is Measure and beside.per is None and {span.dimension, dimension(beside)} == {"weight", "volume"}
        return pair or any(is_said(p, "pack") or is_said(p, "ask", "how-far", "cover") for p in self.phrases)

    def _size_of_each_pack(self, span: Span) -> bool:
        """ "8 bags, 1 cu ft each", "3 bags, each 10 kg": so much in each of the bags that were counted."""
        if not self.draft.packs_count or self.draft.pack is not None or span.unit in DOSES:
            return False
        before = self.at - 1
        first = is_said(self._at(before), "link", "each")
        weighs = -1
        while is_said(self._at(before), "link", "each", "is", "of", "at", "with") or is_said(self._at(before), "stop") or is_said(self._at(before), "about") or (
            is_said(self._at(before), "ask", "how-heavy") and is_said(self._at(before - 1), "link", "each")
        ):  # fmt: skip
            weighs, first = (before, True) if is_said(self._at(before), "ask") else (weighs, first)
            before -= 1
        beside = is_said(self._at(before), "pack")
        last = is_said(self.peek(), "link", "each") and (beside or (is_said(self.peek(-1), "stop") and not self.draft.places))
        if not last and not (first and beside):
            return False
        self.draft.pack = span
        self.at += 2 if last else 1
        if weighs >= 0 and self.draft.asked == "weight":  # "two sacks, each weighs 25 kg": told, and not asked
            self.draft.asks, self.draft.asked = [one for one in self.draft.asks if one != "how-heavy"], ""
        return True

    def _pack_size(self, span: Span, noun: Said) -> None:
        draft = self.draft
        if draft.pack is not None and draft.pack != span and not self.correcting:
            draft.hints.add("two-packs")
            draft.more_packs.append(span)
            self.count = None
            return
        if self._packs_are_asked():
            draft.asked, draft.asked_noun = "packs", noun.id
        index = self.phrases.index(noun)
        stuff = self._at(index + 2) if is_said(self._at(index + 1), "link", "of") else None
        if isinstance(stuff, Said) and stuff.kind in ("component", "mix") and draft.asked != "packs":
            times = self.count.low if self.count is not None else 1.0
            self.count = None
            component = stuff.id if stuff.kind == "component" else "potting-mix-base"
            self._soil(Span(span.low * times, span.high * times, span.unit), component)  # "an 80 L bag of compost"
            self.at = index + 3
            return
        draft.pack = span
        draft.pack_noun = noun.id
        self._pack_also(span, index)
        if is_said(self.peek(-1), "link", "into") and (self._at(index + 1) is None or is_said(self._at(index + 1), "stop")):
            self._trailing_ask("packs")  # "in 25 kg bags?"
        elif self.count is None and not draft.asks and "?" in draft.text and is_said(self.peek(-1), "stop") and (
            self._at(index + 1) is None or (is_said(self._at(index + 1), "stop") and self._at(index + 2) is None)
        ):  # fmt: skip
            self._trailing_ask("packs")  # "…, 20 L bags?"
        if self.count is not None:
            draft.packs_count = self.count.low
            self.count = None
        else:
            before = self.peek(-1)
            if is_said(before, "link", "on-hand"):
                draft.packs_count = draft.packs_count or 1.0
        # the noun has been read with its size
        while self.at + 1 < len(self.phrases) and self.phrases[self.at + 1] is not noun:
            self.at += 1
        self.at += 2

    def _packs_are_asked(self) -> bool:
        """ "how many 20 litre bags": packs are asked, where no unit was ("how many square feet will a 20 litre bag cover")."""
        draft = self.draft
        asked = bool(draft.asks) and draft.asks[-1] == "how-many" and not draft.asked_noun and draft.asked != "by-unit"
        return asked and self._straight_after_ask()

    def _pack_count(self, one: Number) -> None:
        draft = self.draft
        if draft.packs_count is not None and draft.packs_count != one.low:
            self._leave(one)
            return
        if one.low <= 0:
            draft.refusal = f"“{self.text_of(one)}” bags is none at all; how many are there?"
            return
        if not one.article or is_said(self.peek(-1), "link", "on-hand"):
            draft.packs_count = one.low
            draft.hints.add("packs-counted")

    def _pack_noun(self, phrase: Said) -> None:
        draft = self.draft
        if phrase.id == "pallet" and is_said(self.peek(), "link", "of") and type(single(self.peek(2))) is Number and is_said(self.peek(3), "pack"):
            return  # "a pallet of 50 bags": the bags are what is counted
        if self._packs_are_asked():
            draft.asked, draft.asked_noun = "packs", phrase.id
        elif (self.peek() is None or is_said(self.peek(), "stop")) and "?" in draft.text and (
            is_said(self.peek(-1), "stop") or is_said(self.peek(-1), "class-sign") or is_said(self.peek(-1), "link", "of")
        ):  # fmt: skip
            self._trailing_ask("packs")
        draft.pack_noun = draft.pack_noun or phrase.id

    def _soil(self, span: Span, component: str) -> None:
        draft = self.draft
        if "already" in self._words():
            draft.hints.add("existing-soil")
        if draft.soil is not None and dimension_of(draft.soil) == dimension_of(span) and draft.soil.unit == span.unit:
            draft.soil = Span(draft.soil.low + span.low, draft.soil.high + span.high, span.unit)
            return
        if draft.soil is None:
            draft.soil = span
            draft.component = component
            if draft.asks and draft.asked == "soil":
                draft.asked = "castings"
        else:
            draft.stray.append((f"{span.low:g} {span.unit}", 0, 0))

    def _sold_at(self, phrase: Price, money: tuple[float, str]) -> bool:
        """ "bags are $18 for 1 cubic foot": what that price buys is one pack."""
        one, after = single(self.peek(2)), self.peek(3)
        if not is_said(self.peek(1), "link", "for", "buys") or type(one) is not Measure or one.per is not None or self.draft.pack is not None:
            return False
        place = type(after) is Said and after.kind in ("ground", "container", "mix", "plant", "hole")
        spent = is_said(self.peek(-1), "link", "budget", "on-hand", "with") or is_said(self.peek(-1), "limit")
        if place or spent or dimension(one) not in ("volume", "weight") or one.low != one.high:
            return False
        if is_said(self.peek(1), "link", "buys"):
            self.draft.price, self.draft.price_per = money, self._span(one)  # "60 dollars buys 2 cubic feet"
        else:
            self.draft.pack, self.draft.pack_noun, self.draft.price = self._span(one), self.draft.pack_noun or "bag", money
        self.at += 3
        return True

    def _price(self, phrase: Price) -> None:
        draft = self.draft
        money = (phrase.low, phrase.currency)
        if phrase.low <= 0:
            draft.refusal = f"“{self.text_of(phrase)}” is no price"
            return
        per = phrase.per
        if type(per) is Measure:
            following = self.peek()
            span = Span(per.low, per.high, per.unit)
            if is_said(following, "pack"):
                draft.pack, draft.pack_noun, draft.price = span, following.id, money  # type: ignore[union-attr]
                self.at += 2
                return
            if span.low == span.high and span.low != 1 and draft.pack is None:
                draft.pack, draft.pack_noun, draft.price = span, draft.pack_noun or "bag", money  # "€9.90 / 15 L"
                return
            draft.price, draft.price_per = money, span
            return
        if type(per) is Said:
            draft.price = money
            return
        if self._sold_at(phrase, money):
            return
        near = [p for p in (self.peek(-1), self.peek(-2), self.peek(1), self.peek(2)) if p is not None]
        if any(is_said(p, "link", "budget") for p in near[:2]) or is_said(self.peek(1), "link", "budget"):
            draft.budget = money
        elif is_said(self.peek(1), "link", "each") or is_said(self.peek(-1), "link", "at") or is_said(self.peek(1), "pack") or (
            is_said(self.peek(-1), "link", "is") and (is_said(self.peek(-2), "link", "each") or is_said(self.peek(-2), "pack"))
        ) or (
            is_said(self.peek(1), "link", "for") and (is_said(self.peek(2), "pack") or is_said(self.peek(3), "pack"))
        ):  # fmt: skip
            draft.price = money
        elif any(is_said(p, "limit") for p in near[:1]):
            draft.budget = money
        elif is_said(self.peek(-1), "link", "for") and draft.asked == "packs" and draft.pack is None:
            draft.budget = money  # "how many bags for $60"
        elif (draft.pack is not None or draft.pack_noun) and draft.price is None and not is_said(self.peek(-1), "link", "on-hand"):
            draft.price = money
        elif any(is_said(p, "unknown") for p in self._clause()) and "budget" not in draft.hints and draft.question is None:
            draft.question = ("money", f"what is {self.text_of(phrase)} for? Say “budget {self.text_of(phrase)}” if it may be spent on castings")
        elif is_said(self.peek(-1), "link", "on-hand", "with") or draft.budget is None:
            if not is_said(self.peek(-1), "link", "on-hand", "with"):
                draft.hints.add("budget-guessed")
            draft.budget = money
        else:
            self._leave(phrase)
