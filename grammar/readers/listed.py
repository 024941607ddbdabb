"""Places that are counted together and then told by size: "3 beds, two are 4 by 8 ft and one is 3 by 6".

The number before the noun counts the list and no place of its own; each size in the list gets its own count
and the noun. What is left to one size without a number is what the others leave of the count.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from ..draft import Draft
from ..later import later
from ..phrases import Amount, Measure, Number, Phrase, Said
from ..said import Waits, dimension, is_said, is_sides, past_describing, single
from ..things import whole


class _Member(NamedTuple):
    """One size of a list: where its count (-1: none is said) and its size stand."""

    count_at: int
    number: float
    size_at: int


#: "one of my", before a number that counts them all; not "every one of my".
_ONE_OF = later(r"(?<!every )(?<!each )(?<!single )\bone\s+of\s+(?:(?:my|our|the|these|those|her|his|their|your)\s+)?$")


#: A number, and what may be counted.
COUNTED: Waits = (frozenset({Number}), frozenset({"ground", "container", "plant"}))


def find_list(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with the count of a list taken out and its places told in full."""
    numbers = [at for at, phrase in enumerate(phrases) if type(phrase) is Amount and whole(phrase)]
    if not numbers:
        return phrases
    if any(whole(phrases[at]) >= 2 and (_noun_after(phrases, at) >= 0 or _plants_after(phrases, at)) for at in numbers):
        phrases = _each_its_own(_headed(_some_of_all(phrases, draft)), draft)
    if "ones" in draft.text.lower() or [phrase for phrase in phrases if type(phrase) is Said and phrase.id == "of"]:
        phrases = _more_of_it(phrases, draft)
    return _so_many_in_each(phrases)


def _headed(phrases: list[Phrase]) -> list[Phrase]:
    """The phrases with a number taken out that counts the places after it: "3 beds, two are 4 by 8 ft and one is 3 by 6"."""
    for at, phrase in enumerate(phrases):
        number = whole(phrase)
        if number < 2:
            continue
        noun_at = _noun_after(phrases, at)
        if noun_at < 0:
            continue
        members = _members(phrases, noun_at)
        if _one_of_each(phrases, noun_at, members, number):
            return _in_full(phrases, at, noun_at, [one._replace(number=1.0) for one in members])  # "two beds 3x6 and 4x8 ft"
        if len(members) < 2 or members[0].count_at < 0:
            continue  # "2 beds of 4 by 8 ft and one of 3 by 6 ft": the number is the first size's own
        told = sum(one.number for one in members)
        open_ = [one for one in members if one.count_at < 0]
        if len(open_) == 1 and told < number:
            members = [one._replace(number=number - told) if one.count_at < 0 else one for one in members]
        elif open_ or told != number:
            continue
        return _in_full(phrases, at, noun_at, members)
    return phrases


