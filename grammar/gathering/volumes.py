"""Areas, volumes, weights and rates: a container, a mix, castings at hand, or what each gets."""

from __future__ import annotations

import re

from ..draft import PlaceDraft
from ..phrases import Amount, Measure, Number, Ratio, Said, Share
from ..quantities import Span
from ..said import dimension, is_said, single
from .lengths import Lengths
from .packs import DOSES
from .state import LIQUID, ONE_EACH, alike

#: Before an amount that something is to get.
_GIVEN = re.compile(r"\b(?:needs?|gets?|wants?|give|receives?|add|deserves?)\s+(?:\w+\s+)?$", re.IGNORECASE)
#: What only a length can be: "2 litres deep" is none.
_OF_A_LENGTH = frozenset({"depth", "width", "length", "height", "diameter", "radius", "apart"})


class Volumes(Lengths):
    """Areas, volumes, weights and rates: a container, a mix, castings at hand, or what each gets."""

    def _area(self, one: Measure) -> None:
        span = self._span(one)
        if self.excluding:
            self._exclude(Amount((one,), one.start, one.end))
            return
        before = self.peek(-1)
        place = self.place
        if place is None:
            place = self._new_place()
        elif place.has_size and not self.correcting:
            if place.area == span:
                return
            if place.kind in ("ground", "") and (place.size or place.length) and (is_said(before, "stop") or is_said(before, "link", "is")):
                place.second_area = span
                return
            place = self._new_place()
        elif place.kind in ("plant", "hole", "container") and (place.count or place.rate or place.kind == "container") and (
            place.rate_per is None
        ):  # fmt: skip
            place = self._new_place()
            place.hints.add("around")
        elif place.has_size:
            self._clear_size(place)
            self.correcting = False
        if self.count is not None and place.count is None:
            self._set_count(place)
        place.area = span

    def _volume(self, one: Measure) -> None:
        draft = self.draft
        span = self._span(one)
        following = self.peek()
        skip, where = self.ahead(("hint", "form", "about"))
        if one.role in _OF_A_LENGTH:
            draft.question = draft.question or ("unit", f"“{self.text_of(one)}” is no length; how much is that in inches, feet, cm or m?")
            return
        if is_said(skip, "plant") and is_said(self._at(where + 1), "container"):
            skip, where = self._at(where + 1), self.at + 1  # "6 litre houseplant pots"
        if where == self.at + 1 and is_said(skip, "unknown") and (is_said(self._at(where + 1), "container") or is_said(self._at(where + 1), "pack")):
            skip = self._at(where + 1)  # "7 gallon … pots", of a make or a stuff that is not known
        before = self.peek(-1)
        after = self.peek(2) if is_said(following, "link", "of") else following
        if is_said(following, "unknown") and is_said(self.peek(2), "component"):
            after = self.peek(2)  # "2 cu ft fluffed peat"
        if not (is_said(skip, "pack") and self._size_comes_after(one, where)) and self._weigh_pair(one):
            return
        if self._size_of_pack(span) or self._size_of_each_pack(span):
            return
        if is_said(skip, "pack") and where <= self.at + 2 and not self._size_comes_after(one, where):
            self._pack_size(span, skip)  # type: ignore[arg-type]
            return
        if is_said(following, "castings") and is_said(self.peek(2), "pack"):
            self._pack_size(span, self.peek(2))  # type: ignore[arg-type]
            return
        if is_said(skip, "hint", "spray") or is_said(following, "hint", "spray") or (is_said(before, "hint", "spray") and draft.water is None):
            draft.water = span
            return
        if is_said(after, "link", "water") or is_said(after, "way", "tea"):
            brewed = is_said(after, "way", "tea")
            if (brewed and (draft.asked in ("plants", "containers") or self._reach_asked())) or self._plants_asked_later():
                draft.have, draft.have_is_tea = span, True
                return
            if self._tea_for_each(tea=is_said(after, "way", "tea")):
                self._rate_here(span)
                return
            draft.water = span
            draft.hints.add("tea-volume" if is_said(after, "way", "tea") else "water-volume")
            return
        if is_said(skip, "container") and (
            is_said(self._at(where + 1), "castings") or (is_said(self._at(where + 1), "link", "of") and is_said(self._at(where + 2), "castings"))
            or is_said(self._at(where + 2), "link", "density-word")
        ) and is_said(skip, "container", "tub", "bucket", "tote") and not draft.places:  # fmt: skip
            if self.count is not None:
                # "12 five gallon buckets of castings"
                draft.flags.append(("so-many-times", f"{self.text_of(self.count)} of {self.text_of(one)}: {span.low * self.count.low:g} in all"))
                said = {self.text_of(self.count), self.text_of(one)}
                draft.figures = [(value, text) for value, text in draft.figures if text not in said]
                span = Span(span.low * self.count.low, span.high * self.count.high, span.unit)
                self.count = None
            self._have(span)  # "a 55 gal drum of castings"
            self.at = where + 1
            return
        if is_said(skip, "container") and where <= self.at + 3:
            self._container_volume(span)
            return
        each = self._each_beside()
        place = self.place
        if place is not None and place.kind == "container" and place.rate is None and place.count and span.unit in DOSES and (
            is_said(following, "way", "planting-hole", "side-dress") or (each and self._each_around())
        ):  # fmt: skip
            place.rate, place.each = span, True  # "96 plugs, a tablespoon in the hole for each"
            return
        if is_said(after, "castings"):
            if each or self._said_of_each() or (place is not None and place.kind in ONE_EACH and place.rate is None and self._each_around()):
                self._rate_here(span)
                return
            self._have(span)
            return
        if is_said(after, "component") and isinstance(after, Said):
            fills = "to fill" in self.draft.text.lower()[after.end : after.end + 9]
            holds = (is_said(before, "link", "volume-word") or fills) and place is not None and place.kind == "ground"
            if place is not None and (place.kind in ("container", "hole") or holds) and not place.has_size:
                place.volume, place.each = span, True
                return
            mixes = self.peek(3)
            if is_said(mixes, "hint", "mixed-in") and isinstance(mixes, Said) and mixes.text.lower() == "mix with" and type(self.peek(4)) is Share:
                # "65 litres of compost mix with 12 %": a compost mix, or compost to be mixed
                draft.question = draft.question or ("share-of", f"is “{self.text_of(one)}” the {after.text.lower()} alone, or the finished mix?")
            self._soil(span, after.id)
            return
        if is_said(following, "link", "of") and is_said(after, "hint", "existing-soil") and after.text.lower().split()[-1] in ("soil", "dirt"):  # type: ignore[union-attr]
            self._soil(span, "soil")  # "45 gallons of existing soil"
            return
        if is_said(after, "mix") and place is not None and place.kind == "container" and not place.has_size and place.count is not None and (
            is_said(self.peek(3), "link", "each") or (is_said(before, "link", "volume-word") and is_said(self.peek(-2), "link", "each"))
        ):  # fmt: skip
            place.volume, place.each = span, True  # "4 pots with 20 gallons of mix each", "each holds 25 gallons of mix"
            return
        if is_said(after, "mix") or is_said(after, "seed-mix"):
            self._mix_volume(span, after)  # type: ignore[arg-type]
            return
        if is_said(after, "ground") and isinstance(after, Said):
            self._ground_volume(span)
            return
        of_it = is_said(before, "link", "of") and (is_said(self.peek(-2), "ground") or is_said(self.peek(-2), "hole"))
        if of_it and place is not None and not place.volume:
            place.volume = span
            return
        brewed = draft.way == "tea" or any(is_said(p, "way", "tea") for p in self.phrases)
        if each and place is not None and place.kind in ("container",) and not place.has_size and not brewed:
            place.volume = span
            place.each = True
            place.hints.add("volume-by-each")
            return
        if each and (place is None or place.kind in ONE_EACH or place.has_size or place.kind == "container" or not place.noun or brewed):
            self._rate_here(span)
            return
        if place is not None and place.kind == "container" and not place.has_size and not self._on_hand_before() and not self._to_be_given(one):
            place.volume = span
            return
        if is_said(before, "link", "is") and is_said(named := self.peek(-2), "component") and isinstance(named, Said):
            self._soil(span, named.id)  # "the soil is 60 L"
            return
        if is_said(before, "component") and isinstance(before, Said) and not is_said(self.peek(-2), "link", "into"):
            self._soil(span, before.id)  # "peat 5 L"
            return
        of_a_mix = type(self.peek(-2)) is Share and not any(p.has_size or p.noun for p in draft.places)  # "10 % castings 50 L"
        if (is_said(before, "castings") and not of_a_mix) or (is_said(before, "link", "is") and is_said(self.peek(-2), "castings")):
            self._have(span)
            return
        if is_said(before, "link", "volume-word") and place is not None and not place.has_size:
            place.volume = span
            return
        if self._rate_corrected(span):
            return
        cues = self._cues()
        self._unsure(span, cues, one)

    def _to_be_given(self, one: Measure) -> bool:
        """ "8 pots and they need 2 cups": what pots are to get is not what they hold."""
        noun = next((p for p in reversed(self.phrases[: self.at]) if is_said(p, "container")), None)
        return noun is not None and _GIVEN.search(self.draft.text[noun.end : one.start]) is not None

    def _rate_corrected(self, span: Span) -> bool:
        """ "2 cups each, no wait, half a cup": an amount in place of the one that each was to get."""
        place = self.place
        if not self.correcting or place is None or place.rate is None or place.rate_per is not None or not alike(place.rate, span):
            return False
        self._withdraw(place.rate)
        place.rate, self.correcting = span, False
        return True

    def _said_of_each(self) -> bool:
        """ "each of my 9 roses gets 2 litres of castings": what each gets, since each was spoken of."""
        place = self.place
        return place is not None and place.kind in ONE_EACH and place.each is True and place.rate is None and not self._on_hand_before()

    def _tea_for_each(self, *, tea: bool) -> bool:
        """ "250 ml of tea each", "a litre of tea per rose", "each of 20 peppers gets a cup of tea": what each gets, not all there is."""
        at = self.at + 1
        while is_said(self._at(at), "link", "of", "water") or is_said(self._at(at), "way", "tea") or is_said(self._at(at), "hint"):
            at += 1
        unit_next = type(self._at(at + 1)) is Said and self._at(at + 1).kind in ("unit", "unclear-unit")  # type: ignore[union-attr]
        if is_said(self._at(at), "link", "each") or is_said(self._at(at), "per"):
            return not unit_next
        if is_said(self._at(at), "link", "for", "on") and is_said(self._at(at + 1), "link", "each"):
            return True
        place = self.place
        return tea and (is_said(self.peek(-1), "link", "each") or (place is not None and place.kind in ONE_EACH and place.each is True and place.rate is None))

    def _plants_asked_later(self) -> bool:
        """ "I have 6 gallons of tea. How many plants?": the tea is at hand."""
        for at in range(self.at, len(self.phrases) - 1):
            if is_said(self.phrases[at], "ask", "how-many"):
                return any(is_said(p, "plant") or is_said(p, "container") or is_said(p, "hole") for p in self.phrases[at + 1 : at + 3])
        return False

    def _reach_asked(self) -> bool:
        """ "how far will 20 litres of tea go", "5 gal of tea for how many sq ft": the tea is at hand, and an area is asked."""
        draft = self.draft
        if draft.asked == "area" or (draft.asked == "by-unit" and draft.asked_unit.startswith(("square", "acre", "hectare"))):
            return True
        later = self.phrases[self.at + 1 :]
        told = any((type(one := single(p)) is Measure and dimension(one) == "area") or (type(p) is Amount and len(p.dims) > 1) for p in self.phrases)
        if any(is_said(p, "ask", "how-far") for p in later) or (not told and "how-much" in draft.asks and any(is_said(p, "ask", "cover") for p in later)):
            return True
        return any(
            is_said(p, "ask", "how-many") and type(unit) is Said and unit.kind == "unit" and unit.id.startswith(("square", "acre", "hectare"))
            for p, unit in zip(later, later[1:], strict=False)
        )

    def _weigh_pair(self, one: Measure) -> bool:
        """ "a 5 gallon bucket of castings weighs 27 lb", "a cubic foot weighs 35 pounds"."""
        at = self.at + 1
        while at < len(self.phrases) and at <= self.at + 5:
            phrase = self.phrases[at]
            if is_said(phrase, "ask", "how-heavy") or is_said(phrase, "link", "is", "density-word"):
                other_at = at + 1
                while other_at < len(self.phrases) and is_said(self.phrases[other_at], "about"):
                    other_at += 1
                other = single(self.phrases[other_at]) if other_at < len(self.phrases) else None
                if type(other) is Measure and dimension(other) == "weight" and other.per is None:
                    self.draft.weighed = (self._span(other), self._span(one))
                    self.at = other_at + 1
                    if self.place is not None and self.place.kind == "container" and self.place.is_empty and self.place.count is None:
                        self.draft.places.remove(self.place)  # "a bucket of 10 litres weighs 6 kg": only what was weighed
                        self.place = None
                    return True
                return False
            if type(phrase) is Said and phrase.kind in ("container", "pack", "castings", "link", "hint", "form", "about", "mix", "loose-measure"):
                at += 1
                continue
            return False
        return False

    def _container_volume(self, span: Span) -> None:
        place = self._open_for_size()
        place.volume = span

    def _ground_volume(self, span: Span) -> None:
        place = self._open_for_size()
        place.volume = span

    def _mix_volume(self, span: Span, noun: Said) -> None:
        place = self.place
        if place is not None and place.kind in ("mix", "seed-mix") and place.volume is None:
            place.volume = span
            return
        if place is not None and self._mix_in_all(place, span):
            while not is_said(self.peek(), "mix") and not is_said(self.peek(), "seed-mix"):
                self.at += 1
            self.at += 2
            return
        if place is None or place.noun or place.has_size:
            place = self._new_place()
        place.volume = span
        place.noun, place.kind, place.printed = noun.id, noun.kind, noun.text.lower()
        if self.count is not None:
            self._set_count(place)
        # the noun is used up
        while not is_said(self.peek(), "mix") and not is_said(self.peek(), "seed-mix"):
            self.at += 1
        self.at += 2

    def _mix_in_all(self, place: PlaceDraft, span: Span) -> bool:
        """ "20 pots of 2 L, 40 litres of mix in all": what those pots hold, and nothing beside them."""
        held = place.volume
        if place.kind == "container" and place.cells and held is None and self.tie != "and" and place.rate is None:
            self.draft.question = self.draft.question or ("two-values", "is that mix for each cell, for each tray, or for all of them?")
            return True
        if place.kind != "container" or held is None or self.tie == "and" or place.rate is not None:
            return False
        if held.unit in LIQUID or span.unit in LIQUID:
            whole = held.low * (place.count or 1) if held.unit == span.unit else 0.0
            agrees = abs(whole - span.low) <= 0.05 * span.low
        else:
            agrees = abs(held.base[0] * (place.count or 1) - span.base[0]) <= 0.05 * span.base[0]
        said = f"{span.low:g} {span.unit.replace('_', ' ')}{'s' if span.low != 1 else ''}"
        if agrees:
            self._supersede(span)
            self.draft.flags.append(("mix-in-all", f"the {said} of mix are what the {place.printed} hold"))
        elif self.draft.question is None:
            self.draft.question = ("two-values", f"are the {said} of mix for those {place.printed}, or for something beside them?")
        return True

    def _have(self, span: Span) -> None:
        draft = self.draft
        if draft.have is not None and draft.have != span and not self.correcting and self.tie != "and":
            draft.question = ("two-values", f"{draft.have.low:g} {draft.have.unit.replace('_', ' ')} and another amount; which castings are at hand?")
        if "altogether-next" in draft.hints and self.place is not None and self.place.kind in ONE_EACH and self.place.rate is None:
            self.place.rate, self.place.rate_whole = span, True  # "12 plants share 2 gallons of castings"
            return
        if draft.have is None or self.correcting:
            draft.have = span
        elif draft.have != span:
            draft.more_have.append(span)

    def _each_beside(self) -> bool:
        """Whether "each" (or a per) stands right after the measure, or "each" right before."""
        at = self.at + 1
        while at < len(self.phrases) and (
            is_said(self.phrases[at], "castings") or is_said(self.phrases[at], "link", "of", "for", "into", "on")
            or is_said(self.phrases[at], "hint") or is_said(self.phrases[at], "way") or is_said(self.phrases[at], "about")
        ):
            at += 1
        if at < len(self.phrases) and is_said(self.phrases[at], "link", "each"):
            return True
        if self._each_around():
            return True
        before = self.peek(-1)
        return is_said(before, "link", "each") or (is_said(before, "link", "at", "of") and is_said(self.peek(-2), "link", "each"))

    def _each_around(self) -> bool:
        """A way that says "each" itself: "around each", "in each hole". """
        at = self.at + 1
        while at < len(self.phrases) and (
            is_said(self.phrases[at], "link", "of", "on", "into", "with") or is_said(self.phrases[at], "castings", "castings")
            or is_said(self.phrases[at], "about")
        ):  # fmt: skip
            at += 1
        following = self.phrases[at] if at < len(self.phrases) else None
        if type(following) is Said and following.kind == "way":
            low = following.text.lower()
            return "each" in low or "every" in low or low in ("per hole", "a hole", "in the hole", "in the planting hole")
        return False

    def _rate_here(self, span: Span) -> None:
        place = self.place
        if not self._corrects(span) and self.correcting and place is not None:
            self._withdraw(place.rate)  # "2 cups each, I mean 1 cup each"
        named = self._place_after_each()
        if named is not None:
            named.rate, self.place = span, named
            return
        if place is None or (place.rate is not None and not self.correcting) or (
            place.kind == "ground" and place.has_size and place.count is None and not place.crop
        ) or self._each_of_others(place):  # fmt: skip
            place = self._new_place()
        place.rate = span
        self.correcting = False

    def _each_of_others(self, place: PlaceDraft) -> bool:
        """ "200 litres of mix, and 2 cups each for 10 tomatoes": of a mix there is no each, and 10 tomatoes are no part of 12 pots."""
        if place.kind in ("mix", "seed-mix"):
            return True
        if place.kind != "container" or not place.has_size or place.share is None:
            return False
        at = self.at + 1
        while is_said(self._at(at), "link", "for", "of", "on", "each") or is_said(self._at(at), "castings"):
            at += 1
        number, noun = single(self._at(at)), self._at(at + 1)
        return type(number) is Number and type(noun) is Said and noun.kind in ONE_EACH and number.low != place.count

    def _place_after_each(self) -> PlaceDraft | None:
        """The place that "2 cups for each tomato" speaks of, where several kinds of plant were counted before."""
        at = self.at + 1
        while is_said(self._at(at), "link", "for", "of", "on", "each") or is_said(self._at(at), "castings"):
            at += 1
        noun = self._at(at)
        if at == self.at + 1 or type(noun) is not Said or noun.kind != "plant" or not is_said(self._at(at - 1), "link", "each"):
            return None
        places = [p for p in self.draft.places if p.kind == "plant" and p.noun == noun.id and p.count is not None and p.rate is None]
        if len(places) != 1 or len(self.draft.places) < 2:
            return None
        self.at = at + 1
        return places[0]

    def _size_comes_after(self, one: Measure, where: int) -> bool:
        """ "need 6 cf. bags 30 lb": a full stop before the bags, and their own size behind them."""
        size = single(self._at(where + 2 if is_said(self._at(where + 1), "link", "is") else where + 1))
        apart = "." in self.draft.text[one.end : self.phrases[where].start]
        return apart and type(size) is Measure and size.per is None and dimension(size) in ("volume", "weight")

    def _weight(self, one: Measure) -> None:
        draft = self.draft
        span = self._span(one)
        following = self.peek()
        skip, where = self.ahead(("hint", "form", "about"))
        if is_said(skip, "pack") and where <= self.at + 2 and not self._size_comes_after(one, where):
            self._pack_size(span, skip)  # type: ignore[arg-type]
            return
        if self._size_of_pack(span) or self._size_of_each_pack(span):
            return
        if is_said(following, "castings") and is_said(self.peek(2), "pack"):
            self._pack_size(span, self.peek(2))  # type: ignore[arg-type]
            return
        if self._weighed_then_held(span):
            return
        if is_said(following, "link", "of") and is_said(self.peek(2), "plant"):
            draft.noted.append((self.text_of(one), "a weight of what is grown"))
            return
        if self._each_beside():
            self._rate_here(span)
            return
        after = self.peek(2) if is_said(following, "link", "of") else following
        lead = self.peek(-2) if is_said(self.peek(-1), "link", "is") or is_said(self.peek(-1), "about") else self.peek(-1)
        if is_said(lead, "component") and (following is None or is_said(following, "stop")):
            after = lead  # "topsoil 5 tons"
        if is_said(after, "component") and not is_said(after, "castings"):
            draft.noted.append((self.text_of(one), "a weight of something else"))
            return
        if is_said(after, "castings") and self._said_of_each():
            self._rate_here(span)
            return
        if is_said(after, "castings"):
            self._have(span)
            return
        if not self._rate_corrected(span):
            self._unsure(span, self._cues(), one)

    def _weighed_then_held(self, span: Span) -> bool:
        """ "my bucket of castings weighs 22 lb and holds 4 gallons": one measure of the same castings after the other."""
        at = self.at + 1
        while is_said(self._at(at), "link", "and") or is_said(self._at(at), "stop", "comma"):
            at += 1
        held = single(self._at(at + 1)) if is_said(self._at(at), "link", "volume-word") else None
        lead = self.peek(-2) if is_said(self.peek(-1), "about") else self.peek(-1)
        if not is_said(lead, "ask", "how-heavy") or self.draft.weighed is not None or type(held) is not Measure or dimension(held) != "volume":
            return False
        self.draft.weighed = (span, self._span(held))
        self.draft.asks, self.draft.asked = [a for a in self.draft.asks if a != "how-heavy"], ""
        if self.place is not None and self.place.kind == "container" and self.place.is_empty and self.place.count is None:
            self.draft.places.remove(self.place)
            self.place = None
        self.at = at + 2
        return True

    def _rate(self, one: Measure) -> None:
        draft = self.draft
        per = one.per
        span = Span(min(one.low, one.high), max(one.low, one.high), one.unit)
        kind = dimension(one)
        if type(per) is Measure and per.low <= 0:
            self._leave(one)  # so much for nothing
            return
        if type(per) is Measure:
            per_kind = dimension(per)
            if kind == "weight" and per_kind == "length or volume" and not (self.place is not None and self.place.length):
                per, per_kind = per._replace(unit="cubic_yard"), "volume"  # "1000 lb a yard"
            per_span = Span(per.low, per.high, per.unit)
            if kind == "weight" and per_kind == "volume":
                if self._weighs_something_else():
                    return
                strong = any(type(p) is Ratio for p in self.phrases) or any(is_said(p, "link", "density-word") for p in self._clause())
                brewed = any(is_said(p, "way", "tea") or is_said(p, "link", "water") or is_said(p, "hint", "spray") for p in self.phrases)
                if brewed and not strong and per.unit not in ("cubic_foot", "cubic_yard", "cubic_metre"):
                    draft.ratio_spans = (span, per_span)
                    return
                draft.density = Span(span.low / per.low, span.high / per.low, f"{span.unit} / {per.unit}")
                return
            if kind in ("volume", "weight") and per_kind in ("area", "length"):
                place = self.place if self.place is not None else self._new_place()
                place.rate, place.rate_per = span, per_span
                return
            if kind == "volume" and per_kind == "volume":
                self._volume_per_volume(span, per_span)
                return
            if kind == "length or volume" and per_kind == "area":
                place = self.place if self.place is not None else self._new_place()
                place.rate, place.rate_per = span._replace(unit="cubic_yard"), per_span
                return
            if kind == "length" and per_kind == "length":
                self._leave(one)
                return
            self._leave(one)
            return
        if type(per) is Said:
            if per.kind == "pack":
                draft.pack = span
                draft.pack_noun = per.id
                return
            following = self.peek()
            if per.kind == "plant" and is_said(following, "container") and isinstance(following, Said):
                self.pending_noun_hints.add("crop:" + per.id)
                per = following  # "quarter cup per seedling pot"
                self.phrases.pop(self.at + 1)
            if per.kind in ("plant", "hole", "container", "ground"):
                if kind in ("volume", "weight"):
                    self._rate_to_place(span, per)
                    return
                if kind == "length":
                    self._length(Amount((one,), one.start, one.end), one._replace(per=None))
                    return
        self._leave(one)

    def _weighs_something_else(self) -> bool:
        clause = self._clause()
        return any(is_said(p, "component") for p in clause) and not any(is_said(p, "castings") for p in clause)

    def _volume_per_volume(self, span: Span, per: Span) -> None:
        """ "1 cup per gallon": of water it is a tea's strength, of mix a share."""
        draft = self.draft
        following, where = self.ahead(("hint",))
        after = self.phrases[where + 1] if is_said(following, "link", "of") and where + 1 < len(self.phrases) else following
        if is_said(after, "link", "water") or draft.way == "tea" or any(is_said(p, "way", "tea") for p in self.phrases):
            draft.ratio_spans = (span, per)
            return
        draft.per_volume = (span, per)

    def _rate_to_place(self, span: Span, per: Said) -> None:
        place = self.place
        known = next((p for p in self.draft.places if p.noun == per.id), None)
        if place is None or (place.noun and place.noun != per.id and per.id != "plant" and place.kind != per.kind):
            place = known or self._new_place()
        elif known is not None and place.noun != per.id and known.rate is None and known.count is not None and place.count is not None:
            place = known  # "6 roses and 8 tomatoes, 2 cups per rose"
        if not place.noun:
            place.noun, place.kind, place.printed = per.id, per.kind, per.text.lower()
        if place.rate is not None and not self.correcting:
            place = self._new_place()
            place.noun, place.kind, place.printed = per.id, per.kind, per.text.lower()
        if per.kind == "plant" and not place.crop:
            place.crop = per.id
        if per.kind in ONE_EACH and place.kind == "ground":
            place.hints.add("per-plant")
        place.rate = span
        self.place = place
