"""Two ways set against each other: "what's the difference between mixing them in and putting them on top"."""

from __future__ import annotations

from ...draft import Draft
from ...phrases import Amount, Phrase, Said, Share
from ...said import is_said


def find_either_way(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without the ways, where which of two is asked, and not what one of them is."""
    ways = {p.id for p in phrases if type(p) is Said and p.kind == "way"} | {"incorporate" for p in phrases if is_said(p, "hint", "mixed-in")}
    asked = any(is_said(p, "ask", "difference") for p in phrases)
    if not asked or len(ways) < 2 or any(type(p) in (Amount, Share) for p in phrases):
        return phrases
    draft.topics.append("which-way")
    return [p for p in phrases if not (is_said(p, "way") or is_said(p, "hint", "mixed-in") or is_said(p, "ask", "difference"))]
