"""The terms of a recipe: what is named, how much of it, and the recipe put on the draft."""

from __future__ import annotations

from ...draft import Draft
from ...phrases import Measure, Phrase, Said
from ...quantities import Span
from ...said import dimension, is_said, single

_JOINERS = ("and", "ratio-to", "with", "into", "of", "is", "at", "for", "on", "or")


def is_joiner(phrase: Phrase) -> bool:
    """Whether a phrase only stands between the parts of a recipe."""
    return (
        is_said(phrase, "link", *_JOINERS)
        or is_said(phrase, "stop", "comma", "colon", "sentence", "dash", "slash")
        or is_said(phrase, "link", "share-word")
        or is_said(phrase, "hint", "mixed-in")
        or is_said(phrase, "is")
    )


def stuff_at(phrases: list[Phrase], at: int) -> tuple[str, int] | None:
    """The component named at or just after an index ("of coir"), and the index after it."""
    while at < len(phrases) and (is_said(phrases[at], "link", "of", "is") or is_said(phrases[at], "hint")):
        at += 1
    if at < len(phrases):
        phrase = phrases[at]
        if type(phrase) is Said:
            if phrase.kind == "castings":
                return "castings", at + 1
            if phrase.kind == "component":
                return phrase.id, at + 1
            if phrase.kind == "mix":
                return "mix", at + 1
            if is_said(phrase, "link", "water"):
                return "water", at + 1
    return None


def measured(phrase: Phrase | None) -> Measure | None:
    """A plain amount by volume or weight, in a unit that means one thing or nearly so."""
    one = single(phrase)
    if type(one) is Measure and one.per is None and not one.role and one.low > 0 and one.kind in ("unit", "unclear-unit"):
        return one if dimension(one) in ("volume", "weight") else None
    return None


def store(draft: Draft, terms: list[tuple[str, float]]) -> bool:
    """Parts onto the draft: a tea's ratio, a share of castings, or a whole recipe."""
    names = [name for name, _ in terms]
    amounts = dict(terms)
    if "water" in names and "castings" in names:
        draft.ratio = (amounts["castings"], amounts["water"])
        return True
    whole = sum(amount for _, amount in terms)
    if whole <= 0 or "castings" not in names:
        if "castings" not in names:
            draft.question = ("recipe", "no part of the recipe is castings; which part of it should be?")
        return True
    if set(names) == {"castings", "the rest"}:
        share = amounts["castings"] / whole * 100
        draft.parts_share = Span(share, share, "percent")
        return True
    draft.hints.add("recipe")
    draft.recipe = [(name, amount / whole) for name, amount in terms]
    return True


def _is_made(phrases: list[Phrase], at: int) -> bool:
    """Whether potting soil is what is to be made up, and no part of it: "50 gallons of potting soil, peat, perlite, castings 5:3:2"."""
    said = phrases[at]
    told = at > 1 and is_said(phrases[at - 1], "link", "of") and measured(phrases[at - 2]) is not None
    return told and isinstance(said, Said) and said.text.lower() in ("potting soil", "potting compost")


def potting_soil(phrases: list[Phrase], at: int) -> set[int]:
    """The potting soil that a recipe after it makes up, and that is no part of its own."""
    return {here for here in range(at) if _is_made(phrases, here)}


def named_before(phrases: list[Phrase], at: int) -> tuple[list[str], set[int]]:
    """The components that are named in a row before an index, in their order, and the indices that they take up."""
    names: list[str] = []
    used: set[int] = set()
    here = at - 1
    while here >= 0:
        stuff = stuff_at(phrases, here) if type(phrases[here]) is Said and not is_joiner(phrases[here]) else None
        if stuff and (stuff[0] == "mix" or _is_made(phrases, here)):
            break
        if stuff and stuff[1] == here + 1:
            names.insert(0, stuff[0])
            used.add(here)
        elif not is_joiner(phrases[here]) and not is_said(phrases[here], "link", "share-word"):
            break
        here -= 1
    return names, used


def named_after(phrases: list[Phrase], at: int) -> tuple[list[str], set[int]]:
    """The components that are named in a row after an index, in their order, and the indices that they take up."""
    names: list[str] = []
    used: set[int] = set()
    here = at + 1
    while here < len(phrases):
        stuff = stuff_at(phrases, here)
        if stuff:
            names.append(stuff[0])
            used.update(range(here, stuff[1]))
            here = stuff[1]
        elif is_joiner(phrases[here]) and not is_said(phrases[here], "stop", "sentence"):
            here += 1
        else:
            break
    return names, used


def is_of_tea(phrases: list[Phrase]) -> bool:
    """Whether a line speaks of a tea, so that a ratio is of castings and water."""
    return any(is_said(p, "way", "tea") or is_said(p, "hint", "spray") for p in phrases)


def counts(phrases: list[Phrase], at: int) -> bool:
    """Whether a bare number counts what follows it."""
    after = phrases[at + 1] if at + 1 < len(phrases) else None
    return type(after) is Said and after.kind in ("plant", "container", "ground", "hole", "pack")
