"""Weights: of packs, of castings at hand, of what so much of them weighs; and castings at hand by volume as well."""

from __future__ import annotations

from ..phrases import Measure, Said
from ..quantities import Span
from ..said import dimension, is_said, single
from .each import Each
from .state import ONE_EACH


class Weights(Each):
    """Weights: of packs, of castings at hand, of what so much of them weighs; and castings at hand by volume as well."""

    def _have(self, span: Span) -> None:
        """Castings at hand, by weight or volume; asks where two amounts are told and no "and" joins them."""
        draft = self.draft
        if draft.have is not None and draft.have != span and not self.correcting and self.tie != "and":
            draft.question = ("two-values", f"{draft.have.low:g} {draft.have.unit.replace('_', ' ')} and another amount; which castings are at hand?")
        if "altogether-next" in draft.hints and self.place is not None and self.place.kind in ONE_EACH and self.place.rate is None:
            self.place.rate, self.place.rate_whole = span, True  # "12 plants share 2 gallons of castings"
            return
        if draft.have is None or self.correcting:
            draft.have = span
        elif draft.have != span:
            draft.more_have.append(span)

    def _size_comes_after(self, one: Measure, where: int) -> bool:
        """ "need 6 cf. bags 30 lb": a full stop before the bags, and their own size behind them."""
        size = single(self._at(where + 2 if is_said(self._at(where + 1), "link", "is") else where + 1))
        apart = "." in self.draft.text[one.end : self.phrases[where].start]
        return apart and type(size) is Measure and size.per is None and dimension(size) in ("volume", "weight")

    def _weight(self, one: Measure) -> None:
        """An amount by weight: how big a pack is, castings at hand, what each gets, or the weight of something else."""
        draft = self.draft
        span = self._span(one)
        following = self.peek()
        skip, where = self.ahead(("hint", "form", "about"))
        if is_said(skip, "pack") and where <= self.at + 2 and not self._size_comes_after(one, where):
            self._pack_size(span, skip)  # type: ignore[arg-type]
            return
        if self._size_of_pack(span) or self._size_of_each_pack(span):
            return
        if is_said(following, "castings") and is_said(self.peek(2), "pack"):
            self._pack_size(span, self.peek(2))  # type: ignore[arg-type]
            return
        if self._weighed_then_held(span):
            return
        if is_said(following, "link", "of") and is_said(self.peek(2), "plant"):
            draft.noted.append((self.text_of(one), "a weight of what is grown"))
            return
        if self._each_beside():
            self._rate_here(span)
            return
        after = self.peek(2) if is_said(following, "link", "of") else following
        lead = self.peek(-2) if is_said(self.peek(-1), "link", "is") or is_said(self.peek(-1), "about") else self.peek(-1)
        if is_said(lead, "component") and (following is None or is_said(following, "stop")):
            after = lead  # "topsoil 5 tons"
        if is_said(after, "component") and not is_said(after, "castings"):
            draft.noted.append((self.text_of(one), "a weight of something else"))
            return
        if is_said(after, "castings") and self._said_of_each():
            self._rate_here(span)
            return
        if is_said(after, "castings"):
            self._have(span)
            return
        if not self._rate_corrected(span):
            self._unsure(span, self._cues(), one)

    def _weighed_then_held(self, span: Span) -> bool:
        """ "my bucket of castings weighs 22 lb and holds 4 gallons": one measure of the same castings after the other."""
        at = self.at + 1
        while is_said(self._at(at), "link", "and") or is_said(self._at(at), "stop", "comma"):
            at += 1
        held = single(self._at(at + 1)) if is_said(self._at(at), "link", "volume-word") else None
        lead = self.peek(-2) if is_said(self.peek(-1), "about") else self.peek(-1)
        if not is_said(lead, "ask", "how-heavy") or self.draft.weighed is not None or type(held) is not Measure or dimension(held) != "volume":
            return False
        self.draft.weighed = (span, self._span(held))
        self.draft.asks, self.draft.asked = [a for a in self.draft.asks if a != "how-heavy"], ""
        if self.place is not None and self.place.kind == "container" and self.place.is_empty and self.place.count is None:
            self.draft.places.remove(self.place)
            self.place = None
        self.at = at + 2
        return True

    def _weigh_pair(self, one: Measure) -> bool:
        """ "a 5 gallon bucket of castings weighs 27 lb", "a cubic foot weighs 35 pounds"."""
        at = self.at + 1
        while at < len(self.phrases) and at <= self.at + 5:
            phrase = self.phrases[at]
            if is_said(phrase, "ask", "how-heavy") or is_said(phrase, "link", "is", "density-word"):
                other_at = at + 1
                while other_at < len(self.phrases) and is_said(self.phrases[other_at], "about"):
                    other_at += 1
                other = single(self.phrases[other_at]) if other_at < len(self.phrases) else None
                if type(other) is Measure and dimension(other) == "weight" and other.per is None:
                    self.draft.weighed = (self._span(other), self._span(one))
                    self.at = other_at + 1
                    if self.place is not None and self.place.kind == "container" and self.place.is_empty and self.place.count is None:
                        self.draft.places.remove(self.place)  # "a bucket of 10 litres weighs 6 kg": only what was weighed
                        self.place = None
                    return True
                return False
            if type(phrase) is Said and phrase.kind in ("container", "pack", "castings", "link", "hint", "form", "about", "mix", "loose-measure"):
                at += 1
                continue
            return False
        return False
