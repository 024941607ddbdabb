"""What is left out, and what stands inside another: "all but the 3 by 3", "minus a 20 by 10 ft house", "3 died".

Each is found by its own words before the rest is read. What is left out of a list is taken off the list, what
stands inside a place is taken off its area, plants or pots that are gone are taken off their number, and a part of
a place stands for the place. Which of these is meant is told by what the thing is: a house stands in a lawn, and
a bed stands beside other beds. Where that does not decide it, it is asked.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from typing import NamedTuple

from .asides import dimension, is_said, kinds_of, single
from .draft import Draft
from .phrases import Amount, Measure, Number, Phrase, Said
from .quantities import factor

#: Ground that other things stand in.
_HOSTS = ("lawn", "plot")
_SMALL = ("of", "for", "on", "with", "at", "is", "from")
#: "all of the beds", before "but the 3 by 3".
_ALL = re.compile(r"\b(?:all|every|each|everything)\b[^,.;:]*$")
_DONE = ("already done", "did already", "already did")
_OF_IT = re.compile(r"\s*of (?:it|which|that)\b")


#: More words that leave something out than this stand in no request.
_MOST = 12


class _Place(NamedTuple):
    """A size that was said, with the noun and the number that go with it, as far as they are said."""

    size_at: int
    noun: str
    number: float
    first: int  # the phrases that are only about this one
    last: int


class _Thing(NamedTuple):
    """Something that is left out: its phrases, its size and what it is."""

    first: int
    end: int
    size: Amount | None
    noun: Said | None
    number: float


def find_left_out(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without what is left out of them; a size taken off another stands right after that as "except"."""
    kinds = kinds_of(phrases)
    if Amount not in kinds or any(is_said(phrase, "ground", "l-shape") for phrase in phrases):
        return phrases  # the legs of an L are its own
    for read, wanted in _READERS:
        if not kinds.isdisjoint(wanted):
            phrases = read(phrases, draft)
    return phrases


def _text(draft: Draft, phrases: list[Phrase], first: int, end: int) -> str:
    return draft.text[phrases[first].start : phrases[end - 1].end].strip(" ,.;:()")


def _ask(draft: Draft, text: str) -> None:
    if draft.question is None:
        draft.question = ("exclusion", text)


# ---- sizes and nouns ---------------------------------------------------------------------------------


def is_ground_size(phrase: Phrase | None) -> bool:
    """Whether a phrase is the size of a piece of ground: sides, or an area."""
    if type(phrase) is not Amount:
        return False
    if len(phrase.dims) > 1:
        return len(phrase.dims) == 2 and all(
            type(d) is Number or (type(d) is Measure and d.per is None and dimension(d) in ("length", "length or volume")) for d in phrase.dims
        ) and not any(type(d) is Measure and d.role in ("depth", "thick", "height") for d in phrase.dims)
    one = phrase.dims[0]
    return type(one) is Measure and one.per is None and dimension(one) == "area"


def _whole(phrase: Phrase | None) -> float:
    one = single(phrase)
    if type(one) is Number and one.low == one.high == int(one.low) and not (one.role or one.article or one.note) and one.low > 0:
        return one.low
    return 0.0


def _inside(phrase: Phrase | None) -> bool:
    """Whether a phrase names what stands in a garden and gets no castings."""
    return is_said(phrase, "other-thing", "house-thing", "stands-in") or is_said(phrase, "ground", "path") or (
        is_said(phrase, "hint", "balcony") and phrase.text.lower() in ("deck", "terrace")  # type: ignore[union-attr]
    )  # fmt: skip


def _noun(phrase: Phrase | None) -> bool:
    return type(phrase) is Said and (phrase.kind in ("ground", "container", "plant", "hole") or _inside(phrase))


def _sides(phrase: Phrase, unit: str = "") -> tuple[float, ...]:
    """The sides in metres, or the area; a number without a unit takes the one given."""
    assert type(phrase) is Amount
    said = [d.unit for d in phrase.dims if type(d) is Measure]
    found = []
    for i, d in enumerate(phrase.dims):
        name = d.unit if type(d) is Measure else (said[-1] if said and i < len(phrase.dims) else unit or "foot")
        found.append(d.high * factor("yard" if name == "yard" else name))  # type: ignore[union-attr]
    return tuple(sorted(found))


