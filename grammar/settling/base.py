"""The draft that is being settled, and what the reading comes to rest on."""

from __future__ import annotations

from operator import attrgetter

from ..draft import Draft
from ..quantities import Span
from ..query import Note
from ..unchecked import unchecked
from .common import is_metric_unit

_note = unchecked(Note)

#: The measures of a place that are one span each.
_MEASURES_OF = attrgetter("length", "width", "side", "second_side", "flats", "corners", "base", "height", "diameter", "radius", "around", "clear",
                          "outer", "depth", "fill", "area", "volume", "rate", "rate_per")  # fmt: skip


class Base:
    """The draft that is being settled, and what the reading comes to rest on."""

    def __init__(self, draft: Draft, awaiting: str) -> None:
        self.draft = draft
        self.awaiting = awaiting
        self.assumed: list[Note] = []

    def assume(self, code: str, text: str) -> None:
        """Notes what is assumed, once."""
        if (code, text) not in [(note.code, note.text) for note in self.assumed]:
            self.assumed.append(_note(code=code, text=text))

    def _spans(self) -> list[Span]:
        draft = self.draft
        found: list[Span] = []
        for place in draft.places:
            found += [span for span in _MEASURES_OF(place) if span is not None]
            found.extend(place.size)
            found.extend(place.layer)
        for span in (draft.have, draft.pack, draft.soil, draft.water, draft.density):
            if span is not None:
                found.append(span)
        found.extend(u.span for u in draft.unsure)
        found += [*draft.compare_layers, *draft.compare_rates]
        return [span for span in found if span.unit != "percent"]

    def _is_metric(self) -> bool:
        if {"say-metric", "say-imperial"} & self.draft.hints:
            return "say-metric" in self.draft.hints
        names = [span.unit for span in self._spans()]
        names += [self.draft.asked_unit] if self.draft.asked_unit else []
        metric = sum(map(is_metric_unit, names))
        return metric > len(list(filter(None, names))) - metric if names else False

    def _metric_context(self) -> bool:
        return any(is_metric_unit(span.unit) for span in self._spans())
