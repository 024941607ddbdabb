"""The shape of a place from the sides that were said, and its depth."""

from __future__ import annotations

import re

from ..draft import PlaceDraft
from ..later import later
from ..quantities import Span
from ..query import Shape
from ..unchecked import unchecked
from .common import KNOWN_BY_NAME, Ask, amount_text, is_metric_unit, size_text
from .wanted import Wanted

_made = unchecked(Shape)

_LENGTH_UNIT = r"(?:feet|foot|ft|inch(?:es)?|yards?|met(?:re|er)s?|cm|centimet(?:re|er)s?)"
_EITHER_UNIT = later(rf"\b{_LENGTH_UNIT} or (?:in )?{_LENGTH_UNIT}\b", re.IGNORECASE)


#: The unit of the sides that an area is of.
_SIDE_OF = {"square_foot": "foot", "square_metre": "metre", "square_yard": "yard"}


class Shapes(Wanted):
    """The shape of a place from the sides that were said, and its depth."""

    def _contradictions(self, place: PlaceDraft) -> None:
        """Two sizes that cannot both hold, or a shape that is not known."""
        if "other-form" in self.draft.hints and not (place.area or place.volume) and place.has_size and place.kind not in ("plant", "hole"):
            word = next((text for code, text in self.draft.flags if code == "form"), "that")
            raise Ask("form", f"“{word}”: that form is not worked out here; what is its area?", needs="area")
        if place.second_area is not None and len(place.size) >= 2 and not place.form:
            gone = {place.second_area.low, place.second_area.high}
            self.draft.figures = [(value, said) for value, said in self.draft.figures if value not in gone]  # said twice: it must agree
            one, two = place.size[0].base, place.size[1].base
            area = place.second_area.base
            if abs(one[0] * two[0] - area[0]) > 0.03 * area[0]:
                raise Ask("contradiction", f"{size_text(place)} is not {amount_text(place.second_area)}; which of the two is right?",
                           needs="size")  # fmt: skip
        if place.radius is not None and (place.diameter is not None or place.size):
            raise Ask("contradiction", "two different sizes of one round place; which is right?", needs="size")
        if place.bottom is not None and not (place.kind == "container" and place.diameter is not None):
            raise Ask("fills", "what stands at the bottom? Say how deep the mix itself is", needs="depth")
        if "tapered" in place.hints and place.kind == "ground":
            raise Ask("shape", "how wide is it in the middle? A bed that narrows is as big as its middle width times its length",
                       needs="width")  # fmt: skip

    def _length_units(self, place: PlaceDraft) -> None:
        """A size without a unit: feet in a garden, metres where the rest of the request is metric."""
        if place.size and not place.size_unit_said:
            lengths = [s for s in self._lengths() if s.unit]
            metric = bool(lengths) and all(is_metric_unit(s.unit) for s in lengths)
            if place.kind == "container":
                raise Ask("unit", f"{size_text(place)}: in inches, feet, cm or m?", needs="unit")
            if any(s.unit for s in place.size):
                raise Ask("unit", f"{size_text(place)}: is every side in the same unit? Say it with each one", needs="unit")
            biggest = max(s.high for s in place.size)
            name = "metre" if metric else "foot"
            if len(place.size) > 2 or (metric and biggest > 30) or (not metric and biggest > 200):
                raise Ask("unit", f"{size_text(place)}: in what unit?", needs="unit")
            if _EITHER_UNIT.search(self.draft.text):
                raise Ask("unit", f"{size_text(place)}: in which of the units?", needs="unit")  # "I forgot if that's feet or yards"
            if not metric and any(s.low * 4 % 1 for s in place.size):
                # feet are halved and quartered; tenths are a metric habit: "2.4 by 1.2, 6 inches deep"
                raise Ask("unit", f"{size_text(place)}: in feet or in metres?", needs="unit",
                           offers=(f"{size_text(place)} ft", f"{size_text(place)} m"))  # fmt: skip
            place.size = tuple(Span(s.low, s.high, name) for s in place.size)
            self.assume("size-unit", f"the sides are in {'metres' if metric else 'feet'}")
        self._units_of_what_is_left_out(place)

    @staticmethod
    def _units_of_what_is_left_out(place: PlaceDraft) -> None:
        """What is left out of a place is in the unit of the place, where none was said: "70 by 30 ft, less a driveway 10 by 30"."""
        units = {side.unit for side in place.size} or ({_SIDE_OF.get(place.area.unit, "")} if place.area is not None else set())
        name = units.pop() if len(units) == 1 else ""
        for corner in place.minus:
            if name and corner.size and not any(side.unit for side in corner.size):
                corner.size, corner.size_unit_said = tuple(side._replace(unit=name) for side in corner.size), True

    def _lengths(self) -> list[Span]:
        found = []
        for place in self.draft.places:
            for span in (place.length, place.width, place.depth, place.fill, place.height, place.diameter, *place.size, *place.layer):
                if span is not None:
                    found.append(span)
        found.extend(u.span for u in self.draft.unsure)
        return found

    def _shape(self, place: PlaceDraft) -> Shape:
        if place.nursery_class is not None:
            return _made(form="class", number=place.nursery_class)
        if place.cells is not None:
            return _made(form="cells", number=place.cells)
        if draft_name := self.draft.named_size:
            if place.noun == "tray" and not place.has_size:
                return _made(form="named", name=draft_name)
        if place.noun in KNOWN_BY_NAME and not place.has_size:
            return _made(form="named", name=place.noun)
        if place.outer is not None or (place.form == "ring" and place.clear is not None) or (
            place.clear is not None and (place.diameter or place.radius)
        ):  # fmt: skip
            return self._ring(place)
        if place.volume is not None:
            return _made(form="volume", dims={"volume": place.volume})
        if place.area is not None:
            return _made(form="area", dims={"area": place.area})
        container = place.kind == "container"
        if place.form in ("hexagon", "octagon") and place.has_size:
            return self._polygon(place)
        if container and self._round_pot(place):
            (place.diameter, place.height), place.size = place.size, ()
        if place.diameter is not None or place.radius is not None or place.around is not None:
            dims: dict[str, Span] = {}
            if place.diameter is not None:
                dims["diameter"] = place.diameter
            elif place.radius is not None:
                dims["radius"] = place.radius
            else:
                assert place.around is not None
                dims["around"] = place.around
            if container:
                height = place.height or place.depth
                if height is not None:
                    dims["height"] = height
                if place.bottom is not None:
                    dims["bottom"] = place.bottom
                elif "tapered" in place.hints and place.diameter is not None and place.diameter.low != place.diameter.high:
                    wide, narrow, name = place.diameter.high, place.diameter.low, place.diameter.unit
                    dims["diameter"], dims["bottom"] = Span(wide, wide, name), Span(narrow, narrow, name)
                return _made(form="pot", dims=dims)
            return _made(form="circle", dims=dims)
        size = place.size
        if place.form == "triangle":
            return self._triangle(place)
        if place.form == "oval" and len(size) >= 2:
            return _made(form="oval", dims={"length": size[0], "width": size[1]})
        if place.form == "round" and len(size) == 1:
            return _made(form="circle", dims={"diameter": size[0]})
        if place.form == "round" and len(size) == 2 and size[0] == size[1]:
            return _made(form="circle", dims={"diameter": size[0]})
        if place.form == "round" and len(size) >= 2 and not container:
            raise Ask("form", f"a round place is as wide every way, and {size_text(place)} is not; is it an oval, or what is its diameter?",
                       needs="size")  # fmt: skip
        sides = list(size[:2])
        if place.side is not None:
            sides = [place.side, place.second_side or place.side]
        if not sides and place.length is not None and place.width is not None:
            sides = [place.length, place.width]
        elif len(sides) == 1 and (place.width or place.length):
            sides.append(place.width or place.length)  # type: ignore[arg-type]
        if place.form == "oval" and len(sides) == 2:
            return _made(form="oval", dims={"length": sides[0], "width": sides[1]})
        if len(sides) == 2:
            return _made(form="rectangle", dims={"length": sides[0], "width": sides[1]})
        if place.length is not None:
            return _made(form="none", dims={"length": place.length})
        if place.width is not None and place.kind == "hole":
            return _made(form="circle", dims={"diameter": place.width})  # a hole is dug round
        if place.width is not None:
            return _made(form="none", dims={"width": place.width})
        return _made(form="none")

    def _round_pot(self, place: PlaceDraft) -> bool:
        """ "grow bags of 15 x 15 inches", "pots 30 x 28 cm": how wide and how tall; a pot of two like sides may be a square one."""
        size = place.size
        if len(size) != 2 or place.form or place.height is not None or place.depth is not None:
            return False
        if place.noun not in ("grow-bag", "bucket") and not (place.noun == "pot" and size[0] != size[1]):
            return False
        if size[1].base[0] > 3 * size[0].base[0] or size[0].base[0] > 3 * size[1].base[0]:
            return False
        self.assume("pot-sides", f"{amount_text(size[0])} is taken as how wide it is, and {amount_text(size[1])} as how tall")
        return True

    def _ring(self, place: PlaceDraft) -> Shape:
        dims: dict[str, Span] = {}
        if place.clear is not None:
            dims["inner"] = place.clear
        if place.outer is not None:
            dims["outer"] = place.outer
        elif place.diameter is not None:
            dims["across"] = place.diameter
        elif place.radius is not None:
            dims["outer"] = place.radius
        return _made(form="ring", dims=dims)

    def _triangle(self, place: PlaceDraft) -> Shape:
        size = place.size
        if place.base is not None and (place.height or place.depth):
            rise = place.height
            if rise is not None:
                return _made(form="triangle", dims={"base": place.base, "rise": rise})
        if "right-angle" in place.hints | self.draft.hints or "right-angle" in self.draft.hints:
            legs = list(size[:2]) or [s for s in (place.side, place.second_side or place.side) if s is not None]
            if len(legs) == 2:
                return _made(form="triangle", dims={"base": legs[0], "rise": legs[1]})
        if len(size) == 2:
            self.assume("triangle", "the two lengths are the base and the height of the triangle")
            return _made(form="triangle", dims={"base": size[0], "rise": size[1]})
        if place.base is not None:
            raise Ask("size", "how high is the triangle, measured straight up from its base?", needs="height")
        raise Ask("size", "what are the base and the height of the triangle?", needs="size")

    def _polygon(self, place: PlaceDraft) -> Shape:
        """A form of six or eight like sides, by one of them or by how far it is across."""
        told = {name: span for name in ("side", "flats", "corners") if (span := getattr(place, name)) is not None}
        others = (place.size, place.length, place.width, place.diameter, place.radius, place.around, place.second_side)
        if len(told) == 1 and not any(others):
            return _made(form=place.form, dims=told)  # type: ignore[arg-type]
        if len(told) > 1:
            raise Ask("size", f"of the {place.form} say one thing: one side, or how far it is across the flats", needs="size")
        raise Ask("size", f"is “{size_text(place)}” one side of the {place.form}, or how far it is across the flats or across the corners?", needs="size")

    def _depth(self, place: PlaceDraft) -> Span | None:
        if place.fill is not None:
            rim = place.height or place.depth
            if rim is not None and rim.base[0] + 1e-9 < place.fill.base[1]:
                raise Ask("contradiction", "it cannot be filled deeper than it is; which of the two is right?", needs="depth")
            return place.fill
        if place.below_rim is not None:
            rim = place.height or place.depth or (place.size[2] if len(place.size) > 2 else None)
            if rim is None:
                return None
            low = rim.low - place.below_rim.to(rim.unit).high
            high = rim.high - place.below_rim.to(rim.unit).low
            if low <= 0:
                raise Ask("contradiction", "that leaves no soil at all; which of the two is right?", needs="depth")
            return Span(low, high, rim.unit)
        if place.depth is not None:
            if place.height is not None and place.height.base[1] + 1e-9 < place.depth.base[0]:
                raise Ask("contradiction", "the soil is deeper than the sides are high; which of the two is right?", needs="depth")
            return place.depth
        if len(place.size) > 2:
            return place.size[2]
        if place.height is not None and place.form != "triangle":
            if not place.layer and not (place.kind == "container" and place.diameter is not None):
                self.assume("filled-to-rim", "filled to the rim")
            return place.height
        return None
