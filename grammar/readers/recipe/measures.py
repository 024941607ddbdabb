"""Recipes by measures: "4 L coir, 1 L castings", "2 scoops to 18 scoops", "1 cup to a gallon of water"."""

from __future__ import annotations

from ...draft import Draft
from ...phrases import Amount, Measure, Number, Phrase, Said
from ...quantities import Span, factor
from ...said import dimension, is_said, single
from .terms import is_of_tea, measured, store, stuff_at


def _span_of(one: Measure) -> Span:
    return Span(min(one.low, one.high), max(one.low, one.high), one.unit)


def _to_so_much(phrases: list[Phrase], at: int) -> tuple[Measure, bool, int] | None:
    """ "castings to 1 gallon", "to every 10 L", "to each litre" after an amount: how much it goes to, whether to each, and where that ends."""
    here = at + 1
    while here < len(phrases) and (is_said(phrases[here], "link", "of") or is_said(phrases[here], "castings")):
        here += 1
    if here >= len(phrases) or not is_said(phrases[here], "link", "ratio-to", "each"):
        return None
    each = is_said(phrases[here], "link", "each")
    here += 1
    while here < len(phrases) and is_said(phrases[here], "link", "each"):
        each, here = True, here + 1
    if here >= len(phrases):
        return None
    phrase = phrases[here]
    one = measured(phrase)
    if one is None and each and type(phrase) is Said and phrase.kind in ("unit", "unclear-unit"):
        one = Measure(1.0, 1.0, phrase.id, phrase.kind, phrase.start, phrase.end, article=True)
    return (one, each, here) if one is not None and dimension(one) == "volume" else None


def strength(phrases: list[Phrase], draft: Draft) -> set[int]:
    """ "1 cup castings to 1 gallon water", "half a cup to each litre of water": how strong a tea is, not how much of it."""
    for at, phrase in enumerate(phrases):
        one = single(phrase)
        if type(one) is Measure and one.note.startswith("span:units:") and dimension(one) == "volume" and _water(phrases, at + 1):
            # "1 cup to 1 gallon of water" is no span of gallons
            other = one.note.removeprefix("span:units:")
            if _measure_elsewhere(phrases, {at}):
                draft.ratio_spans = (Span(one.low * factor(one.unit) / factor(other), one.low * factor(one.unit) / factor(other), other),
                                     Span(one.high, one.high, one.unit))  # fmt: skip
                return {at, *range(at + 1, _water(phrases, at + 1))}
        amount = measured(phrase)
        found = _to_so_much(phrases, at) if amount is not None else None
        if amount is None or found is None:
            continue
        per, each, here = found
        end = _water(phrases, here + 1)
        used = set(range(at, end or here + 1))
        if (end or is_of_tea(phrases)) and stuff_at(phrases, here + 1) in (None, ("water", end)) and (each or _measure_elsewhere(phrases, used)):
            draft.ratio_spans = (_span_of(amount), _span_of(per))
            draft.hints.add("castings-named")
            return used
    return set()


def _water(phrases: list[Phrase], at: int) -> int:
    """The index after "of water" that starts at an index, or 0."""
    stuff = stuff_at(phrases, at)
    return stuff[1] if stuff is not None and stuff[0] == "water" else 0


def _measure_elsewhere(phrases: list[Phrase], used: set[int]) -> bool:
    return any(at not in used and (one := measured(p)) is not None and dimension(one) == "volume" for at, p in enumerate(phrases))


def to_every(phrases: list[Phrase], draft: Draft) -> set[int]:
    """ "2 L castings to every 10 L of soil": the parts of a mix by volume."""
    if any(is_said(p, "ask", "what-share") for p in phrases):
        return set()
    for at, phrase in enumerate(phrases):
        amount = measured(phrase)
        found = _to_so_much(phrases, at) if amount is not None and dimension(amount) == "volume" else None
        if amount is None or found is None or amount.low != amount.high or not any(is_said(p, "castings") for p in phrases[at + 1 : at + 3]):
            continue
        per, _, here = found
        stuff = stuff_at(phrases, here + 1)
        if stuff is None or stuff[0] in ("castings", "mix", "water") or per.low != per.high:
            continue
        if amount.unit != per.unit and "unclear-unit" in (amount.kind, per.kind):
            continue
        scale = 1.0 if amount.unit == per.unit else factor(amount.unit) / factor(per.unit)
        if store(draft, [("castings", amount.low * scale), (stuff[0], per.low)]):
            return set(range(at, stuff[1]))
    return set()