def _each_its_own(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with each of so many vessels told by itself: "4 pots: 5 L, 8 L, 8 L and 15 L", "3 pots of 5, 8 and 15 litres"."""
    for at, phrase in enumerate(phrases):
        number = whole(phrase)
        noun_at = _noun_after(phrases, at) if number >= 2 else -1
        if noun_at < 0:
            continue
        here = noun_at + 1
        while here < len(phrases) and (is_said(phrases[here], "stop", "comma", "colon", "dash") or is_said(phrases[here], "link", "of", "is", "at") or is_said(phrases[here], "is")):
            here += 1
        sizes: list[Number | Measure] = []
        end = here
        while here < len(phrases) and (one := single(phrases[here])) is not None and type(one) in (Number, Measure):
            before = sizes[-1] if sizes else None
            if one.role or (type(before) is Measure and (type(one) is not Measure or one.unit != before.unit)):  # type: ignore[union-attr]
                break
            sizes.append(one)  # type: ignore[arg-type]
            here = end = here + 1
            while here < len(phrases) and (is_said(phrases[here], "stop", "comma", "semicolon", "slash") or is_said(phrases[here], "link", "and")):
                here += 1
        told = [size for size in sizes if type(size) is Measure]
        after = phrases[end] if end < len(phrases) else None
        if len(sizes) != number or not told or any(one.per is not None for one in told) or is_said(after, "castings") or is_said(after, "link", "each", "of"):
            continue
        noun, listed = phrases[noun_at], phrases[noun_at + 1 : end]
        assert isinstance(noun, Said)
        kind = "volume" if told[0].unit in ("gallon", "quart") else dimension(told[0])
        if kind != "area" if noun.kind == "ground" else not (kind == "volume" or (kind == "length" and number > 2)):
            continue
        if number == 2 and not any(is_said(p, "link", "and") or is_said(p, "stop", "colon") for p in listed):
            continue  # "2 tubs of 20 litres, 4 litres"
        made = phrases[:at]
        if kind == "volume" and any(is_said(p, "way", "tea") for p in phrases):
            whole_of_it = told[-1]._replace(low=sum(one.low for one in sizes), high=sum(one.high for one in sizes), start=sizes[0].start)
            draft.noted.append((draft.text[phrase.start : phrase.end], "how many vessels there are"))
            return [*made, Amount((whole_of_it,), whole_of_it.start, whole_of_it.end), *phrases[end:]]
        counted = [0] * len(sizes)
        for size in sizes:
            counted[next(first for first, one in enumerate(sizes) if (one.low, one.high) == (size.low, size.high))] += 1
        for many, size in zip(counted, sizes, strict=True):
            measure = size if type(size) is Measure else told[-1]._replace(low=size.low, high=size.high, start=size.start, end=size.end)
            if many:
                tie: list[Phrase] = [Said("link", "and", "and", size.start, size.start)] if len(made) > at else []
                made = made + tie + _told(noun, _number(float(many), size.start), Amount((measure,), measure.start, measure.end))
        return made + phrases[end:]
    return phrases


#: "half a dozen 5-litre ones", right after the size.
_ONES = later(r"\s*-?\s*(?:\w+\s+)?ones\b", re.IGNORECASE)


def _more_of_it(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with the noun put in where it goes unsaid: "2 beds of 4 by 8 ft and one of 3 by 6 ft", "6 5-litre ones"."""
    made: list[Phrase] = []
    noun: Said | None = None
    at = 0
    while at < len(phrases):
        phrase = phrases[at]
        if type(phrase) is Said and phrase.kind in ("ground", "container"):
            noun = phrase
        size = phrases[at + 2] if at + 2 < len(phrases) else None
        if (
            noun is not None and size is not None and whole(phrase) and is_said(phrases[at + 1], "link", "of")
            and _is_size(size, noun.kind == "container") and not _named(phrases, at + 2)
        ):  # fmt: skip
            made += _told(noun, phrase, size)
            at += 3
            continue
        beside = phrases[at + 1] if at + 1 < len(phrases) else None
        if noun is not None and beside is not None and whole(phrase) and _is_size(beside, noun.kind == "container") and _ONES.match(draft.text[beside.end :]):
            made += _told(noun, phrase, beside)
            at += 2
            continue
        made.append(phrase)
        at += 1
    return made


def _so_many_in_each(phrases: list[Phrase]) -> list[Phrase]:
    """ "6 rows, 10 plants per row" as "6 rows of 10 plants"."""
    for at, phrase in enumerate(phrases[:-3]):
        if not whole(phrase) or not is_said(phrases[at + 1], "plant"):
            continue
        end = at + 2
        while end < len(phrases) and (is_said(phrases[end], "per") or is_said(phrases[end], "link", "each", "into")):
            end += 1
        group = phrases[end] if end < len(phrases) else None
        if end == at + 2 or type(group) is not Said or group.kind not in ("ground", "container"):
            continue
        for other in range(len(phrases) - 1):
            counted = phrases[other + 1]
            after = phrases[other + 2] if other + 2 < len(phrases) else None
            if not at <= other <= end and whole(phrases[other]) and is_said(counted, group.kind, group.id) and not (
                type(after) is Amount or is_said(after, "link", "of")
            ):  # fmt: skip
                told = [phrases[other], counted, Said("link", "of", "of", phrase.start, phrase.start), phrase, phrases[at + 1]]
                spans = sorted([(at, end + 1, told), (other, other + 2, [])])
                (first, first_end, one), (second, second_end, two) = spans
                return phrases[:first] + one + phrases[first_end:second] + two + phrases[second_end:]
    return phrases


def _named(phrases: list[Phrase], size_at: int) -> bool:
    """Whether a noun stands right after a size."""
    at = past_describing(phrases, size_at + 1)
    after = phrases[at] if at < len(phrases) else None
    return type(after) is Said and after.kind in ("ground", "container", "plant", "hole", "mix", "seed-mix")


def _told(noun: Said, count: Phrase, size: Phrase) -> list[Phrase]:
    """A count, a size and the noun that both belong to."""
    called = Said(noun.kind, noun.id, noun.text, size.start, size.start)
    return [count, size, called] if noun.kind == "container" else [count, called, size]


def _some_of_all(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without the number of all in "2 of my 5 beds" and "one of our two beds"; it is noted on the draft."""
    for at, phrase in enumerate(phrases):
        number = whole(phrase)
        if number < 2 or (_noun_after(phrases, at) < 0 and not _plants_after(phrases, at)):
            continue
        said = draft.text[phrase.start : phrase.end].strip()
        some = at >= 2 and is_said(phrases[at - 1], "link", "of") and 1 <= whole(phrases[at - 2]) < number
        if some and at >= 3 and type(left := phrases[at - 3]) is Said and left.kind in ("deny", "reply") and _plants_after(phrases, at):
            continue  # "all but two of my 9 tomatoes"
        if some:
            draft.noted.append((said, "how many there are in all"))
            return phrases[: at - 1] + phrases[at + 1 :]
        part = single(phrases[at - 2]) if at >= 2 and is_said(phrases[at - 1], "link", "of") and _plants_after(phrases, at) else None
        if type(part) is Number and not part.role and 0 < part.low == part.high < 1 and part.low * number == int(part.low * number):
            draft.noted.append((said, "how many there are in all"))
            few = part._replace(low=part.low * number, high=part.high * number)
            draft.flags.append(("left-out", f"“{draft.text[part.start : part.end].strip()}” of {number:g}: {few.low:g} of them"))
            return [*phrases[: at - 2], Amount((few,), part.start, part.end), *phrases[at + 1 :]]  # "half of my 10 tomatoes"
        if _ONE_OF.search(draft.text[: phrase.start].lower()):
            draft.noted.append((said, "how many there are in all"))
            return [*phrases[:at], _number(1.0, phrase.start), *phrases[at + 1 :]]
    return phrases


def _plants_after(phrases: list[Phrase], at: int) -> bool:
    """Whether a number counts plants: "10 young tomatoes"."""
    at = past_describing(phrases, at + 1)
    return at < len(phrases) and is_said(phrases[at], "plant")


def _noun_after(phrases: list[Phrase], at: int) -> int:
    """Where the plural that a number counts stands: "3 raised beds"; -1 where none does."""
    at = past_describing(phrases, at + 1)
    noun = phrases[at] if at < len(phrases) else None
    if type(noun) is Said and noun.kind in ("ground", "container") and noun.text.lower().endswith("s"):
        return at
    return -1


def _one_of_each(phrases: list[Phrase], noun_at: int, members: list[_Member], number: float) -> bool:
    """Whether so many places are each told by a size of its own, right after their noun and with no number."""
    if len(members) != number or any(one.count_at >= 0 for one in members) or members[0].size_at != noun_at + 1:
        return False
    after = phrases[members[-1].size_at + 1] if members[-1].size_at + 1 < len(phrases) else None
    apart = any(is_said(phrases[one.size_at - 1], "link", "and") and phrases[one.size_at].start - phrases[one.size_at - 1].end > 1 for one in members[1:])
    if apart or (type(after) is Said and after.kind in ("ground", "container")):
        return False  # "2 beds 4x8 ft and a 3x6 ft bed"
    plural = phrases[noun_at].text.lower().endswith("s")  # type: ignore[union-attr]
    sizes = [tuple((one.low, one.high) for one in phrases[member.size_at].dims) for member in members]  # type: ignore[union-attr]
    return plural and len(set(sizes)) == len(sizes)


def _members(phrases: list[Phrase], noun_at: int) -> list[_Member]:
    """The sizes told after a noun, each with its count, up to the first phrase that is no part of a list."""
    found: list[_Member] = []
    of_container = is_said(phrases[noun_at], "container")
    count_at, count = -1, 0.0
    for at in range(noun_at + 1, len(phrases)):
        phrase = phrases[at]
        if _is_size(phrase, of_container):
            if found and at - 1 == found[-1].size_at:
                break  # two sizes side by side
            found.append(_Member(count_at, count, at))
            count_at, count = -1, 0.0
        elif whole(phrase) and count_at < 0:
            count_at, count = at, whole(phrase)
        elif not _between(phrase):
            break
    return found


def _is_size(phrase: Phrase, of_container: bool) -> bool:
    if is_sides(phrase):
        return True
    one = single(phrase)
    if type(one) is not Measure or one.per is not None:
        return False
    return dimension(one) == "area" or (of_container and dimension(one) == "volume")


def _between(phrase: Phrase) -> bool:
    """Whether a phrase may stand between the members of a list."""
    return (
        is_said(phrase, "stop", "comma", "colon", "dash", "semicolon") or is_said(phrase, "link", "and", "is", "of", "but", "at", "count-word")
        or is_said(phrase, "is") or is_said(phrase, "form")
    )  # fmt: skip


def _in_full(phrases: list[Phrase], heading: int, noun_at: int, members: list[_Member]) -> list[Phrase]:
    noun = phrases[noun_at]
    assert isinstance(noun, Said)
    made = phrases[:heading]
    for number, one in enumerate(members):
        size = phrases[one.size_at]
        if number:
            made.append(Said("link", "and", "and", size.start, size.start))
        count: Phrase = phrases[one.count_at] if one.count_at >= 0 else _number(one.number, size.start)
        made += _told(noun, count, size)
    return made + phrases[members[-1].size_at + 1 :]


def _number(value: float, place: int) -> Amount:
    return Amount((Number(value, value, place, place),), place, place)