def _unit(phrase: Phrase) -> str:
    assert type(phrase) is Amount
    said = [d.unit for d in phrase.dims if type(d) is Measure and dimension(d) == "length"]
    return said[-1] if said else ""


def _area(phrase: Phrase, unit: str = "") -> float:
    return math.prod(_sides(phrase, unit))


def _with_unit(size: Amount, unit: str) -> Amount:
    """Sides without a unit, in the unit of the place beside them."""
    if unit not in ("foot", "metre", "yard") or any(type(d) is Measure for d in size.dims):
        return size
    return size._replace(dims=tuple(Measure(d.low, d.high, unit, "unit", d.start, d.end) for d in size.dims))  # type: ignore[union-attr]


def _places(phrases: list[Phrase], without: range) -> list[_Place]:
    """Every ground size outside some phrases, with its noun (or the one that heads its list) and its number."""
    found: list[_Place] = []
    heading = ""
    for at, phrase in enumerate(phrases):
        if at in without:
            continue
        if type(phrase) is Said and phrase.kind in ("ground", "container") and not _inside(phrase):
            heading = phrase.id
        if not is_ground_size(phrase) or (at and is_said(phrases[at - 1], "deny", "without", "skip", "all-but")):
            continue  # what is left out is no place itself
        first, last, noun, count = at, at, heading, 0.0
        after = at + 1
        while after < len(phrases) and (is_said(phrases[after], "hint") or is_said(phrases[after], "form")):
            after += 1
        named = phrases[after] if after < len(phrases) and after not in without else None
        if type(named) is Said and named.kind in ("ground", "container") and not _inside(named):
            noun, last = named.id, after
        elif at and is_said(phrases[at - 1], "ground") and not phrases[at - 1].text.lower().endswith("s"):  # type: ignore[union-attr]
            first = at - 1
        if first and _whole(phrases[first - 1]):
            first, count = first - 1, _whole(phrases[first - 1])
        elif first > 1 and is_said(phrases[first - 1], "link", "of") and is_said(phrases[first - 2], "ground") and first > 2:
            count = _whole(phrases[first - 3])
        elif first > 1 and is_said(phrases[first - 1], "ground"):
            count = _whole(phrases[first - 2])
        found.append(_Place(at, noun, count, first, last))
    return found


def _round(one: Measure) -> Amount:
    return Amount((one._replace(role="diameter"),), one.start, one.end)


def _size_at(phrases: list[Phrase], at: int) -> tuple[Amount | None, int]:
    """A size at an index, and the index after it: sides, an area, "2 ft square", "6 ft round", "6 ft across"."""
    if at >= len(phrases):
        return None, at
    phrase = phrases[at]
    if is_ground_size(phrase):
        assert type(phrase) is Amount
        return phrase, at + 1
    form = None
    if is_said(phrase, "form", "round", "square") and at + 1 < len(phrases):
        form, at = phrase, at + 1
        phrase = phrases[at]
    one = single(phrase)
    if type(one) is not Measure or one.per is not None or dimension(one) != "length":
        return None, at
    after = phrases[at + 1] if at + 1 < len(phrases) else None
    if one.role == "diameter" or is_said(form, "form", "round"):
        return _round(one), at + 1
    if is_said(after, "form", "round", "square") or is_said(form, "form", "square"):
        end = at + (1 if form is not None else 2)
        if is_said(after if form is None else form, "form", "round"):
            return _round(one), end
        return Amount((one, one), one.start, one.end), end
    return None, at


def _thing(phrases: list[Phrase], at: int) -> _Thing | None:
    """What is named from an index on: a number, a noun and a size in any order."""
    first = at
    while at < len(phrases) and (is_said(phrases[at], "link", *_SMALL) or is_said(phrases[at], "about")):
        at += 1
    size, noun, count = None, None, 0.0
    end = at
    while at < len(phrases):
        phrase = phrases[at]
        found, after = _size_at(phrases, at) if size is None else (None, at)
        if found is not None:
            size, at, end = found, after, after
        elif noun is None and _noun(phrase):
            assert isinstance(phrase, Said)
            noun, at, end = phrase, at + 1, at + 1
        elif not count and size is None and _whole(phrase) and at + 1 < len(phrases) and (
            _noun(phrases[at + 1]) or _size_at(phrases, at + 1)[0] is not None
        ):  # fmt: skip
            count, at, end = _whole(phrase), at + 1, at + 1
        elif noun is None and size is not None and is_said(phrase, "link", "of") and at + 1 < len(phrases) and _inside(phrases[at + 1]):
            at += 1  # "300 sq ft of patio"
        elif is_said(phrase, "hint") or is_said(phrase, "form") or (noun is not None and size is None and (
            is_said(phrase, "link", "of", "is", "at") or is_said(phrase, "is"))):  # fmt: skip
            at += 1
        else:
            break
    return _Thing(first, end, size, noun, count or 1.0) if size is not None or noun is not None else None


