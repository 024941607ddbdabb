"""Units that have more than one meaning: each gets an exact one, and the answer says which."""

from __future__ import annotations

from ..draft import PlaceDraft
from ..quantities import Span
from ..reads import many_of
from .common import BACKWARDS, DEFAULT_UNIT, QUART_PINT, unit_meant
from .topics import Topics


class Measures(Topics):
    """Units that have more than one meaning: each gets an exact one, and the answer says which."""

    def _units(self) -> None:
        """Every doubtful unit gets an exact one, or is asked about."""
        draft = self.draft
        for place in draft.places:
            for name in ("volume", "rate"):
                span = getattr(place, name)
                if span is not None:
                    brewed = draft.have_is_tea or draft.way == "tea"
                    held = "mix" if place.kind in ("mix", "seed-mix") else "pot"
                    setattr(place, name, self._exact(span, "brewed" if brewed else "kitchen" if name == "rate" else held, place))
            if place.rate_per is not None:
                place.rate_per = self._exact(place.rate_per, "mix", place)
        for name, use in (("have", "bagged"), ("pack", "bagged"), ("soil", "bagged"), ("water", "brewed")):
            span = getattr(draft, name)
            if span is not None:
                setattr(draft, name, self._exact(span, use, None))
        draft.more_have = [self._exact(span, "bagged", None) for span in draft.more_have]
        draft.compare_packs = [self._exact(span, "bagged", None) for span in draft.compare_packs]
        if draft.ratio_spans:
            draft.ratio_spans = (self._exact(draft.ratio_spans[0], "kitchen", None),
                                 self._exact(draft.ratio_spans[1], "brewed", None))  # fmt: skip
        if draft.per_volume:
            draft.per_volume = (self._exact(draft.per_volume[0], "kitchen", None), self._exact(draft.per_volume[1], "mix", None))
        if draft.limit:
            draft.limit = (draft.limit[0], self._exact(draft.limit[1], "bagged", None))
        if draft.weighed:
            draft.weighed = (draft.weighed[0], self._exact(draft.weighed[1], "bagged", None))
        if draft.density is not None:
            draft.density = self._exact_density(draft.density)
        draft.offers = [(self._exact(size, "bagged", None), price, currency) for size, price, currency in draft.offers]
        if draft.price_per is not None:
            draft.price_per = self._exact(draft.price_per, "bagged", None)
        for unsure in draft.unsure:
            unsure.span = self._exact(unsure.span, "bagged" if self._bagged() else "mix", None)
        if draft.asked_unit and (meant := self._meant(draft.asked_unit)):
            draft.asked_unit = meant
        elif draft.asked_unit in QUART_PINT and "imperial" in draft.hints:
            draft.asked_unit = f"imperial_{draft.asked_unit}"
        elif draft.asked_unit in ("gallon", "ton"):
            draft.asked_unit = DEFAULT_UNIT[draft.asked_unit][0]
        elif draft.asked_unit in QUART_PINT:
            brewed = draft.way == "tea" or draft.water is not None
            draft.asked_unit = QUART_PINT[draft.asked_unit][1 if brewed else 0]
            self.assume("quarts", f"{'liquid' if brewed else 'dry'} measure for the answer, as "
                        f"{'liquids are measured' if brewed else 'castings are bagged'}")  # fmt: skip
        elif draft.asked_unit == "yard":
            draft.asked_unit = "cubic_yard"

    def _bagged(self) -> bool:
        draft = self.draft
        return draft.asked in BACKWARDS or "on-hand" in draft.hints or draft.enough

    def _meant(self, name: str) -> str:
        """The exact unit that earlier lines of a conversation stated for a doubtful name, said among what is assumed."""
        exact = unit_meant(self.draft.hints, name)
        if exact:
            self.assume(name, f"{many_of(exact)}, as said before")
        return exact

    def _exact(self, span: Span, use: str, place: PlaceDraft | None) -> Span:
        name = span.unit
        if (name in DEFAULT_UNIT or name in QUART_PINT) and (meant := self._meant(name)):
            return span._replace(unit=meant)
        if name in DEFAULT_UNIT:
            exact, says = DEFAULT_UNIT[name]
            if "imperial" in self.draft.hints and name == "gallon":
                exact, says = "imperial_gallon", "imperial gallons"
            if name == "ton" and self._metric_context():
                exact, says = "tonne", "tons are tonnes of 1000 kg"
            self.assume(name, says)
            return span._replace(unit=exact)
        if name in QUART_PINT:
            dry, liquid = QUART_PINT[name]
            if "imperial" in self.draft.hints:
                self.assume(name, f"imperial {name}s")
                return span._replace(unit=f"imperial_{name}")
            if use == "brewed":
                self.assume(name, f"{name}s of water or tea are liquid {name}s")
                return span._replace(unit=liquid)
            if use == "pot":
                self.assume(name, f"a pot's {name}s are liquid {name}s, as pots are sold")
                return span._replace(unit=liquid)
            self.assume(name, f"{name}s of castings or mix are dry {name}s, as on a bag; liquid ones are 14 % less")
            return span._replace(unit=dry)
        if name == "yard" and use in ("mix", "bagged"):
            return span._replace(unit="cubic_yard")
        return span

    def _exact_density(self, span: Span) -> Span:
        weight, _, volume = span.unit.partition(" / ")
        exact_weight = self._exact(Span(1, 1, weight), "bagged", None).unit
        exact_volume = self._exact(Span(1, 1, volume), "bagged", None).unit
        return span._replace(unit=f"{exact_weight} / {exact_volume}")
