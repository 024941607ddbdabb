"""One place settled: its shape, its way and what it is to get; packs and teas beside it."""

from __future__ import annotations

import re

from ..draft import PlaceDraft
from ..later import later
from ..preferences import weigh
from ..quantities import Span
from ..query import Pack, Place, Shape, Tea
from ..readers.trade import place_extras
from ..reads import way_text
from ..thickness import THIN
from ..unchecked import unchecked
from ..words import plural, spoken
from .common import Ask, amount_text
from .shapes import Shapes

_made, _pack, _tea = unchecked(Place), unchecked(Pack), unchecked(Tea)

#: What is done with castings, to ask which of two is meant.
_DONE = {"blend": "made into a new mix", "incorporate": "dug into the soil", "top-dress": "spread on top", "side-dress": "put beside the plants",
         "planting-hole": "put in the planting hole", "seed-mix": "made into a seed mix", "tea": "brewed into a tea"}  # fmt: skip
#: "3 litres added to 20 litres of mix", which is 23 litres then; not so of a mix that is called finished.
_ADDED_TO = later(r"\b(?:add|added|adding|mix|mixed|mixing|stir|stirred|put)\b.*\b(?:to|into|in with)\b", re.IGNORECASE)
_FINISHED = later(r"\b(?:finished|total|final|in all|made|make|makes|making)\b", re.IGNORECASE)


#: "a hole", "hole for a new tree": one of it.
_ONE_HOLE = later(r"\b(?:a|one|this)\s+(?:\w+\s+)?hole\b|\bhole\s+(?:\w+\s+)?(?:for|of)\s+(?:a|an|one)\b", re.IGNORECASE)
#: The same, of a hole for one plant: "a hole for my plum", "planting an apple tree, hole 2 feet wide".
_HOLE_OF_ONE = later(
    r"\b(?:a|an|one|the|my|this)\s+(?:[\w.]+\s+){0,4}hole\b|\bhole\s+(?:is\s+|for\s+(?:a|an|my|the|one|this|our)\b)|\bplant(?:ing)?\s+(?:a|an|one|my|the|our)\b",
    re.IGNORECASE,
)


