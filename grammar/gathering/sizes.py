"""Sizes of places: sides, squares, portions, what is left out, classes and cells."""

from __future__ import annotations

import re

from ..draft import PlaceDraft
from ..later import later
from ..naming import told_before
from ..phrases import Amount, CellTray, Measure, Number, NurseryClass, Said
from ..quantities import Span
from ..said import dimension, is_said, is_sides, single
from ..thickness import THIN
from .pointing_back import OF_IT_OR_THEM
from .state import LONG_GROUND, State

_WORKED_ON = later(r"\b(?:do|does|did|doing|cover|covering|treat|treating|dress|dressing)(?: only| just| about)?\s*$", re.IGNORECASE)
_JUST = later(r"\b(?:only|just|maybe|but)\s*$", re.IGNORECASE)
_SPREAD_ON = later(r"\b(?:on|onto|over|across|to|for)(?: only| just| about| roughly| maybe)*\s*$", re.IGNORECASE)

#: A trench is no wider and no deeper than this, in metres.
_NARROW = 1.5

#: A place has no side shorter than this, and is not as deep as that, in metres, where a thickness may be told first.
_SHORTEST_SIDE = 0.3
_TOO_DEEP = 0.9

#: From so many metres on "30 metres square" is as likely meant as 30 square metres: few gardens are so large.
_LARGE_SQUARE = 12.0


