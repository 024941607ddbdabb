"""What is left of the castings at hand, asked about by itself: "how many plants would the leftover do at 1 litre each?"."""

from __future__ import annotations

import re

from grammar.draft import Draft
from grammar.quantities import Span, factor
from grammar.reads import span

from ..answer import Answer, Assumed
from .answers import asks
from .line import Instead, Line
from .remembered import Remembered
from .stock import with_stock

_THE_REST = re.compile(
    r"\b(?:the (?:rest|remainder|leftovers?|left[- ]?overs?(?: castings)?|remaining (?:castings|amount|bit|ones?|litres?|pounds?))(?: of (?:it|them|the castings|the bag))?"
    r"|what(?:['’]s| is| will be| would be|ever is) left(?: over)?|what remains)\b",
    re.IGNORECASE,
)
_ASKED = re.compile(r"\b(?:how (?:many|far|deep|thick|big|large)|what (?:area|size|share|else)|cover|enough|what (?:will|would|can|could)|will|would|can|could)\b", re.IGNORECASE)
#: The others of several places, and what is asked of the rest itself.
_OTHERWISE = re.compile(r"\bthe rest of the (?!castings|bag)|(?<!with )(?<!from )(?<!of )(?<!using )\bthe rest (?:gets?|are|were|at|needs?)\b|\bhow (?:much|many) (?:\w+ )?(?:is|are|will be|would be) (?:the rest|left)\b", re.IGNORECASE)


def of_the_rest(talk: Remembered, old: Draft, said: Line) -> Answer | Instead | None:
    """The line with what is left put into it, as a request of its own; None where it speaks of no rest, or no stock was told."""
    found, last = _THE_REST.search(said.text), talk.now.answer
    if found is None or last is None or last.status != "answered" or last.castings is None or _OTHERWISE.search(said.text) or not _ASKED.search(said.text):
        return None
    there = _there(with_stock(talk, old))
    if there is None or said.new.have is not None:
        return None
    weighed = there.dimension == "weight"
    used = last.castings.kg if weighed else last.castings.litres
    scale = factor("kilogram" if weighed else "litre") / factor(there.unit)
    left = Span(_rounded(there.low - used[1] * scale), _rounded(there.high - used[0] * scale), there.unit)
    if left.low <= 1e-9 * max(1.0, there.low):
        return asks(talk, said.text, "Nothing is left of what there is, or perhaps nothing; how much castings is that to be?")
    asked = re.sub(r"\bhow many more\b", "how many", said.text[: found.start()], flags=re.IGNORECASE)
    line = f"I have {span(left)} of castings, {asked.strip()} it {said.text[found.end() :].strip()}"
    return Instead(line, full=True, note=Assumed(code="the-rest", text=f"{span(left)} are left of {span(there)}"))


def _rounded(value: float) -> float:
    """As many figures as anybody can say."""
    return float(f"{value:.6g}")


def _there(old: Draft) -> Span | None:
    """The castings at hand, as they were told; None where there are none, or of several sorts."""
    if old.more_have or old.more_packs or old.loads or old.have_is_tea:
        return None
    if old.have is not None:
        one = old.have
    elif old.pack is not None and (old.packs_count or old.enough):
        one = Span(old.pack.low * (old.packs_count or 1), old.pack.high * (old.packs_count or 1), old.pack.unit)
    else:
        return None
    return one if one.unit not in ("gallon", "quart", "pint", "ton", "yard", "") and one.dimension in ("volume", "weight") else None
