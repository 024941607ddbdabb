"""Shares: of castings in a place or a mix, by percent or as a part, one of them or several to be compared."""

from __future__ import annotations

import re

from ..later import later
from ..phrases import Amount, Number, Share
from ..quantities import Span
from ..said import is_said, single
from .pointing_back import IT, OF_IT_OR_ALL
from .yards import Yards

#: More values than this are no shares to be set side by side.
_MOST_COMPARED = 12
#: "what would 5% or 10% be": both are asked for; "5% or 10%" alone leaves open which.
_WHAT_WOULD = later(r"\b(?:what|how much|how many)(?: would|'d| will|'s| is| does| do| are)\b.*\bor\b", re.IGNORECASE)


class Shares(Yards):
    """Shares: of castings in a place or a mix, by percent or as a part, one of them or several to be compared."""

    def _share(self, phrase: Share) -> None:
        draft = self.draft
        span = Span(min(phrase.low, phrase.high), max(phrase.low, phrase.high), "percent")
        following = self.peek()
        if is_said(following, "link", "moisture") or is_said(self.peek(-1), "link", "moisture"):
            draft.moisture = span
            return
        if is_said(following, "by-so-much"):
            draft.hints.add("by-so-much")
            draft.by_so_much = following.id  # type: ignore[union-attr]
            draft.by_so_much_said = f"{self.text_of(phrase)} {following.text}"  # type: ignore[union-attr]
            return
        if is_said(following, "link", "relative"):
            draft.question = (
                "relative",
                f"“{self.text_of(phrase)} {following.text}”: what share should that make? Say the share itself.",  # type: ignore[union-attr]
            )
            draft.hints.add("relative")
            return
        if self._shares_to_compare(phrase):
            return
        if OF_IT_OR_ALL.match(draft.text, phrase.end):
            draft.hints.add("share-of-it")
        place = self.place
        if place is None:
            place = self._new_place()
        if place.share is not None and place.share != span:
            if self.correcting:
                self._withdraw(place.share)
                place.share = span
                self.correcting = False
                return
            first, second = place.share.low, span.low
            which = f"two different shares; which one holds, {first:g} % or {second:g} %?"
            if self.dated:
                both = 100 - (100 - first) * (100 - second) / 100
                which = f"{first:g} % and later {second:g} % come to {both:.3g} % of the soil in all; say one at a time, which one is it to be?"
            draft.question = ("two-values", which)
            return
        place.share = span
        self.correcting = False

    def _shares_to_compare(self, phrase: Share) -> bool:
        """ "5 %, 10 % or 20 %": shares that are set side by side, and no two values of one."""
        values = [phrase.low]
        at = self.at + 1
        while at < len(self.phrases):
            other = self.phrases[at]
            if is_said(other, "stop", "comma") or is_said(other, "link", "and", "or") or is_said(other, "ask", "compare-at"):
                at += 1
            elif type(other) is Share and other.low == other.high:
                values.append(other.low)
                at += 1
            else:
                break
        either = any(is_said(p, "link", "or") for p in self.phrases[self.at : at]) and _WHAT_WOULD.search(self.draft.text) is not None
        wanted = any(is_said(p, "ask", "compare-at") for p in self.phrases) or len(values) > 2 or either
        if len(values) >= 2 and wanted:
            self.draft.compare.extend(values)
            self.at = at
            return True
        return False

    def _share_list(self, one: Number) -> bool:
        """ "5 and 10 percent", "5, 10 or 20 percent": numbers that are shares to be set side by side, since the last of them is one."""
        values = [one.low]
        at = self.at + 1
        while at < len(self.phrases) and len(values) <= _MOST_COMPARED:
            phrase = self.phrases[at]
            number = single(phrase)
            if is_said(phrase, "stop", "comma") or is_said(phrase, "link", "and", "or") or is_said(phrase, "ask", "compare-at"):
                at += 1
            elif type(number) is Number and not number.role and number.low == number.high:
                values.append(number.low)
                at += 1
            elif type(phrase) is Share and phrase.low == phrase.high:
                values.append(phrase.low)
                at += 1
                joined = any(is_said(p, "link", "and", "or") for p in self.phrases[self.at : at])
                asked = any(is_said(p, "ask", "compare-at") for p in self.phrases)
                if len(values) >= 3 or joined or asked:
                    self.draft.compare.extend(values)
                    self.at = at
                    return True
                return False
            else:
                return False
        return False

    def _part_of_castings(self) -> bool:
        """Whether the part of a place that comes is castings: "a third of the pot is castings", "castings are a fifth of the tub"."""
        following, at = self.ahead(("hint",))
        if not is_said(following, "link", "of"):
            return False
        if IT.match(self.draft.text, following.end) and is_said(self._at(at + 1), "link", "into") and is_said(self._at(at + 2), "castings"):  # type: ignore[union-attr]
            return True  # "what's a fifth of that in castings"
        before = self.peek(-2) if is_said(self.peek(-1), "link", "is") else self.peek(-1)
        named, at = self._at(at + 1), at + 1
        size = type(named) is Amount and (self._is_size(named) or self._ground_measure(named) or is_said(self._at(at + 1), "container"))
        if not (size or is_said(named, "container") or is_said(named, "ground")):
            return False
        while type(self._at(at)) is Amount or is_said(self._at(at), "container") or is_said(self._at(at), "ground") or is_said(self._at(at), "link", "is"):
            at += 1
        return is_said(before, "castings") or is_said(self._at(at), "castings")

    def _part_of_the_mix(self) -> bool:
        """ "castings to make up one eighth of the mix"."""
        if not (is_said(self.peek(), "link", "of") and (is_said(self.peek(2), "mix") or is_said(self.peek(2), "seed-mix"))):
            return False
        at = self.at - 1
        while is_said(self._at(at), "way", "blend") or is_said(self._at(at), "link", "is", "at", "for") or is_said(self._at(at), "about"):
            at -= 1
        return is_said(self._at(at), "castings")