# ---- left out by a word ------------------------------------------------------------------------------


def _marked(phrases: list[Phrase], at: int, draft: Draft) -> bool:
    """Whether a phrase leaves out what comes next."""
    phrase = phrases[at]
    if phrase.start == phrase.end:
        return False  # put in here, after the place that it is taken off
    if is_said(phrase, "deny", "without", "all-but", "skip") or is_said(phrase, "reply", "drop-place"):
        return True
    if is_said(phrase, "by-so-much", "less") or (is_said(phrase, "deny", "leave") and phrase.text.lower().startswith("everything")):  # type: ignore[union-attr]
        return True
    return is_said(phrase, "link", "but") and _ALL.search(draft.text[: phrase.start].lower()) is not None


def _left_before(phrases: list[Phrase], at: int) -> _Thing | None:
    """What stands before "not included": "the house, 20 by 10 ft, is not included"."""
    for first in range(max(0, at - 6), at):
        if first and not (is_said(phrases[first - 1], "stop") or is_said(phrases[first - 1], "link", "and", "with", "but", "is")):
            continue
        thing = _thing(phrases, first)
        if thing is None:
            continue
        end = thing.end
        while end < at and (is_said(phrases[end], "link", "is") or is_said(phrases[end], "is") or is_said(phrases[end], "stop", "comma")):
            end += 1
        if end == at:
            return thing
    return None


