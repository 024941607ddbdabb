"""Whether so much is too much: "is 3 cu ft too much in a bed …", "2 gal castings in 30 gal of mix, is that ok?".

What share it makes of the place or the mix is the answer, and the remarks on a share say whether that is too much.
"""

from __future__ import annotations

import re

from ..draft import Draft
from ..later import later
from ..phrases import Amount, Measure, Number, Part, Phrase, Ratio, Said, Share
from ..said import Waits, dimension, is_said, single
from ..things import is_ground_size

#: What this reader waits for: an amount, and what it may go into.
WEIGHED_UP: Waits = (frozenset({Measure}), frozenset({"ground", "container", "mix", "component"}))
_OK = later(r"(?:,\s*|\b)(?:(?:is|would|will) (?:that|this|it) (?:be )?)?(?:ok|okay|alright|all right|about right|right|fine|safe)\s*\?*\s*$", re.IGNORECASE)
#: What such a question may end in.
_LAST = ("ok", "okay", "right", "fine", "safe")
_TIES = ("into", "ratio-to", "with", "for", "on")


def find_weighed_up(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with the share asked, where an amount of castings is weighed against a mix, a soil or a bed told with its depth."""
    low = draft.text.lower()
    if "too much" not in low and not low.rstrip(" ?\t\u00a0").endswith(_LAST):
        return phrases
    too_much = [at for at, phrase in enumerate(phrases) if is_said(phrase, "topic", "too-much") and phrase.text.lower() == "too much"]  # type: ignore[union-attr]
    if (not too_much and not _OK.search(draft.text)) or any(type(p) in (Share, Part, Ratio) or is_said(p, "ask") for p in phrases):
        return phrases
    rest = [phrase for at, phrase in enumerate(phrases) if at not in too_much]
    first = next((at for at, phrase in enumerate(rest) if type(phrase) is Amount and _is_bulk(single(phrase))), -1)
    if first > 0 and any(type(phrase) is Amount for phrase in rest[:first]):
        return _in_it(phrases, rest, first)
    amount = single(rest[first]) if first >= 0 else None
    if type(amount) is not Measure or amount.per is not None or dimension(amount) not in ("volume", "weight"):
        return phrases
    end = first + 1
    while end < len(rest) and (is_said(rest[end], "link", "of") or is_said(rest[end], "castings") or is_said(rest[end], "pack")):
        end += 1
    named = [p for p in rest[first + 1 : end] if is_said(p, "castings") or is_said(p, "pack")]
    if end >= len(rest) or not is_said(rest[end], "link", *_TIES) or not (named or too_much) or not _goes_into(rest[end + 1 :]):
        return phrases
    castings = Said("castings", "castings", "castings", amount.end, amount.end)
    tie = Said("link", "into", "in", rest[end].start, rest[end].end)
    ask = Said("ask", "what-share", "what share is", rest[0].start, rest[0].start)
    kept = [p for p in rest[:first] if not is_said(p, "link", "is")]
    middle = [p for p in rest[first + 1 : end] if is_said(p, "pack")] or [castings]
    return [ask, *kept, rest[first], *middle, tie, *rest[end + 1 :]]


def _is_bulk(one: object) -> bool:
    return type(one) is Measure and one.per is None and dimension(one) in ("volume", "weight")


def _in_it(phrases: list[Phrase], rest: list[Phrase], first: int) -> list[Phrase]:
    """ "my bed is 2 m by 1 m by 30 cm and I want 10 L of castings in it": the bed is told first."""
    end = first + 1 + is_said(rest[first + 1] if first + 1 < len(rest) else None, "link", "of")
    beds = [p for p in rest[:first] if type(p) is Amount and len(p.dims) > 1]
    deep = any(len(p.dims) == 3 for p in beds) or any(type(one := single(p)) is Measure and one.role in ("depth", "height") for p in rest)
    if end >= len(rest) or not is_said(rest[end], "castings") or len(beds) != 1 or not deep:
        return phrases
    return [Said("ask", "what-share", "what share is", rest[0].start, rest[0].start), *rest]


def _goes_into(phrases: list[Phrase]) -> bool:
    """Whether one thing alone is told there, with what it holds: an amount of mix or soil, or a bed with its depth."""
    if any(type(p) is Amount and type(one := single(p)) is Number and not one.article for p in phrases):
        return False
    held = [one for p in phrases if type(one := single(p)) is Measure and dimension(one) == "volume"]
    deep = any(type(one := single(p)) is Measure and one.role in ("depth", "height", "fill") for p in phrases)
    bed = [p for p in phrases if is_ground_size(p)]
    return (len(held) == 1 and not bed) or (not held and len(bed) == 1 and deep)
