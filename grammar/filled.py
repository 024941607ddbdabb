"""The weight of a filled bed or planter: "how heavy is a 4 x 8 ft bed 10 in deep when wet"."""

from __future__ import annotations

from .asides import is_said
from .draft import Draft
from .phrases import Phrase, Said


def find_filled(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """Marks the draft where the weight of something filled is asked; the words for it are taken out."""
    if not any(is_said(p, "ask", "how-heavy") for p in phrases) or any(is_said(p, "castings") for p in phrases):
        return phrases
    if not any(is_said(p, "ground") or is_said(p, "container") for p in phrases):
        return phrases
    used: set[int] = set()
    for at, phrase in enumerate(phrases):
        if is_said(phrase, "hint", "wet"):
            draft.filled = "wet"
            used.add(at)
        elif (
            is_said(phrase, "hint", "filled-up")
            or _full_of(phrase)
            or (is_said(phrase, "link", "filled-to") and isinstance(phrase, Said) and phrase.text.lower() == "filled")
        ):
            draft.filled = draft.filled or "filled"
            used.add(at)
    if not draft.filled:
        return phrases
    if "wet" in draft.text.lower().replace(",", " ").split():
        draft.filled = "wet"
    if any(is_said(p, "component", "soil", "topsoil") for p in phrases) or any(_full_of(p) for p in phrases):
        draft.hints.add("of-soil")
    return [p for at, p in enumerate(phrases) if at not in used and not is_said(p, "component") and not is_said(p, "link", "of")]


def _full_of(phrase: Phrase) -> bool:
    return is_said(phrase, "hint", "existing-soil") and isinstance(phrase, Said) and "full of" in phrase.text.lower()
