"""Castings that are there no more: "30 lb bag, 5 lb got wet", "used a third of my 60 litre bag", "3 of the 5 go on the roses".

What was used, spilled, sold or spoilt is taken off what there was, and what is left stands for it. Where it does not show
whether it is off already, or the two are in units that do not go together, it is asked.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from ..draft import Draft
from ..later import later
from ..less import less
from ..phrases import Amount, Measure, Number, Phrase, Said
from ..said import dimension, is_bulk, is_said, single
from ..things import whole

_LITTLE = r"(?:(?:about|around|roughly|some|only|just|already|up|out|away|maybe|over|nearly|almost)\s+)*"
#: Before an amount that is gone: "threw away 5 lb".
_GONE_BEFORE = later(
    r"\b(?:(?:threw|thrown|throw|tossed|chucked|binned|dumped) (?:away|out)|(?:threw|chucked|tossed|binned|dumped|spilled|spilt|spoilt|wasted|lost|used|sold|lent)|gave(?: away)?|given away"
    rf"|gone through|got rid of)(?: (?:up|away|out))?\s+{_LITTLE}$",
    re.IGNORECASE,
)
_STATE = (
    r"wet|soaked|mouldy|moldy|spilled|spilt|wasted|ruined|spoiled|spoilt|gone|lost|used(?: up)?|thrown (?:away|out)|tossed(?: out)?|binned|dumped|sold|given away|stolen|missing"
    r"|bad|no good|unusable|eaten by (?:mice|rats)|leaked(?: out)?|fell out|blew away|dried out|rotten|contaminated"
)
#: After one: "5 lb got wet", "a third of it is gone".
_GONE_AFTER = later(
    r"\s+(?:of (?:it|that|them|those|this)\s+)?(?:(?:has|have|had|was|were|is|are|got|gets|went|been|being|all|already|now|just|since)\s+)*"
    rf"(?:{_STATE})\b(?! (?:for|to make|in making))",
    re.IGNORECASE,
)
#: "3 go on the roses", beside "what's left".
_GOES = later(r"\s+(?:of (?:it|that|them|those|this)\s+)?(?:goes|go|went|will go|are going|is going|is for|are for)\s+(?:on|onto|to|into|in|for|the|my|around|under)\b", re.IGNORECASE)
#: "gave us 20 litres" is no loss of ours.
_GAVE_US = later(r"\bgave (?:me|us)\s+$", re.IGNORECASE)
#: What tells that it is off what was there, and not off already.
_REST = later(r"\b(?:the (?:rest|remainder|remaining)|what(?:'s|’s| is| was) left|left ?overs?|what remains|is left|left over|do i have left|have i left)\b", re.IGNORECASE)
#: Without one of these, in small letters, nothing is gone; most lines have none.
_HINTED = later(
    r"\b(?:th?row|threw|thrown|toss|chuck|binned|dump|spil|spoil|wast|lost|used|sold|lent|gave|given|got|gets|wet|soaked|mou?ldy|ruin|gone|go|goes|going|went|stolen|missing|bad|no good|unusable"
    r"|eaten|leaked|fell|blew|dried|rotten|contaminated|is for|are for)"
)
_HAD = later(r"\b(?:had|started (?:out )?with|there (?:was|were)|began with|bought|used to have|used to be)\s+(?:about |around |roughly |a |an |some )*$", re.IGNORECASE)
_HAVE = later(r"\b(?:have|has|got|'ve|have got|is|own|holds?|contains?)\s+(?:about |around |roughly |a |an |some |only |just |one )*$", re.IGNORECASE)
_LEFT_NOW = later(r"\s+(?:of (?:worm )?castings\s+)?(?:left|remaining|still left|to go)\b", re.IGNORECASE)
#: A part of what there was: "two thirds of a", "half my".
_PART = later(r"\s*(?:of )?(?:(?:a|an|my|the|our|one|that|this|his|her|their)\s+)?$", re.IGNORECASE)
#: "the kids spilled a gallon of my 5 gallon bucket": theirs to spill, and ours.
_OURS = later(r"\b(?:my|our)\s+$", re.IGNORECASE)
#: After a number whose unit goes unsaid: "3 go on the roses", "used 20 of it".
_NO_NOUN = later(r"\s*(?:$|[,.;!?]|(?:of (?:it|them|that|this)|of (?:the|my|our|that|this) (?:bag|sack|tub|bucket|box|castings)|(?:the|my|that|this) (?:bag|sack|tub|bucket)|on|for|in|to|is|are|was|were|has|have|had|got|get|go|goes|went|will|already|so|and|but|used|gone|spilled|lost|sold|left|yesterday|today|last)\b)", re.IGNORECASE)


class _Stock(NamedTuple):
    """What there was: where it begins and ends, which phrase is its size, and how many times that."""

    first: int
    end: int
    size_at: int
    many: float


def find_used_up(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with what is left in the stead of what there was and what of it is gone."""
    if _HINTED.search(draft.text.lower()) is None:
        return phrases
    for at, phrase in enumerate(phrases):
        one = single(phrase)
        part = type(one) is Number and 0 < one.low < 1 and not one.article and not one.role
        elided = bool(whole(phrase)) and type(one) is Number
        if (part or elided) and not _NO_NOUN.match(draft.text, phrase.end) and _whole_of(phrases, at, draft) is None:
            continue  # "lost 3 of my tomatoes"
        if not (part or elided or is_bulk(one)) or any(is_said(p, "link", "each") or is_said(p, "per") for p in phrases[at + 1 : at + 3]):
            continue
        assert type(one) is Number or type(one) is Measure
        before = _GONE_BEFORE.search(draft.text[: phrase.start])
        if before is not None and _GAVE_US.search(draft.text[: phrase.start]):
            continue
        stock = _whole_of(phrases, at, draft) or _told_before(phrases, at, draft)
        if stock is None or (elided and stock.first > at and not part and not before):
            continue
        size = single(phrases[stock.size_at])
        assert type(size) is Measure
        ends = phrases[max(at, stock.end - 1)].end if stock.first > at else phrase.end
        after = _GONE_AFTER.match(draft.text, ends)
        if after is None and _REST.search(draft.text):
            after = _GOES.match(draft.text, ends)
        if before is None and after is None:
            continue
        gone = one if type(one) is Measure else size._replace(
            low=size.low * stock.many * one.low if part else one.low, high=size.high * stock.many * one.high if part else one.high
        )  # fmt: skip
        if dimension(gone) != dimension(size):
            continue
        first, end = _said_of_it(phrases, at, stock, draft, before.start() if before else -1, after.end() if after else -1)
        ours = _OURS.search(draft.text[: phrases[stock.size_at].start]) is not None
        if (not ours and _of_somebody_else(phrases, min(first, stock.first), max(end, stock.end))) or (
            end < len(phrases) and type(phrases[end]) is not Said and not _REST.search(draft.text)
        ):  # fmt: skip
            continue  # "used 15 litres on 10 roses, how much each is that"
        return _left(phrases, draft, stock, gone._replace(start=phrase.start, end=phrase.end), first, end)
    return phrases