class Sizes(State):
    """Sizes of places: sides, squares, portions, what is left out, classes and cells."""

    def _fill_size(self, place: PlaceDraft, phrase: Amount) -> None:
        """The dimensions of a size; a number without a unit takes the next one's, or else the one before's."""
        dims = phrase.dims
        units: list[str] = []
        said = [d.unit if type(d) is Measure else "" for d in dims]
        for i in range(len(dims)):
            later = next((u for u in said[i:] if u), "")
            earlier = next((u for u in reversed(said[: i + 1]) if u), "")
            last_is_depth = len(dims) >= 2 and getattr(dims[-1], "role", "") in ("depth", "thick", "height")
            if not said[i] and last_is_depth and i < len(dims) - 1 and not any(said[:-1]):
                units.append("")  # "3 x 8 x 10 in deep": the inches are the depth's
            elif not said[i] and len(dims) == 3 and not any(said[:-1]) and said[-1] in ("inch", "centimetre") and (
                place.kind != "container" and not self._container_ahead() and self._too_small(dims, said[-1])
            ):  # fmt: skip
                units.append("")
            else:
                units.append(later or earlier)
        spans = []
        for dim, name in zip(dims, units, strict=True):
            low, high = dim.low, dim.high  # type: ignore[union-attr]
            spans.append((Span(min(low, high), max(low, high), name), getattr(dim, "role", "")))
        place.size_unit_said = all(units)
        if place.kind != "container" and self._thickness_first([span for span, role in spans if not role]):
            spans = [*spans[1:], spans[0]]  # "1/2 in x 10 ft x 3 ft": the sides are the two others
            self.draft.flags.append(("sides", f"“{self.text_of(phrase)}” is how thick or deep it is, and then its sides"))
        if len(spans) == 2 and {role for _, role in spans} == {"depth", "height"}:
            # "30 cm d x 28 cm h": what is as high as that is not as deep as well
            spans = [(span, "diameter" if role == "depth" else role) for span, role in spans]
        if len(spans) == 2 and spans[0][1] in ("", "width") and spans[1][1] in ("depth", "height") and self._is_round(place):
            spans[0] = (spans[0][0], "diameter")  # "round pots 12 in wide x 10 in tall", "a round bed 6 ft by 10 in deep"
        roles = [role for _, role in spans]
        main: list[Span] = []
        for span, role in spans:
            if role in ("depth", "height", "thick") and (len(spans) == 3 or span is spans[-1][0]) and len(spans) > 2:
                if role == "height":
                    place.height = span
                elif role == "thick":
                    place.layer.append(span)
                else:
                    place.depth = span
            elif role in ("apart",):
                place.spacing = span
            elif role == "depth" and len(spans) == 2 and "diameter" in roles:
                place.depth = span
            elif role in ("depth", "thick") and len(spans) == 2:
                # "4 by 8 inches deep" may be one side and a depth, or two sides without their depth
                place.depth = span
                self.draft.question = ("size", f"“{self.text_of(phrase)}” may be one side and a depth; what are both sides, and the depth?")
            elif role == "height" and len(spans) == 2 and "diameter" in roles:
                place.height = span
            elif role == "diameter" and len(spans) >= 2 and len(set(roles)) > 1:
                place.diameter = span
            else:
                if role == "diameter":
                    place.form = place.form or "oval"
                main.append(span)
        if place.diameter is not None and len(main) == 1:
            place.height = place.height or main[0]
            main = []
        place.size = tuple(main)

    @staticmethod
    def _thickness_first(spans: list[Span]) -> bool:
        """Whether the first of three is no side: far too thin for one, or less than half of a last that no bed is deep."""
        if len(spans) != 3 or not all(span.unit for span in spans):
            return False
        first, second, last = (span.base[1] for span in spans)
        return min(second, last) >= _SHORTEST_SIDE and (first <= THIN or (last >= _TOO_DEEP and first * 2 <= last and spans[0].unit != spans[2].unit))

    def _is_round(self, place: PlaceDraft) -> bool:
        """Whether one width tells all of a place: it is called round, or is a pot or a bucket."""
        return "round" in (place.form, self.last_form) or place.noun in ("pot", "bucket")

    @staticmethod
    def _too_small(dims: tuple[Number | Measure | NurseryClass | CellTray, ...], name: str) -> bool:
        """Whether the first two of three dimensions would make a toy in the unit of the last."""
        most = 24 if name == "inch" else 12
        return all(type(d) is Number and d.low <= most for d in dims[:2])

    def _cross_section(self, phrase: Amount) -> bool:
        """ "a 12 m trench, 30 by 30 cm": how wide and how deep it is, where how long it is was said."""
        place = self.place
        if place is None or place.noun not in LONG_GROUND or place.length is None or place.width or place.depth or place.layer or self.count is not None:
            return False
        if len(phrase.dims) != 2 or not is_sides(phrase):
            return False
        shadow = PlaceDraft()
        self._fill_size(shadow, phrase)
        if len(shadow.size) != 2 or not all(side.unit and side.base[1] <= _NARROW for side in shadow.size):
            return False
        place.width, place.depth = shadow.size
        self.draft.flags.append(("cross-section", f"“{self.text_of(phrase)}” is how wide and how deep it is"))
        return True

    def _place_for_size(self, phrase: Amount) -> PlaceDraft:
        place = self.place
        if place is None:
            place = self._new_place()
        elif place.has_size:
            if self.correcting:
                self._clear_size(place)
                self.correcting = False
            elif place.area is not None and place.kind in ("ground", "") and self.count is None and self.tie != "and" and not (
                place.size or place.layer or place.share or place.second_area
            ) and not self._noun_ahead():  # fmt: skip
                place.second_area, place.area = place.area, None  # "a bed of 32 square feet, 4 ft by 8 ft": both are of the one bed
            else:
                place = self._new_place()
        elif place.kind in ("plant", "hole") and (place.rate or place.count) and not self._size_of_hole(place):
            place = self._new_place()
            place.hints.add("around")
        elif place.kind == "plant" and self.tie in ("in", "on") and "asked" not in place.hints:
            self.draft.places.remove(place)  # "tomatoes in a 4x8 ft bed": the bed is what is spoken of
            crop, spacing, place = place.crop, place.spacing, self._new_place()
            place.crop, place.spacing = crop, spacing
        elif (place.noun and self.count is not None and place.count is not None) or (place.kind == "plant" and place.tie != "for" and "asked" in place.hints):
            place = self._new_place()
        if self.count is not None and place.count is None:
            self._set_count(place)
        if self.last_form and not place.form:
            place.form, self.last_form = self.last_form, ""
        place.described |= told_before(self.draft.text, phrase.start)
        return place

    def _noun_ahead(self) -> bool:
        following, _ = self.ahead()
        return type(following) is Said and following.kind in ("ground", "container", "plant")

    def _exclude(self, amount: Amount) -> None:
        corner = PlaceDraft()
        one = single(amount)
        if type(one) is Measure and dimension(one) == "area":
            corner.area = self._span(one)
        elif type(one) is Measure and one.role in ("diameter", "radius"):
            setattr(corner, one.role, self._span(one))
        else:
            self._fill_size(corner, amount)
        target = self.place if self.place is not None and self.place.has_size else next((p for p in self.draft.places if p.has_size), None)
        self.excluding = False
        if target is not None:
            target.minus.append(corner)
        else:
            self.draft.minus.append(corner)

    def _excluded_size(self) -> None:
        """The size of what is left out: "except for the path (1 ft by 10 ft)"."""
        following = self.peek()
        if type(following) is Amount and (self._is_size(following) or self._ground_measure(following)):
            self.at += 2
            self._exclude(following)

    def _portion(self, one: Number) -> bool:
        """ "half of a 4 by 12 bed", "two thirds of the lawn". """
        if self._part_of_this(one):
            return True
        following, where = self.ahead(("hint",))
        at = where
        if is_said(following, "link", "of"):
            at += 1
        target = self.phrases[at] if at < len(self.phrases) else None
        if target is None:
            return False
        size = type(target) is Amount and (self._is_size(target) or self._ground_measure(target))
        noun = type(target) is Said and target.kind in ("ground", "container")
        held = single(target)
        if type(held) is Measure and held.per is None and dimension(held) == "volume" and at + 1 < len(self.phrases) and (
            is_said(self.phrases[at + 1], "container")
        ):  # fmt: skip
            size = True  # "half of a 20 gallon tub"
        number = type(single(target)) is Number and is_said(following, "link", "of")
        if not (size or noun or number):
            return False
        beside = self._at(at + 1)
        if noun and at == self.at + 1 and type(beside) is Amount and (self._is_size(beside) or self._ground_measure(beside)) and not (
            self.draft.text[one.start : target.start].lower().rstrip().endswith((" a", " of", " the", " my", " our", " this", " that"))
        ):  # fmt: skip
            said = f"{self.text_of(one)} {self.text_of(target)}"
            self.draft.question = ("portion", f"is {self.text_of(beside)} the whole, or is the {said} {self.text_of(beside)}?")
        if self.place is None or self.place.has_size:
            if self.place is not None and noun and not size and self.place.portion is None and (
                target.id == self.place.noun  # type: ignore[union-attr]
            ):  # fmt: skip
                self.place.portion = one.low
                return True
            self._new_place()
        self._current().portion = one.low
        return True

    def _part_of_this(self, one: Number) -> bool:
        """ "4 by 8 bed, I only want to do half", "just half of it": of the place before, not a share of castings."""
        place = self.place
        if place is None or not place.has_size or place.portion is not None:
            return False
        text, following = self.draft.text, self.peek()
        of_it = OF_IT_OR_THEM.match(text, one.end) is not None
        before = text[: one.start]
        worked_on = _WORKED_ON.search(before) is not None
        if of_it and (after := self._at(self.at + 2)) is not None and not (is_said(after, "stop") or (worked_on and is_said(after, "link", "with"))):
            return False
        if not worked_on and not (of_it and (_JUST.search(before) or _SPREAD_ON.search(before))):
            return False
        if not of_it and not (following is None or is_said(following, "stop")):
            return False
        place.portion = one.low
        if of_it:
            self.at += 2
        return True

    def _nursery(self, one: NurseryClass) -> None:
        place = self.place
        if place is None or place.has_size:
            place = self._new_place()
        if self.count is not None:
            self._set_count(place)
        place.nursery_class = one.number
        if not place.noun:
            place.noun, place.kind, place.printed = "pot", "container", "pots"

    def _cells(self, one: CellTray) -> None:
        place = self.place
        if place is None or place.has_size:
            place = self._new_place()
        if self.count is not None:
            self._set_count(place)
        place.cells = one.cells
        if not place.noun:
            place.noun, place.kind, place.printed = "tray", "container", "trays"

    def _square(self, one: Measure, form: str) -> None:
        """ "a 5 foot square bed", "a 2 foot cube". """
        if form == "square" and one.unit == "metre" and one.low >= _LARGE_SQUARE:
            said = self.text_of(one)
            self.draft.question = ("square", f"“{said} square”: {one.low:g} metres by {one.low:g} metres, or {one.low:g} square metres?")
        place = self._open_for_size()
        span = self._span(one)
        place.size = (span, span)
        place.form = "rectangle"
        if form == "cube":
            place.depth = span
            place.hints.add("cube")
        self.at += 2
