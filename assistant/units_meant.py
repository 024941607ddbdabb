"""Which gallon, quart or pint is meant in a conversation: what was stated once holds until another is stated.

"12 imperial gallons", then "15 gallons": imperial ones again. A unit that was only assumed is no statement, and a
line that is nothing but its name ("imperial gallons", "imperial") sets right what was assumed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields

from grammar.draft import Draft, PlaceDraft
from grammar.quantities import Span
from grammar.settling.common import unit_meant

#: What each doubtful name may stand for.
FAMILIES = {
    "gallon": ("us_gallon", "imperial_gallon", "us_dry_gallon"),
    "quart": ("us_dry_quart", "us_quart", "imperial_quart"),
    "pint": ("us_dry_pint", "us_pint", "imperial_pint"),
}
_IMPERIAL = "imperial_"
_BARE = re.compile(r"^\W*(?:no|sorry|actually|oops|oh|i mean|i meant|they are|it's|that's|those are|these are|make that|make it)?\W*(?:the )?"
                   r"(?:(?:imperial|uk|british|us|american|u\.s\.|liquid|dry|fluid)\s*)+(?:gallons?|gals?|quarts?|qts?|pints?|pts?|ones?|measures?)?(?: please| then)?\W*$", re.IGNORECASE)  # fmt: skip


def spans(draft: Draft) -> Iterator[Span]:
    """Every measure of a draft."""
    for span in (draft.have, draft.water, draft.soil, draft.pack, *draft.more_have, *(unsure.span for unsure in draft.unsure)):
        if span is not None:
            yield span
    for place in draft.places:
        yield from (one for name in fields(PlaceDraft) if isinstance(one := getattr(place, name.name), Span))
        yield from (*place.size, *place.layer)
    for pair in (draft.per_volume, draft.ratio_spans, draft.weighed):
        yield from pair or ()


def stated(draft: Draft) -> dict[str, str]:
    """The exact unit of each doubtful name that a draft states, and does not only assume."""
    assumed = {code for code, _ in draft.flags}
    said = {span.unit for span in spans(draft)} | {draft.asked_unit}
    found = {name: exact for name, family in FAMILIES.items() if name not in assumed for exact in family if exact in said}
    if any(exact.startswith(_IMPERIAL) for exact in found.values()):
        return {name: _IMPERIAL + name for name in ("gallon", "quart", "pint")} | found
    return found


def carried(old: Draft | None, new: Draft) -> None:
    """Puts what earlier lines stated of doubtful units onto the draft of a line, where that states nothing else of them."""
    if old is None:
        return
    meant = {name: exact for name in FAMILIES if (exact := unit_meant(old.hints, name))} | stated(old) | stated(new)
    if "imperial" in new.hints or ("say-imperial" in new.hints and new.asked_unit in FAMILIES):
        meant |= {name: _IMPERIAL + name for name in ("gallon", "quart", "pint")}
    new.hints |= {f"unit:{name}={exact}" for name, exact in meant.items()}


def set_right(old: Draft, new: Draft) -> Draft | None:
    """ "imperial gallons" after "15 gallons" that were taken for US ones: the number stays. None for any other line."""
    assumed = [name for name in FAMILIES if name in {code for code, _ in old.flags}]
    imperial = "say-imperial" in new.hints or "imperial" in new.hints
    answered_in = next((name for name, family in FAMILIES.items() if old.asked_unit in family), "")
    if answered_in and imperial and not new.asked_unit and not assumed and _BARE.match(new.text):
        draft = old.copy()
        draft.text, draft.noted, draft.asked_unit = new.text, [], _IMPERIAL + answered_in  # "in gallons", "imperial ones"
        return draft
    if not assumed or not _BARE.match(new.text) or not (new.asked_unit or imperial):
        return None
    exact = new.asked_unit or _IMPERIAL + assumed[0]
    name = next((one for one in assumed if exact in FAMILIES[one]), None)
    if name is None:
        return None
    draft = old.copy()

    def right(span: Span) -> Span:
        return span._replace(unit=exact) if span.unit in FAMILIES[name] else span

    for one in ("have", "water", "soil", "pack"):
        span = getattr(draft, one)
        if span is not None:
            setattr(draft, one, right(span))
    draft.more_have = [right(span) for span in draft.more_have]
    for place in draft.places:
        for slot in fields(PlaceDraft):
            span = getattr(place, slot.name)
            if isinstance(span, Span):
                setattr(place, slot.name, right(span))
    draft.text, draft.noted = new.text, []
    draft.flags = [flag for flag in old.flags if flag[0] != name]
    draft.hints = {hint for hint in draft.hints if not hint.startswith(f"unit:{name}=")}
    return draft