def _of_somebody_else(phrases: list[Phrase], first: int, end: int) -> bool:
    """ "my neighbour used 20 litres of his 60 litre bag", "last year 10 lb got wet"; not "gave 20 lb to a friend"."""
    while first > 0 and not is_said(phrases[first - 1], "stop"):
        first -= 1
    return any(
        is_said(p, "other-person") or (is_said(p, "other-time") and "used" not in p.text.lower())  # type: ignore[union-attr]
        or (is_said(p, "other-thing", "person") and not (at and is_said(phrases[at - 1], "link", "into", "for")))
        for at, p in enumerate(phrases[first:end], first)
    )  # fmt: skip


def _whole_of(phrases: list[Phrase], at: int, draft: Draft) -> _Stock | None:
    """ "two thirds of a 60 litre bag", "10 lb of my 40 lb": what a part is a part of."""
    size_at = at + 2 if at + 1 < len(phrases) and is_said(phrases[at + 1], "link", "of") else at + 1
    if size_at >= len(phrases) or not is_bulk(single(phrases[size_at])) or not _PART.fullmatch(draft.text[phrases[at].end : phrases[size_at].start]):
        return None
    end = _past_holder(phrases, size_at)
    return _Stock(size_at, end, size_at, 1.0) if end else None


def _past_holder(phrases: list[Phrase], size_at: int) -> int:
    """The index after "40 lb", "40 lb bag" or "5 gallon bucket of castings"; 0 where the size is of something else."""
    end = size_at + 1
    held = end < len(phrases) and is_said(phrases[end], "container")
    if end < len(phrases) and (held or is_said(phrases[end], "pack")):
        end += 1
    named = end
    if named < len(phrases) and is_said(phrases[named], "link", "of"):
        named += 1
    if named < len(phrases) and is_said(phrases[named], "castings"):
        return named + 1
    if held or named > end:
        return 0
    other = phrases[end] if end < len(phrases) else None
    return 0 if type(other) is Said and other.kind in ("component", "mix", "seed-mix", "ground", "plant", "hole", "container", "other-goods") else end


