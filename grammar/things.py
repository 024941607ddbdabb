"""Sizes of ground as they are spoken of, each with its noun and its number, and what stands inside them."""

from __future__ import annotations

import math
from typing import NamedTuple

from .draft import Draft
from .phrases import Amount, Measure, Number, Phrase, Said
from .quantities import factor
from .said import dimension, is_said, is_sides, past_describing, single

#: Ground that other things stand in.
HOSTS = ("lawn", "plot")
_SMALL = ("of", "for", "on", "with", "at", "is", "from")


class Spoken(NamedTuple):
    """A size that was said, with the noun and the number that go with it, as far as they are said."""

    size_at: int
    noun: str
    number: float
    first: int  # the phrases that are only about this one
    last: int


class Thing(NamedTuple):
    """Something that is left out: its phrases, its size and what it is."""

    first: int
    end: int
    size: Amount | None
    noun: Said | None
    number: float


#: More things than this in one place are told by what they take up in all.
_MOST_TAKEN_OFF = 24


def text_of(draft: Draft, phrases: list[Phrase], first: int, end: int) -> str:
    """The words of some phrases as they were typed."""
    return draft.text[phrases[first].start : phrases[end - 1].end].strip(" ,.;:()")


def ask(draft: Draft, text: str) -> None:
    """Asks what is left out, unless something is asked already."""
    if draft.question is None:
        draft.question = ("exclusion", text)


def is_ground_size(phrase: Phrase | None) -> bool:
    """Whether a phrase is the size of a piece of ground: sides, or an area."""
    if type(phrase) is not Amount:
        return False
    if len(phrase.dims) > 1:
        deep = any(type(d) is Measure and d.role in ("depth", "thick", "height") for d in phrase.dims)
        return len(phrase.dims) == 2 and is_sides(phrase) and not deep
    one = phrase.dims[0]
    return type(one) is Measure and one.per is None and dimension(one) == "area"


def whole(phrase: Phrase | None) -> float:
    """The whole number that a phrase is, or 0."""
    if type(phrase) is not Amount or len(phrase.dims) != 1:
        return 0.0
    one = phrase.dims[0]
    if type(one) is Number and one.low == one.high == int(one.low) and not (one.role or one.article or one.note) and one.low > 0:
        return one.low
    return 0.0


def stands_inside(phrase: Phrase | None) -> bool:
    """Whether a phrase names what stands in a garden and gets no castings."""
    if type(phrase) is not Said:
        return False
    kind = phrase.kind
    if kind == "other-thing":
        return phrase.id in ("house-thing", "stands-in")
    if kind == "ground":
        return phrase.id == "path"
    return kind == "hint" and phrase.id == "balcony" and phrase.text.lower() in ("deck", "terrace")


def is_noun(phrase: Phrase | None) -> bool:
    """Whether a phrase names a place or plants."""
    return type(phrase) is Said and (phrase.kind in ("ground", "container", "plant", "hole") or stands_inside(phrase))


def sides_of(phrase: Phrase, unit: str = "") -> tuple[float, ...]:
    """The sides in metres, or the area; a number without a unit takes the one given."""
    assert type(phrase) is Amount
    said = [d.unit for d in phrase.dims if type(d) is Measure]
    found = []
    for d in phrase.dims:
        name = d.unit if type(d) is Measure else said[-1] if said else unit or "foot"
        found.append(d.high * factor(name))  # type: ignore[union-attr]
    return tuple(sorted(found))


def unit_of(phrase: Phrase) -> str:
    """The unit of length of a size, its last where it has several; empty where it has none."""
    assert type(phrase) is Amount
    said = [d.unit for d in phrase.dims if type(d) is Measure and dimension(d) == "length"]
    return said[-1] if said else ""


def area_of(phrase: Phrase, unit: str = "") -> float:
    """The area of a size in square metres, `unit` for sides that have none."""
    return math.prod(sides_of(phrase, unit))


def with_unit(size: Amount, unit: str) -> Amount:
    """Sides without a unit, in the unit of the place beside them."""
    if unit not in ("foot", "metre", "yard") or any(type(d) is Measure for d in size.dims):
        return size
    return size._replace(dims=tuple(Measure(d.low, d.high, unit, "unit", d.start, d.end) for d in size.dims))  # type: ignore[union-attr]