class Places(Shapes):
    """One place settled: its shape, its way and what it is to get; packs and teas beside it."""

    def _place(self, place: PlaceDraft, asked: str) -> Place | None:
        draft = self.draft
        self._length_units(place)
        self._contradictions(place)
        if place.layer and place.share is not None and place.way != "incorporate" and draft.way != "incorporate" and len(draft.places) == 1:
            raise Ask("layer-or-share", f"is {amount_text(place.layer[0])} a layer of castings, or the depth of a mix with "
                       f"{amount_text(place.share)} castings?", needs="role")  # fmt: skip
        if "volume-by-each" in place.hints and place.volume is not None and not (place.share or place.recipe or draft.parts_share or draft.way or draft.compare or draft.hints & {"new-fill", "mixed-in", "recipe", "mix-named"} or "mix-named" in place.hints):
            raise Ask("size-or-rate", f"is {amount_text(place.volume)} the size of each, or the castings for each?", needs="role")
        if place.kind in ("plant", "hole") and place.rate is not None and place.share is not None and place.rate_per is None and not place.has_size:
            if place.kind == "plant" and place.way != "planting-hole":
                raise Ask("size-or-rate", f"is {amount_text(place.rate)} the mix for each, or the castings for each?", needs="role")
            place.volume, place.rate = place.rate, None  # "6 holes, 2 cubic feet each at 10 %"
        shape = self._shape(place)
        depth = self._depth(place)
        if depth is not None and place.share is None and not place.layer and depth.base[1] <= THIN and (
            asked in ("area", "length") or (place.kind in ("ground", "") and not place.recipe and place.way in ("", "top-dress")
                                            and draft.way in ("", "top-dress"))
        ):  # fmt: skip
            place.layer, depth = [depth], None
        way = self._way(place, shape, depth, asked)
        layer = tuple(place.layer)
        if way == "top-dress" and layer and depth is not None and {"way:incorporate", "top-of"} & draft.hints:
            place.hints.add("mixed-in")  # "spread 2 inches and work it into the top 6 inches"
        if way == "top-dress" and not layer and depth is not None and depth.base[1] <= THIN and not place.share:
            layer, depth = (depth,), None  # "half an inch deep" of a top-dressing is its layer
        if draft.strip and way == "side-dress" and layer and draft.strip_layer is None:
            raise Ask("role", f"is {amount_text(layer[0])} how thick the {draft.strip} lies, and how wide is it? Say “{draft.strip} 20 cm wide, 8 mm thick”",
                       needs="role")  # fmt: skip
        count = place.count
        if place.portion is not None and count is not None and place.kind in ("plant", "hole") and not place.has_size:
            count = count * place.portion
            if abs(count - round(count)) > 1e-9:
                raise Ask("count", f"{count:g} of them: how many whole ones?", needs="count")
            self.assume("portion", f"{place.portion:g} of {place.count:g}: {count:g}")
        if "too-much" in draft.topics and place.has_size and not (place.share or place.layer or place.rate or place.recipe) and (
            place.kind in ("container", "ground", "mix")
        ):  # fmt: skip
            raise Ask("pure", "is it to be castings alone? Say “100 % castings”, or the share", needs="share")
        if place.cells is not None and place.rate is not None and place.rate_per is None and place.each:
            raise Ask("cell-or-tray", "is that for each cell, or for each tray?", needs="each")
        stands_in_it = "per-plant" in place.hints or (place.crop and place.has_size and place.count is None)
        if stands_in_it and place.kind == "ground" and place.noun not in ("row", "trench") and place.rate is not None and place.rate_per is None:
            raise Ask("count", f"how many {plural(spoken('plant', place.crop)) if place.crop else 'plants'} stand in the {place.printed or 'bed'}?", needs="count")
        if place.spacing is not None and (count is not None or place.kind not in ("plant", "hole")):
            draft.noted.append((f"{amount_text(place.spacing)} apart", "how far apart they stand, which is not needed here"))
        if way in ("side-dress", "planting-hole") and place.rate is None and (place.share or place.recipe) and shape.form == "none":
            raise Ask("size", "how wide and how deep is each planting hole?" if way == "planting-hole" else "what is the share of: how much soil?",
                       needs="size")  # fmt: skip
        if place.kind == "hole" and count is None and _ONE_HOLE.search(draft.text):
            count = 1.0
        if place.kind == "plant" and way == "planting-hole" and count is None and shape.form != "none" and not place.printed.endswith("s") and (
            _HOLE_OF_ONE.search(draft.text)
        ):  # fmt: skip
            count = 1.0  # "digging a hole for a new apple tree, 60 cm wide"
        altogether = place.each is False
        if place.kind in ("plant", "hole") and count is None and "asked" not in place.hints and place.spacing is None:
            if place.rate is not None and "article" in place.hints:
                count = 1.0
        return _made(
            noun=place.noun, kind=place.kind, printed=place.printed, crop=place.crop, crop_said=place.crop_said, standing=tuple(place.standing), name=place.name,
            called=self._called(place), shape=shape, count=count,
            count_high=place.count_high, altogether=altogether,
            portion=None if place.kind in ("plant", "hole") and not place.has_size else place.portion,
            minus=tuple(self._shape(corner) for corner in place.minus), depth=depth, layer=layer, share=place.share,
            rate=place.rate, rate_per=place.rate_per, recipe=tuple(place.recipe),
            rate_altogether=place.rate_whole,
            per_volume=draft.per_volume, soil=draft.soil if place is draft.places[0] else None, spacing=place.spacing,
            **place_extras(place, draft),
            way=way, hints=frozenset(h for h in place.hints | draft.hints if ":" not in h),  # type: ignore[arg-type]
        )  # fmt: skip

    def _called(self, place: PlaceDraft) -> str:
        """What tells a place from others of its sort, where there are any: its letter or number, or the words before its noun."""
        if place.kind not in ("ground", "container") or sum(p.noun == place.noun for p in self.draft.places) < 2:
            return ""
        if place.name and place.count in (None, 1):
            return f"#{place.name}" if place.name.isdigit() else place.name
        said = spoken(place.kind, place.noun).split() if place.noun else []
        words = sorted(word for word in place.described if ":" not in word and word not in said and word != place.crop)
        return " ".join(words)

    def _way(self, place: PlaceDraft, shape: Shape, depth: Span | None, asked: str) -> str | None:
        draft = self.draft
        said = place.way or (draft.way if draft.way not in draft.not_ways else "")
        if said in draft.not_ways:
            said = ""
        hints = place.hints | draft.hints
        if (len(place.recipe) == 2 or draft.parts_share) and draft.soil is not None and shape.form == "none" and asked == "castings":
            self.assume("soil-of-recipe", "the soil named is the other part of the recipe")
            return "incorporate"
        in_soil = place.share is not None or not (place.layer or place.rate or place.recipe or place.kind)
        if draft.soil is not None and in_soil and shape.form == "none" and asked in ("castings", "packs", "weight", "cost") and (
            said in ("", "blend")
        ):  # fmt: skip
            self.assume("soil-named", "the soil named is there already, and castings are added to it")
            return "incorporate"
        if said == "blend" and ("existing-soil" in hints or "top-of" in hints) and "new-fill" not in hints and place.kind == "ground":
            said = ""
        if said == "top-dress" and place.kind in ("plant", "hole") and place.rate is not None and not place.layer:
            return "side-dress" if place.kind == "plant" else "planting-hole"
        if said == "side-dress" and place.layer and place.rate is None and place.kind == "ground" and place.form != "ring":
            said = "top-dress"  # a row dressed by a layer: it is spread over the width that is said
        if said == "side-dress" and place.layer and place.rate is None and place.kind == "plant" and not place.has_size and not draft.strip:
            raise Ask("ring", "a layer beside each plant: over how wide a ring? Or say what each plant gets, as “1 cup each”", needs="rate")
        if said == "top-dress" and place.share is not None and not place.layer and (depth or shape.form == "volume"):
            said = ""
        if said == "planting-hole" and not (place.kind in ("plant", "hole", "") or place.rate):
            said = ""
        if said == "side-dress" and place.kind not in ("plant", "hole", "", "ground") and place.rate is None and (
            place.share or depth
        ):  # fmt: skip
            said = ""
        if said and len(draft.places) > 1 and not place.way:
            # a way said once does not fit a place that speaks of another
            other = {
                "top-dress": place.share or place.rate,
                "side-dress": place.layer or place.share, "planting-hole": place.layer or place.share,
                "blend": place.layer or place.rate, "incorporate": place.layer or place.rate,
            }.get(said)  # fmt: skip
            if other:
                said = ""
        if said == "tea" and (place.layer or place.share):
            said = ""
        if said in ("side-dress", "planting-hole") and place.layer and place.rate is None and not (place.share or draft.strip):
            if shape.form == "none":
                raise Ask("size", f"over what size is the layer of {amount_text(place.layer[0])} to lie, for each of them?", needs="size")
            said = "top-dress"  # "around each tree a circle 2 m across, 1 cm thick"
        if not said and draft.filled:
            return "blend"
        if said:
            return said
        weighed = weigh("way", self._way_signs(place, shape, depth), draft.not_ways)
        if not weighed.readings:
            return None
        if weighed.clear:
            name, _, why = weighed.readings[0]
            self.assume("way", f"{'added' if name == 'incorporate' and place.kind == 'mix' else way_text(name)}, since {why}")
            return name
        names = [name for name, _, _ in weighed.readings[:2]]
        raise Ask("way", f"are the castings to be {_DONE[names[0]]}, or {_DONE[names[1]]}?", needs="way",
                   offers=tuple(n.replace("-", " ") for n in names))  # fmt: skip

    def _way_signs(self, place: PlaceDraft, shape: Shape, depth: Span | None) -> set[str]:
        draft = self.draft
        hints = place.hints | draft.hints
        signs: set[str] = set()
        if draft.water is not None or draft.way == "tea" or draft.ratio is not None or draft.ratio_spans or "spray" in hints:
            signs.add("tea")
        if draft.compare_rates:
            signs.add("rate said")
        if draft.strip or "band" in hints:
            signs.add("band")
        if place.kind == "seed-mix" or "seedlings" in hints:
            signs.add("seed mix")
        if place.kind == "hole" or "hole" in hints or draft.way == "planting-hole" or "way:planting-hole" in draft.hints:
            signs.add("hole")
        if place.layer or draft.compare_layers:
            signs.add("layer said")
        if place.rate is not None:
            signs.add("rate said")
            if place.rate_per is not None and place.rate_per.dimension == "area":
                signs.add("per area")
        if place.share is not None or draft.compare or place.recipe:
            signs.add("share said")
        if "existing-soil" in hints:
            signs.add("existing soil")
        if "top-of" in hints:
            signs.add("top of soil")
        if "new-fill" in hints:
            signs.add("new")
        if place.recipe:
            signs.add("recipe")
        if place.kind == "mix" or ("mixed-in" in hints and place.kind == "container") or draft.per_volume:
            signs.add("mixes")
        if place.has_size:
            signs.add("sized")
            if place.kind in ("ground", ""):
                signs.add("ground sized")
        if depth is not None:
            signs.add("depth said")
        if "established" in hints:
            signs.add("established")
        if "no-dig" in hints:
            signs.add("no dig")
        if place.kind == "container":
            signs.add("container")
        if draft.asked == "share":
            signs.add("share asked")
        if "mixed-in" in hints:
            signs.add("mixed in")
        if place.kind == "mix" and draft.asked == "share" and _ADDED_TO.search(draft.text) and not _FINISHED.search(draft.text):
            signs.add("added to a mix")
        if place.noun == "lawn":
            signs.add("lawn")
        if shape.form == "ring" or "trunk" in hints:
            signs.add("tree ring")
        if place.kind in ("plant", "hole") and not place.has_size and (draft.asks or "castings-named" in hints or draft.replies):
            signs.add("plants only")
        return signs

    def _pack(self) -> Pack | None:
        draft = self.draft
        if draft.pack is None and draft.packs_count is None and draft.price is None:
            return None
        return _pack(
            size=draft.pack,
            noun=draft.pack_noun or "bag",
            count=draft.packs_count,
            price=f"{draft.price[0]:.2f}" if draft.price else None,
            currency=draft.price[1] if draft.price else None,
            price_per=draft.price_per,
        )

    def _tea(self) -> Tea | None:
        draft = self.draft
        tea = draft.way == "tea" or draft.ratio is not None or draft.ratio_spans or draft.compare_ratios or "spray" in draft.hints or draft.water is not None
        if not tea or (draft.way not in ("", "tea") and draft.water is None):
            return None
        return _tea(water=draft.water, ratio=draft.ratio, strength=draft.ratio_spans)
