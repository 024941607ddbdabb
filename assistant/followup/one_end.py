"""One end of a span that was answered with: "use the thinner amount", "ok, the lower one"."""

from __future__ import annotations

import re

from grammar.draft import Draft, PlaceDraft
from grammar.quantities import Span, factor

from ..answer import Answer
from .leaning import cleared

_ONE_END = re.compile(
    r"^\W*(?:(?:ok|okay|right|fine|yes|and|so|then|let's|lets|i'll|we'll|i|we|will|use|take|go|with|for|make|it|pick|choose|do|just|only|try)\W+)*(?:the )?"
    r"(?P<end>thinner|thicker|smaller|larger|bigger|lower|higher|lesser|greater|smallest|largest|lowest|highest|least|most|minimum|maximum|thinnest|thickest)"
    r"(?: (?:one|amount|layer|figure|value|number|rate|dose|depth|share|of (?:the|those) two|of them))?(?:\W+(?:then|please|instead|thanks|now))*\W*$",
    re.IGNORECASE,
)
_LOW = frozenset({"thinner", "smaller", "lower", "lesser", "smallest", "lowest", "least", "minimum", "thinnest"})
_OF_A_LAYER = frozenset({"thinner", "thicker", "thinnest", "thickest"})


def one_end(old: Draft, last: Answer | None, text: str) -> Draft | None:
    """The request with one end of its one span, told or usual; None where there is no such span, more than one, or the line says anything else."""
    found = _ONE_END.match(text)
    if found is None or last is None or last.status != "answered" or last.castings is None or len(old.places) != 1:
        return None
    word = found["end"].lower()
    low = word in _LOW
    draft = old.copy()
    place = draft.places[0]
    spans = [name for name in ("depth", "share", "rate", "layer") if _is_span(place, name)]
    if not spans and last.layer_mm is not None and last.layer_mm[0] < last.layer_mm[1] and not place.layer and last.way == "top-dress":
        name = "inch" if "cu" in last.figure else "millimetre"
        value = (last.layer_mm[0] if low else last.layer_mm[1]) * factor("millimetre") / factor(name)
        place.layer = [Span(float(f"{value:.6g}"), float(f"{value:.6g}"), name)]
    elif not spans and place.kind in ("plant", "hole") and place.rate is None and place.count and last.castings.litres[0] < last.castings.litres[1]:
        each = (last.castings.litres[0] if low else last.castings.litres[1]) / place.count * factor("litre")
        cups = each / factor("us_cup")
        name = "us_cup" if abs(4 * cups - round(4 * cups)) < 1e-3 else "litre"
        value = each / factor(name)
        place.rate = Span(float(f"{value:.6g}"), float(f"{value:.6g}"), name)
        place.way = place.way or (last.way or "")
    elif len(spans) == 1 and (spans[0] == "layer") >= (word in _OF_A_LAYER):
        setattr(place, spans[0], _end(place, spans[0], low))
    else:
        return None
    return cleared(draft, Draft(text=text))


def _is_span(place: PlaceDraft, name: str) -> bool:
    value = getattr(place, name)
    value = value[0] if isinstance(value, list) and len(value) == 1 else value
    return isinstance(value, Span) and value.low < value.high


def _end(place: PlaceDraft, name: str, low: bool) -> Span | list[Span]:
    value = getattr(place, name)
    span: Span = value[0] if isinstance(value, list) else value
    one = span.low if low else span.high
    made = Span(one, one, span.unit)
    return [made] if isinstance(value, list) else made
