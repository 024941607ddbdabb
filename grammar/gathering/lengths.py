"""Lengths: which is a depth, a layer, a side, a diameter; by their own word, then by their neighbours."""

from __future__ import annotations

import re

from ..draft import PlaceDraft
from ..later import later
from ..phrases import Amount, Measure, Phrase, Said, Share
from ..quantities import Span
from ..said import dimension, is_said, single
from ..thickness import THICK, THIN
from .packs import Packs
from .state import LONG_GROUND, ROUND_CONTAINERS, TREES

#: A length that nobody fills a bed with, in metres: it is a layer.
_PUT = later(r"\b(?:put|putting|fill|filling|pour|pouring)\b", re.IGNORECASE)
#: Head room: nothing is filled in there.
_EMPTY = later(r"\s*(?:(?:will|should|must|to|be|stays?|staying|left|kept|remains?|remaining|completely)\s+){0,3}(?:empty|free|unfilled|clear|bare)\b", re.IGNORECASE)
_LEFT = later(r"\b(?:leav|left|keep|kept)", re.IGNORECASE)
_AT_TOP = later(r"\b(?:at|on|off|from) (?:the )?top\b", re.IGNORECASE)
#: "the top 4 in is empty": there the mix goes.
_IS_EMPTY = later(r"\s*(?:is|are|'s)\s+(?:still |now |all |quite )?(?:empty|free|unfilled)\b", re.IGNORECASE)


#: What a trench is long by, rather than wide or deep, in metres.
_LONG = 1.5


