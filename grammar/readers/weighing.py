"""A vessel weighed full and empty: the empty one's weight is taken off before anything is made of it."""

from __future__ import annotations

import re

from ..draft import Draft
from ..later import later
from ..less import less
from ..phrases import Amount, Measure, Phrase, Share
from ..quantities import Span
from ..said import clauses, dimension, is_said, single

_EMPTY = later(r"\b(?:empty|alone|tare|by itself|on its own|without (?:the |any )?castings)\b", re.IGNORECASE)
#: The words of it, to be looked for first.
_WORDS = ("empty", "alone", "tare", "by itself", "own", "without")
#: What asks for the weight of so much.
_DENSITY = later(r"\b(?:density|dens|(?:lbs?|pounds?|kg|kilos?) (?:per|a|to the|in a) (?:cubic foot|cu ft|litre|liter|gallon|cubic yard))\b", re.IGNORECASE)


def find_tare(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with the weight of the empty vessel taken off that of the full one: "weighs 31 lb, the empty pail 2 lb"."""
    said = draft.text.lower()
    if not any(word in said for word in _WORDS) or not _EMPTY.search(said):
        return phrases
    weights = [at for at, p in enumerate(phrases) if type(one := single(p)) is Measure and one.per is None and dimension(one) == "weight"]
    if len(weights) != 2 or not any(type(one := single(p)) is Measure and dimension(one) == "volume" for p in phrases):
        return phrases
    for start, end in clauses(phrases, commas=True):
        inside = [at for at in weights if start <= at < end]
        inner = draft.text[phrases[start].start : phrases[end - 1].end]
        before = draft.text[: phrases[start].start].rstrip()[-12:]
        if len(inside) != 1 or not (_EMPTY.search(inner) or _EMPTY.search(before)):
            continue
        empty_at = inside[0]
        full_at = next(at for at in weights if at != empty_at)
        empty, full = single(phrases[empty_at]), single(phrases[full_at])
        assert isinstance(empty, Measure) and isinstance(full, Measure)
        if any(type(single(phrases[at])) is Measure and at != empty_at for at in range(start, end)):
            continue
        left = less(full, empty)
        if left is None:
            draft.question = ("unit", "how much does it weigh full, and how much empty: say both in one unit")
            return phrases
        full_said, empty_said = (draft.text[one.start : one.end].strip() for one in (full, empty))
        if left.low <= 0:
            draft.question = ("tare", f"{empty_said} empty and {full_said} full: which of the two is right?")
            return phrases
        draft.flags.append(("tare", f"{full_said} less {empty_said} for what it is in"))
        net = Amount((left,), full.start, full.end)
        volumes = [at for at, p in enumerate(phrases) if type(one := single(p)) is Measure and one.per is None and dimension(one) == "volume"]
        vessel = single(phrases[volumes[0]]) if len(volumes) == 1 else None
        if type(vessel) is Measure and _DENSITY.search(draft.text) and not any(type(p) is Share or is_said(p, "ask", "how-many") for p in phrases):
            draft.weighed = (Span(left.low, left.high, left.unit), Span(vessel.low, vessel.high, vessel.unit))
            draft.asked = "density"
            draft.asks.append("trailing")
            gone = {full_at, empty_at, volumes[0]}
            return [p for at, p in enumerate(phrases) if at not in gone and not is_said(p, "container") and not is_said(p, "hint", "new-fill")]
        kept = [net if at == full_at else phrase for at, phrase in enumerate(phrases) if not start <= at < end or at == full_at]
        return [p for at, p in enumerate(kept) if not is_said(p, "hint", "new-fill") and not _is_vessel(kept, at)]
    return phrases


def _is_vessel(phrases: list[Phrase], at: int) -> bool:
    """Whether a container is only what was weighed too: "31 lb with the bucket"."""
    return is_said(phrases[at], "container") and at > 0 and is_said(phrases[at - 1], "link", "with")


#: Asked of a weight and a volume at the end: what a unit of it weighs.
_ASKED_DENSITY = later(r"(?:^|[.,;:?]|\b(?:what|what's|whats|what is|is|find|give me|the|bulk))\s*(?:the |its |my |bulk )*(?:density|dens)\b\s*(?:is (?:that|it|this))?\s*\??\s*$", re.IGNORECASE)


def find_weighed(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without a vessel's volume and weight whose density is asked: "my bucket of castings: 5 gallons, 27 lb. density?"."""
    if draft.weighed is not None or "dens" not in draft.text.lower() or not _ASKED_DENSITY.search(draft.text):
        return phrases
    measures = [(at, one) for at, p in enumerate(phrases) if type(one := single(p)) is Measure]
    if len(measures) != 2 or any(one.per is not None or one.role or one.low != one.high for _, one in measures) or any(
        type(p) in (Share, Amount) for at, p in enumerate(phrases) if at not in (measures[0][0], measures[1][0])
    ):  # fmt: skip
        return phrases
    kinds = {dimension(one): one for _, one in measures}
    if kinds.keys() != {"weight", "volume"}:
        return phrases
    weight, volume = kinds["weight"], kinds["volume"]
    draft.weighed = (Span(weight.low, weight.high, weight.unit), Span(volume.low, volume.high, volume.unit))
    draft.asked = "density"
    draft.asks.append("trailing")
    gone = {at for at, _ in measures}
    return [p for at, p in enumerate(phrases) if at not in gone and not is_said(p, "container") and not is_said(p, "pack") and not is_said(p, "link", "density-word")]
