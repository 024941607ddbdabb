"""What is asked for, in a question word, a unit alone or a word at the end."""

from __future__ import annotations

import re

from ..later import later
from ..phrases import Amount, Measure, Phrase, Said, Share
from ..said import dimension, is_said, single
from .nouns import Nouns
from .packs import DOSES

#: After an amount: so many of another measure that it is.
#: What may follow "depth" where it is asked for.
_ON_TOP = later(r"(?:\?|on top(?: of (?:it|that))?\s*\??)", re.IGNORECASE)
_MAKES = later(r"\b(?:makes?|comes? to|is|equals?)\b", re.IGNORECASE)

#: Before an "enough" that is ordered, and before one that is told of an amount.
_WANTS_ENOUGH = later(r"(?:^|[,;:.!]|\b(?:need|needs|want|wants|like|give me|get|buy|order|for|just|please|and))\s*$", re.IGNORECASE)
#: "thats plenty": told, where "is that plenty" asks.
_SAID_ENOUGH = later(r"(?<!is )\b(?:that'?s|that’s|that is|that will be|that'll be|which is)\s+(?:more than |already )?$", re.IGNORECASE)
_IS_ENOUGH = later(r"(?:\b(?:is|are|was|were|would be|will be|should be|ought to be)|'s)\s*$", re.IGNORECASE)

#: Between a question and what it would be of: another clause has begun.
_IF = later(r"\b(?:if|when|where|for|in case)\b", re.IGNORECASE)


def _is_time(phrase: Said) -> bool:
    return phrase.kind == "unit" and dimension(Measure(1.0, 1.0, phrase.id, "unit", phrase.start, phrase.end)) == "time"