class Lengths(Packs):
    """Lengths: which is a depth, a layer, a side, a diameter; by their own word, then by their neighbours."""

    def _length(self, phrase: Amount, one: Measure) -> None:
        span = self._span(one)
        role = one.role or self._role_beside(one) or self._role_shared()
        place = self.place
        following = self.peek()
        skip, where = self.ahead(("hint",))
        if role == "top-diameter" and self._left_at_top(one):
            self._supersede(span)
            role = "below-rim"
        if self.excluding and role in ("diameter", "radius"):
            self._exclude(Amount((one._replace(role=role),), one.start, one.end))
            return
        if self.excluding and role == "":
            self._leave(one)
            return
        if role == "diameter" and is_said(following, "container", "tray") and following.text.lower() == "flats" and (  # type: ignore[union-attr]
            any(is_said(p, "form", "hexagon", "octagon") for p in self.phrases)
        ):  # fmt: skip
            role = "flats"  # "a hexagon across 6 ft flats": no trays
            self.phrases.pop(self.at + 1)
        if role == "":
            role = self._role_from_neighbours(one, following, skip, where)
        if role == "consumed":
            return
        if role.startswith(("inner-", "outer-")):
            role, span = self._end_of_ring(role, span, one)
        if role in ("side", "per-side") and is_said(following, "role", "height"):
            role = "height"  # "the sides are 18 inches tall"
            self._supersede(span)  # it is only compared with the depth
        if role == "" and place is not None and place.form == "triangle" and place.side is not None and place.second_side is None:
            role = "side"
        if role == "":
            cues = self._cues()
            self._unsure(span, cues, one)
            return
        self._assign_length(role, span, one)

    def _role_beside(self, one: Measure) -> str:
        """A role word that stands before the measure with a small word between: "depth is about 30 cm"."""
        at = self.at - 1
        while at >= 0 and (is_said(self.phrases[at], "about") or is_said(self.phrases[at], "link", "is", "of") or
                           is_said(self.phrases[at], "is")):  # fmt: skip
            at -= 1
        before = self.phrases[at] if at >= 0 else None
        if is_said(before, "role") and isinstance(before, Said):
            return before.id
        return ""

    def _role_shared(self) -> str:
        """The role that a length shares with the one after it: "rings 4 ft and 6 ft across"."""
        at = self.at
        while is_said(self._at(at + 1), "link", "and") or is_said(self._at(at + 1), "stop", "comma"):
            after = single(self._at(at + 2))
            if type(after) is not Measure or dimension(after) != "length":
                return ""
            if after.role:
                return after.role if after.role in ("diameter", "radius") else ""
            at += 2
        return ""

    def _role_from_neighbours(self, one: Measure, following: Phrase | None, skip: Phrase | None, where: int) -> str:
        before = self.peek(-1)
        before2 = self.peek(-2)
        if is_said(before, "about"):
            before, before2 = before2, self.peek(-3)
        named = self.peek(2)
        if is_said(following, "link", "of", "is") and is_said(named, "role") and isinstance(named, Said):
            return named.id  # "10 inches of depth", "6 feet is the radius"
        if self._head_room(one, is_said(before, "link", "top-of")):
            self._supersede(self._span(one))  # it is only taken off the depth
            return "below-rim"
        if is_said(before, "link", "top-of") and (self._to_be_filled() or _IS_EMPTY.match(self.draft.text[one.end :])):
            return "depth"
        into_top = is_said(before, "way", "incorporate") and before.text.lower().endswith(" top")  # type: ignore[union-attr]
        if is_said(before, "link", "top-of") or into_top:
            self.draft.hints.add("existing-soil")
            self.draft.hints.add("top-of")
            return "depth"
        if is_said(before, "link", "of") and is_said(before2, "ground", *LONG_GROUND) and self._span(one).base[0] > _LONG:
            return "length"  # "a trench of twelve metres"
        if is_said(before, "link", "filled-to"):
            return "fill"
        if is_said(following, "castings") or (is_said(following, "link", "of") and is_said(self.peek(2), "castings")):
            return "thick"
        if is_said(before, "hint", "mixed-in") and self._span(one).base[0] >= THICK:
            return "depth"  # "a quarter inch on top, mixed in 6 inches": how deep it is worked in
        material = self.peek(2) if is_said(following, "link", "of") else following
        if is_said(material, "component") and not is_said(material, "component", "soil", "topsoil") and isinstance(material, Said):
            self.draft.question = ("other-material", f"only worm castings are worked out here, not {material.text.lower()}; "
                                   "is it castings that you mean?")  # fmt: skip
        if is_said(following, "link", "of") and is_said(self.peek(2), "component", "soil"):
            if is_said(self.peek(3), "link", "on") and "castings-named" not in self.draft.hints:
                self.draft.question = ("other-material", "only worm castings are worked out here, not soil; is it castings that you mean?")
            return "depth"
        if is_said(following, "form"):
            assert isinstance(following, Said)
            if following.id in ("square", "cube"):
                self._square(one, following.id)
                return "consumed"
            if following.id in ("round", "ring"):
                self._open_for_size().form = "round"
                self.at += 1
                return "diameter"
            if following.id == "triangle":
                return "side"
        if is_said(following, "way", "top-dress"):
            return "thick"
        if is_said(skip, "container") and isinstance(skip, Said) and where == self.at + 1:
            if skip.id in ROUND_CONTAINERS:
                return "diameter"
            if skip.id in ("window-box",):
                return "length"
        if is_said(skip, "ground") and isinstance(skip, Said):
            if skip.id in LONG_GROUND:
                return "length"
            if skip.id in ("bed", "plot", "lawn") and "round" in (self.last_form, self.place.form if self.place else ""):
                return "diameter"
        if is_said(following, "link", "of") and is_said(self.peek(2), "ground", "row", "trench"):
            return "length"
        if is_said(following, "link", "on") and self.draft.way == "incorporate" and any(type(p) is Share for p in self.phrases):
            return "depth"
        if is_said(following, "link", "on") and self.draft.way == "incorporate":
            return "thick" if self._span(one).base[1] <= THIN else ""  # "rake in half an inch over 200 sq ft"
        if is_said(following, "link", "on") or (
            is_said(following, "stop", "comma") and is_said(self.peek(2), "link", "on")
        ):
            return "thick"
        if is_said(before, "link", "from") and is_said(following, "link", "out-to"):
            return "clear-of-trunk"
        to_edge = is_said(before, "link", "out-to") or (is_said(before, "link", "at", "is") and is_said(before2, "link", "out-to"))
        if to_edge and (self.place is None or self.place.clear is not None):
            return "outer"
        if is_said(before, "link", "with") and (self.draft.way == "top-dress"):
            return "thick"
        if self.dated and is_said(following, "link", "now", "again") and self.place is not None and self.place.layer and self._span(one).base[1] <= THIN:
            return "thick"  # "3 mm now and 3 mm in autumn"
        return ""

    def _head_room(self, one: Measure, top: bool) -> bool:
        """ "I'll leave the top 4 in empty", "4 in stay free at the top": no mix goes there."""
        clause = self._clause()
        before, after = self.draft.text[clause[0].start : one.start], self.draft.text[one.end :]
        if not (top or _AT_TOP.search(self.draft.text[one.end : clause[-1].end])) or _IS_EMPTY.match(after):
            return False
        return bool(_EMPTY.match(after) and (top or _LEFT.search(before) or "left" in after))

    def _left_at_top(self, one: Measure) -> bool:
        """ "leave 2 inches at the top": head room, and no width of the mouth."""
        clause = self._clause()
        return bool(_LEFT.search(self.draft.text[clause[0].start if clause else one.start : one.start])) or bool(
            re.search(r"\b(?:leave|leaving|keep|keeping)\s+(?:\w+\s+)?$", self.draft.text[: one.start], re.IGNORECASE)
        )

    def _to_be_filled(self) -> bool:
        """ "the top 12 inches will be soil", "I'll put mix in the top 12 inches": not there yet."""
        new = ("component", "mix", "seed-mix")
        at = self.at + 1
        if is_said(self._at(at), "link", "is"):
            while is_said(self._at(at), "link", "is") or is_said(self._at(at), "hint"):
                at += 1
            return any(is_said(self._at(at), kind) for kind in new)
        before = self.peek(-2)
        if is_said(before, "hint", "new-fill"):
            return True  # "fill the top 6 inches"
        if is_said(before, "link", "into", "on", "with"):
            before = self.peek(-3)
        put = _PUT.search(self.draft.text[: self.phrases[self.at].start])
        return put is not None and any(is_said(before, kind) for kind in new)

    def _end_of_ring(self, role: str, span: Span, one: Measure) -> tuple[str, Span]:
        """The role and the distance from the middle of an end of a ring; where only one end is said it bounds no ring."""
        said = {m.role.partition("-")[0] for p in self.phrases if type(m := single(p)) is Measure}
        end, _, how = role.partition("-")
        if not {"inner", "outer"} <= said:
            return how, span
        if how == "diameter":
            self._supersede(span)
            span = Span(span.low / 2, span.high / 2, span.unit)
            self.draft.flags.append(("ring-end", f"{self.text_of(one)}: half of it is where the ring {'begins' if end == 'inner' else 'ends'}"))
        return ("clear-of-trunk" if end == "inner" else "outer"), span

    def _assign_length(self, role: str, span: Span, one: Measure) -> None:
        self._corrects(span)
        place = self.place
        draft = self.draft
        slots = {"depth": "depth", "fill": "fill", "below-rim": "below_rim", "width": "width", "length": "length",
                 "height": "height", "diameter": "diameter", "radius": "radius", "around": "around", "base": "base",
                 "apart": "spacing", "clear-of-trunk": "clear", "outer": "outer", "bottom-diameter": "bottom",
                 "top-diameter": "diameter", "flats": "flats", "corners": "corners"}  # fmt: skip
        if role == "thick":
            self._layer(span, one)
            return
        if role == "base" and place is not None and place.kind == "container":
            role = "bottom-diameter"  # "a pot 12 inches across, 8 inch base"
        if role == "below-rim" and place is not None:
            self._supersede(place.depth)  # what is filled in is less
        if role == "width" and "square" in (self.last_form, place.form if place is not None else ""):
            role = "side"  # "a square pot 10 inches wide"
        if role == "width" and (self.last_form == "round" or (place is not None and place.form == "round")):
            role = "diameter"
        if role == "width" and place is not None and place.kind == "plant" and place.noun in TREES - {"shrub"} and place.length is None and not place.size:
            role = "diameter"  # how wide a tree's crown is
        if role == "width" and place is not None and place.kind == "hole" and place.length is None and not place.size:
            role = "diameter"  # a hole is dug round
        if role == "diameter" and place is not None and place.length is not None and place.width is None and place.form in ("", "rectangle") and (
            place.kind != "container"
        ):  # fmt: skip
            role = "width"  # "8 ft long and 36 inches across"
        if role in ("per-side", "side"):
            place = self._current()
            if place.side is None:
                place.side = span
            elif place.second_side is None:
                place.second_side = span
            else:
                self._leave(one)
            return
        if role == "clear-of-trunk":
            place = self._tree_place()
            if span.low != span.high:
                place.clear, place.outer = Span(span.low, span.low, span.unit), Span(span.high, span.high, span.unit)
            elif place.clear is None:
                place.clear = span
            elif place.outer is None:
                place.outer = span
            else:
                self._leave(one)
            return
        slot = slots.get(role)
        if slot is None:
            self._leave(one)
            return
        if role in ("length", "width", "diameter", "radius", "around", "base", "top-diameter", "flats", "corners"):
            if place is None:
                place = self._new_place()
            elif getattr(place, slot) is not None and not self.correcting:
                if getattr(place, slot) == span:
                    return
                if role in ("diameter", "radius") and self.count is None and place.noun and not is_said(self.peek(-1), place.kind):
                    draft.question = ("two-values", f"two different sizes of one round place; is it {self.text_of(one)}?")
                    return
                place = self._new_place()
            elif place.kind == "plant" and role == "diameter" and self.tie == "in" and is_said(self.peek(), "container"):
                place = self._new_place()  # "a monstera in a 10 inch pot"
                place.hints.add("around")
            elif place.kind in ("plant", "hole") and (place.rate or place.count) and not place.length and not place.width:
                around_tree = place.kind == "plant" and role in ("diameter", "radius", "around") and place.noun in TREES
                if not around_tree and not self._size_of_hole(place):
                    place = self._new_place()
                    place.hints.add("around")
            elif place.has_size and role == "diameter" and place.noun not in ROUND_CONTAINERS and not place.outer:
                if not (place.size == () and place.noun):
                    place = self._new_place()
            elif (place.area or place.volume or place.nursery_class or (place.size and len(place.size) >= 2)) and not (
                self.correcting
            ):  # fmt: skip
                if len(place.size) == 2 and role in ("length", "width"):
                    self._leave(one)
                    return
                place = self._new_place()
            if self.count is not None and place.count is None:
                self._set_count(place)
            if role in ("diameter", "radius", "around") and not place.form and place.kind != "container":
                place.form = "round"
        else:
            place = place if place is not None else self._new_place()
            earlier = getattr(place, slot)
            if earlier is not None and not self.correcting and earlier != span:
                if role == "depth" and (place.size or place.area or place.has_size) and self._second_is_layer(place, span):
                    self._layer(span, one)
                    return
                if role == "depth" and draft.hints & {"top-of"}:
                    draft.flags.append(("two-depths", f"{self.text_of(one)}"))
                draft.question = (
                    "two-values",
                    f"two different values for the {role.replace('-', ' ')}: "
                    f"{earlier.low:g} {earlier.unit.replace('_', ' ')} and {self.text_of(one)}; which one holds?",
                )
                return
        if self.correcting:
            self._withdraw(getattr(place, slot))
        setattr(place, slot, span)
        self.correcting = False
        self.place = place

    def _second_is_layer(self, place: PlaceDraft, span: Span) -> bool:
        return self.draft.way == "top-dress" and not place.layer and span.base[1] < (place.depth.base[0] if place.depth else 0)

    def _tree_place(self) -> PlaceDraft:
        place = self.place
        if place is None or (place.size or place.area):
            place = self._new_place()
        if not place.noun:
            place.noun, place.kind, place.printed = "tree-ring", "ground", "tree ring"
        place.form = "ring"
        self.draft.hints.add("trunk")
        return place

    def _place_ahead(self) -> bool:
        """Whether a layer goes on a place that is told next: "… on the 4 by 4 bed"."""
        if not is_said(self.peek(), "link", "on", "for"):
            return False
        at = self.at + 2
        while is_said(self._at(at), "hint") or is_said(self._at(at), "form"):
            at += 1
        following = self._at(at)
        return is_said(following, "ground") or (type(following) is Amount and (self._is_size(following) or self._ground_measure(following)))

    def _layer(self, span: Span, one: Measure) -> None:
        place = self.place
        if place is None:
            place = self._new_place()
        if place.layer and self.correcting:
            self._withdraw(*place.layer)
            place.layer = [span]
            self.correcting = False
            return
        if place.kind in ("plant", "hole") and place.rate is not None and not place.has_size and self._place_ahead():
            place = self._new_place()  # "20 tomatoes at a cup each and half an inch on a 4 by 4 ft bed"
        if (place.layer or place.share is not None) and place.has_size and not self.dated and self._place_ahead():
            place = self._new_place()  # "1 inch on the 4 by 6 ft bed and half an inch on the lawn, 200 sq ft"
        if place.layer and place.layer[-1] != span and not self.dated:
            other = next((p for p in self.draft.places if not p.layer and p.has_size and p is not place), None)
            if other is None:
                self.draft.question = ("two-values", f"two different layers; is {self.text_of(one)} the one to use?")
                return
            place = other
        elif place.layer and not self.dated:
            return
        place.layer.append(span)
        self.place = place
