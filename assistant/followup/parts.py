"""A mix that was told in parts, with other parts of one thing in it: "make it 3 parts coir", "and 1 part perlite"."""

from __future__ import annotations

from collections.abc import Sequence

from grammar.draft import Draft
from grammar.parse import parse
from grammar.phrases import Amount, Part, Said, Share
from grammar.said import is_said

from .leaning import cleared

Parts = dict[str, float]


def other_parts(old: Draft, new: Draft, past: Sequence[Draft]) -> Draft | str | None:
    """The mix with those parts; the question where it was not told in parts before, and None where a line tells no parts of a mix in hand."""
    recipe = next((one for one in (old.recipe, *(place.recipe for place in old.places)) if one), None)
    told = _parts_in(new.text)
    if not told or not (recipe or any(place.kind in ("mix", "seed-mix") or place.share for place in old.places)) or new.unsure or new.have or any(p.has_size or p.share for p in new.places):
        return None
    if len(told) > 1 and "castings" in told:
        return None  # a mix of its own
    before = next((found for draft in (old, *reversed(past)) if recipe and _same(found := _parts_in(draft.text), recipe)), None)
    if before is None:
        return "The mix was not told in parts; say all of them, as “2 parts coir, 1 part castings”."
    parts = {**before, **told}
    whole = sum(parts.values())
    draft = old.copy()
    for place in draft.places:
        if place.recipe:
            place.recipe = []
            place.share = None
    draft.recipe, draft.parts_share = [(name, part / whole) for name, part in parts.items()], None
    cleared(draft, new)
    # the parts as they are now told, for the next change of one of them
    draft.text = ", ".join(f"{part:g} parts {name.replace('-', ' ')}" for name, part in parts.items())
    return draft


def _parts_in(text: str) -> Parts:
    """The parts of each thing that a line tells: "2 parts coir, 1 part castings"; none where it tells other amounts in between."""
    phrases = parse(text).phrases
    found: Parts = {}
    for at, phrase in enumerate(phrases):
        if type(phrase) is not Part or phrase.low != phrase.high or phrase.low <= 0:
            continue
        after = at + 1
        while after < len(phrases) and is_said(phrases[after], "link", "of"):
            after += 1
        name = _name(phrases[after] if after < len(phrases) else None) or _name(phrases[at - 1] if at else None)
        if name:
            found[name] = phrase.low
    if any(type(p) is Share for p in phrases):
        return {}
    return found


def _name(phrase: Amount | Said | object | None) -> str:
    if is_said(phrase, "castings"):  # type: ignore[arg-type]
        return "castings"
    return phrase.id if type(phrase) is Said and phrase.kind == "component" else ""


def _same(parts: Parts, recipe: Sequence[tuple[str, float]]) -> bool:
    """Whether so many parts make that mix."""
    whole = sum(parts.values())
    return bool(parts) and set(parts) == {name for name, _ in recipe} and all(abs(parts[name] / whole - share) < 1e-6 for name, share in recipe)
