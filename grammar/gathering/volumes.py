"""Areas and volumes: a place, a container, a mix, soil, water, castings at hand, or what each gets."""

from __future__ import annotations

import re
from typing import NamedTuple

from ..draft import PlaceDraft
from ..later import later
from ..phrases import Amount, Measure, Phrase, Said, Share
from ..quantities import Span
from ..said import dimension, is_said, single
from .packs import DOSES
from .state import LIQUID, ONE_EACH
from .weights import Weights

#: Before an amount that something is to get.
_GIVEN = later(r"\b(?:needs?|gets?|wants?|give|receives?|add|deserves?)\s+(?:\w+\s+)?$", re.IGNORECASE)
#: No pot is so small: what each of some pots gets.
_SPOONS = frozenset({"tablespoon", "teaspoon"})
#: Castings that are put to what is there.
_ADDED_TO = later(r"\b(?:add|adding|added)\b(?!\s+(?:up|together))", re.IGNORECASE)
#: What only a length can be: "2 litres deep" is none.
_OF_A_LENGTH = frozenset({"depth", "width", "length", "height", "diameter", "radius", "apart"})


class Beside(NamedTuple):
    """What stands beside a volume, by which it is told what that is of."""

    before: Phrase | None
    following: Phrase | None
    #: what follows, or stands behind an "of"
    goods: Phrase | None
    #: the first that describes nothing, and where it stands: "litre" before "raised beds"
    noun: Phrase | None
    where: int