def places_of(phrases: list[Phrase], without: range) -> list[Spoken]:
    """Every ground size outside some phrases, with its noun (or the one that heads its list) and its number."""
    found: list[Spoken] = []
    heading = ""
    for at, phrase in enumerate(phrases):
        if at in without:
            continue
        if type(phrase) is Said and phrase.kind in ("ground", "container") and not stands_inside(phrase):
            heading = phrase.id
        if not is_ground_size(phrase) or (at and is_said(phrases[at - 1], "deny", "without", "skip", "all-but")):
            continue  # what is left out is no place itself
        first, last, noun, count = at, at, heading, 0.0
        after = past_describing(phrases, at + 1)
        named = phrases[after] if after < len(phrases) and after not in without else None
        if type(named) is Said and named.kind in ("ground", "container") and not stands_inside(named):
            noun, last = named.id, after
        elif at and is_said(phrases[at - 1], "ground") and not phrases[at - 1].text.lower().endswith("s"):  # type: ignore[union-attr]
            first = at - 1
        if first and whole(phrases[first - 1]):
            first, count = first - 1, whole(phrases[first - 1])
        elif first > 1 and is_said(phrases[first - 1], "link", "of") and is_said(phrases[first - 2], "ground") and first > 2:
            count = whole(phrases[first - 3])
        elif first > 1 and is_said(phrases[first - 1], "ground"):
            count = whole(phrases[first - 2])
        found.append(Spoken(at, noun, count, first, last))
    return found


def round_places(phrases: list[Phrase], without: range) -> list[Spoken]:
    """Every round piece of ground: "8 ft round bed", "round bed 10 ft across", "tree ring 6 ft across"."""
    found = []
    for at, phrase in enumerate(phrases):
        one = single(phrase)
        if at in without or type(one) is not Measure or one.per is not None or dimension(one) != "length" or one.role not in ("", "diameter"):
            continue
        first, last = at, at
        while last + 1 < len(phrases) and last + 1 not in without and (is_said(phrases[last + 1], "form") or is_said(phrases[last + 1], "hint") or is_said(phrases[last + 1], "ground")):
            last += 1
        while first and first - 1 not in without and (is_said(phrases[first - 1], "form") or is_said(phrases[first - 1], "ground") or is_said(phrases[first - 1], "link", "is")):
            first -= 1
        group = phrases[first : last + 1]
        grounds = [p for p in group if isinstance(p, Said) and p.kind == "ground"]
        if not grounds or not (one.role == "diameter" or any(is_said(p, "form", "round") for p in group)):
            continue
        number = whole(phrases[first - 1]) if first else 0.0
        found.append(Spoken(at, grounds[0].id, number, first, last))
    return found


def _round(one: Measure) -> Amount:
    return Amount((one._replace(role="diameter"),), one.start, one.end)


def size_from(phrases: list[Phrase], at: int) -> tuple[Amount | None, int]:
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


def thing_at(phrases: list[Phrase], at: int) -> Thing | None:
    """What is named from an index on: a number, a noun and a size in any order."""
    first = at
    while at < len(phrases) and (is_said(phrases[at], "link", *_SMALL) or is_said(phrases[at], "about")):
        at += 1
    size, noun, count = None, None, 0.0
    end = at
    while at < len(phrases):
        phrase = phrases[at]
        found, after = size_from(phrases, at) if size is None else (None, at)
        if found is not None:
            size, at, end = found, after, after
        elif noun is None and is_noun(phrase):
            assert isinstance(phrase, Said)
            noun, at, end = phrase, at + 1, at + 1
        elif not count and size is None and whole(phrase) and at + 1 < len(phrases) and (
            is_noun(phrases[at + 1]) or size_from(phrases, at + 1)[0] is not None
        ):  # fmt: skip
            count, at, end = whole(phrase), at + 1, at + 1
        elif noun is None and size is not None and is_said(phrase, "link", "of") and at + 1 < len(phrases) and stands_inside(phrases[at + 1]):
            at += 1  # "300 sq ft of patio"
        elif stands_inside(noun) and size is None and is_said(phrase, "stop", "comma"):
            at += 1  # "the driveway, that's 10 by 25"
        elif is_said(phrase, "hint") or is_said(phrase, "form") or (noun is not None and size is None and (
            is_said(phrase, "link", "of", "is", "at") or is_said(phrase, "is"))):  # fmt: skip
            at += 1
        else:
            break
    return Thing(first, end, size, noun, count or 1.0) if size is not None or noun is not None else None


def taken_off(phrases: list[Phrase], host: Spoken, size: Amount, thing: Thing, marked: range, draft: Draft) -> list[Phrase]:
    """The phrases with a size taken off another: "except" and the size stand right after it."""
    said = text_of(draft, phrases, thing.first, thing.end)
    if host.number > 1:
        ask(draft, f"“{said}”: is that taken off each of the {host.number:g}? Say the size of what castings do go on")
        return phrases
    if thing.number > _MOST_TAKEN_OFF:
        ask(draft, f"“{said}”: how much do they take up in all? Say the size of what castings do go on")
        return phrases
    made: list[Phrase] = []
    for at, phrase in enumerate(phrases):
        if at not in marked:
            made.append(phrase)
        if at == host.last:
            for _ in range(int(thing.number)):
                made += [Said("deny", "without", "except", size.start, size.start), size]
    return made
