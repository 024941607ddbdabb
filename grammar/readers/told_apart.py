"""What each of several places is to get, told after all of them: "beds of 3x6 and 4x8 ft, half an inch on the first, an inch on the second".

A place is spoken of again by its noun, by where it stands in the list ("the second"), by its size beside the others
("the small one"), or by what it was called ("the north one", "A"). Each amount is put where its place was told, so that
the line reads "bed 3x6 ft, half an inch, bed 4x8 ft, an inch".
"""

from __future__ import annotations

import re
from typing import NamedTuple

from ..draft import Draft
from ..later import later
from ..naming import described, letter_after
from ..parse import parse
from ..phrases import Amount, CellTray, Measure, Number, NurseryClass, Phrase, Said, Share
from ..quantities import factor
from ..said import Waits, dimension, is_bulk, is_said, single
from ..thickness import THIN
from ..things import area_of, is_ground_size, places_of, sides_of, unit_of, whole, with_unit

#: What stands in a line that tells of places with their sizes.
TOLD_APART: Waits = (frozenset({"ground", "container", "plant"}), frozenset({Share, Measure}))

_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth")
_SMALLEST = ("small", "smaller", "smallest", "little", "tiny")
_LARGEST = ("large", "larger", "largest", "big", "bigger", "biggest")
_MIDDLE = ("middle", "medium")
#: The noun that may follow the word that tells a place from the others: "the small one", "the north bed".
_NOUN = r"(?: (?:ones?|beds?|boxe?s?|plots?|lawns?|pots?|tubs?|planters?|patch(?:es)?|borders?|containers?))?"
#: What may stand between an amount and its place, or a place and its amount.
_TIES = ("on", "into", "for", "to", "with", "at", "is")
_PAUSES = (("stop", "colon"), ("stop", "dash"))

_ONE_AND_OTHER = later(r"\b(?:on|in|for|to) (one)\b.*\b(the other)\b", re.IGNORECASE)
_ARTICLE = later(r"\ban? $", re.IGNORECASE)
_LETTER_BEFORE = later(r"\b([A-H])\b[ ,:(]*$")
_NUMBERED = later(r"\b([a-z]+ (?:one|two|three|four|#?[1-6]))(?: is|:|,)? *$", re.IGNORECASE)
_PAST_NOUN = later(_NOUN)
_OTHER = later(rf"\bthe other\b{_NOUN}", re.IGNORECASE)


class _Head(NamedTuple):
    """A place as it was told first: the indices of its size and of its last phrase, its noun, its size in SI units and its names."""

    size_at: int
    last: int
    noun: str
    size: float
    names: frozenset[str]
    #: what grows there
    crops: frozenset[str] = frozenset()


class Again(NamedTuple):
    """Where in the line a place is spoken of again."""

    place: int
    start: int
    end: int


