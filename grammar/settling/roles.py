"""Measures that were given no role: weighed by the declared preferences, or asked about."""

from __future__ import annotations

from ..draft import PlaceDraft, Unsure
from ..preferences import weigh
from ..quantities import unit
from ..thickness import FAR, THICK, THIN
from .common import BACKWARDS, KITCHEN, POT_LIKE, ROW_LIKE, Ask
from .context import Context


class Roles(Context):
    """Measures that were given no role: weighed by the declared preferences, or asked about."""

    def _unsure(self) -> None:
        draft = self.draft
        for unsure in list(draft.unsure):
            dim = unsure.span.dimension
            table = {"length": "length", "volume": "volume", "weight": "weight"}.get(dim)
            if table is None:
                raise Ask("stray-number", f"what is “{unsure.text}”? Say what it measures or counts, or leave it out", needs="stray")
            place = self._place_of(unsure)
            weighed = weigh(table, self._signs(unsure, place))
            reading = weighed.clear
            if not reading:
                self._ask_role(unsure, place, [name for name, _, _ in weighed.readings])
            self._give_role(reading, unsure, place)
        draft.unsure.clear()

    def _place_of(self, unsure: Unsure) -> PlaceDraft | None:
        places = self.draft.places
        if not places:
            return None
        index = unsure.place if 0 <= unsure.place < len(places) else len(places) - 1
        return places[index]

    def _signs(self, unsure: Unsure, place: PlaceDraft | None) -> set[str]:
        draft = self.draft
        signs: set[str] = set()
        low, high = unsure.span.base
        if unsure.span.dimension == "length":
            if high <= THIN:
                signs.add("thin")
            if low >= THICK:
                signs.add("thick")
            if low > FAR:
                signs.add("far")
        hints = draft.hints | (place.hints if place else set())
        of_the_mix = draft.asked == "soil" and (draft.recipe or draft.parts_share or any(p.share for p in draft.places)) and "on-hand" not in draft.hints
        if draft.asked in BACKWARDS and not of_the_mix:
            signs.add("backwards")  # how much compost goes into so much of a mix is asked of the mix
        if draft.asked in ("", "castings") and draft.asked_unit and unit(draft.asked_unit).dimension == "area" and not any(p.has_size for p in draft.places):
            signs.add("backwards")  # "sq ft coverage of 2 cu yd"
        if draft.asked == "by-unit":
            unit_kind = unit(draft.asked_unit).dimension if draft.asked_unit else ""
            if unit_kind in ("area", "length"):
                signs.add("backwards")
            elif not any(p.has_size or p.rate or p.layer for p in draft.places):
                signs.add("conversion")
        if draft.asked == "weight" and not any(p.has_size or p.rate or p.layer or p.share for p in draft.places):
            signs.add("conversion")
        if draft.asked_unit and not draft.places and not draft.recipe and not draft.parts_share and len(draft.unsure) == 1 and (
            draft.way == "" or (draft.way == "tea" and draft.ratio is None and draft.ratio_spans is None)
        ):  # fmt: skip
            signs.add("conversion")  # "30 litres in kg"
        if (draft.density is not None or "dry-weight" in hints or draft.asked_nutrient) and not draft.places:
            signs.add("conversion")
        if (draft.price is not None or draft.pack is not None or draft.asked in ("cost", "packs")) and not draft.places:
            signs.add("conversion")
        if draft.have is not None or draft.packs_count or draft.loads or (draft.pack is not None and "backwards" in signs):
            signs.add("have said")
        if any(c.startswith("before:link:on-hand") for c in unsure.cues) or (
            ("on-hand" in draft.hints and not any(p.has_size for p in draft.places)) or (
                "needed" in draft.hints and not (draft.places or draft.recipe or draft.parts_share or "cheaper" in draft.asks)
            )
        ):
            signs.add("on hand before")
        if "before:link:at" in unsure.cues and draft.asked == "plants" and draft.have is not None:
            signs.add("each said")  # "how many roses does that do at a cup and a half"
            signs.discard("backwards")
        if "after:ask:cover" in unsure.cues and draft.asked in ("", "castings"):
            signs.add("on hand before")  # "will 10 gallons do 30 tomatoes at 2 cups each"
        if "before:link:of" in unsure.cues:
            signs.add("place of")
        if draft.enough or draft.asked == "left-over":
            signs.add("enough asked")
        if draft.recipe or draft.parts_share or draft.per_volume or any(p.share for p in draft.places):
            signs.add("share or recipe")
        if draft.way == "tea" or draft.ratio_spans or "spray" in hints:
            signs.add("tea")
        if draft.water is not None:
            signs.add("water said")
        if draft.way == "blend" or "mixed-in" in hints:
            signs.add("blend said")
        if draft.way == "top-dress" or (place and place.way == "top-dress"):
            signs.add("way top-dress")
        if "seedlings" in hints or any(p.kind == "seed-mix" for p in draft.places) or draft.way == "seed-mix":
            signs.add("seed mix")
        if self.awaiting:
            signs.add("awaits " + self.awaiting)
        if place is not None:
            if place.share or draft.recipe or draft.parts_share:
                signs.add("share said")
            if place.has_size:
                signs.add("sized")
            if place.area and not place.share:
                signs.add("area only")
            if place.depth or place.fill:
                signs.add("depth said")
            if place.layer:
                signs.add("layer said")
            if place.kind == "container":
                signs.add("container")
                if place.noun in POT_LIKE:
                    signs.add("round container")
            if place.diameter or place.radius:
                signs.add("across said")
            if place.height:
                signs.add("height said")
            if place.noun in ROW_LIKE:
                signs.add("row")
            if place.length or len(place.size) >= 1:
                signs.add("long said")
            if place.width or len(place.size) >= 2:
                signs.add("wide said")
            if place.rate:
                signs.add("rate said")
            if place.kind in ("plant", "hole"):
                signs.add("plants")
            if place.kind in ("plant", "hole") and (place.each or (draft.asked == "plants" and "before:link:at" in unsure.cues)):
                signs.add("each said")
        # "8 cups for 12 plants" may be for each of them or for all; "1 to 2 cups" is what one gets
        for_them = unsure.span.low == unsure.span.high and "after:link:for" in unsure.cues and "altogether" not in unsure.cues and place is not None and (place.count or 1) > 1
        if not for_them and (unsure.span.unit in KITCHEN or "altogether" in unsure.cues or unsure.cues & {"before:link:with", "before:link:at"} or (
            place is not None and place.kind == "hole"
        ) or self.awaiting):  # fmt: skip
            signs.add("dose")
        if "cover" in draft.asks:
            signs.add("cover asked")
        return signs

    def _give_role(self, reading: str, unsure: Unsure, place: PlaceDraft | None) -> None:
        draft = self.draft
        span = unsure.span
        if place is None and reading not in ("have", "water", "pack"):
            place = PlaceDraft()
            draft.places.append(place)
        if reading == "have":
            if draft.have is None:
                draft.have = span
            else:
                draft.more_have.append(span)
        elif reading == "water":
            draft.water = span
        elif reading == "rate" and "altogether" in unsure.cues:
            assert place is not None
            place.rate, place.rate_whole = span, True
        elif reading == "layer":
            assert place is not None
            place.layer.append(span)
        elif reading == "mix":
            assert place is not None
            if place.volume is not None or place.kind in ("plant", "hole"):
                place = PlaceDraft()
                draft.places.append(place)
            if place.count is not None and place.count > 1 and place.each is None:
                if "altogether" in unsure.cues:
                    place.each = False
                elif "after:link:for" in unsure.cues:
                    raise Ask("each-or-all", f"is “{unsure.text}” for each of them, or for all together?", needs="each",
                               offers=(f"{unsure.text} each", f"{unsure.text} altogether"))  # fmt: skip
            place.volume = span
            if not place.noun:
                place.noun, place.kind, place.printed = "mix", "mix", "mix"
        else:
            assert place is not None
            if "altogether" in unsure.cues and span.dimension == "length":
                place.each = False
            if getattr(place, reading) is not None:
                raise Ask("two-values", f"two values for the {reading}; which holds, the first or {unsure.text}?", needs=reading)
            setattr(place, reading, span)
            if reading == "rate":
                place.each = True

    def _ask_role(self, unsure: Unsure, place: PlaceDraft | None, readings: list[str]) -> None:
        dim = unsure.span.dimension
        if dim == "length":
            if place is not None and place.has_size:
                raise Ask("role", f"is “{unsure.text}” the depth of the soil, or a layer of castings on top?", needs="role",
                           offers=(f"{unsure.text} deep", f"a layer of {unsure.text}"))  # fmt: skip
            sides = [u for u in self.draft.unsure if u.span.dimension == "length" and u.span.base[0] > THIN]
            if sides and place is not None and place.kind == "ground" and place.noun:
                raise Ask("size", f"“{sides[0].text}” is one side of the {place.printed}; what is the other?", needs="size")
            raise Ask("size", f"“{unsure.text}” is one side; what is the other, and what kind of place is it?", needs="size")
        if place is not None and place.kind in ("plant", "hole"):
            raise Ask("each-or-all", f"is “{unsure.text}” for each of them, or for all together?", needs="each",
                       offers=(f"{unsure.text} each", f"{unsure.text} altogether"))  # fmt: skip
        if dim == "volume":
            raise Ask(
                "role",
                f"is “{unsure.text}” the castings you have, or the mix they go into?",
                needs="role",
                offers=(f"I have {unsure.text} of castings", f"{unsure.text} of mix"),
            )
        raise Ask("role", f"what is “{unsure.text}”: castings you have, what each plant gets, or a bag?", needs="role")