def _listed(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without what "except", "skip", "but not" or "not included" leaves out."""
    at = 0
    tried = 0
    while at < len(phrases) and tried < _MOST:
        made: list[Phrase] | None = None
        if is_said(phrases[at], "deny", "left-off", "leave") and not _marked(phrases, at, draft):
            tried += 1
            if phrases[at].text.lower().endswith("last"):  # type: ignore[union-attr]
                made = _ordinal(phrases, at, draft)  # "all but the last"
            thing = _left_before(phrases, at) if made is None else None
            if thing is not None and (thing.size is not None or _inside(thing.noun)):
                made = _leave_out(phrases, thing.first, thing._replace(end=at + 1), draft)
        elif _marked(phrases, at, draft):
            tried += 1
            made = _ordinal(phrases, at, draft)
            if made is None and (thing := _thing(phrases, at + 1)) is not None:
                made = _leave_out(phrases, at, thing, draft)
        if made is None or made is phrases:
            at += 1
        else:
            phrases, at = made, 0
    return phrases


def _ordinal(phrases: list[Phrase], at: int, draft: Draft) -> list[Phrase] | None:
    """ "skip the second": that one of the places told, or None."""
    phrase = phrases[at]
    text = draft.text[phrase.start :].lower()
    found = re.match(r"\W*(?:[\w']+\s+)*?(?:the\s+)?(first|second|third|fourth|fifth|last)(?:\s+(?:one|bed|plot|row|lawn))?\s*(?=[,.;:?!]|$|and\b|but\b)", text)
    if found is None or len(found.group().split()) > 5:
        return None
    end = at + 1
    while end < len(phrases) and phrases[end].start < phrase.start + found.end():
        end += 1
    places = _places(phrases, range(at, end))
    number = {"first": 0, "second": 1, "third": 2, "fourth": 3, "fifth": 4, "last": len(places) - 1}[found.group(1)]
    if len(places) < 2:
        return None
    if number >= len(places) or any(place.number > 1 for place in places):
        _ask(draft, f"“{found.group().strip()}”: which one is left out? Say its size")
        return None
    return _drop(phrases, [places[number]], range(at, end), draft)


def _drop(phrases: list[Phrase], places: list[_Place], marked: range, draft: Draft) -> list[Phrase]:
    """The phrases without some places and the words that leave them out."""
    gone = set(marked)
    told = len(_places(phrases, marked))
    unit = ""
    for place in places:
        unit = unit or _unit(phrases[place.size_at])
        gone.update(range(place.first, place.last + 1))
        before = place.first - 1
        if before >= 0 and (is_said(phrases[before], "link", "and") or is_said(phrases[before], "stop", "comma")):
            gone.add(before)
        draft.noted.append((_text(draft, phrases, place.first, place.last + 1), "not to get any"))
    made: list[Phrase] = []
    for at, phrase in enumerate(phrases):
        if at in gone:
            continue
        if is_ground_size(phrase) and not _unit(phrase):
            assert type(phrase) is Amount
            phrase = _with_unit(phrase, unit)
        after = phrases[at + 1] if at + 1 < len(phrases) else None
        if _whole(phrase) == told and type(after) is Said and after.kind in ("ground", "container") and after.text.lower().endswith("s") and not (
            at + 2 < len(phrases) and (is_said(phrases[at + 2], "link", "of") or is_ground_size(phrases[at + 2]))
        ):  # fmt: skip
            draft.noted.append((_text(draft, phrases, at, at + 1), "how many there are in all"))
            continue
        if type(phrase) is Said and phrase.kind == "ground" and phrase.text.lower().endswith("s") and told == len(places) + 1:
            phrase = phrase._replace(text=phrase.id)  # of "my beds" one is left
        made.append(phrase)
    return made


def _leave_out(phrases: list[Phrase], at: int, thing: _Thing, draft: Draft) -> list[Phrase]:
    """The phrases without one thing that is left out; the same phrases where nothing tells what it is left out of."""
    marked = range(min(at, thing.first), thing.end)
    places = _places(phrases, marked)
    said = _text(draft, phrases, thing.first, thing.end)
    if not places:
        return phrases
    inside = _inside(thing.noun)
    if thing.size is None:
        if inside:
            _ask(draft, f"how big is the {thing.noun.text.lower()} that is left out?")  # type: ignore[union-attr]
            return phrases
        if thing.noun is None or thing.noun.kind != "ground":
            return phrases
        named = [place for place in places if place.noun == thing.noun.id]
        if len(named) == 1 and len(places) > 1:
            return _drop(phrases, named, marked, draft)
        if len(named) > 1:
            _ask(draft, f"“{said}”: which of the {len(named)} is left out? Say its size")
        return phrases
    unit = next((name for place in places if (name := _unit(phrases[place.size_at]))), "")
    size = _with_unit(thing.size, unit)
    same = [place for place in places if not inside and _sides(phrases[place.size_at], unit) == _sides(size, unit)]
    if same:
        if len(same) > 1 or same[0].number > 1:
            _ask(draft, f"“{said}”: how many of that size are left out?")
            return phrases
        if len(places) > 1:
            return _drop(phrases, same, marked, draft)
    hosts = [place for place in places if place.noun in _HOSTS or (not inside and thing.noun is None)]
    other = thing.noun is not None and not inside and (not hosts or all(place.noun == thing.noun.id for place in places))
    the = draft.text[: size.start].lower().rstrip(" (").endswith("the")
    if other or (thing.noun is None and the and len(places) > 1):
        draft.noted.append((said, "not to get any"))
        return [phrase for i, phrase in enumerate(phrases) if i not in marked]
    hosts = hosts or places
    if len(hosts) > 1:
        _ask(draft, f"“{said}”: which of the places is it taken off? Say the size of what castings do go on")
        return phrases
    return _taken_off(phrases, hosts[0], size, thing, marked, draft)


def _taken_off(phrases: list[Phrase], host: _Place, size: Amount, thing: _Thing, marked: range, draft: Draft) -> list[Phrase]:
    """The phrases with a size taken off another: "except" and the size stand right after it."""
    said = _text(draft, phrases, thing.first, thing.end)
    if host.number > 1:
        _ask(draft, f"“{said}”: is that taken off each of the {host.number:g}? Say the size of what castings do go on")
        return phrases
    made: list[Phrase] = []
    for at, phrase in enumerate(phrases):
        if at not in marked:
            made.append(phrase)
        if at == host.last:
            for _ in range(int(thing.number)):
                made += [Said("deny", "without", "except", size.start, size.start), size]
    return made


# ---- what stands in it -------------------------------------------------------------------------------


def _stands_in(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "a lawn 50 by 40 ft with a 10 by 10 ft shed in it": what stands in it is taken off."""
    for at, phrase in enumerate(phrases):
        around = is_said(phrase, "hint", "around-plants") or (is_said(phrase, "about") and phrase.text.lower() == "around")  # type: ignore[union-attr]
        if not (around or is_said(phrase, "link", "with", "and", "is", "but", "on-hand") or is_said(phrase, "stop", "comma")):
            continue
        thing = _thing(phrases, at + 1)
        if thing is None or thing.size is None:
            continue
        end = thing.end
        unknown = thing.noun is None and end + 1 < len(phrases) and is_said(phrases[end], "unknown") and is_said(phrases[end + 1], "link", "into")
        if not _inside(thing.noun) and not unknown:
            continue
        end += 1 if unknown else 0
        there = end < len(phrases) and is_said(phrases[end], "link", "into")
        if not (is_said(phrase, "link", "with") or there or around):
            continue
        if there and end + 1 < len(phrases) and is_said(phrases[end + 1], "ground"):
            end += 1
        marked = range(at + 1 if is_said(phrase, "stop") else at, end + 1 if there else end)
        places = _places(phrases, marked)
        if len(places) == 1 and places[0].size_at < at:
            size = _with_unit(thing.size, _unit(phrases[places[0].size_at]))
            return _taken_off(phrases, places[0], size, thing, marked, draft)
    return _said_beside(phrases, draft)


def _said_beside(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "house 40 by 30 ft on a 60 by 50 ft lot": no place for castings; whether it is to be taken off is asked."""
    for at, phrase in enumerate(phrases):
        size = phrases[at + 1] if at + 1 < len(phrases) else None
        if is_said(phrase, "other-thing", "house-thing", "stands-in") and is_ground_size(size) and not (at and type(phrases[at - 1]) is Amount):
            if _places(phrases, range(at, at + 2)):
                _ask(draft, f"is the {phrase.text.lower()} to be taken off? Say the size of what castings do go on")  # type: ignore[union-attr]
            return phrases
    return phrases


def _beds_in(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "a 20 by 20 ft garden with four 4 by 8 ft beds in it, half an inch on the beds": the beds, and no more."""
    for at, phrase in enumerate(phrases):
        if not is_said(phrase, "link", "with", "into") or at == 0:
            continue
        places = _places(phrases, range(0))
        before = [place for place in places if place.last < at and place.noun in _HOSTS]
        after = [place for place in places if place.first > at and place.noun == "bed"]
        if len(before) != 1 or not after or len(places) != len(before) + len(after) or before[0].number > 1:
            continue
        host = before[0]
        if not all(
            is_said(p, "link") or is_said(p, "hint") or is_ground_size(p) or _whole(p) or is_said(p, "ground", "bed") or is_said(p, "stop", "comma")
            for p in phrases[host.last + 1 : after[0].size_at]
        ):  # fmt: skip
            continue
        noun = next(p for p in phrases[host.first : host.last + 1] if is_said(p, "ground")) if any(
            is_said(p, "ground") for p in phrases[host.first : host.last + 1]) else None  # fmt: skip
        later = phrases[after[-1].last + 1 :]
        for_beds = any(is_said(p, "ground", "bed") and (is_said(q, "link", "on", "for", "each", "into", "both") or is_said(q, "about"))
                       for q, p in zip(later, later[1:], strict=False))  # fmt: skip
        for_beds = for_beds or any(is_said(p, "link", "each") for p in later)
        if not for_beds:
            called = noun.text.lower() if isinstance(noun, Said) else "whole"
            _ask(draft, f"is that for the beds alone, or for the whole {called}? Say the size of what castings go on")
            return phrases
        draft.noted.append((_text(draft, phrases, host.first, host.last + 1), "the place around the beds"))
        return [p for i, p in enumerate(phrases) if not host.first <= i <= at]
    return phrases


# ---- a part of a place -------------------------------------------------------------------------------


def _part_of(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "16 sq ft of the 4 by 8 ft bed", "a 20 by 20 ft garden of which 300 sq ft is beds": the part is what counts."""
    for at, phrase in enumerate(phrases):
        if is_ground_size(phrase) and at + 2 < len(phrases) and is_said(phrases[at + 1], "link", "of"):
            made = _part_of_whole(phrases, at, draft)
            if made is not None:
                return made
        of_it = _OF_IT.match(draft.text[phrase.start :].lower()) if is_said(phrase, "link", "of") else None
        if of_it is None:
            continue
        size_at = at - 1 if is_ground_size(phrases[at - 1]) else next((i for i in (at + 1, at + 2) if i < len(phrases) and is_ground_size(phrases[i])), -1)
        if size_at < 0:
            continue
        end = max(size_at, at) + 1
        while end < len(phrases) and (is_said(phrases[end], "link", "is") or is_said(phrases[end], "is") or is_said(phrases[end], "ask", "which")):
            end += 1
        noun = phrases[end] if end < len(phrases) else None
        places = _places(phrases, range(min(size_at, at), end))
        hosts = [place for place in places if place.last < min(size_at, at)]
        if not hosts or not (_noun(noun) or is_said(noun, "hint", "established")):
            continue
        host, part = hosts[-1], phrases[size_at]
        assert type(part) is Amount
        if _area(part, _unit(phrases[host.size_at])) > _area(phrases[host.size_at]) * (1 + 1e-9):
            _ask(draft, f"{draft.text[part.start : part.end]} is more than the whole; which of the two is right?")
            return phrases
        if _inside(noun):
            thing = _Thing(min(size_at, at), end + 1, part, noun if isinstance(noun, Said) else None, 1.0)
            return _taken_off(phrases, host, part, thing, range(min(size_at, at), end + 1), draft)
        draft.noted.append((_text(draft, phrases, host.size_at, host.size_at + 1), "the whole that this is a part of"))
        keep = end if is_said(noun, "ground") else end + 1
        left = [p for i, p in enumerate(phrases) if i < min(size_at, at) and not host.first <= i <= host.last]
        return [*left, part, *phrases[keep:]]
    return phrases


def _part_of_whole(phrases: list[Phrase], at: int, draft: Draft) -> list[Phrase] | None:
    here = at + 2
    noun: Said | None = None
    while here < len(phrases) and not is_ground_size(phrases[here]):
        phrase = phrases[here]
        if is_said(phrase, "ground") and noun is None:
            assert isinstance(phrase, Said)
            noun = phrase
        elif not (is_said(phrase, "hint") or is_said(phrase, "form") or is_said(phrase, "link", "of", "is") or (noun and is_said(phrase, "stop", "comma"))):
            return None
        here += 1
    if here >= len(phrases):
        return None
    part, whole = phrases[at], phrases[here]
    assert type(part) is Amount
    if noun is None and here + 1 < len(phrases) and is_said(phrases[here + 1], "ground"):
        noun = phrases[here + 1]  # type: ignore[assignment]
        here += 1
    unit = _unit(whole) or _unit(part)
    if len(part.dims) > 1 and noun is None:
        return None
    if _area(part, unit) > _area(whole, unit) * (1 + 1e-9):
        _ask(draft, f"{draft.text[part.start : part.end]} is more than {draft.text[whole.start : whole.end]}; which of the two is right?")
        return None
    draft.noted.append((draft.text[whole.start : whole.end].strip(), "the whole that this is a part of"))
    return [*phrases[: at + 1], *([noun] if noun is not None else []), *phrases[here + 1 :]]


# ---- so many of them ---------------------------------------------------------------------------------


def _counted(phrases: list[Phrase], without: range) -> list[int]:
    """Where the numbers stand that count plants, pots or beds."""
    found = []
    for at, phrase in enumerate(phrases):
        if at in without or _whole(phrase) < 2:
            continue
        here = at + 1
        while here < len(phrases) and (is_said(phrases[here], "hint") or is_said(phrases[here], "form") or type(phrases[here]) is Amount) and here < at + 4:
            here += 1
        noun = phrases[here] if here < len(phrases) else None
        if type(noun) is Said and noun.kind in ("plant", "container", "ground", "hole") and not _inside(noun):
            found.append(at)
    return found


def _state(phrase: Phrase | None) -> bool:
    """Whether a phrase says that something gets no castings any more: "died", "is fallow", "already done"."""
    if is_said(phrase, "by-so-much", "gone"):
        return True
    return is_said(phrase, "other-time") and phrase.text.lower() in _DONE  # type: ignore[union-attr]


def _gone(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "8 roses, 3 died", "3 of my 10 tomatoes died", "3 beds but one is fallow": what is gone is taken off the number."""
    for at, phrase in enumerate(phrases):
        number = single(phrase)
        few = _whole(phrase)
        if not few or type(number) is not Number:
            continue
        before = phrases[at - 1] if at else None
        # "lost 3 of my 10 tomatoes", "3 of my 10 tomatoes died"
        of = at + 2 < len(phrases) and is_said(phrases[at + 1], "link", "of") and _whole(phrases[at + 2]) > few
        end = at + 3 if of else at + 1
        if of:
            while end < len(phrases) and (is_said(phrases[end], "hint") or is_said(phrases[end], "plant") or is_said(phrases[end], "ground") or
                                          is_said(phrases[end], "container") or is_ground_size(phrases[end])):  # fmt: skip
                end += 1
        nouns_end = end
        while end < len(phrases) and (is_said(phrases[end], "link", "is", "count-word", "on-hand", "of") or is_said(phrases[end], "is")):
            end += 1
        after = phrases[end] if end < len(phrases) else None
        lost = of and is_said(before, "by-so-much", "gone")
        state = _state(after)
        then = phrases[end + 1] if end + 1 < len(phrases) else None
        if state and type(then) is Said and then.kind in ("plant", "container", "ground"):
            continue  # "2 dead roses" beside other plants
        told = before if not is_said(before, "link", "for") else phrases[at - 2] if at > 1 else None
        if not of and end == at + 1 and is_said(told, "deny", "without", "skip") and (after is None or is_said(after, "stop")):
            totals = _counted(phrases, range(at, end))
            if len(totals) == 1 and totals[0] < at and _whole(phrases[totals[0]]) > few:
                total, one = _whole(phrases[totals[0]]), single(phrases[totals[0]])
                assert type(one) is Number
                left = Amount((one._replace(low=total - few, high=total - few),), one.start, one.end)
                draft.flags.append(("left-out", f"{few:g} of {total:g} left out: {total - few:g}"))
                first = at - 1 if told is before else at - 2
                return [left if i == totals[0] else p for i, p in enumerate(phrases) if not first <= i <= at]
        if not (lost or state):
            continue
        if of:
            used = {at, at + 1} | (set(range(nouns_end, end + 1)) if state and not lost else set()) | ({at - 1} if lost else set())
            total_at = at + 2
        else:
            totals = _counted(phrases, range(at, end + 1))
            used = set(range(at, end + 1))
            if len(totals) != 1:
                continue
            total_at = totals[0]
            if is_said(before, "link", "but", "and", "with") or is_said(before, "stop", "comma"):
                used.add(at - 1)
        total = _whole(phrases[total_at])
        said = _text(draft, phrases, at, max(end + 1 if state else end, at + 1))
        if not of and is_said(before, "link", "and") and is_said(after, "other-time"):
            _ask(draft, f"“{said}”: are they among the {total:g}? Say how many are to get castings")
            return phrases
        if few >= total:
            _ask(draft, f"“{said}” of {total:g}: how many are left to get castings?")
            return phrases
        one = single(phrases[total_at])
        assert type(one) is Number
        left = Amount((one._replace(low=total - few, high=total - few),), one.start, one.end)
        draft.flags.append(("left-out", f"“{said}”: {total - few:g} of {total:g} are left"))
        return [left if i == total_at else p for i, p in enumerate(phrases) if i not in used]
    return phrases


#: The readers in their order, and the kinds of phrase that each waits for.
_READERS: tuple[tuple[Callable[[list[Phrase], Draft], list[Phrase]], frozenset[str | type]], ...] = (
    (_gone, frozenset({"by-so-much", "other-time", "deny"})),
    (_part_of, frozenset({"link"})),
    (_listed, frozenset({"deny", "reply", "by-so-much", "link"})),
    (_stands_in, frozenset({"other-thing", "hint", "ground", "unknown"})),
    (_beds_in, frozenset({"ground"})),
)
