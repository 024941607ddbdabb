"""What each plant or pot is to get, and how that is said: "each" beside an amount, "around each", "so much per rose"."""

from __future__ import annotations

from ..draft import PlaceDraft
from ..phrases import Amount, Measure, Number, Ratio, Said
from ..quantities import Span
from ..said import dimension, is_said, single
from .lengths import Lengths
from .state import ONE_EACH, alike


class Each(Lengths):
    """What each plant or pot is to get, and how that is said: "each" beside an amount, "around each", "so much per rose"."""

    def _rate_here(self, span: Span) -> None:
        """So much for each of what is spoken of."""
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

    def _each_beside(self) -> bool:
        """Whether "each" (or a per) stands right after the measure, or "each" right before."""
        at = self.at + 1
        while at < len(self.phrases) and (
            is_said(self.phrases[at], "castings") or is_said(self.phrases[at], "link", "of", "for", "into", "on")
            or is_said(self.phrases[at], "hint") or is_said(self.phrases[at], "way") or is_said(self.phrases[at], "about")
            or is_said(self.phrases[at], "role", "bottom-diameter", "top-diameter", "base")
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

    def _rate(self, one: Measure) -> None:
        """So much to so much: a density, the strength of a tea, a share, or what so much ground or each plant gets."""
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
        """Whether what so much weighs is said of something in a mix, and not of castings."""
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
        """So much per plant, pot or bed: of the place that has that noun, else of the one spoken of, else of a new one."""
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
