"""What stands in a place, and parts of a place: a shed in a lawn, beds in a garden, 16 sq ft of a bed."""

from __future__ import annotations

import re

from ..draft import Draft
from ..later import later
from ..phrases import Amount, Phrase, Said
from ..said import is_said
from ..things import (
    HOSTS,
    Thing,
    area_of,
    ask,
    is_ground_size,
    is_noun,
    places_of,
    stands_inside,
    taken_off,
    text_of,
    thing_at,
    unit_of,
    whole,
    with_unit,
)

_OF_IT = later(r"\s*of (?:it|which|that)\b")


def stands_in(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "a lawn 50 by 40 ft with a 10 by 10 ft shed in it": what stands in it is taken off."""
    for at, phrase in enumerate(phrases):
        around = is_said(phrase, "hint", "around-plants") or (is_said(phrase, "about") and phrase.text.lower() == "around")  # type: ignore[union-attr]
        if not (around or is_said(phrase, "link", "with", "and", "is", "but", "on-hand") or is_said(phrase, "stop", "comma")):
            continue
        thing = thing_at(phrases, at + 1)
        if thing is None or thing.size is None:
            continue
        end = thing.end
        unknown = thing.noun is None and end + 1 < len(phrases) and is_said(phrases[end], "unknown") and is_said(phrases[end + 1], "link", "into")
        if not stands_inside(thing.noun) and not unknown:
            continue
        end += 1 if unknown else 0
        there = end < len(phrases) and is_said(phrases[end], "link", "into")
        if not (is_said(phrase, "link", "with") or there or around):
            continue
        if there and end + 1 < len(phrases) and is_said(phrases[end + 1], "ground"):
            end += 1
        marked = range(at + 1 if is_said(phrase, "stop") else at, end + 1 if there else end)
        places = places_of(phrases, marked)
        if len(places) == 1 and places[0].size_at < at:
            size = with_unit(thing.size, unit_of(phrases[places[0].size_at]))
            return taken_off(phrases, places[0], size, thing, marked, draft)
    return _said_beside(phrases, draft)


#: "there's a shed", "it has a pond": what stands in the place that was told before.
_THERE_IS = later(r"\b(?:there(?:['’]s| is| are| was)|(?:it|which|that) (?:has|also has)|has got|have got|with)(?: also| now| still| actually)? (?:an? |one |two |three |\d+ |the |our |my |some )", re.IGNORECASE)
#: It stands elsewhere, and takes nothing off.
_BESIDE = later(r"\b(?:beside|next to|near|nearby|behind|by the side|alongside|outside|away|opposite|across from|in front of)\b", re.IGNORECASE)
#: Where it stands: "in the corner".
_WHERE = later(r"\s*(?:in|at|on|inside|within|right in|across)\s+(?:it|that|there|(?:the |one |a )?(?:far |back |front |top |left |right )?(?:corner|middle|centre|center|end|side|edge|back|front))\b", re.IGNORECASE)


def stands_in_that(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "there's a shed 3 by 2 m in the corner", of a lawn told in a line before: what is to be taken off that."""
    if sum(map(is_ground_size, phrases)) > 1 or _THERE_IS.search(draft.text) is None:
        return phrases
    for at, phrase in enumerate(phrases):
        thing = thing_at(phrases, at) if type(phrase) in (Said, Amount) and not is_said(phrase, "link") else None
        if thing is None or thing.size is None or not stands_inside(thing.noun) or thing.first != at:
            continue
        if any(type(p) is Amount for p in [*phrases[:at], *phrases[thing.end :]]) or _BESIDE.search(draft.text):
            return phrases
        end = thing.end
        where = _WHERE.match(draft.text, phrases[end - 1].end)
        while where is not None and end < len(phrases) and phrases[end].start < where.end():
            end += 1
        without = [part for _ in range(int(thing.number)) for part in (Said("deny", "without", "except", thing.size.start, thing.size.start), thing.size)]
        return [*phrases[:at], *without, *phrases[end:]]
    return phrases


def _said_beside(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "house 40 by 30 ft on a 60 by 50 ft lot": no place for castings; whether it is to be taken off is asked."""
    for at, phrase in enumerate(phrases):
        size = phrases[at + 1] if at + 1 < len(phrases) else None
        if is_said(phrase, "other-thing", "house-thing", "stands-in") and is_ground_size(size) and not (at and type(phrases[at - 1]) is Amount):
            if places_of(phrases, range(at, at + 2)):
                ask(draft, f"is the {phrase.text.lower()} to be taken off? Say the size of what castings do go on")  # type: ignore[union-attr]
            return phrases
    return phrases


def beds_in(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "a 20 by 20 ft garden with four 4 by 8 ft beds in it, half an inch on the beds": the beds, and no more."""
    for at, phrase in enumerate(phrases):
        if not is_said(phrase, "link", "with", "into") or at == 0:
            continue
        places = places_of(phrases, range(0))
        before = [place for place in places if place.last < at and place.noun in HOSTS]
        after = [place for place in places if place.first > at and place.noun == "bed"]
        if len(before) != 1 or not after or len(places) != len(before) + len(after) or before[0].number > 1:
            continue
        host = before[0]
        if not all(
            is_said(p, "link") or is_said(p, "hint") or is_ground_size(p) or whole(p) or is_said(p, "ground", "bed") or is_said(p, "stop", "comma")
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
            ask(draft, f"is that for the beds alone, or for the whole {called}? Say the size of what castings go on")
            return phrases
        draft.noted.append((text_of(draft, phrases, host.first, host.last + 1), "the place around the beds"))
        return [p for i, p in enumerate(phrases) if not host.first <= i <= at]
    return phrases


def part_of(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
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
        places = places_of(phrases, range(min(size_at, at), end))
        hosts = [place for place in places if place.last < min(size_at, at)]
        if not hosts or not (is_noun(noun) or is_said(noun, "hint", "established")):
            continue
        host, part = hosts[-1], phrases[size_at]
        assert type(part) is Amount
        if area_of(part, unit_of(phrases[host.size_at])) > area_of(phrases[host.size_at]) * (1 + 1e-9):
            ask(draft, f"{draft.text[part.start : part.end]} is more than the whole; which of the two is right?")
            return phrases
        if stands_inside(noun):
            thing = Thing(min(size_at, at), end + 1, part, noun if isinstance(noun, Said) else None, 1.0)
            return taken_off(phrases, host, part, thing, range(min(size_at, at), end + 1), draft)
        draft.noted.append((text_of(draft, phrases, host.size_at, host.size_at + 1), "the whole that this is a part of"))
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
    unit = unit_of(whole) or unit_of(part)
    if len(part.dims) > 1 and noun is None:
        return None
    if area_of(part, unit) > area_of(whole, unit) * (1 + 1e-9):
        ask(draft, f"{draft.text[part.start : part.end]} is more than {draft.text[whole.start : whole.end]}; which of the two is right?")
        return None
    draft.noted.append((draft.text[whole.start : whole.end].strip(), "the whole that this is a part of"))
    return [*phrases[: at + 1], *([noun] if noun is not None else []), *phrases[here + 1 :]]
