"""The ring round a tree when its trunk is measured: "trunk 1 ft across, drip line 8 ft across"."""

from __future__ import annotations

import math

from ..draft import Draft
from ..phrases import Amount, Measure, Phrase, Said
from ..quantities import factor
from ..said import dimension, is_said, single

#: Radii of a trunk by how it is measured.
_TO_RADIUS = {"": 0.5, "diameter": 0.5, "width": 0.5, "thick": 0.5, "radius": 1.0, "around": 0.5 / math.pi}


def find_trunk(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with the trunk's width as what is kept clear from the middle; a ring's width as where it ends."""
    for at, phrase in enumerate(phrases):
        if not is_said(phrase, "form", "trunk"):
            continue
        found = _width(phrases, at)
        if found is None:
            continue
        where, one = found
        radius = _scaled(one, _TO_RADIUS[one.role])
        clear = next((i for i, p in enumerate(phrases) if type(m := single(p)) is Measure and m.role == "clear-of-trunk"), -1)
        rest = [p for i, p in enumerate(phrases) if i not in (where, at)]
        ring = _ring_width(rest)
        alone = any(is_said(p, "plant") for p in rest) and not any(_length(p) for p in rest)  # how far out it goes comes later
        if not (clear >= 0 or ring is not None or _ends(rest) or alone):
            continue  # a trunk alone bounds no ring
        text = draft.text[min(one.start, phrase.start) : max(one.end, phrase.end)].strip()
        inner = radius
        if clear >= 0 and type(bare := single(phrases[clear])) is Measure:
            scale = factor(bare.unit) / factor(radius.unit)
            inner = radius._replace(low=radius.low + bare.low * scale, high=radius.high + bare.high * scale)
            rest = [p for p in rest if p is not phrases[clear]]
        draft.flags.append(("trunk", f"{text}: the trunk takes up {radius.low:g} {radius.unit} from its middle"))
        draft.hints.add("trunk")
        made: list[Phrase] = [Amount((inner,), inner.start, inner.end)]
        for p in rest:
            m = single(p)
            if ring is not None and m is ring and m.unit == inner.unit:
                made.append(Amount((m._replace(low=m.low + inner.low, high=m.high + inner.high, role="outer"),), m.start, m.end))
            elif ring is None and type(m) is Measure and m.role == "width":
                made.append(Amount((m._replace(role="diameter"),), m.start, m.end))  # "a circle 6 ft wide"
            elif not is_said(p, "ground", "tree-ring") or not any(is_said(q, "plant") for q in phrases):
                made.append(p)
        return made
    return phrases


def _scaled(one: Measure, by: float) -> Measure:
    return one._replace(low=one.low * by, high=one.high * by, role="clear-of-trunk")


def _length(phrase: Phrase | None) -> Measure | None:
    one = single(phrase)
    return one if type(one) is Measure and one.per is None and dimension(one) == "length" else None


def _width(phrases: list[Phrase], at: int) -> tuple[int, Measure] | None:
    """The width of a trunk, said before it or after it."""
    after = at + 1
    while after < len(phrases) and (
        is_said(phrases[after], "link", "is", "of", "with", "on-hand") or is_said(phrases[after], "is") or is_said(phrases[after], "about")
    ):  # fmt: skip
        after += 1
    one = _length(phrases[after]) if after < len(phrases) else None
    if one is not None and one.role in _TO_RADIUS:
        return after, one
    before = _length(phrases[at - 1]) if at else None
    if before is not None and before.role in _TO_RADIUS:
        role = phrases[at + 1] if at + 1 < len(phrases) else None
        if is_said(role, "role") and isinstance(role, Said) and role.id in _TO_RADIUS and not before.role:
            before = before._replace(role=role.id)
        return at - 1, before
    return None


def _ring_width(phrases: list[Phrase]) -> Measure | None:
    """How wide a ring is, where that is said: "ring 3 ft wide"."""
    if not any(is_said(p, "form", "ring") for p in phrases):
        return None
    return next((one for p in phrases if (one := _length(p)) is not None and one.role == "width"), None)


def _ends(phrases: list[Phrase]) -> bool:
    """Whether something says how far out the castings go."""
    if any(is_said(p, "form", "round") for p in phrases) and any((one := _length(p)) is not None and one.role == "width" for p in phrases):
        return True  # "a circle 6 ft wide"
    return any((one := _length(p)) is not None and one.role in ("diameter", "radius", "outer", "around") for p in phrases)
