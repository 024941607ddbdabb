"""Whether a yard is a length or a cubic yard, by what stands beside it."""

from __future__ import annotations

import re

from ..later import later
from ..phrases import Amount, Measure, Price, Said, Share
from ..said import dimension, is_said
from .volumes import Volumes

#: After so many yards: a load, a pile or a scoop is of volume, and so is what is delivered or bought in bulk.
_LOAD = later(
    r"[\s-]*(?:(?:dump|tipper|bulk|truck|trailer)[\s-]*)?(?:loads?|piles?|heaps?|scoops?|buckets?)\b"
    r"|\s*(?:(?:has|have|was|were|is|are|been|being|got|just|gets)\s+){0,3}(?:in bulk|bulk|in (?:a|one) (?:pile|heap)|delivered|dumped|dropped off|tipped|delivery)\b",
    re.IGNORECASE,
)
#: Before so many yards: the same.
_LOAD_OF = later(r"\b(?:piles?|heaps?|loads?|delivery|delivered|deliver|dumped|dropped off|bulk|truck ?load) (?:of )?(?:about |around )?$", re.IGNORECASE)


class Yards(Volumes):
    """Whether a yard is a length or a cubic yard, by what stands beside it."""

    def _yard(self, one: Measure) -> str:
        """Whether a yard is a length or a cubic yard, by what stands beside it."""
        following = self.peek()
        if one.role or is_said(following, "ground", "row", "trench"):
            return "length"
        if is_said(following, "link", "of"):
            after = self.peek(2)
            if type(after) is Said and after.kind in ("mix", "castings", "component", "seed-mix"):
                return "volume"
            return "length" if is_said(after, "ground") else "doubt"
        if type(following) is Said and following.kind in ("mix", "castings", "component", "seed-mix", "pack"):
            return "volume"
        if any(type(p) is Price and type(p.per) is Measure and p.per.unit == "yard" for p in self.phrases):
            return "volume"  # "$45 a yard, 3 yards"
        ground = any(is_said(p, "ground") or (type(p) is Amount and self._is_size(p)) for p in self.phrases)
        if any(type(p) is Share for p in self.phrases) and not ground:
            return "volume"  # "5% of 3 yards", "20 yards at 9 %"
        if is_said(self.peek(-1), "link", "on-hand") or any(is_said(p, "ask", "how-heavy") for p in self.phrases):
            return "volume"
        if is_said(self.peek(-1), "ask", "how-far") and is_said(following, "ask", "cover"):
            return "volume"  # "how far does 1 yd go": castings go far, a length does not
        if _LOAD.match(self.draft.text, one.end) or _LOAD_OF.search(self.draft.text[: one.start]):
            return "volume"  # "a 2 yd load", "a pile of 3 yards"
        if self._goes_far(one):
            return "volume"  # "2 yards, how far at half an inch"
        return "doubt"

    def _goes_far(self, one: Measure) -> bool:
        """Whether how far something goes is asked, and nothing but these yards is told that could go far."""
        if not any(is_said(p, "ask", "how-far") for p in self.phrases) or any(is_said(p, "pack") or type(p) is Price for p in self.phrases):
            return False
        others = [m for p in self.phrases if type(p) is Amount for m in p.dims if type(m) is Measure and m is not one]
        if any(type(p) is Amount and len(p.dims) > 1 for p in self.phrases):
            return False
        return bool(others) and all(dimension(m) == "length" and m.unit != "yard" and m.per is None for m in others)
