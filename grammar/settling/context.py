"""Places that are only context, and what was said once for several places."""

from __future__ import annotations

from ..draft import PlaceDraft
from ..quantities import Span
from .common import Ask, amount_text, heads
from .standing import Standing


class Context(Standing):
    """Places that are only context, and what was said once for several places."""

    def _tea_places(self) -> None:
        """A tea's vessel is its water; a drench for each plant is water too; another job beside a tea is asked about."""
        draft = self.draft
        tea = draft.way == "tea" or draft.ratio is not None or draft.ratio_spans is not None or "spray" in draft.hints
        tea = tea or (self._is_a_batch() and not draft.places)
        if not tea:
            if draft.water is not None and draft.asked != "water":
                draft.noted.append((amount_text(draft.water), "water, not castings"))
                draft.water = None
            return
        self._castings_and_water()
        self._strength_in_percent()
        self._vessels_of_tea()
        for place in draft.places:
            if place.layer or place.share or (place.way and place.way != "tea" and place.has_size):
                raise Ask("one-at-a-time", "a tea and another use: ask for one at a time, please", needs="one")

    def _vessels_of_tea(self) -> None:
        """ "tea for two 5 gallon buckets": the water is what they hold together."""
        draft = self.draft
        vessels = [
            place for place in draft.places
            if place.kind == "container" and place.volume is not None and not (place.share or place.recipe or place.rate)
        ]  # fmt: skip
        if draft.water is not None or not vessels:
            return
        held = [(place.volume, place.count or 1.0) for place in vessels if place.volume is not None]
        if len({one.unit for one, _ in held}) > 1:
            raise Ask("unit", "say how much each vessel holds in one unit, or how much water there is in all", needs="water")
        draft.water = Span(sum(one.low * many for one, many in held), sum(one.high * many for one, many in held), held[0][0].unit)
        draft.vessel = held[0][0] if len(held) == 1 else None
        draft.places = [place for place in draft.places if all(place is not one for one in vessels)]
        if len(held) > 1 or held[0][1] > 1:
            used = {many for _, many in held} | {end for one, _ in held for end in (one.low, one.high)}
            draft.figures = [(value, said) for value, said in draft.figures if value not in used]
            each = " and ".join(f"{many:g} × {amount_text(one)}" for one, many in held)
            self.assume("so-many-times", f"the water is what the vessels hold together, {each}: {amount_text(draft.water)}")

    def _strength_in_percent(self) -> None:
        """ "200 litres of tea at 5 %": so much castings to a hundred of water, where nothing else is there to have a share."""
        draft = self.draft
        place = draft.places[0] if len(draft.places) == 1 else None
        if place is None or place.share is None or place.noun or place.has_size or place.layer or draft.way != "tea":
            return
        if draft.ratio is not None or draft.ratio_spans is not None or place.share.low != place.share.high:
            return
        share = place.share.low
        draft.ratio = (share, 100.0)
        draft.places = []
        self.assume("tea-strength", f"{share:g} % is castings to water by volume: 1 to {100 / share:g}")

    def _castings_and_water(self) -> None:
        """ "tea with 2 cups of castings and 5 gallons of water": both amounts are said, and so is the strength."""
        draft = self.draft
        if self._is_a_batch() and draft.ratio is None and draft.ratio_spans is None and draft.asked in ("", "castings", "water"):
            assert draft.have is not None and draft.water is not None
            draft.ratio_spans = (draft.have, draft.water)
            if draft.asked == "water":
                draft.water = None  # it is what comes of so much castings at that strength
            else:
                draft.have = None

    def _is_a_batch(self) -> bool:
        """Whether castings and the water that they go into are both told."""
        draft = self.draft
        both = draft.have is not None and draft.water is not None and not draft.have_is_tea and not draft.more_have
        return both and not draft.enough and "on-hand" not in draft.hints

    def _drop_context_places(self) -> None:
        """Plants that stand in a bed that is being worked out, and beds around plants that are."""
        draft = self.draft
        self._join_rate_and_count()
        self._plants_and_places()
        kept: list[PlaceDraft] = []
        rated = [p for p in draft.places if p.rate is not None or (p.kind in ("plant", "hole") and p.count)]
        for place in draft.places:
            if "around" in place.hints and rated and not (place.layer or place.share or place.depth or place.recipe):
                if draft.asked not in ("area",) and not any(u for u in draft.unsure):
                    if place.has_size:
                        self._note_place(place, "the place where the plants stand")
                    continue
            if place.is_empty and not place.noun and len(draft.places) > 1:
                continue
            if place.kind == "ground" and place.tie == "in" and place.count and not (
                place.has_size or place.layer or place.share or place.depth or place.recipe or place.rate or place.fill
            ) and any(p.kind == "plant" and p.count and p.rate is not None for p in draft.places):  # fmt: skip
                draft.noted.append((f"{place.count:g} {place.printed}", "the place where the plants stand"))
                continue
            kept.append(place)
        # a noun alone beside a place with a size is the same place spoken of again
        if len(kept) > 1:
            sized = [p for p in kept if not p.is_empty]
            if sized and len(sized) < len(kept):
                for place in kept:
                    if place.is_empty and place.kind == "seed-mix":
                        draft.hints |= {"seedlings", "mix-named"}  # "seed mix, six trays": what they are filled with
                    if place.is_empty and place.kind in ("ground", "container", "mix"):
                        for target in sized:
                            target.noun, target.kind, target.printed = (
                                (target.noun, target.kind, target.printed) if target.noun else (place.noun, place.kind, place.printed)
                            )
                kept = [p for p in kept if not p.is_empty or p.kind in ("plant", "hole")]
        draft.places = kept

    def _join_rate_and_count(self) -> None:
        """ "2 cups a plant, … 90 plants": the rate and the count of the same plants."""
        places = self.draft.places
        if len(places) < 2:
            return
        rated = [p for p in places if p.kind == "plant" and p.rate is not None and p.count is None and "asked" not in p.hints]
        counted = [p for p in places if p.kind == "plant" and p.rate is None and p.count is not None and not p.has_size and not p.layer]
        holes = [p for p in places if p.kind == "hole" and p.rate is not None and p.count is None]
        if len(holes) == 1 and len(counted) == 1 and len(places) == 2:
            holes[0].count, holes[0].crop = counted[0].count, counted[0].crop  # "12 tomatoes, 1 litre per planting hole"
            places.remove(counted[0])
            return
        pairs = list(zip(rated, counted, strict=False)) if len(rated) == len(counted) == 1 else [
            (one, other) for one in rated for other in counted
            if one.noun == other.noun and [p.noun for p in rated].count(one.noun) == [p.noun for p in counted].count(one.noun) == 1
        ]  # fmt: skip
        for one, other in pairs:
            other.rate, other.rate_per = one.rate, one.rate_per
            other.hints |= one.hints
            places.remove(one)

    def _soil_of_a_part(self) -> None:
        """ "3 parts soil, 2 parts compost, 1 part castings; I have 12 gallons of soil": the soil is one part of the mix, not all of it."""
        draft = self.draft
        if draft.soil is None or draft.soil.dimension != "volume" or len(draft.recipe) < 3 or len(draft.places) != 1:
            return
        share = dict(draft.recipe).get(draft.component, 0.0)
        if not 0 < share < 1:
            return
        place = draft.places[0]
        if place.has_size:
            return
        soil, draft.soil = draft.soil, None
        place.volume = Span(soil.low / share, soil.high / share, soil.unit)
        _is_mix(place)
        draft.figures = [(value, said) for value, said in draft.figures if value not in (soil.low, soil.high)]
        self.assume("part-at-hand", f"the {draft.component.replace('-', ' ')} that is named is that part of the mix, and the other parts come to it")

    def _share_of_it(self) -> None:
        """ "30 cubic feet of soil, 10 % of it castings": the amount named is the finished mix."""
        draft = self.draft
        if "share-of-it" not in draft.hints or draft.soil is None or draft.soil.dimension != "volume":
            return
        place = next((p for p in draft.places if p.share is not None), None)
        if place is None or place.has_size:
            return
        if {"existing-soil", "on-hand"} & (draft.hints | place.hints) or draft.way == "incorporate":
            return
        place.volume, draft.soil = draft.soil, None
        place.way = place.way or "blend"
        self.assume("share-of-it", f"the {amount_text(place.volume)} is the finished mix, castings included")

    def _one_of_each(self, places: list[PlaceDraft]) -> None:
        """ "two beds, one is 3 by 6 and the other 4 by 8": the count is of the two of them."""
        if len(places) < 2:
            return
        sized = [p for p in places if p.has_size and p.kind in ("ground", "")]
        first = sized[0] if sized else None
        if first is not None and first.count == len(sized) >= 2 and first.each is not False and all(p.count is None for p in sized[1:]) and (
            all(p.noun in ("", first.noun) for p in sized[1:]) and self._counts_a_list(first.count, sized)
        ):  # fmt: skip
            first.count = None
            self.assume("one-of-each", f"one of each of the {len(sized)} sizes")

    def _counts_a_list(self, count: float, sized: list[PlaceDraft]) -> bool:
        """Whether a number counts the places listed after it, not the first of them: not in "two 4 by 8 beds and a 3 by 6"."""
        bare = all(not place.noun for place in sized[1:])
        return any(heads(self.draft.text, said, before_size=bare) for value, said in self.draft.figures if value == count)

    def _rate_for_all(self) -> None:
        """ "3 squashes, 4 peppers and 5 cucumbers, 1 cup each": the rate said last goes to all of them."""
        if len(self.draft.places) < 2:
            return
        plants = [p for p in self.draft.places if p.kind in ("plant", "hole") and p.count is not None]
        rated = [p for p in plants if p.rate is not None]
        if len(rated) == 1 and len(plants) > 1 and rated[0] is plants[-1] and rated[0].each and len(plants) == len(self.draft.places):
            for place in plants[:-1]:
                place.rate, place.rate_per, place.each = rated[0].rate, rated[0].rate_per, True
            self.assume("rate-for-all", "the amount for each is taken for all of them")

    def _spread(self) -> None:
        """What was said once for several places goes to each of them."""
        draft = self.draft
        places = [p for p in draft.places if p.kind not in ("plant", "hole")]
        if draft.parts_share is not None:
            if not places:
                draft.places.append(PlaceDraft())
                places = [draft.places[-1]]
            for place in places:
                if place.share is None and not place.layer:
                    place.share = draft.parts_share
        if draft.recipe:
            targets = [p for p in places if not p.layer and not p.share]
            if not places:
                place = PlaceDraft()
                draft.places.append(place)
                targets = [place]
            for place in targets:
                place.recipe = list(draft.recipe)
        self._soil_of_a_part()
        self._share_of_it()
        if draft.soil is not None and not draft.places:
            draft.places.append(PlaceDraft())
        if draft.per_volume is not None and draft.soil is not None and len(draft.places) == 1 and not draft.places[0].has_size:
            # "a cup per gallon of soil, 12 gallons of soil": so much for each, however the two are put together
            draft.places[0].volume, draft.soil = draft.soil, None
            _is_mix(draft.places[0])
        if draft.minus and places:
            places[0].minus.extend(draft.minus)
        self._one_of_each(places)
        self._rate_for_all()
        self._spread_values()

    def _spread_values(self) -> None:
        """A depth, a share or a layer that was said once goes to every place that has none."""
        places = [p for p in self.draft.places if p.kind not in ("plant", "hole")]
        if len(places) < 2:
            return
        for name, label in (("depth", "depth"), ("share", "share")):
            missing = [p for p in places if getattr(p, name) is None and not p.layer and not p.recipe
                       and not (name == "depth" and (p.volume or (p.kind != "ground" and p.kind != "")))
                       and p.way not in ("top-dress",)]  # fmt: skip
            said = [p for p in places if getattr(p, name) is not None]
            values = {getattr(p, name) for p in said}
            if missing and len(values) == 1 and not (name == "depth" and said[0].kind == "container"):
                value = values.pop()
                for place in missing:
                    setattr(place, name, value)
                self.assume(f"{label}-for-all", f"the {label} {amount_text(value)} is taken for every place")
        if not any(p.layer for p in places) or all(p.layer for p in places):
            return
        said_layers = [p.layer for p in places if p.layer]
        missing = [p for p in places if not p.layer and not p.share and not p.depth and not p.recipe and not p.volume and p.has_size]
        if missing and all(layer == said_layers[0] for layer in said_layers):
            for place in missing:
                place.layer = list(said_layers[0])
            self.assume("layer-for-all", f"the layer {amount_text(said_layers[0][0])} is taken for every place")


def _is_mix(place: PlaceDraft) -> None:
    """Calls a place that has no name of its own what it is, a mix."""
    if not place.noun:
        place.noun, place.kind, place.printed = "mix", "mix", "mix"
