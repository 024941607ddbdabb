"""The weight of a filled bed or planter: "how heavy is a 4 x 8 ft bed 10 in deep when wet"."""

from __future__ import annotations

import re

from ..draft import Draft
from ..later import later
from ..phrases import Amount, Measure, Part, Phrase, Price, Ratio, Said, Share
from ..quantities import factor
from ..said import dimension, is_said
from ..thickness import THIN

#: A length up to which a measure may be a layer of castings, in metres.
#: Whether something bears what stands on it: the weight is what is asked.
_BORNE = later(
    r"\b(?:can|could|will|would|does|should) (?:my |our |the |a |this |that )?(?:\w+ )?(?:balcony|roof|deck|terrace|floor|fire escape)\b[^.?!]{0,30}?"
    r"\b(?:take|hold|bear|carry|support|cope with|stand|handle)\b",
    re.IGNORECASE,
)


def find_filled(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """Marks the draft where the weight of something filled is asked; the words for it are taken out."""
    if any(is_said(p, "castings") for p in phrases) or not any(is_said(p, "ground") or is_said(p, "container") for p in phrases):
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
    dry = [at for at, phrase in enumerate(phrases) if is_said(phrase, "hint", "dry-weight")]
    borne = bool(_BORNE.search(draft.text)) and any(type(p) is Amount for p in phrases)
    if borne:
        draft.filled = draft.filled or "filled"
    if not borne and not any(is_said(p, "ask", "how-heavy") for p in phrases) and not (dry and draft.filled):
        draft.filled = ""
        return phrases
    if not draft.filled:
        if not _of_the_whole(phrases):
            return phrases
        draft.filled = "filled"
    used |= set(dry)
    if "wet" in draft.text.lower().replace(",", " ").split():
        draft.filled = "wet"
    if any(is_said(p, "component", "soil", "topsoil") for p in phrases) or any(_full_of(p) for p in phrases):
        draft.hints.add("of-soil")
    return [p for at, p in enumerate(phrases) if at not in used and not is_said(p, "component") and not is_said(p, "link", "of")]


def _of_the_whole(phrases: list[Phrase]) -> bool:
    """Whether nothing speaks of castings that go in or on: no share, part, price, amount for one, way or thin layer."""
    for phrase in phrases:
        if isinstance(phrase, Share | Part | Ratio | Price):
            return False
        if isinstance(phrase, Said) and (
            phrase.kind in ("way", "plant", "hole", "pack", "per") or is_said(phrase, "link", "density-word", "on-hand", "each")
        ):
            return False
        if isinstance(phrase, Amount):
            for one in phrase.dims:
                if type(one) is Measure and (one.per is not None or dimension(one) == "weight" or _is_thin(one)):
                    return False
    return True


def _is_thin(one: Measure) -> bool:
    return one.kind == "unit" and dimension(one) == "length" and one.high * factor(one.unit) <= THIN


def _full_of(phrase: Phrase) -> bool:
    return is_said(phrase, "hint", "existing-soil") and isinstance(phrase, Said) and "full of" in phrase.text.lower()
