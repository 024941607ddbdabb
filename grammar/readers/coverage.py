"""What one bag is said to cover: "a 40 lb bag covers 25 sq ft, how many for 200?", "the bag covers 20 sq ft at half an inch"."""

from __future__ import annotations

import re

from ..draft import Draft
from ..later import later
from ..phrases import Amount, Measure, Phrase, Said
from ..quantities import factor
from ..said import Waits, dimension, is_said, single
from ..thickness import THIN
from ..things import area_of, is_ground_size, whole

#: What this reader waits for.
COVERED: Waits = (frozenset({"pack", "other-person"}), frozenset({("measures", "area")}))
#: Before the bags, where whether they cover so much is asked and not told.
_ASKED = later(r"\b(?:will|would|do|does|can|could|is|are|should|how far|how much)\s+(?:[\w.]+\s+){0,4}$", re.IGNORECASE)
#: Between the bag and what it covers.
_COVERS = later(
    r"\s*(?:says? |it |that it |will |should |that |which )*(?:covers?|does|do|treats?|is (?:enough|good|meant) for|are enough for|goes? over|spreads? over|lasts? for)\s+"
    r"(?:about |around |roughly |up to )?",
    re.IGNORECASE,
)


def find_coverage(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with what a bag covers made its size or a rate, where another place is told that it is asked for."""
    for at, bag in enumerate(phrases):
        ground = next((i for i in range(at + 1, min(at + 5, len(phrases))) if is_ground_size(phrases[i])), -1)
        if is_said(bag, "other-person") and isinstance(bag, Said) and "bag" in bag.text.lower():
            bag = Said("pack", "bag", "bag", bag.start, bag.end)  # "the bag says it covers 2 m2"
        if type(bag) is not Said or bag.kind != "pack" or ground < 0 or not _COVERS.fullmatch(draft.text[bag.end : phrases[ground].start]):
            continue
        others = [i for i, p in enumerate(phrases) if i != ground and is_ground_size(p)]
        if len(others) != 1 or _ASKED.search(draft.text[: bag.start]) or not _unit(phrases[ground]):
            continue
        size = single(phrases[at - 1]) if at else None
        sized = type(size) is Measure and size.per is None and not size.role and dimension(size) in ("volume", "weight")
        first = at - 1 if sized else at
        many = whole(phrases[first - 1]) if first else 0.0
        first = first - 1 if many or (first and is_said(phrases[first - 1], "link", "each")) else first
        layer_at = ground + 1
        while layer_at < len(phrases) and is_said(phrases[layer_at], "link", "at", "for", "with"):
            layer_at += 1
        thin = single(phrases[layer_at]) if layer_at < len(phrases) else None
        layered = type(thin) is Measure and dimension(thin) == "length" and thin.per is None and thin.high * factor(thin.unit) <= THIN
        area = area_of(phrases[ground])
        said = draft.text[phrases[first].start : phrases[ground].end]
        start, end = phrases[first].start, phrases[ground].end
        if sized and type(size) is Measure:
            name = "square_metre" if "metre" in _unit(phrases[ground]) else "square_foot"
            per = Measure(area / factor(name), area / factor(name), name, "unit", phrases[ground].start, end)
            rate = size._replace(low=size.low * (many or 1), high=size.high * (many or 1), per=per, start=start, end=end)
            draft.flags.append(("coverage", f"“{said}” is so much for so big a place"))
            gone = set(range(first, layer_at + 1 if layered else ground + 1))
            kept = [p for i, p in enumerate(phrases) if i not in gone]
            target = next(i for i, p in enumerate(kept) if p is phrases[others[0]])
            pack = [phrases[at - 1], bag]
            return [*pack, *kept[: target + 1], Amount((rate,), start, end), *kept[target + 1 :]]
        if layered and type(thin) is Measure:
            name = "litre" if "metre" in _unit(phrases[ground]) else "cubic_foot"
            volume = area * thin.low * factor(thin.unit) / factor(name) / (many or 1)
            made = Measure(volume, volume, name, "unit", start, start)
            draft.flags.append(("coverage", f"“{said}” at {draft.text[thin.start : thin.end].strip()}: {volume:.4g} {name.replace('_', ' ')} in a bag"))
            draft.noted.append((said, "what a bag covers"))
            kept = [p for i, p in enumerate(phrases) if not first <= i <= ground]
            return [*kept[:first], Amount((made,), start, start), Said("pack", bag.id, "bag", bag.start, bag.end), *kept[first:]]
        draft.question = ("pack", f"“{said}”: how big is one bag, or how thick is that?")
        return phrases
    return phrases


def _unit(phrase: Phrase) -> str:
    """The unit of the last side of a place, or of its area."""
    dims = [dim for dim in phrase.dims if type(dim) is Measure] if type(phrase) is Amount else []
    return dims[-1].unit if dims else ""