def _told_before(phrases: list[Phrase], at: int, draft: Draft) -> _Stock | None:
    """What there was, told before what is gone of it: "had 60 lb, …", "2 bags of 30 lb, …", "bags hold 30 lb but …"."""
    for size_at in range(at):
        size = single(phrases[size_at])
        if not is_bulk(size):
            continue
        end = _past_holder(phrases, size_at)
        if not end or end > at:
            continue
        first, many = size_at, 1.0
        lead = size_at - 1
        while lead >= 0 and (is_said(phrases[lead], "link", "of") or is_said(phrases[lead], "link", "volume-word") or is_said(phrases[lead], "link", "is")):
            lead -= 1
        held = lead >= 0 and is_said(phrases[lead], "pack")
        if held:
            first, lead = lead, lead - 1
        packed = held or any(is_said(p, "pack") for p in phrases[size_at:end])
        if packed and lead >= 0 and whole(phrases[lead]):
            first, many = lead, whole(phrases[lead])
        start = draft.text[: phrases[first].start]
        on_hand = first > 0 and is_said(phrases[first - 1], "link", "on-hand")
        named = any(is_said(p, "castings") for p in phrases[size_at:end])
        if packed or named or on_hand or _HAD.search(start) or _HAVE.search(start):
            return _Stock(first - 1 if on_hand else first, end, size_at, many)
    return None


def _said_of_it(phrases: list[Phrase], at: int, stock: _Stock, draft: Draft, before: int, after: int) -> tuple[int, int]:
    """From where to where it is told that something is gone, as indices: up to the end of the clause, an amount or a question."""
    first = at
    while first > 0 and 0 <= before <= phrases[first - 1].start and not first - 1 < stock.end <= at:
        first -= 1
    if first > 0 and is_said(phrases[first - 1], "link", "on-hand") and phrases[first - 1].end <= phrases[first].start and first - 1 != stock.first:
        first -= 1  # "I've used up two thirds"
    while first > 0 and first > stock.end and (is_said(phrases[first - 1], "link", "but", "and", "with") or is_said(phrases[first - 1], "other-time")):
        first -= 1
    end = max(at + 1, stock.end if stock.first > at else 0)
    while end < len(phrases) and phrases[end].start < after:
        end += 1
    while end < len(phrases) and not (
        type(phrases[end]) is not Said or is_said(phrases[end], "stop") or is_said(phrases[end], "link", "but", "rest") or is_said(phrases[end], "ask")
    ):  # fmt: skip
        end += 1
    return first, end


def _left(phrases: list[Phrase], draft: Draft, stock: _Stock, gone: Measure, first: int, end: int) -> list[Phrase]:
    """The phrases with what is left told at the beginning, and neither what there was nor what is gone."""
    size = single(phrases[stock.size_at])
    assert type(size) is Measure
    there = size._replace(low=size.low * stock.many, high=size.high * stock.many)
    lost, was = draft.text[gone.start : gone.end].strip(), draft.text[there.start : there.end].strip()
    used = set(range(first, end)) | set(range(stock.first, stock.end))
    if _LEFT_NOW.match(draft.text, phrases[stock.end - 1].end) and stock.first < first:
        draft.noted.append((lost, "gone already"))
        rest = there
    else:
        left = less(there, gone)
        if left is None or left.low <= 0:
            draft.question = ("used-up", f"“{lost}” of “{was}” is gone: how much is there now? Say it in one unit")
            return phrases
        if _unclear(phrases, draft, stock, first):
            draft.question = ("used-up", f"“{lost}” is gone: is that off the {was} already, or still to come off? Say how much there is now")
            return phrases
        draft.flags.append(("used-up", f"“{lost}” of “{was}” is gone, and what is left of it is there"))
        rest = left
    told = [p for at, p in enumerate(phrases) if at not in used]
    for at, pack in enumerate(told):
        if is_said(pack, "pack") and at and type(number := single(told[at - 1])) is Number:
            if number.low != 1 and not draft.question:
                draft.question = ("used-up", f"“{lost}” is gone of one of them, or of each? Say how much there is in all")
                return phrases
            drop = {at - 1, at} | ({at - 2} if at > 1 and is_said(told[at - 2], "link", "from", "of", "with") else set())
            told = [p for i, p in enumerate(told) if i not in drop]
            break
    place = phrases[stock.size_at].start
    have = Said("link", "on-hand", "have", place, place)
    castings = Said("castings", "castings", "castings", phrases[stock.size_at].end, phrases[stock.size_at].end)
    pause = Said("stop", "comma", ",", castings.end, castings.end)
    return [have, Amount((rest._replace(start=place, end=castings.end),), place, castings.end), castings, pause, *told]


def _unclear(phrases: list[Phrase], draft: Draft, stock: _Stock, first: int) -> bool:
    """ "I have 40 lb, used 10 lb": it may be off already; not where it is a bag's size, a part of it, "had" or "but", or "the rest" is spoken of."""
    if stock.first >= first or any(is_said(p, "pack") or is_said(p, "container") for p in phrases[stock.first : stock.end]) or _REST.search(draft.text):
        return False
    text = draft.text[: phrases[stock.size_at].start]
    between = draft.text[phrases[stock.end - 1].end : phrases[first].start + 4].lower()
    return not _HAD.search(text) and "but" not in between.replace(",", " ").split()
