"""A mix without one of its components."""

from __future__ import annotations

from grammar.draft import Draft
from grammar.parse import parse
from grammar.phrases import Said

from ..choices import Doubt
from .leaning import cleared


def without_component(old: Draft, new: Draft) -> Draft | Doubt | None:
    """ "no perlite": a mix without one of its components, where what the others are to be is plain; else the question. None where it is no such line."""
    gone = left_out(new)
    if not gone or new.places or new.unsure or new.figures:
        return None
    recipe = next((r for r in [old.recipe, *(place.recipe for place in old.places)] if r), [])
    names = [name for name, _ in recipe]
    if gone not in names or gone == "castings":
        return cleared(old.copy(), new)  # there is none in it
    rest = [(name, part) for name, part in recipe if name != gone]
    if len(rest) < 2:
        return None
    share = next((part for name, part in rest if name == "castings"), 0.0)
    others = sum(part for name, part in rest if name != "castings")
    kept = [(name, part if name == "castings" else part * (1 - share) / others) for name, part in rest]
    whole = sum(part for _, part in rest)
    as_parts = [(name, part / whole) for name, part in rest]
    told = tuple(", ".join(f"{100 * part:.4g} % {name.replace('-', ' ')}" for name, part in one) for one in (as_parts, kept))
    return Doubt(f"Without {gone}: “{told[0]}”, by the parts left, or “{told[1]}”, the castings kept?", new.text, told, told)


def left_out(new: Draft) -> str:
    """The component that a line says there is none of; empty where it says no such thing."""
    phrases = [one for one in parse(new.text).phrases if type(one) is Said]
    for at, phrase in enumerate(phrases[:-1]):
        after = phrases[at + 1]
        if after.kind == "component" and (phrase.kind == "deny" or (phrase.kind, phrase.id) == ("reply", "drop-place")):
            return after.id
    return ""