def find_told_apart(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with what is told of each place right after its size; the same where it is told in another way."""
    heads = _heads(phrases, draft.text) if sum(map(_may_be_told, phrases, [*phrases[1:], None])) > 1 else []
    if len(heads) < 2:
        return phrases
    after = phrases[heads[-1].last].end
    again = _spoken_again(heads, phrases, draft.text, after)
    if len(again) < 2 or len({one.place for one in again}) < len(again):
        if len(again) < 2 and all(head.size for head in heads) and (_told_on(phrases[heads[-1].last + 1 :]) > 1 or _ONE_AND_OTHER.search(draft.text, after)):
            draft.question = draft.question or ("which", "which of the places gets which? Say of each place once what it gets")
        return phrases
    text = draft.text
    for one in again:
        text = text[: one.start] + " " * (one.end - one.start) + text[one.end :]  # the "one" of "the small one" is no number
    read = [p for p in parse(text).phrases if p.start >= after]
    found = shared_out(read, again)
    if found is None:
        return phrases
    amounts, rest = found
    unit = _unit_of_sides(heads, phrases)
    made: list[Phrase] = []
    for at, phrase in enumerate(phrases[: heads[-1].last + 1]):
        if whole(phrase) == len(heads) and at + 2 == heads[0].size_at and is_said(phrases[at + 1], "ground") and phrases[at + 1].text.lower().endswith("s"):  # type: ignore[union-attr]
            if all(one.last == one.size_at and not _ARTICLE.search(draft.text[: phrases[one.size_at].start]) for one in heads[1:]):
                continue  # "two beds 3x6 and 4x8 ft": how many are told
        head = next((place for place, one in enumerate(heads) if one.size_at == at and is_ground_size(phrase)), None)
        made.append(phrase if head is None else with_unit(phrase, unit))  # type: ignore[arg-type]
        for place, told in enumerate(heads):
            if told.last == at:
                made += amounts.get(place, [])
    return [*made, *rest]


def _unit_of_sides(heads: list[_Head], phrases: list[Phrase]) -> str:
    """The unit that the sides of the places are told in, or the empty string."""
    sizes = (phrases[head.size_at] for head in heads)
    return next((name for size in sizes if is_ground_size(size) and (name := unit_of(size))), "")


def _told_on(tail: list[Phrase]) -> int:
    """How many times something is told "on" or "in" what is no size: of places that are not made out."""
    found = 0
    for at, phrase in enumerate(tail[:-1]):
        if _is_told(phrase) and is_said(tail[at + 1], "link", "on", "into"):
            found += not any(is_ground_size(one) or single(one) is not None for one in tail[at + 2 : at + 3])
    return found


# ---- the places, and where they are spoken of again ----------------------------------------------------------


def _may_be_told(phrase: Phrase, after: Phrase | None) -> bool:
    """Whether a phrase may tell a place's size or number: a quick look, before the places are made out."""
    return type(phrase) is Amount and (is_ground_size(phrase) or (type(after) is Said and after.kind in ("container", "plant")))


def _heads(phrases: list[Phrase], text: str) -> list[_Head]:
    """The places that were told with their sizes: ground by its sides or its area, vessels by what they hold, plants by their number."""
    grounds = {one.size_at: one for one in places_of(phrases, range(0))}
    found: list[tuple[int, int, int, str, float]] = []
    unit = next((name for at in grounds if (name := unit_of(phrases[at]))), "")
    for at, phrase in enumerate(phrases):
        if at in grounds:
            one = grounds[at]
            if at and _is_tie(phrases[at - 1]) and any(is_ground_size(phrases[other]) and sides_of(phrases[other], unit) == sides_of(phrase, unit) for _, other, *_ in found):
                continue  # "an inch on the 3x6": told before
            last = one.last
            while last + 1 < len(phrases):
                if _is_of_it(single(phrases[last + 1]), text):
                    last += 1
                elif last + 2 < len(phrases) and is_said(phrases[last + 1], "link", "of", "for", "with") and is_said(phrases[last + 2], "plant"):
                    last += 2  # "a bed of kale"
                else:
                    break
            found.append((one.first, at, last, one.noun, area_of(phrase, unit)))
        elif at + 1 < len(phrases) and is_said(phrases[at + 1], "container") and type(held := single(phrase)) is Measure and (
            held.per is None and dimension(held) == "volume"
        ):  # fmt: skip
            size = held.high * factor(_EXACT.get(held.unit, held.unit))
            found.append((at, at, at + 1, phrases[at + 1].id, size))  # type: ignore[union-attr]
        elif whole(phrase) and at + 1 < len(phrases) and is_said(phrases[at + 1], "plant"):
            found.append((at, at, at + 1, phrases[at + 1].id, 0.0))  # type: ignore[union-attr]
    names = _names(found, phrases, text)
    begins = [0, *(last + 1 for _, _, last, _, _ in found)]
    crops = [frozenset(p.id for p in phrases[begin : end + 1] if type(p) is Said and p.kind == "plant") for begin, (_, _, end, _, _) in zip(begins, found, strict=False)]
    return [_Head(at, last, noun, size, names[place], crops[place]) for place, (_, at, last, noun, size) in enumerate(found)]


def _is_of_it(one: Number | Measure | NurseryClass | CellTray | None, text: str) -> bool:
    """ "10 in deep" after a size, or the "one" of "a 4x6 ft one"."""
    if type(one) is Measure:
        return one.role in ("depth", "height")
    return type(one) is Number and text[one.start : one.end].lower() == "one"


#: A unit to compare sizes by, where the word alone leaves it open.
_EXACT = {"gallon": "us_gallon", "quart": "us_dry_quart", "pint": "us_dry_pint", "yard": "cubic_yard", "cup": "us_cup"}


def _names(found: list[tuple[int, int, int, str, float]], phrases: list[Phrase], text: str) -> list[frozenset[str]]:
    """What each place may be called: by the list, by its size beside the others, by the words before it, by its letter."""
    sizes = sorted(size for *_, size in found)
    apart = all(one < other for one, other in zip(sizes, sizes[1:], strict=False))
    names: list[set[str]] = []
    for place, (first, at, last, _noun, size) in enumerate(found):
        called = {"last"} if place == len(found) - 1 else set()
        called.update(_ORDINALS[place : place + 1])
        if apart and len(found) > 1:
            called.update(_SMALLEST if size == sizes[0] else _LARGEST if size == sizes[-1] else _MIDDLE if len(found) == 3 else ())
        called |= described(text, phrases[first].start) | described(text, phrases[at].start)
        called |= {letter.lower() for one in (first, last) if (letter := letter_after(text, phrases[one].end))}
        if (before := _LETTER_BEFORE.search(text[: phrases[at].start])) is not None:
            called.add(before[1].lower())  # "bed B 4x8"
        if (numbered := _NUMBERED.search(text[: phrases[at].start])) is not None:
            called.add(numbered[1].lower())  # "bed two is 4x8"
        names.append(called)
    everywhere = [name for called in names for name in called]
    return [frozenset(name for name in called if everywhere.count(name) == 1) for called in names]


def _spoken_again(heads: list[_Head], phrases: list[Phrase], text: str, after: int) -> list[Again]:
    """Where places are spoken of again after the last of them was told, in the order of the line."""
    found: list[Again] = []
    for place, head in enumerate(heads):
        for name in head.names:
            letter = len(name) == 1
            again = rf"\b{name.upper()}\b" if letter else rf"(?i:\b(?:the |my |our )?{re.escape(name)}\b{_NOUN})"
            found += [Again(place, one.start(), one.end()) for one in re.finditer(again, text[after:])]
    found = [one._replace(start=one.start + after, end=one.end + after) for one in found]
    for at, phrase in enumerate(phrases):
        if phrase.start < after or any(one.start < phrase.end and phrase.start < one.end for one in found):
            continue
        known = _same_size(phrase, heads, phrases) if is_ground_size(phrase) else _same_noun(phrase, heads)
        beside = (phrases[at - 1], *phrases[at + 1 : at + 2])
        if known is not None and not (type(phrase) is Said and any(is_ground_size(one) for one in beside)):
            found.append(Again(known, phrase.start, _past_noun(text, phrase)))
    if len(heads) == 2 and not found and heads[0].size == heads[1].size and (one_other := _ONE_AND_OTHER.search(text, after)) is not None:
        return [Again(place, *one_other.span(place + 1)) for place in (0, 1)]
    if len(heads) == 2 and len({one.place for one in found}) == 1 and (other := _OTHER.search(text, max(one.end for one in found))) is not None:
        found.append(Again(1 - found[0].place, other.start(), other.end()))
    found.sort(key=lambda one: (one.start, -one.end))
    return [one for at, one in enumerate(found) if not at or one.start >= found[at - 1].end]


def _same_noun(phrase: Phrase, heads: list[_Head]) -> int | None:
    """The one place of this noun, or with this crop."""
    if type(phrase) is not Said or phrase.kind not in ("ground", "container", "plant"):
        return None
    places = [place for place, head in enumerate(heads) if phrase.id == head.noun or phrase.id in head.crops]
    return places[0] if len(places) == 1 else None


def _same_size(phrase: Phrase, heads: list[_Head], phrases: list[Phrase]) -> int | None:
    """The one place that was told with these sides: "the 3x6 one"."""
    unit = _unit_of_sides(heads, phrases)
    sides = sides_of(phrase, unit)
    places = [place for place, head in enumerate(heads) if is_ground_size(phrases[head.size_at]) and sides_of(phrases[head.size_at], unit) == sides]
    return places[0] if len(places) == 1 else None


def _past_noun(text: str, phrase: Phrase) -> int:
    """The end of a place that is spoken of again, past the "one" or "bed" after it."""
    if type(phrase) is Said:
        return phrase.end
    noun = _PAST_NOUN.match(text, phrase.end)
    return noun.end() if noun is not None else phrase.end


# ---- what is told of each -----------------------------------------------------------------------------------


def shared_out(read: list[Phrase], again: list[Again]) -> tuple[dict[int, list[Phrase]], list[Phrase]] | None:
    """What each place is told to get, and the other phrases; None where it is not told of each in one way."""
    line: list[Phrase | Again] = sorted([*read, *again], key=lambda one: (one.start, one.end))
    first = line.index(again[0])
    before = first
    while before and _is_tie(line[before - 1]):
        before -= 1
    while before and (_goes_on(line[before - 1]) or _is_dose(line, before - 1)):
        before -= 1
    place_first = before == first or not _told(line, before)[0]
    start = at = first if place_first else before
    amounts: dict[int, list[Phrase]] = {}
    while len(amounts) < len(again):
        while at < len(line) and (is_said(line[at], "stop") or is_said(line[at], "link", "and")):  # type: ignore[arg-type]
            at += 1
        if place_first:
            place, at = _place(line, at)
            at, layer = _past_tie(line, at)
        told, at = _told(line, at)
        if not place_first:
            at, layer = _past_tie(line, at)
            place, at = _place(line, at)
        if place is None or not told:
            return None
        amounts[place] = [_as_layer(one) if layer else one for one in told]
    return amounts, [one for one in (*line[:start], *line[at:]) if type(one) is not Again]  # type: ignore[misc]


def _place(line: list[Phrase | Again], at: int) -> tuple[int | None, int]:
    one = line[at] if at < len(line) else None
    return (one.place, at + 1) if type(one) is Again else (None, at)


def _is_tie(one: Phrase | Again) -> bool:
    return type(one) is Said and ((one.kind == "link" and one.id in _TIES) or one.kind == "is" or (one.kind, one.id) in _PAUSES)


def _past_tie(line: list[Phrase | Again], at: int) -> tuple[int, bool]:
    """The index past "on", "gets" or a colon, and whether what is told may lie on top: not "in"."""
    layer = True
    while at < len(line) and _is_tie(line[at]):
        layer = layer and not is_said(line[at], "link", "into")  # type: ignore[arg-type]
        at += 1
    return at, layer


def _is_told(one: Phrase | Again) -> bool:
    """A share, or a length."""
    length = single(one) if type(one) is Amount else None
    return type(one) is Share or (type(length) is Measure and length.per is None and dimension(length) == "length")


def _goes_on(one: Phrase | Again) -> bool:
    """What is told, or the castings of it."""
    return _is_told(one) or is_said(one, "link", "of", "each") or is_said(one, "castings") or is_said(one, "way", "top-dress")  # type: ignore[arg-type]


def _told(line: list[Phrase | Again], at: int) -> tuple[list[Phrase], int]:
    """A share or a length, and "of castings" after it."""
    told: list[Phrase] = []
    while at < len(line) and (_is_told(line[at]) or _is_dose(line, at) or (told and _goes_on(line[at]))):
        if _is_dose(line, at):
            told += line[at : at + 2]  # type: ignore[arg-type]
            at += 1
        elif _is_told(line[at]):
            told.append(line[at])  # type: ignore[arg-type]
        at += 1
    return told, at


def _is_dose(line: list[Phrase | Again], at: int) -> bool:
    """ "2 cups each"."""
    one = single(line[at]) if type(line[at]) is Amount else None  # type: ignore[arg-type]
    return is_bulk(one) and at + 1 < len(line) and is_said(line[at + 1], "link", "each")  # type: ignore[arg-type]


def _as_layer(phrase: Phrase) -> Phrase:
    """A thin length on a place is a layer."""
    one = single(phrase)
    if type(one) is Measure and not one.role and dimension(one) == "length" and one.high * factor(one.unit) <= THIN:
        return Amount((one._replace(role="thick"),), one.start, one.end)
    return phrase
