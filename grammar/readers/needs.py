"""How much is needed, and how much of it is there: "I need 60 litres and have 20" leaves 40 to find."""

from __future__ import annotations

import re

from ..draft import Draft
from ..later import later
from ..less import less
from ..phrases import Amount, Measure, Phrase
from ..said import dimension, is_bulk, is_said, single

_NEED_BEFORE = later(r"\b(?:needs?|needed|requires?|required)\s*:?\s*(?:about|around|roughly|some|a total of)?\s*$", re.IGNORECASE)
_NEED_AFTER = later(r"\s*(?:of (?:worm )?castings\s+)?(?:needed|required)\b", re.IGNORECASE)
_OF_IT = later(r"\s*of (?:it|that|them)\b", re.IGNORECASE)
#: Amounts that are all needed: "I need 60 litres and 20 litres".
_ADDED = later(r"\bneed\w*\b[^,.;]{0,60}\d[^,.;]{0,60}\b(?:and|plus)\b\s*\d|\bboth\b|\bin (?:all|total)\b", re.IGNORECASE)


def is_unclear_need(draft: Draft) -> bool:
    """ "need 60 L, 20 L in the shed": an amount beside the one needed may be there already, so the two are not added up."""
    return "needed" in draft.hints and bool(draft.more_have) and not _ADDED.search(draft.text)


def find_need(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with an amount of castings at hand taken off the amount needed, where both are said."""
    said = draft.text.lower()
    if "need" not in said and "require" not in said:
        return phrases
    phrases = _mix_at_hand(phrases, draft)
    need_at = next((at for at in range(len(phrases)) if _needed(phrases, at, draft)), -1)
    if need_at < 0:
        return phrases
    need = single(phrases[need_at])
    assert isinstance(need, Measure)
    draft.hints.add("needed")
    for at, phrase in enumerate(phrases):
        have = single(phrase)
        mark = _on_hand(phrases, at)
        if at == need_at or mark < 0 or not is_bulk(have) or not _alone(phrases, at):
            continue
        assert isinstance(have, Measure)
        if dimension(have) != dimension(need):
            continue
        left = less(need, have)
        if left is None:
            draft.question = ("unit", "how much is needed and how much is there: say both in one unit")
            return phrases
        needed, there = draft.text[need.start : need.end].strip(), draft.text[have.start : have.end].strip()
        if left.low <= 0:
            is_enough = "is" if left.high <= 0 else "may be"
            draft.question = ("enough", f"{needed} needed and {there} there: that {is_enough} enough. What is still to be worked out?")
            return phrases
        draft.flags.append(("still-needed", f"{needed} needed, {there} of it there"))
        rest = Amount((left,), need.start, need.end)
        return [rest if i == need_at else p for i, p in enumerate(phrases) if i not in (mark, at)]
    return phrases


def _mix_at_hand(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "I need 100 L of mix and have 40 L of it", "… have 40 L, castings for the rest": only what is left is to be mixed."""
    need_at = next((at for at, one in enumerate(phrases) if is_bulk(single(one)) and _is_mix(phrases, at) and _NEED_BEFORE.search(draft.text[: one.start])), -1)
    if need_at < 0:
        return phrases
    need = single(phrases[need_at])
    for at, phrase in enumerate(phrases):
        have = single(phrase)
        mark = _on_hand(phrases, at)
        if at == need_at or mark < 0 or type(have) is not Measure or not is_bulk(have) or dimension(have) != dimension(need):  # type: ignore[arg-type]
            continue
        mixed = _is_mix(phrases, at)
        of_it = _OF_IT.match(draft.text, have.end)
        if not (mixed or of_it or (_alone(phrases, at) and any(is_said(p, "link", "rest") for p in phrases))):
            continue
        left = less(need, have)  # type: ignore[arg-type]
        if left is None or left.low <= 0:
            continue
        end = at + 1 + mixed
        while of_it and end < len(phrases) and phrases[end].start < of_it.end():
            end += 1
        draft.flags.append(("still-needed", f"{draft.text[need.start : need.end].strip()} needed, {draft.text[have.start : have.end].strip()} of it there"))  # type: ignore[union-attr]
        rest = Amount((left,), left.start, left.end)
        return [rest if i == need_at else p for i, p in enumerate(phrases) if i != mark and not at <= i < end]
    return phrases


def _is_mix(phrases: list[Phrase], at: int) -> int:
    """How many phrases after an amount say that it is of mix: "of mix"; none where it is not."""
    after = at + 1 + (at + 1 < len(phrases) and is_said(phrases[at + 1], "link", "of"))
    return after - at if after < len(phrases) and (is_said(phrases[after], "mix") or is_said(phrases[after], "seed-mix")) else 0


def _needed(phrases: list[Phrase], at: int, draft: Draft) -> bool:
    one = single(phrases[at])
    if not is_bulk(one) or not _alone(phrases, at):
        return False
    assert isinstance(one, Measure)
    before = draft.text[: one.start]
    return bool(_NEED_BEFORE.search(before) or _NEED_AFTER.match(draft.text, one.end))


def _on_hand(phrases: list[Phrase], at: int) -> int:
    """Where it is said that an amount is there: "have 20 L", "20 L on hand"; -1 where it is not."""
    if at and is_said(phrases[at - 1], "link", "on-hand"):
        return at - 1
    after = at + 1
    ends = after + 1 >= len(phrases) or is_said(phrases[after + 1], "stop")
    return after if ends and after < len(phrases) and is_said(phrases[after], "link", "on-hand") else -1


def _alone(phrases: list[Phrase], at: int) -> bool:
    """Whether an amount is of castings: of nothing that is named, or of castings."""
    after = phrases[at + 1] if at + 1 < len(phrases) else None
    if is_said(after, "link", "of"):
        return at + 2 < len(phrases) and is_said(phrases[at + 2], "castings")
    return not any(is_said(after, kind) for kind in ("container", "ground", "mix", "seed-mix", "component", "pack", "plant", "way", "hint"))
