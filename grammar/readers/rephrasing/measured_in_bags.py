"""So much castings told in bags or in another measure: "how many 25 lb bags in a cubic yard", "how many cups in a cubic foot of castings".

Nothing is mixed or spread: what is spoken of is so much castings at hand, and how many of the bags, or how much of the
measure, that is. It is put as that. The size of a bag may stand before or after it, or be told beside: "if bags are 1.5 cu ft".
"""

from __future__ import annotations

from typing import NamedTuple

from ...draft import Draft
from ...parse import parse
from ...phrases import Amount, Measure, Number, Phrase, Said, Share
from ...said import dimension, is_said, single

#: With one of these a line is about a place, a mix or what it all costs.
_OTHER = frozenset({"ground", "container", "plant", "hole", "mix", "seed-mix", "component", "way", "other-material", "loose-measure"})


class _Whole(NamedTuple):
    """What is told in another measure: so much, and the index after its words."""

    amount: Amount
    end: int


def find_measured_in_bags(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with what is told in bags put as so much castings at hand, of which the bags are asked for."""
    if any(type(p) is Share or (type(p) is Said and p.kind in _OTHER) or is_said(p, "link", "on-hand", "moisture") for p in phrases):
        return phrases
    phrases = _measure_of(phrases)
    asks = next((at for at, p in enumerate(phrases) if is_said(p, "ask", "how-many")), -1)
    if asks < 0:
        return _unasked(phrases)
    after = phrases[asks + 1] if asks + 1 < len(phrases) else None
    if type(after) is Said and after.kind in ("unit", "unclear-unit"):
        found = _whole(phrases, asks + 2)
        return phrases if found is None or not _of_castings(phrases, after, found) else _told(phrases, asks, found, [after], set(range(asks, asks + 2)))
    bags = _bags(phrases, asks + 1)
    if bags is None:
        return phrases
    size, noun, end = bags
    used = set(range(asks, end))
    found = _whole(phrases, end)
    if found is None:
        return phrases
    if size is None:
        told = _size_told(phrases, {*used, *range(end, found.end)})
        if told is None:
            return phrases
        size, noun, gone = told
        used |= gone
    return _told(phrases, asks, found, [size, noun], used)


def _measure_of(phrases: list[Phrase]) -> list[Phrase]:
    """ "how many quarts in a 25 lb bag" is no question about quarts: the words of a topic taken apart before an amount."""
    for at, phrase in enumerate(phrases[:-1]):
        if type(phrase) is Said and phrase.kind == "topic" and _is_size(phrases, at + 1):
            parts = phrase.text.split()
            if parts[0].lower() != "how" or parts[-1].lower() != "in" or at + 2 >= len(phrases) or not is_said(phrases[at + 2], "pack"):
                continue
            told = [p._replace(start=phrase.start, end=phrase.end) for p in parse(" ".join(parts[:-1])).phrases if type(p) is Said]
            return [*phrases[:at], *told, Said("link", "into", "in a", phrase.end, phrase.end), *phrases[at + 1 :]]
    return phrases


def _of_castings(phrases: list[Phrase], asked: Said, found: _Whole) -> bool:
    """Whether so much of a measure is asked of castings: they are named, or a bag is; "how many cups in a gallon" is about units."""
    wanted = dimension(Measure(1.0, 1.0, asked.id, asked.kind, asked.start, asked.end))
    whole = single(found.amount)
    assert type(whole) is Measure
    if wanted not in ("volume", "weight"):
        return False
    in_bag = is_said(phrases[found.end - 1], "pack")
    if wanted != dimension(whole):
        return not in_bag  # so much in a bag of another dimension is read without this
    return in_bag or is_said(phrases[found.end - 1], "castings")


def _told(phrases: list[Phrase], asks: int, found: _Whole, measure: list[Phrase], used: set[int]) -> list[Phrase]:
    """The phrases with the whole as castings at hand, then what is asked; what is left of the line after it."""
    start = phrases[asks].start
    gone = used | set(range(asks, found.end)) if found.end > asks else used
    rest = [p for at, p in enumerate(phrases) if at not in gone and not is_said(p, "link", "is")]
    have = Said("link", "on-hand", "have", start, start)
    of, castings = Said("link", "of", "of", start, start), Said("castings", "castings", "castings", start, start)
    comma = Said("stop", "comma", ",", start, start)
    return [have, found.amount, of, castings, comma, phrases[asks], *measure, *([comma] if rest else []), *rest]


def _bags(phrases: list[Phrase], at: int) -> tuple[Phrase | None, Phrase, int] | None:
    """ "25 lb bags", "bags of 25 lb", "bags", or nothing beside a bag that is told: its size where that is told here, the noun, the end."""
    size: Phrase | None = None
    if _is_size(phrases, at):
        size, at = phrases[at], at + 1
    noun = phrases[at] if at < len(phrases) else None
    if not is_said(noun, "pack") or is_said(noun, "pack", "pallet"):
        bare = size is None and is_said(noun, "link", "into") and any(is_said(p, "pack") for p in phrases[:at])
        return (None, Said("pack", "bag", "bag", phrases[at].start, phrases[at].start), at) if bare else None
    assert noun is not None
    at += 1
    if size is None and at + 1 < len(phrases) and is_said(phrases[at], "link", "of") and _is_size(phrases, at + 1):
        size, at = phrases[at + 1], at + 2
        one = single(size)
        if type(one) is Measure and type(one.per) is Measure and one.per.low == one.per.high == 1:
            # "bags of 20 L in a cubic metre": no rate
            of = Said("link", "into", "in a", one.end, one.end)
            name = Said("unit", one.per.unit, "", one.per.start, one.per.end)
            phrases[at - 1 : at] = [Amount((one._replace(per=None),), one.start, one.end), of, name]
            size = phrases[at - 1]
    return size, noun, at


def _is_size(phrases: list[Phrase], at: int) -> bool:
    phrase = phrases[at] if at < len(phrases) else None
    one = single(phrase)
    return type(one) is Measure and not one.role and one.low == one.high and (one.per is None or type(one.per) is Measure) and dimension(one) in (
        "volume", "weight", "length or volume"
    )  # fmt: skip


def _whole(phrases: list[Phrase], at: int) -> _Whole | None:
    """ "in a cubic yard", "make a yard", "to a ton", "is 2 cubic feet of castings", "in a 25 lb bag": what is told, and the index after it."""
    tied = False
    while at < len(phrases) and (is_said(phrases[at], "link", "into", "from", "is") or is_said(phrases[at], "is") or is_said(phrases[at], "per") or (
        is_said(phrases[at], "about") or is_said(phrases[at], "ask", "can-i") or is_said(phrases[at], "hint", "new-fill"))):  # fmt: skip
        tied, at = True, at + 1
    phrase = phrases[at] if at < len(phrases) else None
    amount: Amount | None = None
    if type(phrase) is Said and phrase.kind in ("unit", "unclear-unit") and tied:
        one = Measure(1.0, 1.0, phrase.id, phrase.kind, phrase.start, phrase.end, article=True)
        amount = Amount((one,), phrase.start, phrase.end)
    elif _is_size(phrases, at):
        assert type(phrase) is Amount
        amount = phrase
        if tied and at + 1 < len(phrases) and is_said(phrases[at + 1], "pack"):
            at += 1  # "in a 25 lb bag"
    one_measure = single(amount)
    if amount is None or type(one_measure) is not Measure or one_measure.per is not None:
        return None
    if one_measure.unit == "yard":
        amount = Amount((one_measure._replace(unit="cubic_yard", kind="unit"),), amount.start, amount.end)
    elif dimension(one_measure) not in ("volume", "weight"):
        return None
    at += 1
    if at + 1 < len(phrases) and is_said(phrases[at], "link", "of"):
        if not is_said(phrases[at + 1], "castings"):
            return None
        at += 2
    elif at < len(phrases) and is_said(phrases[at], "castings"):
        at += 1
    after = phrases[at] if at < len(phrases) else None
    holds = is_said(after, "link", "each") and any(_is_size(phrases, at + ahead) for ahead in (1, 2))  # "if each holds 30 litres"
    if is_said(after, "ask", "how-heavy"):
        return None  # "if a cubic foot weighs 40 lb" tells it
    weighs = type(after) is Amount and is_said(phrases[at + 1] if at + 1 < len(phrases) else None, "ask", "how-heavy")
    if (type(after) is Amount and not weighs) or is_said(after, "link", "for", "on") or (is_said(after, "link", "each") and not holds) or is_said(after, "per"):
        return None
    return _Whole(amount, at)


def _size_told(phrases: list[Phrase], without: set[int]) -> tuple[Phrase, Phrase, set[int]] | None:
    """ "if bags are 1.5 cu ft", "1.5 cf bags", "if each holds 30 litres": the size, the noun and where they stand."""
    for at in range(len(phrases)):
        if at in without or not _is_size(phrases, at):
            continue
        first = at
        while first and first - 1 not in without and (is_said(phrases[first - 1], "link", "is", "volume-word", "of", "at") or is_said(phrases[first - 1], "is")):
            first -= 1
        before = phrases[first - 1] if first and first - 1 not in without else None
        after = phrases[at + 1] if at + 1 < len(phrases) and at + 1 not in without else None
        if is_said(after, "pack") and after is not None:
            return phrases[at], after, {at, at + 1}
        if first < at and (is_said(before, "pack") or is_said(before, "link", "each")):
            assert before is not None
            noun = before if is_said(before, "pack") else Said("pack", "bag", "bag", before.start, before.end)
            return phrases[at], noun, set(range(first - 1, at + 1))
    return None


def _unasked(phrases: list[Phrase]) -> list[Phrase]:
    """ "20 L bags in a cubic metre?", "bags per cubic yard, 1.5 cf bags": how many is asked without the words, and nothing else is said."""
    bags = _bags(phrases, 0) if phrases and type(single(phrases[0])) is not Number else None
    if bags is None or not bags[1].text.lower().endswith("s") or not isinstance(bags[1], Said):  # type: ignore[union-attr]
        return phrases
    size, noun, end = bags
    found = _whole(phrases, end)
    if found is None or end == found.end or not (is_said(phrases[end], "link", "into") or is_said(phrases[end], "per")):
        return phrases
    used = set(range(found.end))
    if size is None:
        told = _size_told(phrases, used)
        if told is None:
            return phrases
        size, noun, gone = told
        used |= gone
    if any(not is_said(p, "stop") for at, p in enumerate(phrases) if at not in used):
        return phrases
    asks = Said("ask", "how-many", "how many", phrases[0].start, phrases[0].start)
    return _told([asks, *phrases], 0, _Whole(found.amount, found.end + 1), [size, noun], {at + 1 for at in used} | {0})
