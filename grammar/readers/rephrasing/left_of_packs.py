"""What whole packs leave over, asked beside how many of them: "30 lb bags, need 100 lb, how many and how much left over?".

The answer in packs says what they leave over, so that only how many is asked. What is left of castings at hand is another question.
"""

from __future__ import annotations

import re

from ...draft import Draft
from ...later import later
from ...phrases import Measure, Phrase
from ...said import Waits, is_said, single

LEFT_OF_PACKS: Waits = (frozenset({("ask", "left-over"), ("link", "rest"), ("ask", "how-much")}), frozenset({("ask", "how-many")}), frozenset({"pack"}))
#: "how many & how much left over", at the end of a line or a sentence.
_OVER = later(
    r"[\s,;.?]*(?:(?:and|&|n|plus|with)\s+)?(?:what|whats|what's|how much|how many (?:pounds?|lbs?|kilos?|kg|litres?|liters?|quarts?|gallons?|cubic (?:feet|foot))|anything)\s+"
    r"(?:(?:is|are|will be|would be|do i have|will i have|would i have|'s|castings|of it)\s+)*(?:left(?: ?over)?|over|remains|remaining|spare|extra|to spare)"
    r"(?:\s+(?:then|after|afterwards|at the end))?\s*(?=[?.!;]|$)",
    re.IGNORECASE,
)


def find_left_of_packs(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without that question, where bags are counted and nothing at hand is spoken of."""
    said = _OVER.search(draft.text)
    if said is None or any(is_said(p, "link", "on-hand") for p in phrases):
        return phrases
    asked = next((at for at, p in enumerate(phrases) if is_said(p, "ask", "how-many")), -1)
    sized = asked + 2 < len(phrases) and type(single(phrases[asked + 1])) is Measure and is_said(phrases[asked + 2], "pack")
    after = phrases[asked + 1 + sized] if asked + 1 < len(phrases) else None
    if phrases[asked].start >= said.start() or not (after is None or after.start >= said.start() or is_said(after, "pack") or is_said(after, "stop")):
        return phrases  # "how many tomatoes, and how much is left over"
    return [p for p in phrases if not said.start() <= p.start < said.end()]
