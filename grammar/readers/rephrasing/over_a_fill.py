"""A bed whose bottom is filled with something else: "16 inch deep bed, bottom 6 inches is logs, rest is mix at 10%"."""

from __future__ import annotations

from ...draft import Draft
from ...less import less
from ...phrases import Amount, Measure, Phrase
from ...said import Waits, dimension, is_any_goods, is_said, single, words_of

OVER_A_FILL: Waits = (frozenset({("role", "bottom-diameter"), "role"}), frozenset({"other-goods", "other-material", "unknown", ("other-thing", "plant-part")}),
                      frozenset({("role", "depth")}))  # fmt: skip


def find_over_a_fill(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with the depth that is left over the fill in the stead of both; asked about elsewhere, where what comes above goes unsaid."""
    if not any(is_said(p, "link", "rest") or is_said(p, "mix") or is_said(p, "component", "soil") for p in phrases):
        return phrases
    deep = [i for i, p in enumerate(phrases) if (one := _length(p)) is not None and one.role == "depth"]
    fills = [i for i, p in enumerate(phrases) if (one := _length(p)) is not None and i not in deep and _end_of_fill(phrases, i) > 0]
    if len(deep) != 1 or len(fills) != 1:
        return phrases
    whole, part = _length(phrases[deep[0]]), _length(phrases[fills[0]])
    assert whole is not None and part is not None
    left = less(whole, part._replace(role=whole.role))
    if left is None or left.low <= 0:
        return phrases
    end = _end_of_fill(phrases, fills[0])
    rest = {i for i, p in enumerate(phrases) if is_said(p, "link", "rest")}
    rest |= {i + 1 for i in rest if i + 1 < len(phrases) and is_said(phrases[i + 1], "link", "is")}
    rest |= {i - 1 for i in rest if i and is_said(phrases[i - 1], "link", "on", "for", "into")}
    draft.flags.append(("over-a-fill", f"{words_of(draft, phrases[deep[0]])} less {words_of(draft, phrases[fills[0]])} of something else: the mix is {left.low:g} {left.unit} deep"))
    depth = Amount((left,), whole.start, whole.end)
    return [depth if i == deep[0] else p for i, p in enumerate(phrases) if not fills[0] <= i < end and i not in rest]


def _length(phrase: Phrase) -> Measure | None:
    one = single(phrase)
    plain = type(phrase) is Amount and type(one) is Measure and one.per is None and one.kind == "unit" and one.low == one.high and dimension(one) == "length"
    return one if plain and one.role in ("", "depth", "thick", "bottom-diameter") else None  # type: ignore[union-attr,return-value]


def _end_of_fill(phrases: list[Phrase], at: int) -> int:
    """The index past "bottom 6 inches is logs" or "8 inches of logs at the bottom" at an index; 0 where that does not stand there."""
    one = single(phrases[at])
    here = at + 1
    while here < len(phrases) and is_said(phrases[here], "link", "is", "of", "with"):
        here += 1
    if here >= len(phrases) or not (is_any_goods(phrases[here]) or is_said(phrases[here], "other-thing", "plant-part") or ((here > at + 1 or getattr(one, "role", "") == "bottom-diameter") and is_said(phrases[here], "unknown"))):
        return 0
    here += 1
    if type(one) is Measure and one.role == "bottom-diameter":
        return here
    return here + 1 if here < len(phrases) and is_said(phrases[here], "role", "bottom-diameter") else 0