class Asking(Nouns):
    """What is asked for, in a question word, a unit alone or a word at the end."""

    def _ask(self, phrase: Said) -> None:
        draft = self.draft
        name = phrase.id
        if name == "how-heavy" and self._is_told_heavy():
            return
        draft.asks.append(name)
        if "casting" in phrase.text.lower():
            draft.hints.add("castings-named")
        plain = {"how-far": "area", "how-deep": "layer", "what-share": "share", "how-heavy": "weight", "what-cost": "cost",
                 "how-long": "length", "left-over": "left-over"}  # fmt: skip
        if name in plain:
            if name == "how-deep" and draft.asked:
                return
            draft.asked = plain[name]
        elif name == "enough":
            draft.enough = not any(code == "advised" for code, _ in draft.flags) and not self._is_told_enough(phrase)
        elif name == "how-much-more":
            draft.hints.add("more-needed")
            if is_said(self.peek(), "pack") and self.leaning:
                draft.asked, draft.asked_noun = "packs", self.peek().id  # type: ignore[union-attr]
            draft.asked = draft.asked or "castings"
        elif name == "how-much":
            self._how_much()
        elif name == "how-many":
            self._how_many()
        elif name == "cover" and is_said(self.peek(-1), "unit", "square_foot", "square_metre", "square_yard") and not draft.asked:
            draft.asked = "area"  # "a 25 lb bag, sq ft covered?"
        elif name == "cover" and self._covered_by_an_amount():
            draft.asked = "area"

    def _is_told_heavy(self) -> bool:
        """ "it weighs 40 lb a cubic foot": how heavy they are is told, and not asked."""
        following, _ = self.ahead(("about",))
        one = single(following)
        return type(one) is Measure and type(one.per) is Measure and dimension(one) == "weight" and dimension(one.per) in ("volume", "length or volume")

    def _is_told_enough(self, phrase: Said) -> bool:
        """ "enough castings for an inch, please", "a quarter inch is plenty": so much is wanted, and nobody asks whether it is enough."""
        draft = self.draft
        start = max((p.end for p in self.phrases[: self.at] if is_said(p, "stop", "sentence")), default=0)
        end = next((p.end for p in self.phrases[self.at :] if is_said(p, "stop", "sentence")), len(draft.text))
        if "?" in draft.text[phrase.end : end] or draft.have or draft.packs_count or draft.loads:
            return False
        lead = draft.text[start : phrase.start]
        if _WANTS_ENOUGH.search(lead):
            return is_said(self.peek(), "castings") or is_said(self.peek(), "link", "for")
        if _SAID_ENOUGH.search(lead):
            return True
        told = [one for p in self.phrases[: self.at] if p.start >= start and (one := single(p)) is not None]
        share = any(type(p) is Share for p in self.phrases[: self.at] if p.start >= start)
        thick = any(type(one) is Measure and (dimension(one) == "length" or one.per is not None) for one in told)
        each = bool(told) and self.place is not None and self.place.rate is not None
        return bool(_IS_ENOUGH.search(lead)) and (share or thick or each)

    def _covered_by_an_amount(self) -> bool:
        """ "how much will 40 lb cover", "how much can I cover with 20 litres": how far that goes, not how much castings."""
        asked = self.draft.asks[-2:] == ["how-much", "cover"] and self.draft.asked == "castings" and not self.draft.asked_unit
        if not asked:
            return False
        start = max(at for at in range(self.at) if is_said(self.phrases[at], "ask", "how-much"))
        before = self.phrases[start + 1 : self.at]
        if self._of_the_ground(before):
            return True
        if self.draft.places:
            return False
        with_it = self.phrases[self.at + 2 : self.at + 3] if is_said(self.peek(), "link", "with") else []
        if any(is_said(phrase, "link", "of") for phrase in before):
            return False  # "how much of a 40 lb bag covers …"
        amounts = [one for one in map(single, (*before, *with_it)) if type(one) is Measure]
        return any(one.per is None and dimension(one) in ("volume", "weight") for one in amounts)

    def _of_the_ground(self, before: list[Phrase]) -> bool:
        """ "how much of my garden will it cover", "how much lawn will 20 litres cover": of ground whose size nobody told."""
        draft = self.draft
        rest = before[1:] if before and is_said(before[0], "link", "of") else before
        if not rest or not is_said(rest[0], "ground") or any(place.has_size for place in draft.places):
            return False
        amount = any(type(one := single(phrase)) is Measure and dimension(one) in ("volume", "weight") for phrase in rest[1:])
        return amount or (len(rest) == 1 and bool(draft.have or draft.pack or draft.packs_count or draft.loads))

    def _how_much(self) -> None:
        draft = self.draft
        following, where = self.ahead(("hint", "about"))
        if type(following) is Share and is_said(self._at(where + 1), "mix"):
            following, where = self._at(where + 1), where + 1  # "how much 10 % mix …"
        asks = self.phrases[self.at]
        if type(following) is Said and following.kind in ("mix", "component") and (
            "casting" in draft.text[asks.start : asks.end].lower() or _IF.search(draft.text[asks.end : following.start])
        ):  # fmt: skip
            draft.asked = draft.asked or "castings"
            return  # "how much castings if the final mix must be 1 m3"
        if type(following) is Said:
            if following.kind in ("other-goods", "other-material") or is_said(following, "label-word", "npk"):
                draft.refusal = f"only castings are worked out here, not {following.text.lower()}"
                return
            if following.kind == "component":
                draft.asked, draft.asked_noun = "soil", following.id
                self.phrases.pop(where)
                return
            if following.kind == "mix":
                draft.asked, draft.asked_noun = "mix", "mix"
                self.phrases.pop(where)
                return
            if is_said(following, "link", "water"):
                draft.asked, draft.asked_noun = "water", "water"
                return
            if is_said(following, "ground") and is_said(self.peek(-1), "ask", "cover"):
                draft.asked = "area"
                return
            if is_said(following, "way", "tea"):
                draft.asked_noun = ""
        draft.asked = draft.asked or "castings"

    def _how_many(self) -> None:
        """ "how many litres", "how many plants", "how many gallons of soil"."""
        draft = self.draft
        following, where = self.ahead(("hint", "about", "form"))
        if following is None or is_said(following, "stop") or is_said(following, "link", "at"):
            self._how_many_of_what()
            return
        if self._packs_of_a_size(following, where):
            return
        if is_said(following, "castings"):
            draft.asked = draft.asked or "castings"
        if type(following) is Said and following.kind in ("unit", "unclear-unit"):
            draft.asked_unit = following.id
            after = self.phrases[where + 1] if where + 1 < len(self.phrases) else None
            if is_said(after, "link", "of"):
                after = self.phrases[where + 2] if where + 2 < len(self.phrases) else None
            drop = 0
            if is_said(after, "component"):
                draft.asked, draft.asked_noun = "soil", after.id  # type: ignore[union-attr]
                drop = 1
            elif is_said(after, "mix"):
                draft.asked, draft.asked_noun = "mix", "mix"
                drop = 1
            elif is_said(after, "link", "water"):
                draft.asked, draft.asked_noun = "water", "water"
            else:
                draft.asked = "by-unit"
            if drop:
                index = self.phrases.index(after)  # type: ignore[arg-type]
                self.phrases.pop(index)
            self.phrases.pop(where)

    def _packs_of_a_size(self, size: Phrase | None, where: int) -> bool:
        """ "how many 5 gallon buckets of castings": what they are sold in, not what is filled with a mix."""
        one = single(size)
        if type(one) is not Measure or one.per is not None or one.role or dimension(one) != "volume" or self.draft.pack is not None:
            return False
        noun = self._at(where + 1)
        of = where + 3 if is_said(self._at(where + 2), "link", "of") else where + 2
        if self._conversion(one, where + 1):
            return True
        if not (is_said(noun, "container", "bucket", "tub", "tote") and is_said(self._at(of), "castings")):
            return False
        self.draft.asked, self.draft.pack, self.draft.pack_noun = "packs", self._span(one), "pack"
        self.draft.hints.add("castings-named")
        self.at = of + 1
        return True

    def _conversion(self, size: Measure, noun_at: int) -> bool:
        """ "how many 5 gallon buckets is 2 cubic feet", "… in a cubic yard of castings": so much told in another measure, and nothing mixed."""
        if not is_said(self._at(noun_at), "container", "bucket", "tub", "tote", "pot") or self.draft.places:
            return False
        at = noun_at + 1
        link, named = self._at(at), self._at(at + 1)
        linked = is_said(link, "link", "is", "into")
        for_it = is_said(link, "link", "for", "from")  # "how many 5 gallon buckets for a yard of castings"
        at += 1 if linked or for_it else 0
        while is_said(self._at(at), "about"):
            at += 1
        amount = single(self._at(at))
        if isinstance(link, Said) and link.text.lower() == "in a" and isinstance(named, Said) and named.kind in ("unit", "unclear-unit"):
            amount = Measure(1.0, 1.0, named.id, named.kind, named.start, named.end, article=True)
        if type(amount) is not Measure or amount.per is not None or amount.role or dimension(amount) not in ("volume", "length or volume"):
            return False
        at += 1
        if is_said(self._at(at), "link", "of"):
            at += 1
        named = self._at(at)
        at += 1 if is_said(named, "castings") else 0
        makes = for_it or _MAKES.search(self.draft.text, amount.end) is not None
        told = linked or (is_said(named, "castings") and makes and not is_said(self._at(noun_at), "container", "pot"))
        if not told or not (self._at(at) is None or is_said(self._at(at), "stop", "sentence")) or any(type(p) in (Amount, Share) for p in self.phrases[at:]):
            return False
        self.draft.asked, self.draft.pack, self.draft.pack_noun = "packs", self._span(size), "pack"
        have = amount._replace(unit="cubic_yard", kind="unit") if amount.unit == "yard" else amount
        self.draft.have = self._span(have)
        self.draft.hints.add("castings-named")
        self.at = at
        return True

    def _how_many_of_what(self) -> None:
        """ "…, how many": of what was spoken of last and not counted."""
        draft = self.draft
        # a bag of a size that is not there yet is what a place needs, and else what goes as far as it does
        at_hand = draft.packs_count or draft.have or "on-hand" in draft.hints
        in_packs = not at_hand and self.place is not None and self.place.has_size
        if draft.pack is not None and (in_packs or draft.budget is not None or draft.price is not None or (self.place is not None and self.place.count)):
            draft.asked, draft.asked_noun = "packs", draft.pack_noun
            return
        place = self.place
        if place is not None and place.count is None and place.kind in ("plant", "container", "ground", "hole") and (
            draft.have is not None or draft.pack is not None or draft.unsure
        ):  # fmt: skip
            draft.asked = {"plant": "plants", "hole": "plants", "container": "containers", "ground": "beds"}[place.kind]
            draft.asked_noun = place.noun
            place.hints.add("asked")
        elif draft.pack is not None:
            draft.asked, draft.asked_noun = "packs", draft.pack_noun

    def _loose_unit(self, phrase: Said) -> None:
        """A unit with no number: "… in litres?", "lbs?"."""
        following = self.peek()
        if _is_time(phrase) or (is_said(following, "link", "is") and self.draft.text[phrase.end :].lstrip().startswith(("=", ":"))):
            return  # "all week"; "pt=4x8 ft" names what comes next
        if is_said(following, "per") and type(self.peek(2)) is Said and self.peek(2).kind in ("unit", "unclear-unit"):  # type: ignore[union-attr]
            if not self._one_for_each(phrase, self.peek(2)):
                self._trailing_ask("density")
            self.at += 3
            return
        if self._unit_asked_first(phrase):
            self.draft.asked_unit = self.draft.asked_unit or phrase.id
            return
        of_castings = is_said(following, "castings") or (is_said(following, "link", "of") and is_said(self.peek(2), "castings"))
        if of_castings and self._unit_asked_last(phrase):
            self.draft.asked_unit = self.draft.asked_unit or phrase.id
            return
        if self._one_deep(phrase):
            return
        if is_said(self.peek(-1), "deny", "not"):
            self.draft.not_unit = phrase.id
            return
        if (
            of_castings or is_said(following, "way") or is_said(following, "link", "each", "on")
        ) and not self._straight_after_ask() and phrase.kind != "loose-measure" and not is_said(self.peek(-1), "link", "into"):
            # "inch on top", "cup each": one of it, where nothing stands before that might have been a number
            lead = self.draft.text[: phrase.start].rstrip()
            plural = phrase.text.lower().endswith("s") or phrase.text.lower() in ("feet", "inches")
            asked = lead.endswith(("?", "=")) or (lead.endswith(("-", ":", ",", ".")) and self.draft.text.rstrip().lower().endswith(("castings?", "castings ?")))
            if plural and asked and of_castings:
                self.draft.asked_unit = self.draft.asked_unit or phrase.id  # "= ? lbs castings"
                return
            if plural or (lead and lead[-1] not in ",;.:!?(-" and not is_said(self.peek(-1), "ground")):
                self.draft.question = self.draft.question or ("amount", f"how many {phrase.text}?")
                return
            one = Measure(1.0, 1.0, phrase.id, phrase.kind, phrase.start, phrase.end, article=True)
            self._amount(Amount((one,), phrase.start, phrase.end))
        elif not self.draft.asked_unit:
            self.draft.asked_unit = phrase.id
        else:
            self.draft.hints.add("unit-twice")

    def _one_for_each(self, phrase: Said, other: Phrase | None) -> bool:
        """ "cup per gallon of soil": one of the small measure in each of the large one."""
        assert isinstance(other, Said)
        one = Measure(1.0, 1.0, phrase.id, phrase.kind, phrase.start, phrase.end, article=True)
        each = Measure(1.0, 1.0, other.id, other.kind, other.start, other.end)
        if self._straight_after_ask() or dimension(one) != "volume" or dimension(each) != "volume":
            return False
        self._amount(Amount((one._replace(per=each),), phrase.start, other.end))
        return True

    def _unit_asked_first(self, phrase: Said) -> bool:
        """ "gal castings for 3x6 ft at 1 inch?": what the answer is to be in, before all else."""
        if self.at != 0 or phrase.kind == "loose-measure" or "?" not in self.draft.text or not is_said(self.peek(), "castings"):
            return False
        if not (self.peek(2) is None or is_said(self.peek(2), "link", "for", "on") or is_said(self.peek(2), "stop")):
            return False
        one = Measure(1.0, 1.0, phrase.id, phrase.kind, phrase.start, phrase.end)
        return dimension(one) in ("volume", "weight")

    def _unit_asked_last(self, phrase: Said) -> bool:
        """ "…, 12% castings, cf of castings?": a measure of bulk that closes the line is what the answer is to be in, and no stock of one."""
        here = self.at + (3 if is_said(self.peek(), "link", "of") else 2)
        lead = self.draft.text[: phrase.start].rstrip()[-1:]
        if not (lead and lead in ",;.:?=-") or not all(is_said(p, "stop") for p in self.phrases[here:]) or phrase.id in DOSES:
            return False
        told = any(place.has_size or place.layer or place.share or place.rate for place in self.draft.places)
        one = Measure(1.0, 1.0, phrase.id, phrase.kind, phrase.start, phrase.end)
        return (told or "?" in self.draft.text[phrase.end :]) and phrase.kind != "loose-measure" and dimension(one) in ("volume", "weight", "length or volume")

    def _one_deep(self, phrase: Said) -> bool:
        """ "foot deep", "a bed foot deep", "foot of mix", ", inch" at the end: one of it."""
        if phrase.id in ("square_metre", "square_yard", "square_foot") and not phrase.text.lower().endswith(("s", "feet")) and is_said(self.peek(), "ground"):
            lead = self.draft.text[: phrase.start].rstrip()
            if not lead or lead[-1] in ",;.:(":
                self._amount(Amount((Measure(1.0, 1.0, phrase.id, phrase.kind, phrase.start, phrase.end, article=True),), phrase.start, phrase.end))
                return True  # "square metre bed 30 cm deep"
        if phrase.id not in ("foot", "inch", "metre", "yard") or phrase.text.lower() not in ("foot", "inch", "metre", "meter", "yard"):
            return False
        if self.draft.asks and self._straight_after_ask():
            return False
        lead = self.draft.text[: phrase.start].rstrip()
        before, following, named = self.peek(-1), self.peek(), self.peek(2)
        fresh = not lead or lead[-1] in ",;.:(" or is_said(before, "ground") or is_said(before, "link", "is", "and", "with") or is_said(before, "is")
        role = following.id if is_said(following, "role") and isinstance(following, Said) else ""
        of_it = is_said(following, "link", "of") and (is_said(named, "mix") or is_said(named, "component"))
        ends = (following is None or is_said(following, "stop", "sentence")) and bool(lead) and lead[-1] == "," and "?" not in self.draft.text
        if not fresh or not (role or of_it or ends):
            return False
        one = Measure(1.0, 1.0, phrase.id, phrase.kind, phrase.start, phrase.end, role=role or ("depth" if of_it else ""), article=True)
        if role:
            self.phrases.pop(self.at + 1)
        self._amount(Amount((one,), phrase.start, phrase.end))
        return True

    def _loose_role(self, phrase: Said) -> None:
        if phrase.id in ("depth", "thick") and self.draft.text[: phrase.start].lower().split()[-1:] == ["same"]:
            self.draft.hints.add("same:depth" if phrase.id == "depth" else "same:layer")
            return
        self.draft.hints.add("role:" + phrase.id)
        if phrase.id == "thick" and is_said(self.peek(), "link", "from") and type(self.peek(2)) is Amount:
            self._trailing_ask("layer")  # "layer from 1 cu yd on 648 sq ft"
        if phrase.id == "thick" and (self.peek() is None or is_said(self.peek(), "stop")) and not (
            type(self.peek(-1)) is Amount or (self.draft.places and self.draft.places[-1].layer) or self._length_next()
        ):  # fmt: skip
            self._trailing_ask("layer")
        after = self.draft.text[phrase.end :].strip()
        if phrase.id == "depth" and _ON_TOP.fullmatch(after) and is_said(self.peek(-1), "stop") and self.draft.places and not self.draft.places[-1].layer and (
            self.draft.have is not None or self.draft.unsure or self.draft.packs_count
        ):  # fmt: skip
            self._trailing_ask("layer")  # "2 cu ft on 30 sq ft, depth?"

    def _length_next(self) -> bool:
        """Whether a comma and a length come next: "a thin layer, like a quarter inch, over …"."""
        at = self.at + 1
        while is_said(self._at(at), "stop", "comma") or is_said(self._at(at), "about"):
            at += 1
        one = single(self._at(at))
        return type(one) is Measure and dimension(one) == "length" and not one.role

    def _component(self, phrase: Said) -> None:
        draft = self.draft
        if draft.asked == "castings" and "how-much" in draft.asks and is_said(self.peek(-1), "ask", "how-much"):
            draft.asked, draft.asked_noun = "soil", phrase.id
        draft.hints.add("component:" + phrase.id)
