"""Small words that turn or tie a meaning: each, altogether, without, instead, more, no more than."""

from __future__ import annotations

import re

from ..later import later
from ..mend import near_amount
from ..phrases import Amount, Measure, Number, Phrase, Price, Said, Share
from ..said import dimension, is_said, single
from .asking import Asking
from .state import IN_IT, PLACE_KINDS

#: "can't lift", before "more than 20 pounds": the most, not the least.
_CANNOT = later(r"\b(?:can't|cant|cannot|can not|couldn't|not allowed|unable|don't|dont|won't|shouldn't|mustn't|not|never)\b[^.,;!?]*$", re.IGNORECASE)

#: What follows "in" where it is the place told before.
_IT = later(r"\s*(?:it|there|them|that|each)\b", re.IGNORECASE)


#: What ends a number or a word, and is no word of its own.
_ENDINGS = frozenset({"st", "nd", "rd", "th", "s", "d", "ll", "re", "ve", "t", "m", "ish"})


class Links(Asking):
    """Small words that turn or tie a meaning: each, altogether, without, instead, more, no more than."""

    def _unknown(self, phrase: Said) -> None:
        """A word that is not known: kept, and asked about where a number may hang on it."""
        before = self.draft.text[max(0, phrase.start - 1) : phrase.start]
        if phrase.text.lower() in _ENDINGS and (before.isalnum() or before in ("'", "’")):
            return  # the end of a word that was taken in pieces: "2nd", "beds's"
        self.draft.unread.append(phrase.text)
        near = near_amount(phrase.text.lower())
        around = [self.peek(step) for step in (-2, -1, 1, 2)]
        lead = self.draft.text[: phrase.start].lower().split()[-1:]
        beside = lead in (["one"], ["a"], ["an"]) or any(type(p) in (Amount, Share) or is_said(p, "unit") or is_said(p, "unclear-unit") or is_said(p, "role") for p in around) or (
            is_said(self.peek(), "link", "of")
        )  # fmt: skip
        if (near and beside) or is_said(self.peek(), "unit") or is_said(self.peek(), "unclear-unit"):
            self.draft.unclear = (phrase.text, near)
        if not near and (is_said(self.peek(), "unit") or is_said(self.peek(), "unclear-unit")) and self.draft.question is None:
            self.draft.question = ("spelling", f"what is “{phrase.text} {self.peek().text}”? An amount hangs on it")  # type: ignore[union-attr]
        elif near and beside and self.draft.question is None:
            self.draft.question = ("spelling", f"is “{phrase.text}” meant to be “{near}”? An amount hangs on it")

    def _about(self, phrase: Said) -> None:
        following = self.peek()
        if phrase.text.lower() in ("max", "maximum", "most") and any(is_said(following, kind) for kind in PLACE_KINDS):
            # "max beds 3x6x1 ft from 12 cu ft castings"
            asked = self.phrases[self.at] = Said("ask", "how-many", phrase.text, phrase.start, phrase.end)
            self._ask(asked)
            return
        if phrase.kind == "limit":
            if type(following) is Share and phrase.id == "at-least" and following.low >= 100:
                self.draft.refusal = "more than the whole cannot be castings"
            if type(following) is Share and phrase.text.lower() in ("less", "less than", "under", "below", "more", "more than") and self.draft.question is None:
                self.draft.question = ("share", f"“{phrase.text} {self.text_of(following)}” sets no amount; what share is it to be?")
            if type(following) in (Amount, Share, Price):
                self.draft.flags.append(("limit", f"{phrase.text} {self.text_of(following)}"))  # type: ignore[arg-type]
                cannot = _CANNOT.search(self.draft.text[max(0, phrase.start - 40) : phrase.start])
                self._limit("at-most" if cannot else phrase.id, following)
        elif type(following) in (Amount, Share):
            self.draft.flags.append(("about", f"“{phrase.text} {self.text_of(following)}” is taken as it stands"))  # type: ignore[arg-type]

    def _limit(self, which: str, following: Phrase | None) -> None:
        one = single(following)
        if type(one) is Measure and dimension(one) in ("volume", "weight") and one.per is None:
            after = self.peek(2)
            if which == "at-most" and (is_said(after, "link", "on-hand") or is_said(self.peek(-1), "link", "on-hand")):
                self._have(self._span(one))  # "no more than 2 cubic feet to hand"
                self.at += 3 if is_said(after, "link", "on-hand") else 2
                return
            if not (type(after) is Said and after.kind in ("container", "mix", "pack", "plant")):
                self.draft.limit = (which, self._span(one))
                self.at += 2

    def _deny(self, phrase: Said) -> None:
        if phrase.id == "instead":
            self.correcting = True
        elif phrase.id == "negative":
            if type(self.peek()) in (Amount, Share):
                self.draft.refusal = f"“negative {self.text_of(self.peek())}” is less than nothing"  # type: ignore[arg-type]
        elif phrase.id == "dont" and type(share := self.peek()) is Share and sum(type(p) is Share for p in self.phrases) == 1:
            self.draft.question = ("denied", f"you said not {self.text_of(share)}; what should it be instead?")  # "never use 25 %"
        elif phrase.id == "leave":
            self.draft.question = ("exclusion", "what is left out? Say the size of what castings do go on")
        elif phrase.id == "without":
            following, _ = self.ahead(("hint", "about"))
            if self._not_wanted(phrase):
                self.draft.replies.append(("drop-place", phrase.text))
            elif type(measure := single(following)) is Measure and phrase.text.lower() == "minus" and dimension(measure) != "area":
                self.draft.refusal = f"“minus {self.text_of(measure)}” is less than nothing; give the amount without a minus"
            elif type(single(following)) is Number and phrase.text.lower() == "minus":
                self.draft.by_so_much_said = f"minus {self.text_of(following)}"  # type: ignore[arg-type]
                self.draft.hints.add("by-so-much")
                self.draft.by_so_much = "fewer"
            elif type(following) is Share and phrase.text.lower() == "minus":
                self.draft.refusal = f"“minus {self.text_of(following)}” is less than nothing"
            elif is_said(following, "component"):
                self.at += 2
            elif type(following) is Amount or (is_said(following, "ground", "path")):
                self.excluding = True
        elif phrase.id == "all-but":
            number = self.peek()
            after = self.peek(2)
            if type(n := single(number)) is Number:
                following = self.peek(2) if not is_said(after, "link", "of") else self.peek(3)
                m = single(following)
                if type(m) is Number:
                    m2 = Number(m.low - n.low, m.high - n.low, m.start, m.end)
                    index = self.at + (3 if is_said(after, "link", "of") else 2)
                    self.phrases[index] = Amount((m2,), m2.start, m2.end)
                    self.draft.flags.append(
                        ("all-but", f"all but {self.text_of(n)} of {self.text_of(m)}: {m2.low:g}")
                    )
                    self.at += 2

    def _not_wanted(self, phrase: Said) -> bool:
        """ "no tomatoes" in a conversation: a place that is to go; not "no, the bed is …"."""
        following = self.peek()
        if not self.leaning or type(following) is not Said or following.kind not in PLACE_KINDS:
            return False
        between = self.draft.text[phrase.end : following.start].lower().split()
        return not set(between) & {"the", "my"} and not any(type(p) in (Amount, Share, Price) for p in self.phrases)

    def _link(self, phrase: Said) -> None:
        name = phrase.id
        draft = self.draft
        if name == "area-word" and is_said(self.peek(-1), "stop", "comma") and (self.peek() is None or (is_said(self.peek(), "stop", "sentence") and self.peek(2) is None)):
            self._trailing_ask("area")  # "60 lb castings, 1 in deep, area?"
        elif name in ("and", "but"):
            self.tie = "and"
        elif name in ("with", "for", "into", "on", "of"):
            self.tie = "in" if name == "into" else name
            if name == "into":
                self._in_it_or_one(phrase)
        elif self._has_plants(phrase):
            self.tie = "with"
        elif name == "each" and self.place is None and self._plants_ahead():
            self.pending_each = True
        elif name == "each" and self.place is not None and self.place.kind == "plant" and self.place.each is None and self._plants_ahead():
            self.place.each = True  # "ten olive trees, every tree 3 kilo"
        elif name == "each" or name == "both":
            if name == "both":
                draft.hints.add("both")
                said = phrase.text.lower()
                if not draft.places and self.count is None and said == "both" and not self._both_of_two():
                    self.both = True
                elif not draft.places and self.count is None and said == "both beds" and not self.leaning and self.peek() is not None:
                    pair = self._new_place()
                    pair.noun, pair.kind, pair.printed, pair.count = "bed", "ground", "beds", 2.0
                    draft.flags.append(("both", "“both beds”: two of them"))
                    return
            asked_last = any(is_said(p, "ask", "how-much") for p in self.phrases[max(0, self.at - 3) : self.at])
            if self.place is not None and not asked_last and self.place.each is None:
                self.place.each = True
        elif name == "altogether":
            self._altogether()
        elif name == "share-word":
            draft.hints.add("share-word")
            self._share_word(phrase)
        elif name == "imperial" and not (is_said(self.peek(), "unclear-unit") or type(self.peek(-1)) is Amount or type(self.peek()) is Amount):
            draft.hints.add("say-imperial" if self.leaning else "imperial")
        elif name == "imperial":
            draft.hints.add("imperial")
        elif name == "metric":
            draft.hints.add("say-metric")
        elif name == "part-full":
            draft.question = ("fill", "how deep is the soil in it, and how deep is it to be? Say it as “8 inches deep”")
        elif name == "price-word":
            of_amount = is_said(self.peek(), "link", "of") and type(self.peek(2)) is not Price
            if self.peek() is None or is_said(self.peek(), "stop") or of_amount:
                self._trailing_ask("cost")
        elif name == "density-word":
            draft.hints.add("density")
            if phrase.text.lower().startswith("castings weigh") and type(self.peek()) is not Amount and (
                set(draft.asks) & {"how-much", "what-is"} or is_said(self.peek(-1), "link", "of")
            ):  # fmt: skip
                draft.asked = "weight"
            elif self.peek() is None or is_said(self.peek(), "stop") or (
                is_said(self.peek(), "link", "of") and is_said(self.peek(2), "castings") and (self.peek(3) is None or is_said(self.peek(3), "stop"))
            ):  # fmt: skip
                self._trailing_ask("density")
        elif name == "season-long" and draft.times is not None:
            draft.hints.add("in-all")  # how many times it is given has been said
        elif name == "season-long":
            draft.question = ("season", "for how many applications in all? Say the amount for one, and how many times")
        elif name == "count-x":
            number = single(self.peek())
            place = self.place
            if self._packs_times_size():
                return
            named = self.peek(2)
            if is_said(named, "plant") and place is not None and place.kind == "ground" and place.count and not place.has_size:
                self.tie = "of"  # "4 rows x 25 plants"
            elif is_said(named, "ground") and place is not None and place.kind == "plant":
                return  # "2 cups a plant x 4 rows": how many rows there are
            elif type(number) is Number and place is not None and place.count is None and place.kind:
                self.count = number
                self._set_count(place)
                self.at += 2
        elif name == "on-hand":
            draft.hints.add("on-hand")
        elif name == "budget":
            draft.hints.add("budget")
        elif name == "by-weight":
            draft.by_weight = True
        elif name == "now" or name == "again":
            self.dated = True
        elif name == "water":
            self._water_word()
        elif name == "moisture":
            draft.hints.add("moisture")
        elif name == "count-word":
            if self.count is not None and self.place is not None and self.place.count is None and self.place.kind:
                self._set_count(self.place)
            elif is_said(self.peek(), "pack") or ((self.peek() is None or is_said(self.peek(), "stop")) and draft.pack is not None):
                self._trailing_ask("packs")
        elif name == "cut" and draft.question is None and type(self._past_replies()) in (Share, Amount):
            draft.question = ("relative", f"“{phrase.text} {self.text_of(self._past_replies())}”: how much should that be? Say the amount itself")  # type: ignore[arg-type]
        elif name in ("relative", "cut"):
            draft.hints.add("relative" if name == "relative" else "cut")
            draft.flags.append(("relative-word", phrase.text))

    def _in_it_or_one(self, phrase: Said) -> None:
        """ "6 tomatoes in it", which stand in the place told before; "3 tomatoes in one 15 gallon tub", where one is a count."""
        place = self.place
        words = phrase.text.lower().split()
        if place is not None and place.kind == "plant" and (words[-1] in ("it", "them", "there") or _IT.match(self.draft.text, phrase.end)):
            place.hints.add(IN_IT)
            self.tie = ""
        elif words[-1] == "one" and self.count is None:
            at = self.at + 1
            while is_said(self._at(at), "hint") or is_said(self._at(at), "form") or is_said(self._at(at), "plant") or (
                type(self._at(at)) is Amount and not self._is_size(self._at(at))  # type: ignore[arg-type]
            ):  # fmt: skip
                at += 1
            if is_said(self._at(at), "container"):
                self.count = Number(1.0, 1.0, phrase.end - len("one"), phrase.end)

    def _has_plants(self, phrase: Said) -> bool:
        """ "a bed holding 6 tomatoes", "it has 6 tomatoes": what follows stands in it."""
        if phrase.text.lower() not in ("has", "holding", "holds", "hold") or type(single(self.peek())) is not Number:
            return False
        return is_said(self.peek(2), "plant") and self.place is not None and self.place.kind in ("ground", "container")

    def _packs_times_size(self) -> bool:
        """ "50 bags x 30 lb": so many packs of that size."""
        one, noun = single(self.peek()), self.peek(-1)
        if not (is_said(noun, "pack") and isinstance(noun, Said) and type(one) is Measure and one.per is None and dimension(one) in ("volume", "weight")):
            return False
        if self.draft.pack is not None or self.draft.packs_count is None or is_said(self.peek(2), "pack"):
            return False
        self.draft.pack, self.draft.pack_noun = self._span(one), noun.id
        self.at += 2
        return True

    def _both_of_two(self) -> bool:
        """Whether "both" tells of two sizes that follow: "both my 3 by 3 ft and my 2 by 6 ft beds"."""
        sized = [
            at for at in range(self.at + 1, len(self.phrases))
            if type(self.phrases[at]) is Amount and (self._is_size(self.phrases[at]) or type(single(self.phrases[at])) is Measure)  # type: ignore[arg-type]
        ]  # fmt: skip
        if len(sized) < 2:
            return False
        between = self.phrases[sized[0] + 1 : sized[1]]
        found = any(is_said(p, "link", "and") for p in between) and all(
            is_said(p, "link", "and") or (type(p) is Said and p.kind in ("ground", "container", "hint", "form", "called", "plant")) for p in between
        ) and self._alike_sizes(sized[0], sized[1])
        noun = self._at(sized[1] + 1)
        if found and isinstance(noun, Said) and noun.kind == "ground" and not any(is_said(p, noun.kind) for p in between):
            self.phrases.insert(sized[0] + 1, noun._replace(start=between[0].start, end=between[0].start))  # it is said once for both
        return found

    def _alike_sizes(self, one: int, other: int) -> bool:
        first, second = self.phrases[one], self.phrases[other]
        if self._is_size(first) or self._is_size(second):  # type: ignore[arg-type]
            return self._is_size(first) and self._is_size(second)  # type: ignore[arg-type]
        a, b = single(first), single(second)
        return type(a) is Measure and type(b) is Measure and dimension(a) == dimension(b) and dimension(a) in ("area", "volume") and a.per is b.per is None

    def _plants_ahead(self) -> bool:
        """Whether "each" speaks of the plants that come next: "each tree", "each of my 9 trees"."""
        at = self.at + 1
        while is_said(self._at(at), "link", "of") or is_said(self._at(at), "hint") or type(single(self._at(at))) is Number:
            at += 1
        return is_said(self._at(at), "plant") or is_said(self._at(at), "hole")

    def _by_so_much(self, phrase: Said) -> None:
        """ "two more", "2 inches deeper": a change by an amount, which only a conversation can work out."""
        if phrase.id == "less" and type(following := self.peek()) is Amount and (self._is_size(following) or self._ground_measure(following)):
            self.excluding = True
            return
        beside = [self.peek(-1), self.peek(1), self.peek(2)]
        near = [p for p in (self.peek(-2), self.peek(-1), phrase, self.peek(1)) if p is phrase or type(p) in (Amount, Share)]
        first, last = near[0], near[-1]
        self.draft.by_so_much_said = self.draft.text[first.start : last.end].strip()  # type: ignore[union-attr]
        if phrase.id == "gone" and any(type(p) is Amount for p in (self.phrases if self.leaning else self._clause())):
            self.draft.hints.add("by-so-much")
            self.draft.by_so_much = "fewer"
        elif any(type(p) in (Amount, Share) for p in beside) or phrase.text.lower().endswith(" the"):
            self.draft.hints.add("by-so-much")
            self.draft.by_so_much = phrase.id

    def _altogether(self) -> None:
        """ "altogether": the size just said, or the one that comes next, is of all of them together."""
        draft = self.draft
        draft.hints.add("altogether")
        before, after = single(self.peek(-1)), single(self.peek(1))
        if (self.peek() is None or is_said(self.peek(), "stop")) and draft.price is not None:
            self._trailing_ask("cost")
        elif type(before) is Measure:
            kind = dimension(before)
            if draft.unsure and draft.unsure[-1].end == before.end:
                draft.unsure[-1].cues |= {"altogether"}
            elif self.place is not None and self.place.rate is not None and kind in ("volume", "weight"):
                self.place.rate_whole = True
            elif self.place is not None and kind in ("area", "volume", "length", "length or volume") and before.role not in ("depth", "height", "thick"):
                self.place.each = False
        elif type(after) is Measure:
            draft.hints.add("altogether-next")
            filled = self.place is not None and self.place.kind in ("ground", "container") and not self.place.has_size
            if self.place is not None and (dimension(after) in ("area", "length") or (filled and dimension(after) == "volume")):
                self.place.each = False
        elif draft.unsure and self.place is not None and is_said(self.peek(-1), self.place.kind or "none") and "after:link:for" in draft.unsure[-1].cues:
            draft.unsure[-1].cues |= {"altogether"}  # "24 cups for 12 plants in all"
        elif not (is_said(self.peek(), "link", "for") and draft.asks):  # "how much in all for 20 pots of 5 litres": what is asked is all of it
            self._total_ahead()

    def _total_ahead(self) -> None:
        """ "two beds together hold 3 cubic yards", "together 3 beds are 60 sq ft": the size to come is of all."""
        for at in range(self.at + 1, min(self.at + 6, len(self.phrases))):
            phrase = self.phrases[at]
            one = single(phrase)
            if type(one) is Measure:
                if one.per is None and dimension(one) in ("area", "volume"):
                    self.total_until = at
                    if self.place is not None and self.place.kind in ("ground", "container"):
                        self.place.each = False
                return
            if type(phrase) is not Amount and not (type(phrase) is Said and phrase.kind in ("link", "ground", "container", "hint", "form", "about", "is", "ask")):
                return

    def _share_word(self, phrase: Said) -> None:
        """ "share" at the end asks for it; before an amount it may be the verb: "12 plants share 2 gallons"."""
        following = self.peek()
        if self._same(phrase):
            self.draft.hints.add("same:share")
            return
        if following is None or is_said(following, "stop"):
            if not any(is_said(p, "link", "is") for p in [self.peek(-1)] if p):
                self._trailing_ask("share")
        elif type(one := single(following)) is Measure and dimension(one) in ("volume", "weight") and phrase.text.lower() == "share":
            self.draft.hints.add("altogether-next")

    def _same(self, phrase: Said) -> bool:
        """ "…, same share", "the same depth as that": the value of the place before."""
        return self.draft.text[: phrase.start].lower().split()[-1:] == ["same"]

    def _water_word(self) -> None:
        draft = self.draft
        if any(is_said(p, "ask", "how-much") and "casting" in p.text.lower() for p in self.phrases[: self.at]):  # type: ignore[union-attr]
            return  # "how much castings for 60 L of water"
        if draft.asked in ("castings", "") and "how-much" in draft.asks and not draft.asked_noun:
            draft.asked, draft.asked_noun = "water", "water"

    def _hint(self, phrase: Said) -> None:
        draft = self.draft
        target = self.place.hints if self.place is not None else self.pending_noun_hints
        target.add(phrase.id)
        draft.hints.add(phrase.id)
        if phrase.id == "established" and self.place is not None and self.place.kind == "plant" and phrase.text.lower().endswith(" it"):
            self.place.hints.add(IN_IT)  # "6 tomatoes growing in it"

    def _way(self, phrase: Said) -> None:
        draft = self.draft
        way = phrase.id
        if any(is_said(p, "other-thing", "animal") for p in self._clause()) and not any(type(p) is Amount for p in self._clause()):
            return  # "my dog digs in it"
        if phrase.text.lower().startswith("dig") and any(is_said(p, "other-thing", "animal") and p.end <= phrase.start for p in self._clause()):
            return  # "my dogs dig in it, so say an inch"
        if way == "blend" and phrase.text.lower() in ("potting up", "pot up", "potting"):
            draft.hints.add("potting")
        place = self.place
        another = draft.way not in ("", way) or (place is not None and place.share is not None and way in ("side-dress", "planting-hole"))
        if another and place is not None and place.has_size and place.kind != "plant" and (
            type(single(self.peek())) is Number and is_said(self._at(self.at + 2), "plant")
        ):  # fmt: skip
            self.pending_way = way
            return
        if place is not None and not place.way and (len(draft.places) > 1 or draft.way):
            place.way = way
        if not draft.way:
            draft.way = way
            draft.hints.add("way-said")
            if place is not None and not place.way:
                place.way = way
        elif draft.way == "incorporate" and way == "planting-hole" and type(self.peek(-1)) is Amount and (place is None or not (place.share or place.has_size)):
            draft.way = way  # "dig 3 litres into each planting hole"
            if place is not None and place.way in ("", "incorporate"):
                place.way = way
        elif draft.way != way:
            draft.hints.add("way:" + way)

    def _form(self, phrase: Said) -> None:
        place = self.place
        self.last_form = phrase.id
        if phrase.id == "other":
            self.draft.hints.add("other-form")
            self.draft.flags.append(("form", phrase.text))
            return
        if phrase.id == "half-round":
            self.last_form = "round"
            self.draft.hints.add("half-round")
            if place is None or place.has_size:
                self.pending_noun_hints.add("half-round")
            else:
                place.hints.add("half-round")
                place.form = place.form or "round"
            return
        if phrase.id == "right-angle":
            if place is not None:
                place.hints.add("right-angle")
            self.draft.hints.add("right-angle")
            return
        if phrase.id == "trunk":
            self.draft.hints.add("trunk")
            return
        if phrase.id in ("tapered", "straight"):
            self.draft.hints.add(phrase.id)
            if place is not None:
                place.hints.add(phrase.id)
            return
        if place is not None and not place.form and (not place.noun or place.has_size or place.kind == "ground"):
            if not (self.tie == "and" and place.has_size):
                place.form = phrase.id
                self.last_form = ""