def volumes(phrases: list[Phrase], draft: Draft) -> set[int]:
    """ "4 L coir, 3 L compost, 1 L castings": a recipe by volumes of one unit, three of them or more."""
    amounts = [phrase for phrase in phrases if type(phrase) is Amount]
    if len(amounts) < 3 or sum(type(single(phrase)) is Measure for phrase in amounts) < 3:
        return set()
    terms: list[tuple[str, float]] = []
    used: set[int] = set()
    units: set[str] = set()
    at = 0
    while at < len(phrases):
        one = single(phrases[at])
        if type(one) is Measure and one.per is None and not one.role and one.low == one.high and one.low > 0 and one.kind != "loose-measure":
            after = stuff_at(phrases, at + 1)
            before = stuff_at(phrases, at - 1) if at else None
            pick = after if after is not None and after[0] not in ("mix", "water") else None
            if pick is None and before is not None and before[1] == at and before[0] not in ("mix", "water"):
                pick = (before[0], at + 1)
                used.add(at - 1)
            if pick is not None and not any(is_said(p, "pack") for p in phrases[at + 1 : at + 2]):
                terms.append((pick[0], one.low))
                units.add(one.unit)
                used.update(range(at, pick[1]))
                at = pick[1]
                continue
        at += 1
    names = [name for name, _ in terms]
    if len(terms) < 3 or len(units) != 1 or names.count("castings") != 1 or len(set(names)) != len(names):
        return set()
    store(draft, terms)
    return used


def loose(phrases: list[Phrase], draft: Draft) -> set[int]:
    """ "2 scoops castings with 18 scoops soil": parts of one measure, whatever its size."""
    terms: list[tuple[str, float]] = []
    used: set[int] = set()
    units = set()
    for at, phrase in enumerate(phrases):
        one = single(phrase)
        if type(one) is Measure and one.kind == "loose-measure" and one.per is None:
            stuff = stuff_at(phrases, at + 1)
            if stuff and one.low > 0:
                terms.append((stuff[0], one.low))
                units.add(one.unit)
                used.update(range(at, stuff[1]))
        elif terms and type(phrase) is Said and phrase.kind == "loose-measure" and (
            is_said(phrases[at - 1], "per") or is_said(phrases[at - 1], "link", "each")
        ):  # fmt: skip
            stuff = stuff_at(phrases, at + 1)
            if stuff:
                terms.append((stuff[0], 1.0))  # "9 scoops of soil to every scoop of castings"
                units.add(phrase.id)
                used.update(range(at - 1, stuff[1]))
        elif terms and type(one) is Number and (is_said(phrases[at - 1], "per") or is_said(phrases[at - 1], "link", "each")) and stuff_at(phrases, at + 1):
            stuff = stuff_at(phrases, at + 1)
            if stuff and one.low > 0:
                terms.append((stuff[0], one.low))  # "two shovels of castings to every eighteen of soil"
                used.update(range(at - 1, stuff[1]))
        elif type(one) is Number and at + 1 < len(phrases) and is_said(phrases[at + 1], "container", "bucket"):
            stuff = stuff_at(phrases, at + 2)
            if stuff and one.low > 0:
                terms.append((stuff[0], one.low))
                units.add("bucket")
                used.update(range(at, stuff[1]))
    if len(terms) >= 2 and len(units) == 1 and any(name == "castings" for name, _ in terms):
        if any(name == "mix" for name, _ in terms):
            return set()
        store(draft, terms)
        return used
    return set()