class Volumes(Weights):
    """Areas and volumes: a place, a container, a mix, soil, water, castings at hand, or what each gets."""

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
        """An amount by volume: what packs or vessels hold, water, castings at hand, soil, a mix, a place's own, or what each gets."""
        if one.role in _OF_A_LENGTH:
            self.draft.question = self.draft.question or (
                "unit", f"“{self.text_of(one)}” is no length; how much is that in inches, feet, cm or m?"
            )  # fmt: skip
            return
        span, beside = self._span(one), self._beside()
        known = (
            self._of_packs(one, span, beside) or self._of_a_brew(span, beside) or self._of_a_vessel(one, span, beside)
            or self._of_castings(span, beside) or self._of_soil(one, span, beside) or self._of_a_mix(span, beside)
            or self._of_the_place(one, span, beside) or self._of_what_is_before(span, beside) or self._rate_corrected(span)
        )  # fmt: skip
        if not known:
            self._unsure(span, self._cues(), one)

    def _beside(self) -> Beside:
        """What stands beside the volume that is being read."""
        following = self.peek()
        noun, where = self.ahead(("hint", "form", "about"))
        if is_said(noun, "plant") and is_said(self._at(where + 1), "container"):
            noun, where = self._at(where + 1), self.at + 1  # "6 litre houseplant pots"
        if where == self.at + 1 and is_said(noun, "unknown") and (is_said(self._at(where + 1), "container") or is_said(self._at(where + 1), "pack")):
            noun = self._at(where + 1)  # "7 gallon … pots", of a make or a stuff that is not known
        goods = self.peek(2) if is_said(following, "link", "of") else following
        if is_said(following, "unknown") and is_said(self.peek(2), "component"):
            goods = self.peek(2)  # "2 cu ft fluffed peat"
        return Beside(self.peek(-1), following, goods, noun, where)

    def _of_packs(self, one: Measure, span: Span, beside: Beside) -> bool:
        """How big a pack is, or what so much weighs."""
        apart = is_said(beside.noun, "pack") and self._size_comes_after(one, beside.where)
        if (not apart and self._weigh_pair(one)) or self._size_of_pack(span) or self._size_of_each_pack(span):
            return True
        pack = beside.noun if is_said(beside.noun, "pack") and beside.where <= self.at + 2 and not apart else None
        if pack is None and is_said(beside.following, "castings") and is_said(self.peek(2), "pack"):
            pack = self.peek(2)
        if type(pack) is not Said:
            return False
        self._pack_size(span, pack)
        return True

    def _of_a_brew(self, span: Span, beside: Beside) -> bool:
        """Water, or a tea: the water of one, so much of it for each, or what there is of it."""
        draft = self.draft
        if is_said(beside.noun, "hint", "spray") or is_said(beside.following, "hint", "spray") or (
            is_said(beside.before, "hint", "spray") and draft.water is None
        ):  # fmt: skip
            draft.water = self._in_so_many_cans(span)
            return True
        brewed = is_said(beside.goods, "way", "tea")
        if not brewed and not is_said(beside.goods, "link", "water"):
            return False
        if (brewed and (draft.asked in ("plants", "containers") or self._reach_asked())) or self._plants_asked_later():
            draft.have, draft.have_is_tea = span, True
        elif self._tea_for_each(tea=brewed):
            self._rate_here(span)
        else:
            draft.water = span
            draft.hints.add("tea-volume" if brewed else "water-volume")
        return True

    def _in_so_many_cans(self, span: Span) -> Span:
        """ "three 2 gallon watering cans" of a tea: what they hold together."""
        count, draft = self.count, self.draft
        one = single(self.phrases[self.at])
        if count is None or count.low != count.high or count.low < 1 or type(one) is not Measure:
            return span
        self.count = None
        said = {self.text_of(count), self.text_of(one)}
        draft.figures = [(value, text) for value, text in draft.figures if text not in said]
        draft.flags.append(("so-many-times", f"{self.text_of(count)} of {self.text_of(one)}: {span.low * count.low:g} in all"))
        draft.vessel = span
        return Span(span.low * count.low, span.high * count.low, span.unit)

    def _of_a_vessel(self, one: Measure, span: Span, beside: Beside) -> bool:
        """How much a container holds; of one with castings in it, castings at hand."""
        draft, where = self.draft, beside.where
        if is_said(beside.noun, "container", "tub", "bucket", "tote") and not draft.places and (
            is_said(self._at(where + 1), "castings") or (is_said(self._at(where + 1), "link", "of") and is_said(self._at(where + 2), "castings"))
            or is_said(self._at(where + 2), "link", "density-word")
        ):  # fmt: skip
            if self.count is not None:
                # "12 five gallon buckets of castings"
                draft.flags.append(("so-many-times", f"{self.text_of(self.count)} of {self.text_of(one)}: {span.low * self.count.low:g} in all"))
                said = {self.text_of(self.count), self.text_of(one)}
                draft.figures = [(value, text) for value, text in draft.figures if text not in said]
                span = Span(span.low * self.count.low, span.high * self.count.high, span.unit)
                self.count = None
            self._have(span)  # "a 55 gal drum of castings"
            self.at = where + 1
            return True
        if is_said(beside.noun, "container") and where <= self.at + 3:
            self._container_volume(span)
            return True
        return False

    def _of_castings(self, span: Span, beside: Beside) -> bool:
        """Castings: what each gets, or what there is of them."""
        place = self.place
        if place is not None and place.kind == "container" and place.rate is None and place.count and span.unit in DOSES and (
            is_said(beside.following, "way", "planting-hole", "side-dress") or (self._each_beside() and self._each_around())
        ):  # fmt: skip
            place.rate, place.each = span, True  # "96 plugs, a tablespoon in the hole for each"
            return True
        if not is_said(beside.goods, "castings"):
            return False
        around = place is not None and place.kind in ONE_EACH and place.rate is None and self._each_around()
        if self._each_beside() or self._said_of_each() or around:
            self._rate_here(span)
        else:
            self._have(span)
        return True

    def _of_soil(self, one: Measure, span: Span, beside: Beside) -> bool:
        """Soil or another part of a mix: what a place holds, or so much of it."""
        place, goods = self.place, beside.goods
        if is_said(goods, "component") and isinstance(goods, Said):
            fills = "to fill" in self.draft.text.lower()[goods.end : goods.end + 9]
            holds = (is_said(beside.before, "link", "volume-word") or fills) and place is not None and place.kind == "ground"
            if place is not None and (place.kind in ("container", "hole") or holds) and not place.has_size:
                place.volume, place.each = span, True
                return True
            mixes = self.peek(3)
            if is_said(mixes, "hint", "mixed-in") and isinstance(mixes, Said) and mixes.text.lower() == "mix with" and type(self.peek(4)) is Share:
                # "65 litres of compost mix with 12 %": a compost mix, or compost to be mixed
                self.draft.question = self.draft.question or (
                    "share-of", f"is “{self.text_of(one)}” the {goods.text.lower()} alone, or the finished mix?"
                )  # fmt: skip
            self._soil(span, goods.id)
            return True
        if is_said(beside.following, "link", "of") and is_said(goods, "hint", "existing-soil") and isinstance(goods, Said) and (
            goods.text.lower().split()[-1] in ("soil", "dirt")
        ):  # fmt: skip
            self._soil(span, "soil")  # "45 gallons of existing soil"
            return True
        return False

    def _of_a_mix(self, span: Span, beside: Beside) -> bool:
        """A mix, be it in vessels that are known, or a place that is filled with it."""
        place, goods = self.place, beside.goods
        if is_said(goods, "mix") and place is not None and place.kind == "container" and not place.has_size and place.count is not None and (
            is_said(self.peek(3), "link", "each") or (is_said(beside.before, "link", "volume-word") and is_said(self.peek(-2), "link", "each"))
        ):  # fmt: skip
            place.volume, place.each = span, True  # "4 pots with 20 gallons of mix each", "each holds 25 gallons of mix"
        elif is_said(goods, "mix") and _ADDED_TO.search(self.draft.text) and (
            is_said(beside.before, "link", "on-hand") or is_said(self.peek(3 if is_said(beside.following, "link", "of") else 2), "link", "on-hand")
        ):  # fmt: skip
            self._soil(span, "soil")  # "60 quarts of potting mix I already have, add castings": it is there, and they come on top
            self.draft.hints.add("existing-soil")
        elif isinstance(goods, Said) and goods.kind in ("mix", "seed-mix"):
            self._mix_volume(span, goods)
        elif is_said(goods, "ground"):
            self._ground_volume(span)
        else:
            return False
        return True

    def _of_the_place(self, one: Measure, span: Span, beside: Beside) -> bool:
        """What the place spoken of holds, or what each gets there."""
        place, each = self.place, self._each_beside()
        of_it = is_said(beside.before, "link", "of") and (is_said(self.peek(-2), "ground") or is_said(self.peek(-2), "hole"))
        if of_it and place is not None and not place.volume:
            place.volume = span
            return True
        brewed = self.draft.way == "tea" or any(is_said(p, "way", "tea") for p in self.phrases)
        if each and place is not None and place.kind in ("container",) and not place.has_size and not brewed and not (
            span.unit in _SPOONS and place.noun == "pot"
        ):  # fmt: skip
            place.volume = span
            place.each = True
            place.hints.add("volume-by-each")
            return True
        if each and (place is None or place.kind in ONE_EACH or place.has_size or place.kind == "container" or not place.noun or brewed):
            self._rate_here(span)
            return True
        if place is not None and place.kind == "container" and not place.has_size and not self._on_hand_before() and not self._to_be_given(one):
            place.volume = span
            return True
        return False

    def _of_what_is_before(self, span: Span, beside: Beside) -> bool:
        """What was named before it: "the soil is 60 L", "castings 50 L", "a bed that holds 200 litres"."""
        place, before = self.place, beside.before
        if is_said(before, "link", "is") and is_said(named := self.peek(-2), "component") and isinstance(named, Said):
            self._soil(span, named.id)  # "the soil is 60 L"
            return True
        if is_said(before, "component") and isinstance(before, Said) and not is_said(self.peek(-2), "link", "into"):
            self._soil(span, before.id)  # "peat 5 L"
            return True
        of_a_mix = type(self.peek(-2)) is Share and not any(p.has_size or p.noun for p in self.draft.places)  # "10 % castings 50 L"
        if (is_said(before, "castings") and not of_a_mix) or (is_said(before, "link", "is") and is_said(self.peek(-2), "castings")):
            self._have(span)
            return True
        if is_said(before, "link", "volume-word") and place is not None and not place.has_size:
            place.volume = span
            return True
        return False

    def _to_be_given(self, one: Measure) -> bool:
        """ "8 pots and they need 2 cups": what pots are to get is not what they hold."""
        noun = next((p for p in reversed(self.phrases[: self.at]) if is_said(p, "container")), None)
        return noun is not None and _GIVEN.search(self.draft.text[noun.end : one.start]) is not None

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
