""" "left" that asks for nothing left over: "the bed on the left", "the last owners left us a bed", "left behind"."""

from __future__ import annotations

import re

from ...draft import Draft
from ...later import later
from ...phrases import Phrase
from ...said import Waits, is_said

LEFT_WHERE: Waits = (frozenset({("ask", "left-over")}),)
_SIDE = later(r"\b(?:from|on|to|at|off) (?:the|my|our|your|its|his|her) (?:far |very )?$", re.IGNORECASE)
_TO_SOMEBODY = later(r"\s+(?:me|us|him|her|them|behind)\b(?! (?:with|over)\b)", re.IGNORECASE)
_BY_SOMEBODY = later(
    r"\b(?:owners?|tenants?|people|neighbou?rs?|builders?|folks|family|dad|mom|mum|grandpa|grandma|landlord|landlady|contractors?|landscapers?|gardeners?|guys?|he|she|they|who|"
    r"somebody|someone)\s+$",
    re.IGNORECASE,
)
_A_PLACE = later(r"\s+(?:an?|some|this|that|these|those|the|his|her|their|two|three|\d)\b", re.IGNORECASE)


def find_left_where(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without such a word."""
    text = draft.text
    return [
        p for p in phrases
        if not (
            is_said(p, "ask", "left-over") and text[p.start : p.end].lower() == "left"
            and (_SIDE.search(text[: p.start]) or _TO_SOMEBODY.match(text, p.end) or (_BY_SOMEBODY.search(text[: p.start]) and _A_PLACE.match(text, p.end)))
        )
    ]  # fmt: skip
